package catalogue

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// A Fault is one thing that is wrong with a table: where it is, what stands
// there, and what would be right. Line and Column count from 1, Column in
// characters; 0 is not known.
type Fault struct {
	File         string
	Line, Column int
	Name         string // name of the column of the table, if it is about one
	Value        string // what stands there; empty when nothing does
	Want         string // what would be right
}

// longestShown is how much of a wrong value a message repeats, in characters.
const longestShown = 60

// String writes the fault as `plants.csv:14:6: spread_cm: "wide": want a
// number of centimetres`. Parts that are not known are left out.
func (f Fault) String() string {
	var b strings.Builder
	part := func(s string) {
		if b.Len() > 0 {
			b.WriteString(": ")
		}
		b.WriteString(s)
	}
	place := f.File
	for _, n := range []int{f.Line, f.Column} {
		if n <= 0 {
			break
		}
		if place != "" {
			place += ":"
		}
		place += strconv.Itoa(n)
	}
	if place != "" {
		part(place)
	}
	if f.Name != "" {
		part(f.Name)
	}
	if f.Value != "" {
		part(strconv.Quote(shorten(f.Value)))
	}
	part(f.Want)
	return b.String()
}

func shorten(s string) string {
	n := 0
	for i := range s {
		if n == longestShown {
			return s[:i] + "..."
		}
		n++
	}
	return s
}

// Faults is everything wrong with a table, in the order of the file. It is an
// error that the person who wrote the table can put right.
type Faults []Fault

// mostShown is how many faults one message lists.
const mostShown = 50

// Error lists the faults one a line, the first 50 of them.
func (fs Faults) Error() string {
	var b strings.Builder
	for i, f := range fs {
		if i == mostShown {
			b.WriteString("\nand " + strconv.Itoa(len(fs)-i) + " more")
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.String())
	}
	return b.String()
}

// BadInput says that the table is wrong, not the program.
func (fs Faults) BadInput() bool { return true }

// sorted puts faults in the order of the file.
func (fs Faults) sorted() Faults {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return fs
}

// gathered keeps the first three of the faults that want the same in the same
// column, and says in the third how many more rows there are: a table of
// thousands of rows often lacks the same thing in all of them.
func (fs Faults) gathered() Faults {
	const kept = 3
	type same struct{ name, want string }
	count := map[same]int{}
	for _, f := range fs {
		count[same{f.Name, f.Want}]++
	}
	var out Faults
	seen := map[same]int{}
	for _, f := range fs {
		k := same{f.Name, f.Want}
		seen[k]++
		if seen[k] > kept {
			continue
		}
		if more := count[k] - kept; seen[k] == kept && more > 0 {
			f.Want += "; the same in " + strconv.Itoa(more) + " more rows"
		}
		out = append(out, f)
	}
	return out
}
