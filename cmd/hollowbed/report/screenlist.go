package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"hollowbed/plants"
	"hollowbed/zones"
)

// ScreenList is the planting list in words.
type ScreenList struct {
	Advice   string       `json:"advice"`
	Cost     string       `json:"cost"`
	Gap      string       `json:"gap"`
	Bloom    string       `json:"bloom"`
	NoBloom  string       `json:"no_bloom"`
	Notes    []string     `json:"notes"`
	BedFirst []string     `json:"bed_first"`
	Cautions []string     `json:"cautions"`
	Labels   string       `json:"labels"`
	Zones    []ScreenFill `json:"zones"`
	Lines    []ScreenLine `json:"lines"`
}

// ScreenFill says how far a zone is planted.
type ScreenFill struct {
	Zone    string   `json:"zone"`
	Words   string   `json:"words"`
	Refused []string `json:"refused"`
}

// ScreenLine is one species in one zone.
type ScreenLine struct {
	Zone       string `json:"zone"`
	ID         string `json:"id"`
	Name       string `json:"name"`
	Scientific string `json:"scientific"`
	Count      int    `json:"count"`
	Apart      string `json:"apart"`
	ScreenRisk
	Reason string       `json:"reason"`
	Past   string       `json:"past"`
	Next   []ScreenNext `json:"next"`
}

// ScreenNext is a species that could stand in a line's place.
type ScreenNext struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	ScreenRisk
	Reason string `json:"reason"`
}

// NewScreenList words a planting list.
func NewScreenList(d Choose, p *plants.Planting) ScreenList {
	u := d.Garden.Units
	most := p.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	out := ScreenList{
		Advice: Plain(flat(d.advice)), Gap: "at most " + gapText(float64(d.Gap)) + " could still be gained",
		Bloom: "In flower: " + Months(d.BloomMonths), NoBloom: strings.TrimPrefix(d.missingBloom(), "; "),
		Notes: plainAll(d.Notes), BedFirst: plainAll(d.BedFirst), Cautions: plainAll(d.Cautions),
		Labels: strings.TrimSpace(Plain(flat(d.labelText))), Zones: []ScreenFill{}, Lines: []ScreenLine{},
	}
	if float64(d.Cost) > 0 {
		out.Cost = fmt.Sprintf("%.2f in the plant table's currency", float64(d.Cost))
	}
	for _, z := range d.Zones {
		words := fillWords(z, u)
		if z.Bare != "" && float64(z.PlantedM2) < 0.95*float64(z.AreaM2) {
			words += "; the rest stays bare: " + z.Bare
		}
		out.Zones = append(out.Zones, ScreenFill{Zone: z.Zone, Words: Plain(words), Refused: plainAll(z.Refused)})
	}
	for i, l := range d.Lines {
		line := ScreenLine{
			Zone: l.Zone, ID: l.ID, Name: Plain(l.VernacularName), Scientific: Plain(l.ScientificName), Count: l.Count,
			Apart:      u.Length(float64(l.SpacingCM)/100) + " apart",
			ScreenRisk: screenRisk(float64(l.YearlyRisk), len(l.Assumed) > 0, most), Reason: Plain(l.Reason + sunMark(l)),
			Past: past(l.PastYears, l.Years), Next: []ScreenNext{},
		}
		for _, a := range p.Lines[i].Next[:min(alternativesShown, len(p.Lines[i].Next))] {
			line.Next = append(line.Next, ScreenNext{
				ID: a.Verdict.Plant.ID, Name: Plain(a.Verdict.Plant.VernacularName),
				ScreenRisk: newScreenRisk(*a.Verdict, most), Reason: reasonOf(*a.Verdict, u),
			})
		}
		out.Lines = append(out.Lines, line)
	}
	return out
}

// fillWords says how far a zone is planted.
func fillWords(z Fill, u zones.Units) string {
	words := u.Area(float64(z.AreaM2))
	if float64(z.AreaM2) > 0 {
		words += fmt.Sprintf(", %s planted at mature spread; %s would live here and keep to the wishes", u.Percent(float64(z.PlantedM2)/float64(z.AreaM2)), plural(z.Offered, "species", "species"))
	}
	return words
}

// ScreenStanding is a plant in its place.
type ScreenStanding struct {
	Stake   string `json:"stake"`
	ID      string `json:"id"`
	Name    string `json:"name"`
	Key     string `json:"key"`
	Form    string `json:"form"`
	Zone    string `json:"zone"`
	XM      Number `json:"x_m"`
	YM      Number `json:"y_m"`
	RadiusM Number `json:"radius_m"`
	ScreenRisk
	Ground string `json:"ground"`
	Sun    string `json:"sun"`
	FromA  string `json:"from_a"`
	FromB  string `json:"from_b"`
	Stayed bool   `json:"stayed"`
	Moved  bool   `json:"moved"` // by hand, and not saved
}

// ScreenLeft is plants that found no place.
type ScreenLeft struct {
	Name  string `json:"name"`
	Zone  string `json:"zone"`
	Count int    `json:"count"`
	Why   string `json:"why"`
}

// NewScreenStanding words the places of a planting.
func NewScreenStanding(d Place, p *plants.Placed) (standing []ScreenStanding, left []ScreenLeft, help string) {
	u := d.Garden.Units
	most := p.Planting.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	standing, left = []ScreenStanding{}, []ScreenLeft{}
	for i, r := range d.Plants {
		form := ""
		if line := p.Result.Plants[i].Line; line >= 0 {
			form = p.Plants[line].Form
		}
		standing = append(standing, ScreenStanding{
			Stake: r.Stake, ID: r.ID, Name: Plain(r.VernacularName), Key: letters(r.Stake), Form: form, Zone: r.Zone,
			XM: r.XM, YM: r.YM, RadiusM: r.SpreadCM / 200, ScreenRisk: screenRisk(float64(r.YearlyRisk), false, most),
			Ground: heightWords(u, float64(r.HeightMM)), Sun: sunText(r.SunH), FromA: u.Length(float64(r.FromAM)), FromB: u.Length(float64(r.FromBM)),
			Stayed: r.Stayed,
		})
	}
	for _, l := range d.Left {
		left = append(left, ScreenLeft{Name: Plain(l.VernacularName), Zone: l.Zone, Count: l.Count, Why: l.Why})
	}
	if len(left) > 0 {
		help = Plain(flat(func(w io.Writer) { d.leftText(w) }))
	}
	return standing, left, help
}

// heightWords says how high the ground lies.
func heightWords(u zones.Units, mm float64) string {
	switch {
	case math.IsNaN(mm):
		return "not known"
	case math.Abs(mm) < 0.5:
		return "at the level where water spills"
	case mm < 0:
		return u.Depth(-mm) + " below the level where water spills"
	}
	return u.Depth(mm) + " above the level where water spills"
}
