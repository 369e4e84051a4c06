package report

import (
	"fmt"
	"math"
	"strings"

	"hollowbed/plants"
	"hollowbed/plants/care"
	"hollowbed/zones"
)

// listWatering is the weekly watering in drought that a list counts on.
type listWatering struct {
	Litres  Number   `json:"litres_dry_year" schema:"known; 0.." about:"of the year passed in one of ten, the whole bed"`
	Minutes Number   `json:"minutes_dry_year" schema:"known; 0.." about:"of a hose of 15 L/min, in care of hose_l_min"`
	Lost    []string `json:"lost_without" schema:"each some" about:"ids of plants at more than the accepted risk without it"`
	Safe    []string `json:"safe_zones" schema:"each some" about:"zones that lose none without it"`
}

func newListWatering(w *plants.Watering) *listWatering {
	if w == nil {
		return nil
	}
	out := &listWatering{Number(w.Litres), Number(w.Minutes), []string{}, orEmpty(w.Safe)}
	for _, g := range w.Lost {
		out.Lost = append(out.Lost, g.Plant.ID)
	}
	return out
}

// countsOnWater says in short that risks count on watering; nothing where they do not.
func countsOnWater(g *zones.Garden) []string {
	if g.Wishes.Watering != zones.WaterWeekly {
		return nil
	}
	return []string{"risks count on watering once a week in drought, every year (wishes.watering)"}
}

// weekly says what the watering of every drought takes, and who is lost without it.
func weekly(u zones.Units, w *plants.Watering) string {
	takes := fmt.Sprintf("about %s and %s of the hose in a dry year (one in ten)", litres(u, w.Litres), u.Duration(w.Minutes/60))
	if len(w.Lost) == 0 {
		return takes + ". Without it none is past the risk you accept, but each is at more than is shown"
	}
	var lost []string
	for _, g := range w.Lost {
		lost = append(lost, fmt.Sprintf("%d %s", g.Count, g.Plant.VernacularName))
	}
	out := takes + ". Without it these would fail: " + some(lost)
	if len(w.Safe) > 0 {
		out += "; none of the " + join(w.Safe)
	}
	return out
}

// neverWatered says what is risked where nobody waters.
func neverWatered(u zones.Units, in CareIn) string {
	alone, planned, risky, young := 0.0, 0.0, 0, 0
	var later []string
	for _, p := range in.Plants {
		young += p.Count
		alone, planned = alone+float64(p.Count)*p.Alone, planned+float64(p.Count)*p.Planned
		if !(p.Alone <= in.Setting.RiskMax) {
			risky += p.Count
		}
		if p.Verdict == care.NotSafe {
			later = append(later, fmt.Sprintf("%d %s (%s)", p.Count, p.Plant.VernacularName, p.Zone))
		}
	}
	s := fmt.Sprintf("Nobody waters after that day (wishes.watering: none): in the first year %d of %s run more than the %s of risk that you accept", risky, plural(young, "plant", "plants"), u.Percent(in.Setting.RiskMax))
	if !math.IsNaN(alone) && !math.IsNaN(planned) {
		s += fmt.Sprintf(", and some %.0f would be lost, watered by hand %.0f", alone, planned)
	}
	if len(later) > 0 {
		s += ". Grown too, they are not safe: " + strings.Join(later, ", ")
	}
	return s
}
