package report

import (
	"math"

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
			Stake: r.Stake, ID: r.ID, Name: Plain(r.VernacularName), Key: letters(r.Stake), Form: form, Zone: r.Zone,
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
