package report

import (
	"fmt"

	"hollowbed/plants"
	"hollowbed/zones"
)

// refusal words why a zone is left empty and what would help.
func refusal(g Garden, r *plants.Refusal) []string {
	if r == nil {
		return []string{}
	}
	u := g.Units
	lines := []string{}
	for _, out := range r.Ruled {
		why := string(out.Bar)
		if out.Limit != "" {
			why = string(out.Limit)
		}
		lines = append(lines, fmt.Sprintf("%s: %s", plural(out.Count, "plant", "plants"), why))
	}
	if n := r.Nearest; n != nil {
		lines = append(lines, fmt.Sprintf("nearest: %s, %s a year: %s", n.Plant.VernacularName, risk(1-n.Fit.Survival(), len(n.Fit.Assumed) > 0), Reason(n.Fit.Reason, u)))
	}
	for _, c := range r.Changes {
		what := ""
		switch c.Kind {
		case plants.ChangeWater:
			what = "deep watering once a week in dry spells, every year (wishes.watering: " + zones.WaterWeekly + "),"
		case plants.ChangePond:
			what = "a pond of " + u.Depth(c.PondMM)
		case plants.ChangeSun:
			what = fmt.Sprintf("%.3g h more sun", c.SunH)
		case plants.ChangeMix:
			what = "a mix of " + c.Texture
			if c.Offered == 0 {
				what = "another mix (loamy sand, sandy loam, loam or silt loam)"
			}
		case plants.ChangeDeep:
			what = "a mix " + u.Depth(c.MixMM) + " deep"
		}
		if c.Offered == 0 {
			lines = append(lines, what+" would not help by itself")
			continue
		}
		lines = append(lines, fmt.Sprintf("%s would let %s live here", what, plural(c.Offered, "species", "species")))
	}
	if len(lines) == 0 {
		lines = append(lines, "all of the plant table was left out before its water was looked at: the notes say why")
	}
	return lines
}
