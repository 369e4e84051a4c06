package report

import (
	"fmt"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
)

// certainty says of a real plant how much of its risk is doubt about its limits,
// and what those rest on.
func certainty(v plants.Verdict) string {
	w := v.Plant.Wild
	if w == nil {
		return ""
	}
	return fmt.Sprintf("; %s a year by the weather alone, the rest is doubt about its limits. %s: %s", risk(v.Fit.IfRight, false), capital(w.Grade.String()), basisOf(v.Plant))
}

// basisOf sums up the evidence of a real plant.
func basisOf(p catalogue.Plant) string {
	lists, tried := 0, false
	for _, line := range p.Wild.Evidence {
		if strings.HasPrefix(line, "named for") {
			lists++
		}
		tried = tried || strings.Contains(line, "in trials")
	}
	var parts []string
	if tried {
		parts = append(parts, "trials")
	}
	if lists > 0 {
		parts = append(parts, plural(lists, "garden list", "garden lists"))
	}
	if len(parts) == 0 {
		return "rests on its class alone"
	}
	return "rests on " + join(parts)
}

// evidence lists what the limits of a real plant rest on; nothing for another.
func evidence(p catalogue.Plant) []doc.Block {
	if p.Wild == nil {
		return nil
	}
	return []doc.Block{doc.Line(""), doc.List{Title: capital(p.Wild.Grade.String()) + ", " + basisOf(p), Items: p.Wild.Evidence}}
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
