package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
	"hollowbed/zones/basin"
)

// Basin is the document of the command basin.
type Basin struct {
	Garden        Garden        `json:"garden"`
	Record        *Record       `json:"record"`
	BedAreaM2     Number        `json:"bed_area_m2" schema:"known; >0"`
	SpillVolumeM3 Number        `json:"spill_volume_m3" schema:"known; >0"`
	PondingMM     Number        `json:"ponding_depth_mm" schema:"known; >0"`
	DrainHours    Number        `json:"drain_hours"`
	DrainDryHours Number        `json:"drain_dry_soil_hours"`
	CatchmentM2   Number        `json:"catchment_m2" schema:"known; 0.."`
	DigM3         Number        `json:"dig_m3" schema:"known; 0.."`
	MixM3         Number        `json:"mix_m3" schema:"known; 0.."`
	Soil          Soil          `json:"soil"`
	Captured      Number        `json:"captured_fraction" schema:"0..1"`
	Event         Event         `json:"event"`
	Handbook      Handbook      `json:"handbook"`
	Zones         []BasinZone   `json:"zones" schema:"some"`
	Checks        []basin.Check `json:"checks" schema:"some"`
	Cautions      []string      `json:"cautions" schema:"some"`
	Size          *Size         `json:"size,omitempty"`
	Inlets        *Inlets       `json:"inlets,omitempty"`
}

// Soil says how fast the ground below takes water.
type Soil struct {
	RateMMH      Number   `json:"rate_mmh" schema:"known; 0.."`
	RawMMH       Number   `json:"soak_test_raw_mmh"`
	CorrectedMMH Number   `json:"corrected_mmh"`
	SafetyFactor Number   `json:"safety_factor" schema:"known; 1.."`
	Source       string   `json:"source"`
	Notes        []string `json:"notes"`
	MixTexture   string   `json:"mix_texture"`
	MixRateMMH   Number   `json:"mix_rate_mmh" schema:"known; 0.."`
}

// Event is the storm that the bed should swallow.
type Event struct {
	RainMM  Number `json:"rain_mm"`
	RunM3   Number `json:"runoff_m3"`
	SpillM3 Number `json:"spill_m3"`
	Source  string `json:"source"`
}

// Handbook is the size that a printed handbook gives.
type Handbook struct {
	Group  string `json:"soil_group" schema:"one of sandy|loam|clay"`
	AreaM2 Number `json:"area_m2"`
	Factor Number `json:"factor"`
	Note   string `json:"note,omitempty"`
	// Assumed says that no texture is given.
	Assumed bool `json:"assumed"`
}

// BasinZone is a zone's ground.
type BasinZone struct {
	Zone   string `json:"zone" schema:"one of bottom|slope|rim"`
	AreaM2 Number `json:"area_m2" schema:"known; 0.."`
	TopMM  Number `json:"top_mm" schema:"known"`
	FootMM Number `json:"foot_mm" schema:"known"`
}

// Size is the smallest bed that meets the targets.
type Size struct {
	Reached  bool   `json:"reached"`
	AreaM2   Number `json:"bed_area_m2" schema:"known; 0.."`
	LengthM  Number `json:"length_m"`
	WidthM   Number `json:"width_m"`
	Scale    Number `json:"scale" schema:"known; 0.."`
	DepthMM  Number `json:"ponding_depth_mm" schema:"known; 0.."`
	Depth    string `json:"depth_why"`
	Binding  string `json:"set_by"`
	Captured Number `json:"captured_fraction" schema:"0..1"`
	SpillM3  Number `json:"event_spill_m3"`
}

// NewBasin makes the document of a bed; size is nil if it was not asked for.
func NewBasin(g Garden, l *zones.Lot, p zones.Performance, size *zones.Size) Basin {
	h := l.Handbook()
	spec := l.Bed.Spec()
	doc := Basin{
		Garden: g, BedAreaM2: Number(spec.Outline.AreaM2()), SpillVolumeM3: Number(l.Bed.SpillVolumeM3()), PondingMM: Number(spec.PondingMM),
		DrainHours: Number(p.DrainH), DrainDryHours: Number(p.DrainDryH), CatchmentM2: Number(l.CatchM2),
		DigM3: Number(l.Bed.ExcavationM3(l.Garden.Mix.DepthMM, spec.FreeboardMM)), MixM3: Number(spec.Outline.AreaM2() * l.Garden.Mix.DepthMM / 1000),
		Soil: Soil{
			RateMMH: Number(l.Native.RateMMH), RawMMH: Number(l.Native.RawMMH), CorrectedMMH: Number(l.Native.CorrectMMH), SafetyFactor: Number(l.Native.Factor),
			Source: l.Native.Source, Notes: append(append([]string{}, l.Native.Notes...), l.SurfaceWhy...), MixTexture: l.Mix.Texture, MixRateMMH: Number(l.Mix.KMMH),
		},
		Captured: Number(p.Captured), Event: Event{RainMM: Number(p.EventMM), RunM3: Number(p.EventRunM3), SpillM3: Number(p.EventSpillM3), Source: p.EventFrom},
		Handbook: Handbook{Group: h.Group, AreaM2: Number(h.AreaM2), Factor: Number(h.Factor), Note: h.Note, Assumed: h.Assumed},
		Checks:   l.Checks(p), Cautions: l.Cautions(),
	}
	if h.Note != "" {
		doc.Handbook.AreaM2, doc.Handbook.Factor = Number(math.NaN()), Number(math.NaN())
	}
	if l.Record != nil {
		r := NewRecord(l.RecordFacts())
		doc.Record = &r
	}
	for _, z := range l.Bed.Zones() {
		doc.Zones = append(doc.Zones, BasinZone{Zone: z.Zone, AreaM2: Number(z.AreaM2), TopMM: Number(z.TopMM), FootMM: Number(z.FootMM)})
	}
	if size != nil {
		doc.Size = newSize(*size)
	}
	return doc
}

func newSize(s zones.Size) *Size {
	out := &Size{
		Reached: s.Reached, AreaM2: Number(s.AreaM2), Scale: Number(s.Scale), DepthMM: Number(s.Spec.PondingMM), Depth: s.Depth,
		Binding: s.Binding, Captured: Number(s.Performs.Captured), SpillM3: Number(s.Performs.EventSpillM3),
		LengthM: Number(math.NaN()), WidthM: Number(math.NaN()),
	}
	if s.AreaM2 > 0 {
		x0, y0, x1, y1 := s.Spec.Outline.Bounds()
		out.LengthM, out.WidthM = Number(x1-x0), Number(y1-y0)
	}
	return out
}

// Text prints the bed: verdict first, then what it rests on, then cautions.
func (d Basin) Text(w io.Writer) {
	u := d.Garden.Units
	d.Garden.title(w, "The basin")
	if d.Record != nil {
		d.Record.line(w)
		d.Record.figures(w, u)
	}
	fmt.Fprintln(w)
	d.verdict(w)
	fmt.Fprintln(w)
	var facts doc.Facts
	for _, f := range d.facts() {
		facts = append(facts, doc.Fact{Label: f[0], Value: f[1]})
	}
	doc.Terminal(w, []doc.Block{facts})
	fmt.Fprintln(w)
	var rows []table.Row
	for i := len(d.Zones) - 1; i >= 0; i-- {
		z := d.Zones[i]
		rows = append(rows, table.Row{z.Zone, u.Area(float64(z.AreaM2)), signed(u.Depth, float64(z.TopMM)), signed(u.Depth, float64(z.FootMM))})
	}
	grid(w, table.Row{"zone", "area", "top, from spill", "foot, from spill"}, []string{"area", "top, from spill", "foot, from spill"}, rows)
	fmt.Fprintln(w)
	d.checkTable(w)
	if d.Size != nil {
		d.sizeText(w)
	}
	if d.Inlets != nil {
		d.Inlets.text(w, u)
	}
	d.handbookText(w)
	if len(d.Soil.Notes) > 0 {
		fmt.Fprintln(w, "\nAbout the soil:")
		bullets(w, d.Soil.Notes)
	}
	if len(d.Garden.Assume) > 0 {
		fmt.Fprintln(w)
		wrap(w, "Taken as usual, since the garden file does not say: ", "  ", Plain(strings.Join(d.Garden.Assume, "; "))+".")
	}
	fmt.Fprintln(w, "\nBefore you dig:")
	bullets(w, d.Cautions)
}

// facts are the figures of the bed, in words.
func (d Basin) facts() [][2]string {
	u := d.Garden.Units
	return [][2]string{
		{"bed", u.Area(float64(d.BedAreaM2)) + ", outer edge of the rim"},
		{"drains to it", u.Area(float64(d.CatchmentM2))},
		{"pond", u.Depth(float64(d.PondingMM)) + " deep, holds " + u.Volume(float64(d.SpillVolumeM3))},
		{"full pond soaks away in", d.soaksAway(u)},
		{"soil below", u.Rate(float64(d.Soil.RateMMH)) + d.soilHow(u)},
		{"mix", d.Soil.MixTexture + ", " + u.Soil(float64(d.MixM3)) + " in all"},
		{"to dig out", u.Soil(float64(d.DigM3)) + " in place, if the rim ends level with the old ground"},
	}
}

