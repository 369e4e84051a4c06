// Package report turns results into what people and programs read: a document
// per command, printed as text in the garden's units or as JSON in SI units.
// It rounds and words; it computes nothing.
package report

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
)

// Garden says which garden a document is about.
type Garden struct {
	Name   string      `json:"name"`
	File   string      `json:"file"`
	Demo   bool        `json:"demo"`
	Units  zones.Units `json:"-"`
	Assume []string    `json:"assumed,omitempty"`
	Taught []string    `json:"-"` // by its notes, with --by-notes; among Assume too
	// Inputs are the files that the document rests on, in the order in which
	// they were read.
	Inputs []FileDigest `json:"inputs" about:"the files that this rests on, in the order of reading"`
}

// FileDigest names a file that was read and the SHA-256 of what stood in it.
type FileDigest struct {
	Name   string `json:"file"`
	SHA256 string `json:"sha256" schema:"sha256"`
}

// NewGarden fills in the head of a document.
func NewGarden(g *zones.Garden, demo bool) Garden {
	return Garden{Name: g.Name, File: g.Source, Demo: demo, Units: g.Units, Assume: g.AssumedShown(), Inputs: []FileDigest{}}
}

// opening is what a document begins with: its title, the garden and, unless
// there is none, the record.
func opening(g Garden, title string, r *Record) []doc.Block {
	name := g.Name
	if g.Demo {
		name += " (the invented demo garden; --garden DIR for yours)"
	}
	out := []doc.Block{doc.Heading(title), doc.Line(name)}
	if r != nil {
		out = append(out, doc.Line(r.words()))
	}
	for _, t := range g.Taught {
		out = append(out, doc.Text{Words: "By the notes: " + t + "."})
	}
	return out
}

// answered is an opening with the answer before what that rests on. It asks too
// whether the record sounds right, in short only where it should.
func answered(g Garden, title string, r *Record, ask bool, answer ...doc.Block) []doc.Block {
	out := append(opening(g, title, nil), answer...)
	if r == nil {
		return append(out, doc.Line(""))
	}
	out = append(out, doc.Line(r.words()))
	if s := r.sounds(g.Units); s != "" {
		sounds := doc.Line(s)
		if ask {
			out = append(out, sounds)
		} else {
			out = append(out, doc.Rest(sounds))
		}
	}
	for _, s := range r.Doubts {
		out = append(out, doc.Line("Note: "+s+"."))
	}
	return append(out, doc.Line(""))
}

// Paper is doc.Paper, until all of cmd names that.
type Paper = doc.Paper

// Number is a float64 whose NaN and infinities are null in JSON.
type Number float64

// MarshalJSON writes null where there is no finite number.
func (n Number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

func numbers(v []float64) []Number {
	out := make([]Number, len(v))
	for i, x := range v {
		out[i] = Number(x)
	}
	return out
}

// Plain is doc.Plain.
func Plain(s string) string { return doc.Plain(s) }

// Months names months shortly, runs over the turn of the year too: "Apr to Jun,
// Sep", "Nov to Feb". They begin with a month whose forerunner is not among
// them, the first of them in the order given.
func Months(months []int) string {
	if len(months) == 0 {
		return "none"
	}
	first := max(0, slices.IndexFunc(months, func(m int) bool { return !slices.Contains(months, (m+10)%12+1) }))
	var parts []string
	for i := 0; i < len(months); {
		from := months[(first+i)%len(months)]
		to := from
		for i++; i < len(months) && months[(first+i)%len(months)] == to%12+1; i++ {
			to = to%12 + 1
		}
		part := monthName(from)
		if to != from {
			part += " to " + monthName(to)
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, ", ")
}

func monthName(m int) string { return time.Month(m).String()[:3] }

// date prints a day in the order of ISO 8601, which no country misreads.
func date(t time.Time) string { return t.Format("2006-01-02") }

func plural(n int, one, many string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, one)
	}
	return fmt.Sprintf("%d %s", n, many)
}
