// Package table reads tables of text and tells what is wrong with them.
package table

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// A Fault is one thing that is wrong with what a person gave: where it is, what
// is written there, and what would be right. Line and Column count from 1,
// Column in characters; 0 is not known.
type Fault struct {
	File         string
	Line, Column int
	Name         string // of the column or field, if it is about one
	Value        string // as written; "" if there is none
	Want         string // what would be right
}

const (
	longestShown = 60 // characters of a wrong value that a message repeats
	mostShown    = 50 // faults that one message lists
	mostAlike    = 3  // faults alike that Gathered keeps
)

// String writes the fault as `plants.csv:14:6: spread_cm: "wide": want a
// number of centimetres`. Parts that are not known are left out.
func (f Fault) String() string {
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
	parts := []string{place, f.Name, "", f.Want}
	if f.Value != "" {
		parts[2] = strconv.Quote(shorten(f.Value))
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ": ")
}

// Error is String.
func (f Fault) Error() string { return f.String() }

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

// Faults is everything wrong with one input. It is an error that the person who
// wrote the input can put right.
type Faults []Fault

// Error lists the faults one a line, the first 50 of them.
func (fs Faults) Error() string {
	var lines []string
	for _, f := range fs[:min(len(fs), mostShown)] {
		lines = append(lines, f.String())
	}
	if more := len(fs) - mostShown; more > 0 {
		lines = append(lines, "and "+strconv.Itoa(more)+" more")
	}
	return strings.Join(lines, "\n")
}

// BadInput says that the input is wrong, not the program.
func (fs Faults) BadInput() bool { return true }

// Err is the faults as an error, nil if there are none.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// Sorted puts faults in the order of the file.
func (fs Faults) Sorted() Faults {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return fs
}

// Gathered keeps the first three of the faults that want the same in the same
// column, and says in the third how many more rows there are: a table of
// thousands of rows often lacks the same thing in all of them.
func (fs Faults) Gathered() Faults {
	type alike struct{ name, want string }
	count, seen := map[alike]int{}, map[alike]int{}
	for _, f := range fs {
		count[alike{f.Name, f.Want}]++
	}
	var out Faults
	for _, f := range fs {
		k := alike{f.Name, f.Want}
		seen[k]++
		if seen[k] > mostAlike {
			continue
		}
		if more := count[k] - mostAlike; seen[k] == mostAlike && more > 0 {
			f.Want += "; the same in " + strconv.Itoa(more) + " more rows"
		}
		out = append(out, f)
	}
	return out
}
