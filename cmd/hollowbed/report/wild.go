package report

import (
	"fmt"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
)

// certainty says of a real plant how much of its risk is the weather, the rest
// being doubt about its limits, and what those rest on.
func certainty(v plants.Verdict) string {
	if v.Plant.Wild == nil {
		return ""
	}
	return fmt.Sprintf("; weather alone %s. %s: %s", risk(v.Fit.IfRight, false), capital(v.Plant.Wild.Grade.String()), basisOf(v.Plant.Wild))
}

// basisOf sums up the evidence of a real plant.
func basisOf(w *catalogue.Wild) string {
	var parts []string
	if w.Near > 0 {
		parts = append(parts, plural(w.Near, "garden list", "garden lists"))
	}
	if w.Tried {
		parts = append(parts, "trials")
	}
	if w.Far > 0 {
		parts = append(parts, plural(w.Far, "list", "lists")+" from far away")
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
	sure := capital(p.Wild.Grade.String()) + ", " + basisOf(p.Wild)
	return []doc.Block{doc.Fold{
		Short: []doc.Block{doc.Line(sure + ".")}, Full: []doc.Block{doc.Line(""), doc.List{Title: sure, Items: p.Wild.Evidence}},
	}}
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