// soaksAway words the drain time, and says so where the mix is the slower part.
func (d Basin) soaksAway(u zones.Units) string {
	if math.IsInf(float64(d.DrainHours), 1) {
		return "no time at all can be given: the soil takes no water"
	}
	s := u.Duration(float64(d.DrainHours)) + " on wet soil"
	if !math.IsNaN(float64(d.DrainDryHours)) && !math.IsInf(float64(d.DrainDryHours), 1) {
		s += ", " + u.Duration(float64(d.DrainDryHours)) + " on soil that had drained"
	}
	if d.Soil.MixRateMMH < d.Soil.RateMMH {
		s += " (held back by the mix, " + u.Rate(float64(d.Soil.MixRateMMH)) + ")"
	}
	return s
}

func (d Basin) soilHow(u zones.Units) string {
	if math.IsNaN(float64(d.Soil.RawMMH)) {
		return " (" + d.Soil.Source + ")"
	}
	return fmt.Sprintf(" to plan with: water in the test hole fell at %s; %s without the flow through its wall; divided by %.3g for safety",
		u.Rate(float64(d.Soil.RawMMH)), u.Rate(float64(d.Soil.CorrectedMMH)), float64(d.Soil.SafetyFactor))
}

// verdict says in a line or two whether the bed does its work.
func (d Basin) verdict(w io.Writer) {
	var bad, unknown []string
	for _, c := range d.Checks {
		switch {
		case !c.Known && c.Name != "capture" && c.Name != "target event":
			unknown = append(unknown, c.Name)
		case c.Known && !c.OK:
			bad = append(bad, c.Name)
		}
	}
	switch {
	case len(bad) > 0:
		cure := ""
		if d.Size == nil {
			cure = " hollowbed basin --size finds a bed that does."
		}
		wrap(w, "", "", "Not yet: "+join(bad)+" "+isAre(len(bad))+" outside what is wanted (below)."+cure)
	default:
		fmt.Fprintln(w, "This bed meets every check that could be made.")
	}
	if len(unknown) > 0 {
		wrap(w, "", "", "Not known: "+join(unknown)+". Measure, and add to the garden file.")
	}
	if d.Record == nil {
		wrap(w, "", "", "No weather record: put a rain.csv in the garden's folder, and capture and the target event can be checked too.")
	}
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func join(items []string) string {
	out := ""
	for i, s := range items {
		switch {
		case i > 0 && i == len(items)-1:
			out += " and "
		case i > 0:
			out += ", "
		}
		out += s
	}
	return out
}

func (d Basin) checkTable(w io.Writer) {
	var rows []table.Row
	for _, c := range d.Checks {
		mark := "no"
		switch {
		case !c.Known:
			mark = "not known"
		case c.OK:
			mark = "yes"
		}
		rows = append(rows, table.Row{c.Name, mark, c.Found, c.Wanted})
	}
	grid(w, table.Row{"check", "holds", "found", "wanted"}, nil, rows)
	fmt.Fprintln(w, "Where each limit comes from: --json.")
}

func (d Basin) sizeText(w io.Writer) {
	u, s := d.Garden.Units, d.Size
	fmt.Fprintln(w)
	if !s.Reached {
		if float64(s.AreaM2) == 0 {
			wrap(w, "Size: ", "  ", "no bed can drain in time on this ground, however shallow: "+s.Depth+". Faster ground, another place, or a longer drain_within would be needed.")
			return
		}
		wrap(w, "Size: ", "  ", "no bed of these proportions, up to eight times as long, meets the targets: "+s.Binding+". Its pond would be "+
			u.Depth(float64(s.DepthMM))+" deep ("+s.Depth+"). A smaller roof share or a lower target would be needed.")
		return
	}
	wrap(w, "Size: ", "  ", fmt.Sprintf("the smallest bed that meets the targets has %s: %s by %s, pond %s (%s). It keeps %s of the water. What sets it: %s.",
		u.Area(float64(s.AreaM2)), u.Length(float64(s.LengthM)), u.Length(float64(s.WidthM)), u.Depth(float64(s.DepthMM)), s.Depth,
		u.Percent(float64(s.Captured)), s.Binding))
}

func (d Basin) handbookText(w io.Writer) {
	u := d.Garden.Units
	if d.Handbook.Note != "" {
		wrap(w, "Handbook: ", "  ", "none to compare with: "+d.Handbook.Note+".")
		return
	}
	assumed := ""
	if d.Handbook.Assumed {
		assumed = " (no texture is given)"
	}
	wrap(w, "Handbook: ", "  ", fmt.Sprintf("GWQ037 (Wisconsin, 2003) would give %s: %.2f of what drains to it, for %s soil%s at this depth. It knows neither your rain nor your soak test.",
		u.Area(float64(d.Handbook.AreaM2)), float64(d.Handbook.Factor), d.Handbook.Group, assumed))
}
