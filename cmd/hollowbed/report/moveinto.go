package report

import (
	"fmt"

	"hollowbed/cmd/hollowbed/doc"
)

// moveInto is a plant that would do better in another garden.
type moveInto struct {
	Plant      string `json:"plant" schema:"some"`
	Garden     string `json:"garden" schema:"some"`
	Zone       string `json:"zone" schema:"one of bottom|slope|rim"`
	RiskBefore Number `json:"yearly_risk_before" schema:"0..1"`
	RiskAfter  Number `json:"yearly_risk_after" schema:"0..1"`
	Cost       Number `json:"cost" schema:"known; 0.."`
	Else       Number `json:"else" schema:"known; 0.." about:"the cheapest answer here"`
}

// into says which plants another garden would suit.
func (d *Move) into() []doc.Block {
	if d.in.Into == "" {
		return nil
	}
	if len(d.Into) == 0 {
		return []doc.Block{doc.Text{Lead: "Into " + d.in.Into, Words: "nothing. No plant that struggles and stays would do so much better there that it pays, where there is room for it.", Hang: 2}}
	}
	out := doc.List{Title: "Into " + d.in.Into + ", where there is room"}
	for i, row := range d.Into {
		name := ""
		for _, m := range d.in.Plan.Stays {
			if m.Stake == row.Plant {
				name = " (" + m.Plant.VernacularName + ")"
			}
		}
		out.Items = append(out.Items, fmt.Sprintf("%s%s: to its %s, risk %s a year (%s here). Costs %.2f (%.0f min of work, the way apart); else %.2f. Then take its row out of planted.csv here and write one there",
			row.Plant, name, row.Zone, risk(float64(row.RiskAfter), false), risk(float64(row.RiskBefore), false), row.Cost, d.in.Guests[i].Minutes, row.Else))
	}
	return []doc.Block{out}
}
