package page

import (
	"bytes"
	"net/http"
	"path/filepath"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/search"
	"hollowbed/zones"
)

type findIn struct {
	Query string `json:"query"`
	In    string `json:"in"`
	Limit int    `json:"limit"`
	Sort  string `json:"sort"`
}

const (
	usualHits = 20
	mostHits  = 200
	mostQuery = 500 // characters
)

// findOut is the answer of a search.
type findOut struct {
	Total   int        `json:"total"`
	Before  doc.Blocks `json:"before"`
	Hits    []hit      `json:"hits"`
	Also    []hit      `json:"also"` // with some of the words only
	Facets  []facet    `json:"facets"`
	After   doc.Blocks `json:"after"`
	Nearest string     `json:"nearest"` // id
}

type hit struct {
	report.Found
	Level string `json:"level"`
}

// facet counts the hits by the values of a field.
type facet struct {
	Field  string       `json:"field"`
	Label  string       `json:"label"`
	Values []facetValue `json:"values"`
}

// facetValue is a value with the query that adds it.
type facetValue struct {
	Value string `json:"value"`
	Count int    `json:"count"`
	Query string `json:"query"`
	On    bool   `json:"on"` // in the query already; Query then is without it
}

// newFacet gives each value the query that picks it, or drops it.
func newFacet(f search.Facet, q search.Query) facet {
	all := search.Fields()
	out := facet{Field: f.Field, Label: all[slices.IndexFunc(all, func(x search.Field) bool { return x.Name == f.Field })].Help, Values: []facetValue{}}
	for _, v := range f.Values {
		value := facetValue{Value: report.Plain(v.Value), Count: v.Count}
		picked := search.Condition{Field: f.Field, Values: []string{v.Value}}
		if read, err := search.Parse(picked.String()); err == nil && len(read.Conditions) == 1 { // as a query would have it
			picked = read.Conditions[0]
		}
		next := search.Query{Words: q.Words, Like: q.Like}
		for _, c := range q.Conditions {
			if c.String() == picked.String() {
				value.On = true
				continue
			}
			next.Conditions = append(next.Conditions, c)
		}
		if !value.On {
			next.Conditions = append(next.Conditions, picked)
		}
		value.Query = next.String()
		out.Values = append(out.Values, value)
	}
	return out
}

func (s *session) find(_ *http.Request, in findIn) (out findOut, err error) {
	m := s.now()
	g := m.judge.Exposure.Lot.Garden
	q, result, err := s.search(m, &in)
	if err != nil {
		return out, err
	}
	d := report.NewFind(report.NewGarden(g, s.garden.Folder == ""), filepath.Base(s.garden.Table.Name), in.Query, in.In, result, s.best(m))
	hits := func(found []report.Found) []hit {
		out := []hit{}
		for _, f := range found {
			out = append(out, hit{f, f.Level(g.Wishes.YearlyRiskMax)})
		}
		return out
	}
	out = findOut{Total: d.Total, Before: d.Before, Hits: hits(d.Found), Also: hits(d.Others), Facets: []facet{}, After: d.After}
	for _, f := range d.Facets {
		out.Facets = append(out.Facets, newFacet(f, q))
	}
	if d.NoHit != nil && d.NoHit.Nearest != nil {
		out.Nearest = d.NoHit.Nearest.ID
	}
	return out, nil
}

// search runs a query; in.In comes to say where, for one that asks what can replace
// a plant that is planted.
func (s *session) search(m *model, in *findIn) (q search.Query, result *search.Result, err error) {
	if len(in.Query) > mostQuery {
		return q, nil, wrong("query", "", "want a shorter search")
	}
	if q, err = search.Parse(in.Query); err != nil {
		return q, nil, findFaults(err)
	}
	q.Facets, q.Limit, q.Sort = facetFields(), usualHits, in.Sort
	if in.Limit > 0 {
		q.Limit = min(in.Limit, mostHits)
	}
	in.In = strings.ToLower(strings.TrimSpace(in.In))
	if in.In != "" {
		if !slices.ContainsFunc(m.judge.Exposure.Zones, func(z zones.ZoneExposure) bool { return z.Zone == in.In }) {
			return q, nil, wrong("in", in.In, "want a zone of this bed")
		}
		risks := s.risksIn(m, in.In)
		q.Survives = func(row int) (float64, string, bool) {
			r := risks[row]
			return r.risk, r.why, r.lives
		}
	}
	if q.Like != nil && q.Like.Replace {
		if stands := m.standing(strings.TrimSpace(q.Like.Name)); stands != nil {
			q.Like.ID = stands.ID
			if q.Survives == nil {
				q.Survives, in.In = s.livesAt(m, stands.X, stands.Y), "at the place of "+stands.Stake
			}
		}
	}
	result, err = s.garden.Index.Find(q)
	if err != nil {
		return q, nil, findFaults(err)
	}
	return q, result, nil
}

// livesAt judges plants of the table at a place of the bed.
func (s *session) livesAt(m *model, x, y float64) func(int) (float64, string, bool) {
	return func(row int) (risk float64, why string, lives bool) {
		m.live.with(func(j *plants.Judge) {
			if spot, ok := j.SpotAt(x, y); ok {
				v := j.At(s.garden.Table.Plants[row], spot)
				risk, why = report.Fate(v, j.Exposure.Lot.Garden.Units)
				lives = v.Lives()
			}
		})
		return risk, why, lives
	}
}

// best says where each hit lives at the least risk.
func (s *session) best(m *model) report.BestZone {
	return func(row int) (zone string, risk float64) {
		m.live.with(func(j *plants.Judge) {
			v, _ := j.Best(s.garden.Table.Plants[row])
			zone, risk = v.Zone, v.Fit.YearlyRisk
		})
		return zone, risk
	}
}

// hitsCSV serves the hits as a plant table.
func (s *session) hitsCSV(w http.ResponseWriter, r *http.Request) {
	asked := r.URL.Query()
	in := findIn{Query: asked.Get("query"), In: asked.Get("in"), Sort: asked.Get("sort"), Limit: mostHits}
	_, result, err := s.search(s.now(), &in)
	if err != nil {
		refuse(w, err)
		return
	}
	var hits []catalogue.Plant
	for _, h := range result.Hits {
		hits = append(hits, s.garden.Table.Plants[h.Row])
	}
	var text bytes.Buffer
	if err := catalogue.Write(&text, hits); err != nil {
		refuse(w, err)
		return
	}
	w.Header().Set("Content-Type", "text/csv; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="found.csv"`)
	w.Write(text.Bytes())
}

// fate is how a plant would fare in a zone.
type fate struct {
	risk  float64
	why   string
	lives bool
}

// risksIn judges every plant of the table in a zone.
func (s *session) risksIn(m *model, zone string) []fate {
	out := make([]fate, len(s.garden.Table.Plants))
	m.live.with(func(j *plants.Judge) {
		for i, p := range s.garden.Table.Plants {
			if v, ok := j.Zone(p, zone); ok {
				risk, why := report.Fate(v, j.Exposure.Lot.Garden.Units)
				out[i] = fate{risk, why, v.Lives()}
			}
		}
	})
	return out
}

// facetFields are the fields that hits are counted by.
func facetFields() []string {
	return []string{"zone", "form", "bloom", "colour", "native", "evergreen"}
}

// findFaults says what is wrong with a search.
func findFaults(err error) error {
	return &failure{status: http.StatusBadRequest, Words: "The search cannot be read.", Faults: []fault{{Key: "query", Want: report.Plain(err.Error())}}}
}
