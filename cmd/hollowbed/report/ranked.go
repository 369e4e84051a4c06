package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"

	"hollowbed/plants"
	"hollowbed/plants/season"
)

// Ranked is the document of move --plant: the places that one plant may have.
type Ranked struct {
	Garden  Garden        `json:"garden"`
	Record  Record        `json:"record"`
	Plant   string        `json:"plant" schema:"some"`
	Seasons int           `json:"seasons" schema:"1.."`
	Cause   *MoveCause    `json:"cause"` // null if it has no notes
	Places  []RankedPlace `json:"places" schema:"some"`
	Notes   []string      `json:"notes" schema:"each some"`
	kind    string        // name of its species
	move    Move          // for words
	in      []plants.PlaceOption
}

// RankedPlace is one place for a plant, best first.
type RankedPlace struct {
	Place      *MovePlace `json:"place"` // null: it is given up
	Displaces  string     `json:"displaces"`
	YearlyRisk Number     `json:"yearly_risk" schema:"0..1"`
	Loss       Number     `json:"loss" schema:"0..1"`
	ExtraM2    Number     `json:"extra_m2"` // ground by which the best plan with it there is worse than the best plan
}

// NewRanked makes the document of the places of one plant of a species.
func NewRanked(g Garden, in MoveIn, stake, species string, seasons int, options []plants.PlaceOption) Ranked {
	doc := Ranked{
		Garden: g, Record: NewRecord(in.Exposure.Record), Plant: stake, Seasons: seasons, Places: []RankedPlace{}, Notes: orEmpty(in.Notes),
		kind: in.species(species), move: Move{Garden: g, in: in}, in: options,
	}
	for _, o := range options {
		row := RankedPlace{Displaces: o.Displaces, YearlyRisk: Number(o.Outlook.YearlyRisk), Loss: Number(o.Loss), ExtraM2: Number(o.ExtraM2)}
		if !o.GiveUp {
			at := doc.move.place(o.To)
			row.Place = &at
		} else {
			row.YearlyRisk = Number(math.NaN())
		}
		doc.Places = append(doc.Places, row)
	}
	for _, d := range in.Diagnoses {
		if season.SameStake(d.Case.Plant, stake) {
			c := doc.move.cause(d)
			doc.Cause = &c
		}
	}
	return doc
}

// mostRanked is how many places are printed.
const mostRanked = 12

// Text prints the best places.
func (d Ranked) Text(w io.Writer) {
	name := Plain(d.Plant)
	if d.kind != "" {
		name += " (" + Plain(d.kind) + ")"
	}
	d.Garden.title(w, "Places for "+name)
	d.Record.line(w)
	fmt.Fprintln(w)
	wrap(w, "", "", d.advice())
	for _, c := range d.move.in.Diagnoses {
		if season.SameStake(c.Case.Plant, d.Plant) {
			wrap(w, "Why it does as it does: ", "  ", d.move.why(c))
		}
	}
	_, names := d.move.in.Exposure.Lot.FixedPoints()
	wrap(w, "", "", fixedPoints(names))
	fmt.Fprintln(w)
	if narrow(w, 96) {
		for _, r := range d.rows() {
			figures := ""
			if r[2] != "" {
				figures = fmt.Sprintf("risk %s a year, ground %s from spill, sun %s; ", r[4], r[2], r[3])
			}
			wrap(w, fmt.Sprintf("%d. ", r[0]), "   ", fmt.Sprintf("%s: %scosts the bed %s", r[1], figures, r[5]))
		}
	} else {
		grid(w, table.Row{"", "place of", "ground, from spill", "sun", "risk a year", "costs the bed"}, []string{"ground, from spill", "sun", "risk a year", "costs the bed"}, d.rows())
	}
	wrap(w, "", "", "Costs the bed: planting lost beyond the best plan over the seasons ahead, with what moving costs and leaves in doubt, and with whom it displaces moved to the best place left.")
	if len(d.Notes) > 0 {
		fmt.Fprintln(w, "Notes:")
		bullets(w, d.Notes)
	}
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
func (d Ranked) rows() []table.Row {
	u := d.Garden.Units
	var rows []table.Row
	var names [][]string
	seen := map[string]int{} // row, by what is printed of it
	for _, o := range d.in {
		name, zone, height, sun, chance := "another plant in its place", "", "", "", ""
		if !o.GiveUp {
			name, zone, height = d.name(o), o.To.Zone, signed(u.Depth, o.To.HeightMM)
			sun, chance = fmt.Sprintf("%.2g h", o.To.SunH), risk(o.Outlook.YearlyRisk, false)
		}
		cost := u.Area(o.ExtraM2)
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
		rows = append(rows, table.Row{len(seen), zone, height, sun, chance, cost})
	}
	for i := range rows {
		where := names[i][0]
		if n := len(names[i]); n > 1 {
			where = strings.Join(names[i][:min(n, mostAlike)], ", ")
			if n > mostAlike {
				where += fmt.Sprintf(" and %d more", n-mostAlike)
			}
		}
		if zone := rows[i][1].(string); zone != "" {
			where = zone + ": " + where
		}
		rows[i][1] = where
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
