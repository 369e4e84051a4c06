package search

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Result is what a query found.
type Result struct {
	Total   int       `json:"total"` // plants that match
	Words   string    `json:"words,omitempty"`
	Hits    []Hit     `json:"hits"`           // best first, from Offset on
	Also    []Hit     `json:"also,omitempty"` // plants that lack some of the words, to fill up Limit; not in Total
	Facets  []Facet   `json:"facets,omitempty"`
	Unknown []Unknown `json:"unknown,omitempty"`
	Notes   []string  `json:"notes,omitempty"`
	NoHit   *NoHit    `json:"no_hit,omitempty"` // if Total is 0
}

// What Result.Words says: each hit has all words, or no plant has all of them
// and each hit has some.
const (
	AllWords  = "all"
	SomeWords = "some"
)

// Hit is a plant that matches.
type Hit struct {
	Row            int      `json:"-"` // its place in the table
	ID             string   `json:"id"`
	VernacularName string   `json:"vernacularName"`
	Score          float64  `json:"score"`
	Risk           *float64 `json:"yearly_risk,omitempty"`
	Why            []Reason `json:"why"`
}

// Unknown counts plants that fail nothing else but have no value for a
// condition to be put to.
type Unknown struct {
	Field  string `json:"field"`
	Column string `json:"column"`
	Plants int    `json:"plants"`
}

func (u Unknown) String() string {
	if u.Plants == 1 {
		return fmt.Sprintf("1 plant that might match has no stated %s", u.Column)
	}
	return fmt.Sprintf("%d plants that might match have no stated %s", u.Plants, u.Column)
}

// match is a plant that meets all conditions, on its way to being a hit.
type match struct {
	row    int
	score  float64
	risk   float64
	reason string
}

// Find runs a query. Equal hits come in the order of the table.
func (x *Index) Find(q Query) (*Result, error) {
	if q.Limit == 0 {
		q.Limit = 10
	}
	r := &Result{Hits: []Hit{}}
	for _, name := range q.Facets {
		if f, ok := fieldNamed(name); !ok || !f.Facet {
			return nil, Faults{{File: "query", Line: 1, Column: 1, Name: "facet", Value: name, Want: didYouMean("want a field that can be counted: "+list(facetNames()), fold(name), facetNames())}}
		}
	}
	var s *spoken
	if len(q.Words) > 0 {
		var err error
		if s, err = x.tally(q.Words); err != nil {
			return nil, err
		}
		r.Notes = append(r.Notes, s.notes...)
		x.mu.Lock()
		r.Notes = append(r.Notes, x.notes...)
		x.mu.Unlock()
	}
	matches, unknown := x.scan(q.Conditions)
	r.Unknown = unknown
	var partly, doomed []match
	if s != nil {
		matches, partly, r.Words = s.keep(matches, len(q.Conditions) == 0)
	}
	before := len(matches)
	if q.Survives != nil {
		matches, doomed = survivors(matches, q.Survives)
		partly, _ = survivors(partly, q.Survives)
	}
	r.Total = len(matches)
	for _, name := range q.Facets {
		r.Facets = append(r.Facets, x.facet(name, matches))
	}
	if r.Total == 0 {
		r.NoHit = x.noHit(q, s, before, doomed)
		r.Notes = append(r.Notes, x.strangers(q.Conditions)...)
		return r, nil
	}
	best := top(matches, q.Offset+q.Limit, q.Survives != nil)
	for _, m := range best[min(max(q.Offset, 0), len(best)):] {
		r.Hits = append(r.Hits, x.hit(m, q, s))
	}
	for _, m := range top(partly, q.Limit-len(r.Hits), q.Survives != nil) {
		r.Also = append(r.Also, x.hit(m, q, s))
	}
	return r, nil
}

// scan puts all conditions to all plants. A plant that fails one is not asked
// the rest.
func (x *Index) scan(conditions []Condition) ([]match, []Unknown) {
	tests := make([]test, len(conditions))
	for i, c := range conditions {
		tests[i] = c.ready()
	}
	var out []match
	missing := make([]int, len(conditions))
	open := make([]int, 0, len(conditions))
plants:
	for row := range x.plants {
		open = open[:0]
		for i, t := range tests {
			switch t(&x.plants[row]) {
			case no:
				continue plants
			case unknown:
				open = append(open, i)
			}
		}
		if len(open) == 0 {
			out = append(out, match{row: row})
		}
		for _, i := range open {
			missing[i]++
		}
	}
	var unknowns []Unknown
	for i, n := range missing {
		if n > 0 {
			f := conditions[i].field()
			u := Unknown{Field: f.Name, Column: f.Columns[0], Plants: n}
			if !slices.Contains(unknowns, u) {
				unknowns = append(unknowns, u)
			}
		}
	}
	return out, unknowns
}

// keep parts the matches into those that have all words and those with some.
// If none has all, those with some are the matches. alone says that there are
// no conditions: then words that come to nothing find nothing.
func (s *spoken) keep(matches []match, alone bool) (all, some []match, words string) {
	if len(s.wants) == 0 && alone {
		return nil, nil, ""
	}
	for _, m := range matches {
		if s.out[m.row] {
			continue
		}
		m.score = s.score[m.row]
		switch has := int(s.hits[m.row]); {
		case has == s.need:
			all = append(all, m)
		case has > 0:
			m.score *= float64(has) / float64(s.need)
			some = append(some, m)
		}
	}
	switch {
	case !s.wanted():
		return all, nil, ""
	case s.need == 0:
		return nil, nil, ""
	case len(all) > 0:
		return all, some, AllWords
	case len(some) > 0:
		return some, nil, SomeWords
	}
	return nil, nil, ""
}

// survivors asks of each match whether it survives.
func survivors(matches []match, ask func(int) (float64, string, bool)) (alive, doomed []match) {
	for _, m := range matches {
		var ok bool
		m.risk, m.reason, ok = ask(m.row)
		if ok {
			alive = append(alive, m)
		} else {
			doomed = append(doomed, m)
		}
	}
	return alive, doomed
}

// top returns the n best matches in order.
func top(matches []match, n int, byRisk bool) []match {
	better := func(a, b match) int {
		if byRisk {
			if c := cmp.Compare(percent(a.risk), percent(b.risk)); c != 0 {
				return c
			}
		}
		if c := cmp.Compare(b.score, a.score); c != 0 {
			return c
		}
		return cmp.Compare(a.row, b.row)
	}
	n = min(max(n, 0), len(matches))
	best := make([]match, 0, n+1)
	for _, m := range matches {
		if len(best) == n && (n == 0 || better(m, best[n-1]) > 0) {
			continue
		}
		i, _ := slices.BinarySearchFunc(best, m, better)
		best = slices.Insert(best, i, m)
		if len(best) > n {
			best = best[:n]
		}
	}
	return best
}

// percent rounds a risk to the whole percent that people are shown; unknown
// goes last.
func percent(risk float64) float64 {
	if math.IsNaN(risk) {
		return math.Inf(1)
	}
	return math.Round(risk * 100)
}
