package report

import (
	"fmt"
	"slices"

	"hollowbed/cmd/hollowbed/doc"
)

// counted is a list after an empty line, of which the short form has the number.
func counted(title string, items []string) []doc.Block {
	if len(items) == 0 {
		return nil
	}
	return []doc.Block{doc.Rest(doc.Line("")), doc.List{Title: title, Items: items}.Cut(0)}
}

// stepsShown is how many steps the short form has at least, if there are so many.
const stepsShown = 4

// Blocks are the plan as a terminal prints it. What is done together stays together
// in short too: the first of it begins with an empty line.
func (d Move) Blocks() []doc.Block {
	out, more := slices.Clone(d.Before), 0
	for i, s := range d.Steps {
		if more > 0 || i >= stepsShown && s.Blocks[0] == doc.Line("") {
			more++
			out = append(out, doc.Rest(s.Blocks...))
			continue
		}
		out = append(out, s.Blocks...)
	}
	if more > 0 {
		out = append(out, doc.Fold{Short: []doc.Block{doc.Line(fmt.Sprintf("and %s: --all", plural(more, "step more", "steps more")))}})
	}
	return append(append(out, doc.Rest(doc.Line(""))), append(d.After, endsShort("All, with why, costs and how to lift: --all. One plant: --plant STAKE."))...)
}
