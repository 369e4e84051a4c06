package report

import (
	"math"

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
	Event         event         `json:"event"`
	Handbook      handbook      `json:"handbook"`
	Zones         []basinZone   `json:"zones" schema:"some"`
	Checks        []basin.Check `json:"checks" schema:"some"`
	Cautions      []string      `json:"cautions" schema:"some"`
	Size          *Size         `json:"size,omitempty"`
	Inlets        *Inlets       `json:"inlets,omitempty"`
	Blocks        []doc.Block   `json:"-"`
	Figures       []doc.Block   `json:"-"` // the same without head and verdict, for a report that has both above
	Short         doc.Facts     `json:"-"` // for a summary
	Verdict       []string      `json:"-"` // whether the bed does its work
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

// event is the storm that the bed should swallow.
type event struct {
	RainMM  Number `json:"rain_mm"`
	RunM3   Number `json:"runoff_m3"`
	SpillM3 Number `json:"spill_m3"`
	Source  string `json:"source"`
}

// handbook is the size that a printed handbook gives.
type handbook struct {
	Group  string `json:"soil_group" schema:"one of sandy|loam|clay"`
	AreaM2 Number `json:"area_m2"`
	Factor Number `json:"factor"`
	Note   string `json:"note,omitempty"`
	// Assumed says that no texture is given.
	Assumed bool `json:"assumed"`
}

// basinZone is a zone's ground.
type basinZone struct {
	Zone   string `json:"zone" schema:"one of bottom|slope|rim"`
	AreaM2 Number `json:"area_m2" schema:"known; 0.."`
	TopMM  Number `json:"top_mm" schema:"known"`
	FootMM Number `json:"foot_mm" schema:"known"`
}

// size is the smallest bed that meets the targets.
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

// NewBasin makes the document of a bed; size is nil if it was not asked for,
// and inlets if the garden file has none or they were not.
func NewBasin(g Garden, l *zones.Lot, p zones.Performance, size *zones.Size, inlets *Inlets) Basin {
	h := l.Handbook()
	spec := l.Bed.Spec()
	out := Basin{
		Garden: g, BedAreaM2: Number(spec.Outline.AreaM2()), SpillVolumeM3: Number(l.Bed.SpillVolumeM3()), PondingMM: Number(spec.PondingMM),
		DrainHours: Number(p.DrainH), DrainDryHours: Number(p.DrainDryH), CatchmentM2: Number(l.CatchM2),
		DigM3: Number(l.Bed.ExcavationM3(l.Garden.Mix.DepthMM, spec.FreeboardMM)), MixM3: Number(spec.Outline.AreaM2() * l.Garden.Mix.DepthMM / 1000),
		Soil: Soil{
			RateMMH: Number(l.Native.RateMMH), RawMMH: Number(l.Native.RawMMH), CorrectedMMH: Number(l.Native.CorrectMMH), SafetyFactor: Number(l.Native.Factor),
			Source: l.Native.Source, Notes: append(append([]string{}, l.Native.Notes...), l.SurfaceWhy...), MixTexture: l.Mix.Texture, MixRateMMH: Number(l.Mix.KMMH),
		},
		Captured: Number(p.Captured), Event: event{RainMM: Number(p.EventMM), RunM3: Number(p.EventRunM3), SpillM3: Number(p.EventSpillM3), Source: p.EventFrom},
		Handbook: handbook{Group: h.Group, AreaM2: Number(h.AreaM2), Factor: Number(h.Factor), Note: h.Note, Assumed: h.Assumed},
		Checks:   l.Checks(p), Cautions: l.Cautions(), Inlets: inlets,
	}
	if h.Note != "" {
		out.Handbook.AreaM2, out.Handbook.Factor = Number(math.NaN()), Number(math.NaN())
	}
	if l.Record != nil {
		r := newRecord(l.RecordFacts())
		out.Record = &r
	}
	for _, z := range l.Bed.Zones() {
		out.Zones = append(out.Zones, basinZone{Zone: z.Zone, AreaM2: Number(z.AreaM2), TopMM: Number(z.TopMM), FootMM: Number(z.FootMM)})
	}
	if size != nil {
		out.Size = newSize(*size)
	}
	out.word(l, p, size)
	return out
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
