package report

import (
	"math"

	"hollowbed/cmd/hollowbed/draw"
	"hollowbed/plants"
	"hollowbed/zones"
)

// ScreenNext is a species that would live at a place.
type ScreenNext struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	ScreenRisk
	Reason string `json:"reason"`
}

// ScreenStanding is a plant in its place.
type ScreenStanding struct {
	Stake   string `json:"stake"`
	ID      string `json:"id"`
	Name    string `json:"name"`
	Key     string `json:"key"`
	Form    string `json:"form"`
	Zone    string `json:"zone"`
	Drift   string `json:"drift"` // letter; "" for none
	XM      Number `json:"x_m"`
	YM      Number `json:"y_m"`
	RadiusM Number `json:"radius_m"`
	HeightM Number `json:"height_m"` // mature; null where not known
	ScreenRisk
	InList string `json:"in_list"` // the list's risk of its line; "" where it is on none
	Ground string `json:"ground"`
	Sun    string `json:"sun"`
	FromA  string `json:"from_a"`
	FromB  string `json:"from_b"`
	Stayed bool   `json:"stayed"`
	Moved  bool   `json:"moved"` // by hand, and not saved
}

// ScreenKind is a kind of plant as plan and legend show it.
type ScreenKind struct {
	ID     string `json:"id"`
	Key    string `json:"key"`
	Name   string `json:"name"`
	Count  int    `json:"count"`
	Tint   string `json:"tint"`
	Form   string `json:"form"`
	Figure string `json:"figure"` // path of its growth form, from (-50, -100) to (50, 0)
}

// ScreenDrift is a group of plants of one kind that stand together.
type ScreenDrift struct {
	Kind    int      `json:"kind"`    // number in the list of kinds
	Members []int    `json:"members"` // numbers in the list of plants
	Links   [][2]int `json:"links"`
	Letter  string   `json:"letter"`
	Words   string   `json:"words"` // its label
}

// NewScreenKinds gives the looks of a planting, those of the printed plan.
func NewScreenKinds(g Garden, p *plants.Placed) (kinds []ScreenKind, drifts []ScreenDrift) {
	species, standing := drawn(p)
	for i, tint := range draw.Tints(species, standing) {
		s := species[i]
		kinds = append(kinds, ScreenKind{Key: s.Key, Name: s.Name, Tint: tint, Form: s.Form, Figure: draw.Figure(s.Form)})
	}
	for i, at := range standing {
		kinds[at.Species].Count++
		kinds[at.Species].ID = p.Result.Plants[i].ID
	}
	for _, d := range draw.Drifts(species, standing) {
		drifts = append(drifts, ScreenDrift{d.Species, d.Members, d.Links, d.Letter, draw.DriftWords(g.Units.Length, species[d.Species], d.Letter, len(d.Members))})
	}
	return kinds, drifts
}

// NewScreenStanding words the places of a planting.
func NewScreenStanding(d Place, p *plants.Placed) []ScreenStanding {
	u := d.Garden.Units
	most := p.Planting.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	standing := []ScreenStanding{}
	for i, r := range d.Plants {
		form, high := "", math.NaN()
		if line := p.Result.Plants[i].Line; line >= 0 {
			form, high = p.Plants[line].Form, p.Plants[line].HeightCM/100
		}
		standing = append(standing, ScreenStanding{
			Stake: r.Stake, ID: r.ID, Name: Plain(r.VernacularName), Key: letters(r.Stake), Form: form, Zone: r.Zone, Drift: r.Drift,
			XM: r.XM, YM: r.YM, RadiusM: r.SpreadCM / 200, HeightM: Number(high), ScreenRisk: screenRisk(float64(r.YearlyRisk), false, most),
			InList: inList(p, i), Ground: heightWords(u, float64(r.HeightMM)), Sun: sunText(r.SunH), FromA: u.Length(float64(r.FromAM)), FromB: u.Length(float64(r.FromBM)),
			Stayed: r.Stayed,
		})
	}
	return standing
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
