package page

import (
	"context"
	"encoding/json"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
)

// state is all that the page shows of a session.
type state struct {
	Version   int         `json:"version"`
	Tick      int         `json:"tick"`
	FiguresOf int         `json:"figures_of"`
	PlacesOf  int         `json:"places_of"`
	Busy      bool        `json:"busy"`
	Stages    []stage     `json:"stages"`
	Stopped   bool        `json:"stopped"`
	Failed    string      `json:"failed"`
	Name      string      `json:"name"`
	Units     zones.Units `json:"units"`
	Demo      bool        `json:"demo"`
	Folder    string      `json:"folder"`
	ReadOnly  bool        `json:"read_only"`
	Saved     bool        `json:"saved"`
	Unsaved   []string    `json:"unsaved"`
	Revision  string      `json:"revision"`
	Disk      *conflict   `json:"disk"`
	Undo      string      `json:"undo"`
	Redo      string      `json:"redo"`
	Fields    []field     `json:"fields"`
	Faults    []fault     `json:"faults"`
	figures
	Plan report.ScreenPlan `json:"plan"`
}

// state gathers what is shown. The caller holds mu.
func (s *session) state() state {
	m := s.model
	g := m.judge.Exposure.Lot.Garden
	out := state{
		Version: s.version, Tick: s.tick, FiguresOf: m.version, PlacesOf: m.placedV, Busy: s.busy(), Stages: append([]stage{}, s.stages...), Stopped: s.stopped,
		Name: report.Plain(g.Name), Units: g.Units, Demo: s.garden.Folder == "", Folder: report.Plain(s.garden.Folder), ReadOnly: s.garden.Change == nil,
		Saved: s.draft == s.disk, Unsaved: s.unsaved(), Revision: s.disk.revision(), Disk: s.conflict,
		Fields: s.fields(g.Units), Faults: []fault{}, figures: m.words, Plan: m.plan,
	}
	if s.draft.planted != s.disk.planted {
		out.Standing = s.movedByHand(out.Standing)
	}
	if n := len(s.undo); n > 0 {
		out.Undo = s.undo[n-1].words
	}
	if n := len(s.redo); n > 0 {
		out.Redo = s.redo[n-1].words
	}
	if s.failedAt == s.version {
		out.Failed = s.failed
		out.Faults = append(out.Faults, s.faults...)
	}
	return out
}

// movedByHand marks the plants that stand elsewhere than on disk, of those that
// stand there.
func (s *session) movedByHand(all []report.ScreenStanding) []report.ScreenStanding {
	rows, err := s.disk.standing()
	if err != nil {
		return all
	}
	at := map[string][2]float64{}
	for _, r := range rows {
		at[strings.ToUpper(r.Stake)] = [2]float64{r.X, r.Y}
	}
	all = slices.Clone(all)
	for i := range all {
		was, stood := at[strings.ToUpper(all[i].Stake)]
		all[i].Moved = stood && was != [2]float64{float64(all[i].XM), float64(all[i].YM)}
	}
	return all
}

// busy says whether something is being worked out. The caller holds mu.
func (s *session) busy() bool {
	for _, t := range s.stages {
		if t.State == "running" {
			return true
		}
	}
	return false
}

// encode writes the state once for all who ask before it changes. It keeps
// those who ask waiting, and nobody else.
func (s *session) encode() json.RawMessage {
	s.writing.Lock()
	defer s.writing.Unlock()
	s.mu.Lock()
	if s.encoded != nil {
		defer s.mu.Unlock()
		return s.encoded
	}
	now := s.state()
	s.mu.Unlock()
	text, err := json.Marshal(now)
	if err != nil {
		panic("page: a state that cannot be written: " + err.Error())
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.tick == now.Tick {
		s.encoded = text
	}
	return text
}

// patience is how long a window is kept waiting for news.
const patience = 20 * time.Second

func (s *session) handleState(w http.ResponseWriter, r *http.Request) {
	if after := r.URL.Query().Get("after"); after != "" {
		n, err := strconv.Atoi(after)
		if err != nil {
			refuse(w, wrong("after", after, "want a number"))
			return
		}
		s.until(r.Context(), patience, func() bool { return s.tick > n })
	}
	answer(w, http.StatusOK, s.encode())
}

// settled waits until the draft's figures are there, or cannot be.
func (s *session) settled(ctx context.Context, version int) {
	s.until(ctx, patience, func() bool {
		return s.model.version >= version || s.failedAt >= version || s.stopped
	})
}

type progress struct {
	Busy      bool    `json:"busy"`
	Stages    []stage `json:"stages"`
	Version   int     `json:"version"`
	FiguresOf int     `json:"figures_of"`
	PlacesOf  int     `json:"places_of"`
}

func (s *session) handleProgress(w http.ResponseWriter, _ *http.Request) {
	s.mu.Lock()
	out := progress{s.busy(), append([]stage{}, s.stages...), s.version, s.model.version, s.model.placedV}
	s.mu.Unlock()
	answer(w, http.StatusOK, out)
}
