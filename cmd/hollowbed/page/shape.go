package page

import (
	"errors"
	"maps"
	"net/http"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
	"hollowbed/zones/table"
)

type shapeIn struct {
	Handle string `json:"handle"`
	spotIn
	Version int  `json:"version"`
	Keep    bool `json:"keep"`
}

// shape moves a handle of the plan: without keep it answers what the bed would be, with
// it the garden file of the draft is changed.
func (s *session) shape(r *http.Request, in shapeIn) (any, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	m := s.now()
	lot := m.judge.Exposure.Lot
	changes, ok := lot.Drag(in.Handle, [2]float64{in.XM, in.YM})
	if !ok {
		return nil, wrong("handle", in.Handle, "want a handle of the plan")
	}
	if !in.Keep {
		return s.shaped(m, in.Handle, changes), nil
	}
	if err := s.shapeOn(in, changes); err != nil {
		return nil, err
	}
	return s.after(r), nil
}

// shaped words the bed with some keys changed; what cannot be is told among the doubts.
func (s *session) shaped(m *model, handle string, changes map[string]string) report.ScreenShape {
	text, err := edited(m.draft.garden, changes)
	var lot *zones.Lot
	if err == nil {
		var g *zones.Garden
		if g, err = zones.ReadGarden("garden.yaml", strings.NewReader(text)); err == nil {
			g.Units = m.judge.Exposure.Lot.Garden.Units
			lot, err = zones.Prepare(g, m.record)
		}
	}
	if err == nil {
		return report.NewScreenShape(lot, handle)
	}
	out := report.NewScreenShape(m.judge.Exposure.Lot, handle)
	why := err.Error()
	var faults table.Faults
	if errors.As(err, &faults) {
		why = faults[0].Want
	}
	out.Words, out.Doubts = "Not like this", []string{report.Plain(why)}
	return out
}

// edited changes keys of a garden file, those taken out first.
func edited(text string, changes map[string]string) (string, error) {
	keys := slices.SortedFunc(maps.Keys(changes), func(a, b string) int {
		if (changes[a] == "") != (changes[b] == "") {
			return len(changes[a]) - len(changes[b])
		}
		return strings.Compare(a, b)
	})
	for _, key := range keys {
		var err error
		if text, err = zones.EditKey(text, key, changes[key]); err != nil {
			return "", err
		}
	}
	return text, nil
}

func (s *session) shapeOn(in shapeIn, changes map[string]string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	keys := slices.Collect(maps.Keys(changes))
	for _, key := range keys {
		if s.changedIn[key] > in.Version {
			return &failure{status: http.StatusConflict, Words: "Changed meanwhile in another window: look, then change again."}
		}
	}
	next := s.draft
	var err error
	if next.garden, err = edited(next.garden, changes); err != nil {
		return &failure{status: http.StatusUnprocessableEntity, Words: "This can only be moved in an editor, as the garden file writes it."}
	}
	s.step(next, in.Handle+" back to its place", keys...)
	return nil
}
