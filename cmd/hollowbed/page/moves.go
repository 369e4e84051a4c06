package page

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// movesOut is a plan: what is done with whom, and the places for its arrows.
type movesOut struct {
	Ready    bool              `json:"ready"`
	Before   doc.Blocks        `json:"before"`
	Steps    []report.MoveStep `json:"steps"`
	After    doc.Blocks        `json:"after"`
	Moves    []report.MoveRow  `json:"moves"`
	Revision string            `json:"revision"`
}

func (s *session) moves() (out movesOut, err error) {
	w, err := s.weigh()
	if err != nil {
		return out, err
	}
	if w.in.Plan == nil {
		return movesOut{Before: report.NothingStands(w.in.Notes), Steps: []report.MoveStep{}, Moves: []report.MoveRow{}}, nil
	}
	d := report.NewMove(s.head(), w.in)
	out = movesOut{Ready: true, Before: d.Before, Steps: append([]report.MoveStep{}, d.Steps...), After: d.After, Moves: d.Moves}
	s.mu.Lock()
	out.Revision = s.disk.revision()
	s.mu.Unlock()
	return out, nil
}

type applyIn struct {
	Accepted []string `json:"accepted"`
	Revision string   `json:"revision"`
}

// apply writes down the moves that were accepted as done today: the new places
// to planted.csv and their history to season.csv, both or neither.
func (s *session) apply(_ *http.Request, in applyIn) (out movesOut, err error) {
	if s.garden.Change == nil {
		return out, demoStays()
	}
	unlock, err := s.garden.Lock()
	if err != nil {
		return out, err
	}
	defer unlock()
	w, err := s.weigh()
	if err != nil {
		return out, err
	}
	if w.in.Plan == nil {
		return out, &failure{status: http.StatusUnprocessableEntity, Words: "Nothing is known to stand here yet."}
	}
	groups, err := groupsOf(w.in.Plan, in.Accepted)
	if err != nil {
		return out, err
	}
	if err := s.carryOut(w, groups, in.Revision); err != nil {
		return out, err
	}
	return s.moves()
}

// groupsOf gives the groups of the moves accepted: each whole, or it is refused.
func groupsOf(p *plants.Relocation, accepted []string) ([]int, error) {
	taken := func(stake string) bool {
		return slices.ContainsFunc(accepted, func(a string) bool { return season.SameStake(a, stake) })
	}
	var groups []int
	known := 0
	for g := range p.Steps() {
		var in, out []string
		for _, l := range p.Lost {
			if l.Step == g && taken(l.Stake) {
				in = append(in, l.Stake)
			}
		}
		for _, m := range p.Moves {
			switch {
			case m.Group != g:
			case taken(m.Stake):
				in = append(in, m.Stake)
			default:
				out = append(out, m.Stake)
			}
		}
		if len(in) > 0 && len(out) > 0 {
			return nil, &failure{status: http.StatusUnprocessableEntity, Words: fmt.Sprintf("%s and %s move together: accept both, or neither.", strings.Join(in, ", "), strings.Join(out, ", "))}
		}
		if len(in) > 0 {
			groups = append(groups, g)
			known += len(in)
		}
	}
	switch {
	case len(accepted) == 0:
		return nil, wrong("accepted", "", "want at least one move")
	case known < len(accepted):
		return nil, wrong("accepted", report.Plain(strings.Join(accepted, ", ")), "want stakes of plants that the plan moves or replaces")
	}
	return groups, nil
}

// carryOut writes the moves. The caller holds the lock of the folder.
func (s *session) carryOut(w weighed, groups []int, revision string) error {
	s.files.Lock()
	defer s.files.Unlock()
	now, err := s.read()
	if err != nil {
		return err
	}
	if err := s.mayCarryOut(now, revision); err != nil {
		return err
	}
	var planted bytes.Buffer
	if err := placement.WritePlanted(&planted, []byte(now.planted), w.in.Plan.Rows(w.rows, w.in.On.Format(time.DateOnly), groups...)); err != nil {
		return err
	}
	old, err := readGrown(s.grown(), "season.csv")
	if err != nil {
		return err
	}
	text, _, err := season.Append("season.csv", []byte(old), w.in.Plan.History(w.rows, w.rec, w.in.On, groups...))
	if err != nil {
		return unprocessable(err)
	}
	if err := s.change(revision, store.Change{Name: "planted.csv", Before: s.held("planted.csv", now.planted), After: planted.Bytes()},
		store.Change{Name: "season.csv", Before: s.held("season.csv", old), After: text}); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.disk.planted = planted.String()
	for _, pile := range [][]step{s.undo, s.redo} { // what was done in the ground is not undone on the page
		for i := range pile {
			pile[i].draft.planted = s.disk.planted
		}
	}
	next := s.draft // a plant that was dragged meanwhile goes back: it was another bed
	next.planted = s.disk.planted
	s.turn(next)
	return nil
}

// mayCarryOut refuses moves from other places than those on disk now and on the
// plan.
func (s *session) mayCarryOut(now draft, revision string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.seen(now, revision); err != nil {
		return err
	}
	if s.draft.planted != now.planted {
		return &failure{status: http.StatusConflict, Words: "Plants were moved on the plan and not saved: save them first, or put them back."}
	}
	return nil
}

// keep makes the places that the page proposes those of the draft, so that save
// writes them down.
func (s *session) keep(r *http.Request, _ none) (any, error) {
	m := s.now()
	if m.placed.Result == nil || m.placedV != m.version || !m.final {
		return nil, &failure{status: http.StatusUnprocessableEntity, Words: "The plants have no places yet: wait a moment."}
	}
	s.mu.Lock()
	before, err := s.draft.standing()
	if err != nil {
		s.mu.Unlock()
		return nil, err
	}
	var text strings.Builder
	err = placement.WritePlanted(&text, []byte(s.draft.planted), m.placed.Rows("", before))
	if err == nil {
		next := s.draft
		next.planted = text.String()
		s.step(next, "places as before")
	}
	s.mu.Unlock()
	if err != nil {
		return nil, err
	}
	return s.after(r), nil
}
