package report

import (
	"hollowbed/plants/catalogue"
	"hollowbed/zones/table"
)

// Check is the document of the command catalogue check.
type Check struct {
	File     string  `json:"file"`
	Plants   *int    `json:"plants" schema:"1.."` // null with faults: none is given out then
	Faults   []fault `json:"faults"`
	Warnings []fault `json:"warnings"`
	// Inputs is the table, unless it was refused unread.
	Inputs []FileDigest `json:"inputs" about:"the files that this rests on, in the order of reading"`
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
	out := Check{File: file, Faults: newFaults(faults), Warnings: []fault{}, Inputs: append([]FileDigest{}, read...)}
	if c != nil {
		n := len(c.Plants)
		out.Plants, out.Warnings = &n, newFaults(c.Warnings)
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
