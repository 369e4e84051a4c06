package report

import (
	"fmt"
	"math"

	"hollowbed/plants"
	"hollowbed/zones"
)

// TaughtWords say what a garden's notes taught of its ground and its sun, with how
// sure that is.
func TaughtWords(u zones.Units, t plants.Taught) (out []string) {
	if !math.IsNaN(t.RateMMH) {
		out = append(out, fmt.Sprintf("the ground takes %s (90 %% of cases: %s to %s), %s as tested; from %s",
			u.Rate(t.RateMMH), u.Rate(t.LowMMH), u.Rate(t.TopMMH), u.Rate(t.TestedMMH), plural(t.Ponds, "ponding", "pondings")))
	}
	for _, s := range t.Sun {
		before := "nothing was known before"
		if !math.IsNaN(s.BeforeH) {
			before = fmt.Sprintf("%.1f before", s.BeforeH)
		}
		out = append(out, fmt.Sprintf("the %s has %.1f hours of sun a day (within %.1f in 90 %% of cases), %s; from %s",
			s.Zone, s.Hours, s.WithinH, before, plural(s.Days, "day", "days")))
	}
	out = append(out, t.Notes...)
	if len(out) == 0 {
		out = append(out, "nothing of water that stood or of sun, so all is as in the garden file (note --pond, note --sun)")
	}
	return out
}
