package search

import (
	"errors"
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

// ReadSynonyms reads the table of synonyms: words that mean the same, divided by |;
// means, a query line of which any will do; basis, where the row comes from. The error is
// Faults, all of them.
func ReadSynonyms(name string, r io.Reader) (*Synonyms, error) {
	t, faults, err := table.Load(name, r, table.DefaultLimits())
	if err != nil {
		return nil, err
	}
	if len(faults) == 0 {
		faults = t.Parse(table.DefaultLimits(), nil)
	}
	rd := synonymReader{Table: t, seen: map[string]bool{}, faults: faults}
	if columns := []string{"words", "means", "basis"}; t.Header != nil && !slices.Equal(t.Header, columns) {
		rd.fault(-1, 0, "header", strings.Join(t.Header, ","), "want words,means,basis")
		return nil, rd.faults
	}
	s := &Synonyms{}
	for i := range t.Rows {
		s.rows = append(s.rows, rd.row(i))
	}
	if len(rd.faults) > 0 {
		return nil, rd.faults.Sorted()
	}
	return s, nil
}

type synonymReader struct {
	*table.Table
	seen   map[string]bool
	faults table.Faults
}

func (rd *synonymReader) fault(row, col int, field, value, want string) {
	line, column := rd.Position(row, col)
	rd.faults = append(rd.faults, table.Fault{File: rd.Name, Line: line, Column: column, Name: field, Value: value, Want: want})
}

func (rd *synonymReader) row(i int) (syn synonym) {
	cells := rd.Rows[i]
	for _, w := range strings.Split(cells[0], "|") {
		w = fold(strings.TrimSpace(w))
		if w == "" || rd.seen[w] {
			rd.fault(i, 0, "words", cells[0], "want words that are not empty and stand in one row only")
			continue
		}
		rd.seen[w] = true
		syn.words = append(syn.words, w)
	}
	line, column := rd.Position(i, 1)
	means, err := parseAt(rd.Name, line, cells[1])
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
