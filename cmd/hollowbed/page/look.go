package page

import (
	"net/http"
	"path/filepath"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/search"
	"hollowbed/zones"
)

// What can be asked without changing anything.

// spotIn is a place of the bed, m in the coordinates of the outline.
type spotIn struct {
	XM float64 `json:"x_m"`
	YM float64 `json:"y_m"`
}

// farM bounds what is asked of a plan: no bed is so large.
const farM = 1e4

func (p spotIn) check() error {
	if !(p.XM > -farM && p.XM < farM && p.YM > -farM && p.YM < farM) {
		return wrong("x_m", "", "want a place near the bed, in metres")
	}
	return nil
}

type placeOut struct {
	report.ScreenPlace
	Standing []string `json:"standing"`
}

func (s *session) place(_ *http.Request, in spotIn) (out placeOut, err error) {
	if err := in.check(); err != nil {
		return out, err
	}
	m := s.now()
	out.Standing, out.Lives, out.Words = []string{}, []report.ScreenNext{}, report.OutsideBed
	m.live.with(func(j *plants.Judge) {
		if spot, ok := j.SpotAt(in.XM, in.YM); ok {
			out.ScreenPlace = report.NewScreenPlace(j.Exposure, spot, j.AllAt(s.garden.Table, spot))
		}
	})
	if m.placed.Result != nil {
		out.Standing = append(out.Standing, m.placed.Reaching(in.XM, in.YM)...)
	}
	return out, nil
}

type riskIn struct {
	Stake string `json:"stake"`
	ID    string `json:"id"`
	spotIn
}

func (s *session) risk(_ *http.Request, in riskIn) (report.ScreenDrag, error) {
	if err := in.check(); err != nil {
		return report.ScreenDrag{}, err
	}
	m := s.now()
	id := in.ID
	var stands *placement.Standing
	if in.Stake != "" {
		if stands = m.standing(in.Stake); stands == nil {
			return report.ScreenDrag{}, &failure{status: http.StatusUnprocessableEntity, Words: "No plant stands at stake " + report.Plain(in.Stake) + " now."}
		}
		id = stands.ID
	}
	p, err := s.plantNamed(id)
	if err != nil {
		return report.ScreenDrag{}, err
	}
	out := report.ScreenDrag{Stake: in.Stake, ID: p.ID, Name: report.Plain(p.VernacularName), Reason: report.OutsideBed, Clash: []string{}}
	m.live.with(func(j *plants.Judge) {
		spot, ok := j.SpotAt(in.XM, in.YM)
		if !ok {
			out.Risk, out.Level = "no place for a plant", "unknown"
			return
		}
		var before *plants.Verdict
		if stands != nil {
			if here, ok := j.SpotAt(stands.X, stands.Y); ok {
				v := j.At(p, here)
				before = &v
			}
		}
		out = report.NewScreenDrag(j.Exposure.Lot.Garden, spot, j.At(p, spot), before)
		out.Stake = in.Stake
	})
	if out.Inside {
		out.Clash = append(out.Clash, m.clashes(in.Stake, p, in.XM, in.YM)...)
	}
	return out, nil
}

// standing finds a plant by its stake; nil if none stands there.
func (m *model) standing(stake string) *placement.Standing {
	if m.placed.Result == nil {
		return nil
	}
	for i, s := range m.placed.Result.Plants {
		if strings.EqualFold(s.Stake, stake) {
			return &m.placed.Result.Plants[i]
		}
	}
	return nil
}

// clashes words what a plant would be too near to at a place.
func (m *model) clashes(stake string, p catalogue.Plant, x, y float64) []string {
	if m.placed.Result == nil {
		return nil
	}
	stakes, grounds := m.placed.Crowds(m.judge.Exposure.Lot, stake, p.SpreadCM, x, y)
	return report.CrowdWords(stakes, grounds)
}

type idIn struct {
	ID string `json:"id"`
}

