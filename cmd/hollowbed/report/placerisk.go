package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hollowbed/plants"
)

// riskWords says what the risks of a placement are of, beside those of the list,
// and which plants stand where theirs is more than is wished, the worst first.
func riskWords(p *plants.Placed) []string {
	garden := p.Planting.Exposure.Lot.Garden
	var above []int
	for i, s := range p.Result.Plants {
		if s.Risk > garden.Wishes.YearlyRiskMax {
			above = append(above, i)
		}
	}
	out := []string{"Risk a year: each plant's own, at the height and in the sun of its stake. The planting list has the mean over the zone, and goes by that."}
	if len(above) == 0 {
		return out
	}
	slices.SortStableFunc(above, func(a, b int) int { return cmp.Compare(p.Result.Plants[b].Risk, p.Result.Plants[a].Risk) })
	var named []string
	for _, i := range above[:min(len(above), aboveShown)] {
		words := p.Result.Plants[i].Stake + " " + risk(p.Result.Plants[i].Risk, false)
		if listed := inList(p, i); listed != "" {
			words += " (list: " + listed + ")"
		}
		named = append(named, words)
	}
	more := ""
	if n := len(above) - len(named); n > 0 {
		more = fmt.Sprintf(" and %d more", n)
	}
	return append(out, fmt.Sprintf("At more risk than the %s wished: %s%s.", garden.Units.Percent(garden.Wishes.YearlyRiskMax), strings.Join(named, ", "), more))
}

// aboveShown is how many plants at more risk than wished are named.
const aboveShown = 8

// inList is the risk that the planting list has for the line of a placed plant; ""
// where it is on none.
func inList(p *plants.Placed, i int) string {
	s := p.Result.Plants[i]
	for _, line := range p.Planting.Lines {
		if line.Plant.ID == s.ID && line.Zone == s.Zone {
			return risk(line.Fit.YearlyRisk, len(line.Fit.Assumed) > 0)
		}
	}
	return ""
}
