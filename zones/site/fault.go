package site

import (
	"fmt"
	"strconv"
	"strings"
)

// maxFaults is how many faults one message lists before it only counts.
const maxFaults = 50

// Fault is one thing wrong with what a person gave: where it stands, what it
// says and what would be right. Line and Col count from 1; 0 means the fault
// belongs to the file (or the line) as a whole.
type Fault struct {
	File      string
	Line, Col int
	Name      string // column or field; "" if none
	Value     string // as written; "" if none
	Want      string // what would be right
}

// maxShown is how many bytes of a faulty value a message repeats.
const maxShown = 40

// Error gives file:line:column: name: "value": what would be right.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		b.WriteString(":" + strconv.Itoa(f.Line))
		if f.Col > 0 {
			b.WriteString(":" + strconv.Itoa(f.Col))
		}
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	if f.Name != "" {
		b.WriteString(f.Name + ": ")
	}
	if f.Value != "" {
		shown := f.Value
		if len(shown) > maxShown {
			shown = strings.ToValidUTF8(shown[:maxShown], "") + "..."
		}
		fmt.Fprintf(&b, "%q: ", shown)
	}
	b.WriteString(f.Want)
	return b.String()
}

// Faults is everything found wrong with one file, in the order of the file.
type Faults []Fault

// Error gives one fault a line and says how many more there are past the
// first 50.
func (fs Faults) Error() string {
	lines := make([]string, 0, min(len(fs), maxFaults)+1)
	for i, f := range fs {
		if i == maxFaults {
			lines = append(lines, fmt.Sprintf("and %d more", len(fs)-maxFaults))
			break
		}
		lines = append(lines, f.Error())
	}
	return strings.Join(lines, "\n")
}

// BadInput reports that the fault lies in what was given, not in the program.
func (fs Faults) BadInput() bool { return true }
