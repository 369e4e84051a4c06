package search

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"hollowbed/zones/table"
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
	rd := synonymReader{name: name, csv: csv.NewReader(r), seen: map[string]bool{}}
	rd.csv.FieldsPerRecord = -1
	header, err := rd.csv.Read()
	var wrong *csv.ParseError
	if errors.As(err, &wrong) {
		rd.fault(wrong.Line, wrong.Column, "header", "", "want words,means,basis")
		return nil, rd.faults
	} else if err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(header) > 0 {
		header[0] = strings.TrimPrefix(header[0], "\uFEFF")
	}
	if !slices.Equal(header, []string{"words", "means", "basis"}) {
		rd.fault(1, 1, "header", strings.Join(header, ","), "want words,means,basis")
		return nil, rd.faults
	}
	s := &Synonyms{}
	for {
		row, err := rd.csv.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			rd.fault(bad.Line, bad.Column, "row", "", bad.Err.Error())
			break
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		s.rows = append(s.rows, rd.row(row))
	}
	if len(rd.faults) > 0 {
		return nil, rd.faults
	}
	return s, nil
}

type synonymReader struct {
	name   string
	csv    *csv.Reader
	seen   map[string]bool
	faults table.Faults
}

func (rd *synonymReader) fault(line, column int, field, value, want string) {
	rd.faults = append(rd.faults, table.Fault{File: rd.name, Line: line, Column: column, Name: field, Value: value, Want: want})
}

func (rd *synonymReader) row(cells []string) (syn synonym) {
	line, _ := rd.csv.FieldPos(0)
	if len(cells) != 3 {
		rd.fault(line, 1, "row", strings.Join(cells, ","), "want 3 cells: words, means, basis")
		return syn
	}
	for _, w := range strings.Split(cells[0], "|") {
		w = fold(strings.TrimSpace(w))
		if w == "" || rd.seen[w] {
			rd.fault(line, 1, "words", cells[0], "want words that are not empty and stand in one row only")
			continue
		}
		rd.seen[w] = true
		syn.words = append(syn.words, w)
	}
	_, column := rd.csv.FieldPos(1)
	means, err := parseAt(rd.name, line, cells[1])
	var faults table.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			f.Column += column - 1
			rd.faults = append(rd.faults, f)
		}
	}
	syn.means = means
	return syn
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
