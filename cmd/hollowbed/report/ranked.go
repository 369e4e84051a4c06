package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/season"
)

// Ranked is the document of move --plant: the places that one plant may have.
type Ranked struct {
	Garden  Garden        `json:"garden"`
	Record  Record        `json:"record"`
	Plant   string        `json:"plant" schema:"some"`
	Seasons int           `json:"seasons" schema:"1.."`
	Cause   *moveCause    `json:"cause"` // null if it has no notes
	Places  []rankedPlace `json:"places" schema:"some"`
	Notes   []string      `json:"notes" schema:"each some"`
	kind    string        // name of its species
	move    Move          // for words
	in      []plants.PlaceOption
}

// rankedPlace is one place for a plant, best first.
type rankedPlace struct {
	Place      *movePlace `json:"place"` // null: it is given up
	Displaces  string     `json:"displaces"`
	YearlyRisk Number     `json:"yearly_risk" schema:"0..1"`
	Loss       Number     `json:"loss" schema:"0..1"`
	Extra      Number     `json:"extra"` // by how much the best plan with it there costs more than the best plan
}

// NewRanked makes the document of the places of one plant of a species.
func NewRanked(g Garden, in MoveIn, stake, species string, seasons int, options []plants.PlaceOption) Ranked {
	out := Ranked{
		Garden: g, Record: newRecord(in.Exposure.Record), Plant: stake, Seasons: seasons, Places: []rankedPlace{}, Notes: orEmpty(in.Notes),
		kind: in.species(species), move: Move{Garden: g, in: in}, in: options,
	}
	for _, o := range options {
		row := rankedPlace{Displaces: o.Displaces, YearlyRisk: Number(o.Outlook.YearlyRisk), Loss: Number(o.Loss), Extra: Number(o.Extra)}
		if !o.GiveUp {
			at := out.move.place(o.To)
			row.Place = &at
		} else {
			row.YearlyRisk = Number(math.NaN())
		}
		out.Places = append(out.Places, row)
	}
	for _, d := range in.Diagnoses {
		if season.SameStake(d.Case.Plant, stake) {
			c := out.move.cause(d)
			out.Cause = &c
		}
	}
	return out
}

// mostRanked is how many places are printed.
const mostRanked = 12

// rankedShown is how many places the short form has.
const rankedShown = 5

// Blocks are the best places, as a terminal prints them.
func (d Ranked) Blocks() []doc.Block {
	name := d.Plant
	if d.kind != "" {
		name += " (" + d.kind + ")"
	}
	out := answered(d.Garden, "Places for "+name, &d.Record, false, doc.Text{Words: d.advice()})
	for _, c := range d.move.in.Diagnoses {
		if season.SameStake(c.Case.Plant, d.Plant) {
			out = append(out, doc.Text{Lead: "Why it does as it does", Words: d.move.why(c), Hang: 2})
		}
	}
	_, names := d.move.in.Exposure.Lot.FixedPoints()
	return append(out, doc.Text{Words: fixedPoints(names)}, doc.Line(""), doc.Table{
		Columns: []doc.Column{{Right: true}, {Head: "place of"}, {Head: "ground, from spill", Right: true}, {Head: "sun", Right: true}, {Head: "risk a year", Right: true}, {Head: "costs the bed", Right: true}},
		Rows:    d.rows(), Narrow: 96, Prose: rankedLine,
	}.Cut(rankedShown, "places"), doc.Rest(doc.Text{Words: "Costs the bed: by how much it costs more than the best plan over the seasons ahead, in the plant table's currency. The cost of moving, what is in doubt, and a new place for a plant that has to make room are counted."}),
		doc.List{Title: "Notes", Items: d.Notes}, endsShort("All places, and what the costs are: --all."))
}

// rankedLine prints one place in a line.
func rankedLine(w io.Writer, row []string) {
	figures := ""
	if row[2] != "" {
		figures = fmt.Sprintf("risk %s a year, ground %s from spill, sun %s; ", row[4], row[2], row[3])
	}
	doc.Wrap(w, row[0]+". ", "   ", fmt.Sprintf("%s: %scosts the bed %s", row[1], figures, row[5]))
}

// advice is the best of the places in words.
func (d Ranked) advice() string {
	best, most := d.in[0], d.move.in.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	words := "move it to " + d.move.to(best.To)
	switch {
	case best.GiveUp:
		words = "another plant in its place"
	case season.SameStake(best.To.Stake, d.Plant):
		words = "leave it where it is"
	}
	if !slices.ContainsFunc(d.in, func(o plants.PlaceOption) bool { return !o.GiveUp && o.Outlook.YearlyRisk <= most }) {
		words += fmt.Sprintf(". No place here keeps it within the %s a year that you wished for", risk(most, false))
	}
	return "Best: " + words + "."
}

// mostAlike is how many stakes are named of places that are alike.
const mostAlike = 4

// rows are the best places, with those that are alike in one, and its own.
func (d Ranked) rows() [][]doc.Cell {
	u := d.Garden.Units
	var rows [][]doc.Cell
	var names [][]string
	seen := map[string]int{} // row, by what is printed of it
	for _, o := range d.in {
		name, zone, height, sun, chance := "another plant in its place", "", "", "", ""
		if !o.GiveUp {
			name, zone, height = d.name(o), o.To.Zone, level(u, o.To.HeightMM)
			sun, chance = fmt.Sprintf("%.2g h", o.To.SunH), risk(o.Outlook.YearlyRisk, false)
		}
		cost := fmt.Sprintf("%.2f", o.Extra)
		key := fmt.Sprint(zone, height, sun, chance, cost)
		if o.Displaces == "" || season.SameStake(o.Displaces, d.Plant) {
			key += name // free ground, or its own: a line of its own
		}
		if i, alike := seen[key]; alike {
			if i < len(rows) {
				names[i] = append(names[i], name)
			}
			continue
		}
		seen[key] = len(rows)
		if own := season.SameStake(o.To.Stake, d.Plant) && !o.GiveUp; len(seen) > mostRanked && !own {
			seen[key] = len(d.in) // not printed
			continue
		}
		names = append(names, []string{name})
		rows = append(rows, doc.Cells(strconv.Itoa(len(seen)), zone, height, sun, chance, cost))
	}
	for i := range rows {
		where := names[i][0]
		if n := len(names[i]); n > 1 {
			where = strings.Join(names[i][:min(n, mostAlike)], ", ")
			if n > mostAlike {
				where += fmt.Sprintf(" and %d more", n-mostAlike)
			}
		}
		if zone := rows[i][1].Words; zone != "" {
			where = zone + ": " + where
		}
		rows[i][1].Words = where
	}
	return rows
}

// name is a place in a few words.
func (d Ranked) name(o plants.PlaceOption) string {
	at := d.move.place(o.To)
	u := d.Garden.Units
	switch {
	case season.SameStake(o.To.Stake, d.Plant):
		return "its own"
	case o.Displaces != "":
		return o.Displaces
	case o.To.Stake != "":
		return o.To.Stake + " (gone)"
	}
	return fmt.Sprintf("%s from A, %s from B", u.Length(float64(at.FromAM)), u.Length(float64(at.FromBM)))
}
