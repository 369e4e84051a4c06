package search

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Synonyms says what words of the trade stand for.
type Synonyms struct {
	rows []synonym
}

// synonym is one row: words that mean the same, and what else they mean. The
// conditions in means are wishes, not tests: they rank, they exclude nothing.
type synonym struct {
	words []string
	means Query
}

// ReadSynonyms reads the table of synonyms: columns words, means and basis.
// words holds words or phrases that mean the same, divided by |. means holds
// what else they stand for, as a query line: words, phrases and conditions,
// any one of which will do. basis says where the row comes from. The error, if
// any, is Faults and names every fault.
func ReadSynonyms(name string, r io.Reader) (*Synonyms, error) {
	reader := csv.NewReader(r)
	reader.FieldsPerRecord = -1
	var faults Faults
	add := func(line, column int, field, value, want string) {
		faults = append(faults, Fault{File: name, Line: line, Column: column, Name: field, Value: value, Want: want})
	}
	header, err := reader.Read()
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	columns := []string{"words", "means", "basis"}
	if len(header) > 0 {
		header[0] = strings.TrimPrefix(header[0], "\uFEFF")
	}
	if !slices.Equal(header, columns) {
		add(1, 1, "header", strings.Join(header, ","), "want words,means,basis")
		return nil, faults
	}
	s := &Synonyms{}
	seen := map[string]bool{}
	for {
		row, err := reader.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			add(bad.Line, bad.Column, "row", "", bad.Err.Error())
			break
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := reader.FieldPos(0)
		if len(row) != len(columns) {
			add(line, 1, "row", strings.Join(row, ","), "want 3 cells: words, means, basis")
			continue
		}
		var syn synonym
		for _, w := range strings.Split(row[0], "|") {
			w = fold(strings.TrimSpace(w))
			if w == "" || seen[w] {
				add(line, 1, "words", row[0], "want words that are not empty and stand in one row only")
				continue
			}
			seen[w] = true
			syn.words = append(syn.words, w)
		}
		_, column := reader.FieldPos(1)
		means, err := parseAt(name, line, row[1])
		var fs Faults
		if errors.As(err, &fs) {
			for _, f := range fs {
				f.Column += column - 1
				faults = append(faults, f)
			}
		}
		syn.means = means
		s.rows = append(s.rows, syn)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return s, nil
}

// Words lists every word and phrase of the table in its order.
func (s *Synonyms) Words() []string {
	if s == nil {
		return nil
	}
	var out []string
	for _, row := range s.rows {
		out = append(out, row.words...)
	}
	return out
}
