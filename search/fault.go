package search

import (
	"fmt"
	"strings"
)

// Fault is one thing wrong with a query or with the table of synonyms.
type Fault struct {
	File   string // "query" for a query; "" for an option, which has no place
	Line   int
	Column int // in characters, from 1
	Name   string
	Value  string
	Want   string
}

func (f Fault) String() string {
	if f.File == "" {
		return fmt.Sprintf("%s: %q: %s", f.Name, f.Value, f.Want)
	}
	return fmt.Sprintf("%s:%d:%d: %s: %q: %s", f.File, f.Line, f.Column, f.Name, f.Value, f.Want)
}

// Faults is all that is wrong with one input.
type Faults []Fault

const mostFaults = 50

func (fs Faults) Error() string {
	var b strings.Builder
	for i, f := range fs {
		if i == mostFaults {
			fmt.Fprintf(&b, "\nand %d more", len(fs)-mostFaults)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.String())
	}
	return b.String()
}

// BadInput says that the user can put it right.
func (Faults) BadInput() bool { return true }
