package report

import (
	"fmt"
	"io"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants/catalogue"
)

// Short writes the hand-over, two pages that an owner keeps.
func (p Page) Short(w io.Writer) error {
	p.Kind = "rain garden hand-over"
	return p.write(w, "short.html", nil)
}

// Handed are the plants of a list as an owner knows them, with what they harm.
func (d Choose) Handed() []doc.Block {
	t := doc.Table{Caption: "How many, how high, when they flower", Columns: []doc.Column{
		{Head: "plant"}, {Head: "plants", Right: true}, {Head: "apart", Right: true}, {Head: "height"}, {Head: "flower"}, {Head: "harms and spreads"},
	}}
	var order []string
	kinds, counts := map[string]catalogue.Plant{}, map[string]int{}
	for _, l := range d.in.Lines {
		id := l.Plant.ID
		if counts[id] == 0 {
			order = append(order, id)
		}
		kinds[id] = l.Plant
		counts[id] += l.Count
	}
	for _, id := range order {
		p, harm := kinds[id], "none known"
		high, flower, _ := strings.Cut(looksOf(d.Garden.Units, p.HeightCM, p.FlowerFrom, p.FlowerTo, p.FlowerColour), "; ")
		if m := mind(p); len(m) > 0 {
			harm = strings.Join(m, "; ")
		}
		t.Rows = append(t.Rows, []doc.Cell{{Words: named(&p), Latin: latin(&p)}, {Words: fmt.Sprint(counts[id])},
			{Words: d.Garden.Units.Length(p.SpreadCM / 100)}, {Words: high}, {Words: flower}, {Words: harm}})
	}
	out := []doc.Block{doc.Heading("Your plants")}
	if len(t.Rows) > 0 {
		out = append(out, t)
	}
	return append(out, doc.List{Items: d.Cautions, Mind: true})
}

// Handed is the first year as an owner needs it: the water, and what can hurt.
func (d Care) Handed() []doc.Block {
	u, in := d.Garden.Units, d.in
	first, _ := careAdvice(u, in)
	letIn, _ := doc.First(letInAdvice(u, in))
	out := []doc.Block{doc.Heading("The first year"), doc.Text{Words: first}}
	if !in.Setting.Never {
		out = append(append(out, wateringTable(u, in)), wateringDates(in)...)
	}
	return append(out, doc.Text{Words: "When to let the roof water in: " + letIn},
		doc.List{Items: firsts(append(append([]string{}, d.LetIn.Cautions...), d.Cautions...)), Mind: true},
		doc.Heading("After the first season"),
		doc.Text{Words: "In autumn, before the tops die back, write down how the plant at each stake did, and what you see on it. With these notes (hollowbed note) hollowbed move says what to move, swap or replace, and why."},
		doc.List{Items: laterYears(in)})
}

// firsts are the first sentences of texts.
func firsts(all []string) []string {
	var out []string
	for _, s := range all {
		first, _ := doc.First(s)
		out = append(out, first)
	}
	return out
}
