package search

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/table"
)

// Result is what a query found.
type Result struct {
	Total   int       `json:"total"` // plants that match
	Words   string    `json:"words,omitempty" schema:"one of all|some"`
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
	Risk           *float64 `json:"yearly_risk,omitempty" schema:"0..1"`
	HeightCM       *float64 `json:"height_cm"`
	FlowerColour   []string `json:"flower_colour"`
	FlowerFrom     int      `json:"flower_from"`
	FlowerTo       int      `json:"flower_to"`
	Zones          []string `json:"zones"`
	Guessed        bool     `json:"guessed" about:"height, light, cold and flowers are those of its genus or form"`
	Toxic          []string `json:"toxic" about:"whom it harms, as far as known, or none; empty is not known"`
	Why            []Reason `json:"why"`
}

// Unknown counts plants that fail nothing else but have no value for a condition.
type Unknown struct {
	Field  string `json:"field"`
	Column string `json:"column"`
	Plants int    `json:"plants" schema:"1.."`
}

func (u Unknown) String() string {
	if u.Plants == 1 {
		return fmt.Sprintf("1 plant that might match has no stated %s", u.Column)
	}
	return fmt.Sprintf("%d plants that might match have no stated %s", u.Plants, u.Column)
}

// match is a plant that meets all conditions, on its way to being a hit.
type match struct {
	row   int32
	score float64
	fate  *fate // if Query.Survives is set
}

// fate is what Query.Survives said.
type fate struct {
	risk   float64
	reason string
}

// Find runs a query. Hits come by risk, then by words, likeness or how well they meet the
// conditions, then in the order of the table.
func (x *Index) Find(q Query) (*Result, error) {
	if q.Limit == 0 {
		q.Limit = 10
	}
	if err := errors.Join(checkFacets(q.Facets), checkSort(q.Sort)); err != nil {
		return nil, err
	}
	r := &Result{Hits: []Hit{}}
	f := finding{}
	if q.Like != nil {
		var err error
		if f.like, err = x.resolve(&q); err != nil {
			return nil, err
		}
	}
	f.Query, f.asked = q, prepare(q.Conditions)
	if len(q.Words) > 0 {
		var err error
		if f.spoken, err = x.tally(q.Words); err != nil {
			return nil, err
		}
		r.Notes = append(r.Notes, f.spoken.notes...)
	}
	matches, partly := x.gather(&f, r)
	if f.like != nil {
		itself := func(m match) bool { return x.plants[m.row].ID == f.like.ID }
		matches, partly = slices.DeleteFunc(matches, itself), slices.DeleteFunc(partly, itself)
	}
	passed := len(matches)
	var doomed []match
	if q.Survives != nil {
		matches, doomed = survivors(matches, q.Survives)
		partly, _ = survivors(partly, q.Survives)
	}
	r.Total = len(matches)
	for _, name := range q.Facets {
		r.Facets = append(r.Facets, x.facet(name, matches))
	}
	if r.Total == 0 {
		r.NoHit = x.noHit(f, passed, doomed)
		r.Notes = append(r.Notes, x.strangers(f.asked)...)
		return r, nil
	}
	x.grade(matches, &f)
	best := f.top(matches, q.Offset+q.Limit)
	best = best[min(max(q.Offset, 0), len(best)):]
	r.Hits = slices.Grow(r.Hits, len(best))
	for _, m := range best {
		r.Hits = append(r.Hits, x.hit(m, &f))
	}
	for _, m := range f.top(partly, q.Limit-len(r.Hits)) {
		r.Also = append(r.Also, x.hit(m, &f))
	}
	return r, nil
}

// finding is a query with all that has been made ready for it.
type finding struct {
	Query
	asked  []asked
	spoken *spoken // nil without words
	like   *catalogue.Plant
	key    func(row int32) float64 // what hits are sorted by; nil for the best first
}

func checkFacets(names []string) error {
	for _, name := range names {
		if f, ok := fieldNamed(name); !ok || !f.Facet {
			return table.Faults{{File: "query", Line: 1, Column: 1, Name: "facet", Value: name,
				Want: didYouMean("want a field that can be counted: "+list(facetNames()), fold(name), facetNames())}}
		}
	}
	return nil
}

// gather finds the plants that meet all conditions and have all words, or, if
// none has, some; partly are those with some of the words when others have all.
func (x *Index) gather(f *finding, r *Result) (matches, partly []match) {
	if f.spoken != nil && f.spoken.wanted() && len(f.asked) == 0 {
		matches, partly, r.Words = f.spoken.keep(f.spoken.touched)
		return matches, partly
	}
	matches, r.Unknown = x.scan(f.asked)
	switch {
	case f.spoken != nil && len(f.spoken.wants) > 0:
		matches, partly, r.Words = f.spoken.keep(matches)
	case f.spoken != nil && len(f.asked) == 0:
		return nil, nil // only words that come to nothing
	}
	return matches, partly
}

// keep parts the matches into those that have all words and those with some. If
// none has all, those with some are the matches.
func (s *spoken) keep(matches []match) (all, some []match, words string) {
	for _, m := range matches {
		row := m.row
		if s.out[row] {
			continue
		}
		m.score = s.score[row]
		switch has := int(s.hits[row]); {
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
		risk, reason, ok := ask(int(m.row))
		m.fate = &fate{risk, reason}
		if ok {
			alive = append(alive, m)
		} else {
			doomed = append(doomed, m)
		}
	}
	return alive, doomed
}

// top returns the n best matches in order: as sorted, by risk, by score, as in the table.
func (f *finding) top(matches []match, n int) []match {
	n = min(max(n, 0), len(matches))
	byRisk := f.Survives != nil
	better := func(a, b match) int {
		if f.key != nil {
			if c := compareKnown(f.key(a.row), f.key(b.row)); c != 0 {
				return c
			}
		}
		if byRisk {
			if c := cmp.Compare(percent(a.fate.risk), percent(b.fate.risk)); c != 0 {
				return c
			}
		}
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.row, b.row))
	}
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

// percent rounds a risk to the whole percent that people are shown; unknown goes last.
func percent(risk float64) float64 {
	if math.IsNaN(risk) {
		return math.Inf(1)
	}
	return math.Round(risk * 100)
}
