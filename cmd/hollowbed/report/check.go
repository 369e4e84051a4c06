package report

import (
	"fmt"
	"io"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants/catalogue"
	"hollowbed/zones/table"
)

// Check is the document of the command catalogue check.
type Check struct {
	File     string  `json:"file"`
	Plants   *int    `json:"plants" schema:"1.."` // null with faults: none is given out then
	Faults   []fault `json:"faults"`
	Warnings []fault `json:"warnings"`
	Lacks    []lack  `json:"lacks" about:"plants that cannot be chosen, by the column that they leave empty"`
	// Inputs is the table, unless it was refused unread.
	Inputs []FileDigest `json:"inputs" about:"the files that this rests on, in the order of reading"`
}

// lack is a column that choosing needs and some plants leave empty.
type lack struct {
	Column string   `json:"column" schema:"some"`
	Where  string   `json:"where" about:"where it is needed, empty for everywhere"`
	Plants []string `json:"plants" schema:"some"`
}

// lackShown is how many plants are named for an empty column; --json has all.
const lackShown = 3

// Text says which plants cannot be chosen, and why.
func (c Check) Text(w io.Writer) {
	for _, l := range c.Lacks {
		where := ""
		if l.Where != "" {
			where = " " + l.Where
		}
		names := strings.Join(l.Plants[:min(lackShown, len(l.Plants))], ", ")
		if more := len(l.Plants) - lackShown; more > 0 {
			names += fmt.Sprintf(" and %d more", more)
		}
		doc.Terminal(w, []doc.Block{doc.Text{Words: fmt.Sprintf("%s is empty: %s cannot be chosen%s: %s.", l.Column, plural(len(l.Plants), "plant", "plants"), where, names), Hang: 2}})
	}
}

// fault is one thing that is wrong, or odd, at a place of the file.
type fault struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Name   string `json:"name"`
	Value  string `json:"value"`
	Want   string `json:"want" schema:"some"`
}

// NewCheck makes the document of a table that was read, or of its faults.
func NewCheck(file string, c *catalogue.Catalogue, faults table.Faults, read []FileDigest) Check {
	out := Check{File: file, Faults: newFaults(faults), Warnings: []fault{}, Lacks: []lack{}, Inputs: append([]FileDigest{}, read...)}
	if c != nil {
		n := len(c.Plants)
		out.Plants, out.Warnings = &n, newFaults(c.Warnings)
		for _, l := range catalogue.Lacks(c.Plants) {
			out.Lacks = append(out.Lacks, lack(l))
		}
	}
	return out
}

func newFaults(faults []table.Fault) []fault {
	out := []fault{}
	for _, f := range faults {
		out = append(out, fault{f.Line, f.Column, f.Name, f.Value, f.Want})
	}
	return out
}
