package report

import (
	"fmt"

	"hollowbed/plants/fit"
	"hollowbed/plants/season"
)

// mostLessons is how many learned limits are printed.
const mostLessons = 5

// lessons are what the notes teach of species and of this garden.
func (d Move) lessons() []string {
	if d.in.Learned == nil {
		return nil
	}
	var out []string
	if g, ok := d.in.Learned.Garden(d.in.Own); ok {
		for _, f := range []struct {
			name      string
			v, lo, hi float64
			check     string
		}{{"wet", g.Wet, g.WetLow, g.WetHigh, "soil rate and roof share"}, {"dry", g.Dry, g.DryLow, g.DryHigh, "mix depth, roof share and sun"}} {
			if f.lo > 1 || f.hi < 1 {
				out = append(out, fmt.Sprintf("%s spells act %.2g times as hard here as computed (%.2g to %.2g): test %s again.", f.name, f.v, f.lo, f.hi, f.check))
			}
		}
	}
	for i, l := range season.ByChange(d.in.Limits) {
		if i == mostLessons || !l.Moved() {
			break
		}
		name, figure := d.bears(l.Limit)
		out = append(out, fmt.Sprintf("%s, %s: tolerates %s by your notes (%s to %s), %s by the plant table; from %s in %s.", d.in.species(l.ID), name, figure(l.Learned), figure(min(l.Low, l.High)),
			figure(max(l.Low, l.High)), figure(l.Catalogue), plural(l.Plants, "plant", "plants"), plural(l.Gardens, "garden", "gardens")))
	}
	return out
}

// bears names a limit of the plant table, and says how its figures are printed.
func (d Move) bears(l fit.Limit) (name string, figure func(float64) string) {
	switch l {
	case fit.TooWet:
		return "wet ground", func(v float64) string { return fmt.Sprintf("%.0f h", v) }
	case fit.TooDeep:
		return "standing water", d.Garden.Units.Depth
	case fit.TooDry:
		return "without rain", func(v float64) string { return fmt.Sprintf("%.0f d", v) }
	}
	return "cold", d.Garden.Units.Temp
}
