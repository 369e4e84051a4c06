package page

import (
	"encoding/json"
	"net/http"
	"sync"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/zones/water"
)

// plays remembers what was worked out of the water last, for one run.
type plays struct {
	mu    sync.Mutex
	run   *water.Result
	known map[string]json.RawMessage // by name and units
}

// handleWater gives a stretch of the record to be watched.
func (s *session) handleWater(w http.ResponseWriter, r *http.Request) {
	name := r.URL.Query().Get("play")
	if name != "wettest" && name != "driest" {
		refuse(w, wrong("play", report.Plain(name), "want wettest or driest"))
		return
	}
	text, err := s.plays.of(name, s.now())
	if err != nil {
		refuse(w, &failure{status: http.StatusUnprocessableEntity, Words: report.Plain(err.Error())})
		return
	}
	answer(w, http.StatusOK, text)
}

// of works a stretch out and draws it, or remembers it.
func (p *plays) of(name string, m *model) (json.RawMessage, error) {
	e := m.judge.Exposure
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.run != e.Run {
		p.run, p.known = e.Run, map[string]json.RawMessage{}
	}
	key := name + " " + string(e.Lot.Garden.Units)
	if known, ok := p.known[key]; ok {
		return known, nil
	}
	work := e.WettestWeek
	if name == "driest" {
		work = e.DriestSummer
	}
	play, err := work()
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(report.NewScreenWater(name, e, m.plan, play))
	if err == nil {
		p.known[key] = text
	}
	return text, err
}

// drawing serves one of the drawings of report.
func (s *session) drawing(draw func(report.Garden, *plants.Placed) report.Drawing) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		s.until(r.Context(), patience, func() bool { return s.model.placed.Result != nil || s.stopped || s.failedAt == s.version })
		m := s.now()
		if m.placed.Result == nil {
			refuse(w, &failure{status: http.StatusUnprocessableEntity, Words: "The plants have no places yet, so there is nothing to draw."})
			return
		}
		w.Header().Set("Content-Type", "image/svg+xml")
		w.Write(draw(report.NewGarden(m.judge.Exposure.Lot.Garden, s.garden.Folder == ""), m.placed).SVG())
	}
}

// climate serves the drawing of the usual year, which needs no plants.
func (s *session) climate(w http.ResponseWriter, _ *http.Request) {
	e := s.now().judge.Exposure
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Write(report.ClimateSVG(report.NewGarden(e.Lot.Garden, s.garden.Folder == ""), e.Record, e.Lot.Garden.Site.LatitudeDeg).SVG())
}

func bloom(g report.Garden, p *plants.Placed) report.Drawing {
	return report.BloomSVG(g, p.Planting)
}
