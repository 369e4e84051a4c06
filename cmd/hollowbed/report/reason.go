package report

import (
	"fmt"
	"math"
	"time"

	"hollowbed/plants/fit"
	"hollowbed/zones"
	"hollowbed/zones/climate"
	"hollowbed/zones/water"
)

// Reason words what limits a plant, the same everywhere: what was found in
// the hardest year, and what the plant bears.
func Reason(r fit.Reason, u zones.Units) string {
	s := ""
	switch r.Limit {
	case fit.TooWet:
		found := u.Duration(r.Found)
		if all := u.Duration(r.Found + (1-water.DormantShare)*r.RestH); all == found {
			s = "wettest spell " + found + when(r.When, r.Year)
		} else {
			s = fmt.Sprintf("wettest spell %s%s, counts as %s since plants rest for %s of it", all, when(r.When, r.Year), found, u.Duration(r.RestH))
		}
		s += ", tolerates " + u.Duration(r.Allowed)
	case fit.TooDeep:
		s = fmt.Sprintf("standing water like %s all that time%s, tolerates %s", u.Depth(r.Found), when(r.When, r.Year), u.Depth(r.Allowed))
	case fit.TooDry:
		s = fmt.Sprintf("driest spell like %s%s, tolerates %s", plural(int(math.Round(r.Found)), "dry day", "dry days"), when(r.When, r.Year), trimDays(r.Allowed))
	case fit.TooCold:
		s = fmt.Sprintf("coldest %s%s, tolerates %s", u.Temp(r.Found), when(time.Time{}, r.Year), u.Temp(r.Allowed))
	case fit.TooDim:
		s = fmt.Sprintf("%.3g h of sun, wants at least %.3g h", r.Found, r.Allowed)
	case fit.TooSun:
		s = fmt.Sprintf("%.3g h of sun, tolerates at most %.3g h", r.Found, r.Allowed)
	default:
		return "nothing known that limits it"
	}
	if r.Assumed {
		s += " (assumed)"
	}
	return s
}

func trimDays(d float64) string {
	if d >= 10 {
		return fmt.Sprintf("%.0f", d)
	}
	return fmt.Sprintf("%.3g", d)
}

// when names the month of a spell, which may have begun in the year before the one
// it is counted in; of a made year its month alone.
func when(t time.Time, year int) string {
	switch made := climate.MadeYear(year); {
	case made && t.IsZero():
		return ""
	case made:
		return " (" + t.Format("January") + ")"
	case t.IsZero():
		return fmt.Sprintf(" (%d)", year)
	}
	return " (" + t.Format("Jan 2006") + ")"
}

// leastRisk is the least risk that a record can tell from none.
const leastRisk = 0.02

// risk prints a yearly risk: whole percents, and nothing finer than "under
// 2 %", since less than that no record can tell (see data/METHOD.md). A limit
// that is only assumed makes a figure "about".
func risk(v float64, assumed bool) string {
	s := fmt.Sprintf("%.0f %%", 100*v)
	switch {
	case math.IsNaN(v):
		return "not known"
	case v < leastRisk:
		return "under 2 %"
	case 100*v >= 99.5: // what rounds to a hundred, which nothing is
		s = "over 99 %"
	}
	if assumed {
		return "about " + s
	}
	return s
}
