package report

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
)

// moveInto is a plant that would do better in another garden.
type moveInto struct {
	Plant      string `json:"plant" schema:"some"`
	Garden     string `json:"garden" schema:"some"`
	As         string `json:"as" schema:"some" about:"its stake there"`
	Zone       string `json:"zone" schema:"one of bottom|slope|rim"`
	XM         Number `json:"x_m" schema:"known"`
	YM         Number `json:"y_m" schema:"known"`
	RiskBefore Number `json:"yearly_risk_before" schema:"0..1"`
	RiskAfter  Number `json:"yearly_risk_after" schema:"0..1"`
	Cost       Number `json:"cost" schema:"known; 0.."`
	Else       Number `json:"else" schema:"known; 0.." about:"the cheapest answer here"`
}

// into says which plants another garden would suit, and what to write in both.
func (d *Move) into() []doc.Block {
	if d.in.Into == "" {
		return nil
	}
	if len(d.Into) == 0 {
		return []doc.Block{doc.Text{Lead: "Into " + d.in.Into, Words: "nothing. No plant that struggles and stays would do so much better there that it pays, where there is room for it.", Hang: 2}}
	}
	out := doc.List{Title: "Into " + d.in.Into + ", where there is room"}
	there := doc.List{Title: "When that is done, first there: add to " + filepath.Join(d.in.Into, "planted.csv")}
	if !d.in.IntoPlanted {
		there.Items = append(there.Items, "(a new file) stake,id,x_m,y_m,planted,zone")
	}
	here := doc.List{Title: "Then here"}
	var notes, rows []string
	unknown := doc.List{Title: "Before: the plant table there lacks"}
	for i, row := range d.Into {
		g := d.in.Guests[i]
		name := row.Plant
		if p, ok := d.in.Plants.ByID(g.From.ID); ok {
			name += " (" + p.VernacularName + ")"
		}
		out.Items = append(out.Items, fmt.Sprintf("%s: to its %s at %.2f, %.2f m, stake %s; risk %s a year (%s here). Costs %.2f (%.0f min of work, the way apart); else %.2f. It counts as planted anew there: water it in",
			name, row.Zone, row.XM, row.YM, row.As, risk(float64(row.RiskAfter), false), risk(float64(row.RiskBefore), false), row.Cost, g.Minutes, row.Else))
		there.Items = append(there.Items, fmt.Sprintf("%s,%s,%.2f,%.2f,%s,%s", g.To.Stake, g.To.ID, g.To.X, g.To.Y, d.On, g.To.Zone))
		const note = "hollowbed note %s --garden DIR --date %s --remark %s"
		notes = append(notes, fmt.Sprintf(note, g.To.Stake, d.On, quoted("from "+d.in.Own+", "+g.From.Stake+" there")))
		here.Items = append(here.Items, fmt.Sprintf(note, g.From.Stake, d.On, quoted("moved to "+d.in.Into+", "+g.To.Stake+" there")))
		rows = append(rows, fmt.Sprintf("take the row of %s out of planted.csv (it is %s,%s,%g,%g,%s: keep it to undo this)", g.From.Stake, g.From.Stake, g.From.ID, g.From.X, g.From.Y, g.From.Planted))
		if _, ok := d.in.IntoTable.ByID(g.To.ID); !ok && !slices.Contains(unknown.Items, g.To.ID) {
			unknown.Items = append(unknown.Items, g.To.ID)
		}
	}
	there.Items, here.Items = append(there.Items, notes...), append(here.Items, rows...)
	blocks := []doc.Block{out}
	if len(unknown.Items) > 0 {
		blocks = append(blocks, unknown)
	}
	return append(blocks, there, here, doc.Text{Words: "Hollowbed writes into one garden at a time, so these are yours to write (DIR is the folder of either); stopped between the two, the plant stands in both lists, never in none. Its old notes stay here and teach no more."})
}

// quoted is text as one word of a POSIX shell.
func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }
