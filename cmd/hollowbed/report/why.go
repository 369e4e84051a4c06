package report

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"

	"hollowbed/plants"
	"hollowbed/zones"
)

// Why is the document of choose --why: one plant in every zone.
type Why struct {
	Garden         Garden    `json:"garden"`
	Record         Record    `json:"record"`
	ID             string    `json:"id"`
	ScientificName string    `json:"scientificName"`
	VernacularName string    `json:"vernacularName"`
	Zones          []WhyZone `json:"zones" schema:"some"`
	Notes          string    `json:"notes"`
}

// WhyZone is one plant in one zone.
type WhyZone struct {
	Zone       string    `json:"zone" schema:"one of bottom|slope|rim"`
	Offered    bool      `json:"offered"`
	Bar        string    `json:"bar"`
	Detail     string    `json:"detail"`
	YearlyRisk Number    `json:"yearly_risk" schema:"0..1"`
	SunLoss    Number    `json:"sun_loss" schema:"known; 0..1"`
	PastYears  int       `json:"past_years"`
	Years      int       `json:"years" schema:"1.."`
	LimitedBy  string    `json:"limited_by" schema:"one of |too wet|too deep|too dry|too cold|too little sun|too much sun"`
	Reason     string    `json:"reason"`
	Tagged     bool      `json:"tagged"`
	Disagrees  bool      `json:"disagrees"`
	NoLabel    bool      `json:"no_label"`
	Unknown    []string  `json:"unknown"`
	Assumed    []string  `json:"assumed"`
	ByYear     []WhyYear `json:"by_year" schema:"some"`
}

// WhyYear is one year of the hardest place of a zone: as a share of each
// limit, and what was found.
type WhyYear struct {
	Year   int    `json:"year" schema:"any"`
	Wet    Number `json:"wet"`
	Deep   Number `json:"deep"`
	Dry    Number `json:"dry"`
	Cold   Number `json:"cold"`
	WetH   Number `json:"wet_h" schema:"known; 0.."`
	DeepMM Number `json:"deep_mm" schema:"known; 0.."`
	DryD   Number `json:"dry_d" schema:"known; 0.."`
	MinC   Number `json:"lowest_c"`
}

// NewWhy makes the document of one plant.
func NewWhy(g Garden, r Record, verdicts []plants.Verdict) Why {
	p := verdicts[0].Plant
	doc := Why{Garden: g, Record: r, ID: p.ID, ScientificName: p.ScientificName, VernacularName: p.VernacularName, Notes: p.Notes}
	for _, v := range verdicts {
		z := WhyZone{
			Zone: v.Zone, Offered: v.Bar == plants.NoBar, Bar: string(v.Bar), Detail: v.Detail, YearlyRisk: Number(v.Fit.YearlyRisk), SunLoss: Number(v.Fit.SunLoss),
			PastYears: v.Fit.PastYears, Years: v.Fit.Years, LimitedBy: string(v.Fit.Reason.Limit), Reason: Reason(v.Fit.Reason, g.Units),
			Tagged: v.Tagged, Disagrees: v.Disagrees(), NoLabel: len(v.Plant.Zones) == 0, Unknown: orEmpty(v.Fit.Unknown), Assumed: orEmpty(v.Fit.Assumed),
		}
		for _, y := range v.Fit.ByYear {
			z.ByYear = append(z.ByYear, WhyYear{
				Year: y.Name, Wet: Number(y.Wet), Deep: Number(y.Deep), Dry: Number(y.Dry), Cold: Number(y.Cold),
				WetH: Number(y.WetH), DeepMM: Number(y.DeepMM), DryD: Number(y.DryD), MinC: Number(y.MinC),
			})
		}
		doc.Zones = append(doc.Zones, z)
	}
	return doc
}

// Text prints one plant in every zone.
func (d Why) Text(w io.Writer) {
	d.Garden.title(w, "Why "+Plain(d.VernacularName))
	d.Record.line(w)
	for _, z := range d.Zones {
		d.zone(w, z)
	}
	fmt.Fprintln(w)
	wrap(w, "", "", "Each year shows how much of a limit was used in the hardest place of the zone; over 100 % it was passed. "+
		"The yearly risk is the chance that one more year passes a limit, over the whole zone; it is wider when the record is short. All years: --json.")
}

// words says whether the plant would live in the zone, and what its label says.
func (z WhyZone) words() (verdict, label string) {
	verdict = "would live here"
	switch {
	case z.Bar == string(plants.BarUnknown):
		verdict = "not known: " + z.Detail
	case !z.Offered:
		verdict = "no: " + z.Detail
	}
	label = "not sold for it"
	if z.Tagged {
		label = "sold for it"
	}
	if z.NoLabel {
		label = "no label"
	}
	if z.Disagrees {
		label += ", which this lot does not bear out"
	}
	return verdict, label
}

// zone prints the verdict on one zone, the reason, and its hardest years.
func (d Why) zone(w io.Writer, z WhyZone) {
	verdict, label := z.words()
	said := risk(float64(z.YearlyRisk), len(z.Assumed) > 0)
	if z.Bar == string(plants.BarUnknown) {
		said = "not known"
	}
	fmt.Fprintln(w)
	wrap(w, strings.ToUpper(z.Zone)+": ", "  ", fmt.Sprintf("%s. Risk %s a year, past a limit in %d of %s at its hardest place; %s.",
		verdict, said, z.PastYears, plural(z.Years, "year", "years"), label))
	wrap(w, "  closest limit: ", "    ", z.Reason)
	for _, c := range z.Unknown {
		fmt.Fprintf(w, "  not stated: %s\n", c)
	}
	d.years(w, z)
}

func (d Why) years(w io.Writer, z WhyZone) {
	u := d.Garden.Units
	var rows []table.Row
	for _, y := range hardestYears(z.ByYear) {
		wet, deep, dry, cold := y.words(u)
		rows = append(rows, table.Row{" ", y.Year, wet, deep, dry, cold})
	}
	grid(w, table.Row{" ", "hardest years", "wet", "deep", "dry, as days without rain", "coldest"}, nil, rows)
}

// words says how much of each limit a year used, and what was found.
func (y WhyYear) words(u zones.Units) (wet, deep, dry, cold string) {
	used := func(share, found Number, print func(float64) string) string {
		if math.IsNaN(float64(share)) {
			return "not known"
		}
		return fmt.Sprintf("%.0f %% (%s)", 100*float64(share), print(float64(found)))
	}
	return used(y.Wet, y.WetH, u.Duration), used(y.Deep, y.DeepMM, u.Depth), used(y.Dry, y.DryD, days), coldWords(y, u.Temp)
}

// yearsShown is how many years of a zone are printed; --json has them all.
const yearsShown = 5

// hardestYears picks the years in which most of a limit was used, hardest
// first.
func hardestYears(all []WhyYear) []WhyYear {
	worst := func(y WhyYear) float64 {
		most := 0.0
		for _, v := range []Number{y.Wet, y.Deep, y.Dry, y.Cold} {
			if !math.IsNaN(float64(v)) {
				most = max(most, float64(v))
			}
		}
		return most
	}
	years := slices.Clone(all)
	slices.SortStableFunc(years, func(a, b WhyYear) int { return cmp.Compare(worst(b), worst(a)) })
	return years[:min(yearsShown, len(years))]
}

func coldWords(y WhyYear, print func(float64) string) string {
	if math.IsNaN(float64(y.MinC)) {
		return "not known"
	}
	s := print(float64(y.MinC))
	if float64(y.Cold) > 1 {
		s += " (too cold)"
	}
	return s
}