// plantOut is a plant's card: its blocks, and what they say in a line.
type plantOut struct {
	ID       string                 `json:"id"`
	Name     string                 `json:"name"`
	Says     string                 `json:"says"`
	Blocks   []map[string]doc.Block `json:"blocks"`
	Wish     string                 `json:"wish"`
	Standing []string               `json:"standing"`
}

func (s *session) plantNamed(id string) (catalogue.Plant, error) {
	p, ok := s.garden.Table.ByID(id)
	if !ok {
		return p, &failure{status: http.StatusUnprocessableEntity, Words: "The plant table has no such plant.", Faults: []fault{{Key: "id", Value: report.Plain(id), Want: "want the id of a plant in the table" + near(s.garden.Table.Near(id))}}}
	}
	return p, nil
}

func (s *session) plant(_ *http.Request, in idIn) (plantOut, error) {
	card, err := s.card(in.ID)
	if err != nil {
		return plantOut{}, err
	}
	m := s.now()
	out := plantOut{ID: card.ID, Name: report.Plain(card.VernacularName), Says: card.Says(), Blocks: doc.JSON(card.Card), Standing: []string{}}
	w := m.judge.Exposure.Lot.Garden.Wishes
	switch {
	case slices.Contains(w.Wanted, in.ID):
		out.Wish = "wanted"
	case slices.Contains(w.Unwanted, in.ID):
		out.Wish = "unwanted"
	}
	for _, p := range m.words.Standing {
		if p.ID == in.ID {
			out.Standing = append(out.Standing, p.Stake)
		}
	}
	return out, nil
}

// card words a plant in every zone.
func (s *session) card(id string) (out report.Why, err error) {
	p, err := s.plantNamed(id)
	if err != nil {
		return out, err
	}
	m := s.now()
	m.live.with(func(j *plants.Judge) {
		out = report.NewWhy(report.NewGarden(j.Exposure.Lot.Garden, s.garden.Folder == ""), j.Exposure, j.Everywhere(p))
	})
	return out, nil
}

type pairIn struct {
	A string `json:"a"`
	B string `json:"b"`
}

type pairOut struct {
	Names  [2]string              `json:"names"`
	Blocks []map[string]doc.Block `json:"blocks"`
}

func (s *session) compare(_ *http.Request, in pairIn) (out pairOut, err error) {
	a, err := s.card(in.A)
	if err != nil {
		return out, err
	}
	b, err := s.card(in.B)
	if err != nil {
		return out, err
	}
	return pairOut{[2]string{report.Plain(a.VernacularName), report.Plain(b.VernacularName)}, doc.JSON(report.Pair(a, b))}, nil
}

type findIn struct {
	Query string `json:"query"`
	In    string `json:"in"`
	Limit int    `json:"limit"`
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
		next := search.Query{Words: q.Words}
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
	if len(in.Query) > mostQuery {
		return out, wrong("query", "", "want a shorter search")
	}
	q, err := search.Parse(in.Query)
	if err != nil {
		return out, findFaults(err)
	}
	m := s.now()
	g := m.judge.Exposure.Lot.Garden
	q.Facets, q.Limit = facetFields(), usualHits
	if in.Limit > 0 {
		q.Limit = min(in.Limit, mostHits)
	}
	in.In = strings.ToLower(strings.TrimSpace(in.In))
	if in.In != "" {
		if !slices.ContainsFunc(m.judge.Exposure.Zones, func(z zones.ZoneExposure) bool { return z.Zone == in.In }) {
			return out, wrong("in", in.In, "want a zone of this bed")
		}
		risks := s.risksIn(m, in.In)
		q.Survives = func(row int) (float64, string, bool) {
			r := risks[row]
			return r.risk, r.why, r.lives
		}
	}
	result, err := s.garden.Index.Find(q)
	if err != nil {
		return out, findFaults(err)
	}
	d := report.NewFind(report.NewGarden(g, s.garden.Folder == ""), filepath.Base(s.garden.Table.Name), in.Query, in.In, result)
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
