package page

import (
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/placement"
	"hollowbed/zones"
	"hollowbed/zones/table"
)

// What changes the draft. Nothing here touches the disk.

// mostSteps is how many steps can be undone.
const mostSteps = 200

// none is a request without anything in it.
type none struct{}

type tryIn struct {
	Version int               `json:"version"`
	Changes map[string]string `json:"changes"`
}

// try changes keys of the garden file in the draft, and answers when the
// figures have followed. A key that another window has changed since the
// version that the asker saw is left as it is, and so are all others. With no
// changes, work that was stopped is taken up again.
func (s *session) try(r *http.Request, in tryIn) (any, error) {
	if err := s.tryOn(in); err != nil {
		return nil, err
	}
	return s.after(r), nil
}

func (s *session) tryOn(in tryIn) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	had, err := zones.KeyTexts(s.draft.garden)
	if err != nil {
		return err
	}
	if len(in.Changes) == 0 && s.stopped {
		s.stopped = false
		s.ring()
		s.worker.kick()
		return nil
	}
	next := s.draft
	var faults, late []fault
	var words []string
	next.garden = s.asPolygon(had, in.Changes)
	for _, key := range slices.Sorted(maps.Keys(in.Changes)) {
		value := strings.TrimSpace(in.Changes[key])
		f, ok := fieldNamed(key)
		if !ok {
			faults = append(faults, fault{Key: report.Plain(key), Value: report.Plain(value), Want: "want a field of this page"})
			continue
		}
		if s.changedIn[key] > in.Version && had[key] != value {
			late = append(late, fault{Key: key, Value: report.Plain(value), Want: "another window has changed this to " + quoted(had[key])})
			continue
		}
		text, err := zones.EditKey(next.garden, key, value)
		if err != nil {
			faults = append(faults, editFault(key, value, err))
			continue
		}
		next.garden = text
		words = append(words, fmt.Sprintf("%s back to %s", f.Label, quoted(had[key])))
	}
	switch {
	case len(faults) > 0:
		return &failure{status: http.StatusBadRequest, Words: "That cannot be taken as it is.", Faults: faults}
	case len(late) > 0:
		return &failure{status: http.StatusConflict, Words: "Changed meanwhile in another window: look, then change again.", Faults: late}
	}
	s.step(next, strings.Join(words, "; "))
	return nil
}

// asPolygon is the draft's garden file with the corners, or the length and width, of the
// shape there was, where another shape is asked for.
func (s *session) asPolygon(had, changes map[string]string) string {
	shape, asked := changes["bed.shape"]
	lot := s.model.judge.Exposure.Lot
	if !asked || shape == had["bed.shape"] || had["bed.shape"] != lot.Bed.Spec().Outline.Kind {
		return s.draft.garden
	}
	shaped := lot.Reshaped(shape)
	for key := range shaped {
		if _, given := changes[key]; given {
			return s.draft.garden
		}
	}
	text, err := edited(s.draft.garden, shaped)
	if err != nil {
		return s.draft.garden // as it is: the field says what is wanted
	}
	return text
}

func quoted(text string) string {
	if text == "" {
		return "left out"
	}
	return report.Plain(text)
}

// editFault says why a key could not be changed.
func editFault(key, value string, err error) fault {
	out := fault{Key: key, Value: report.Plain(value), Want: "want it changed in an editor: " + err.Error()}
	var faults table.Faults
	if errors.As(err, &faults) {
		out.Want = faults[0].Want
	}
	return out
}

// step makes a new draft the draft, if it is another. The caller holds mu.
func (s *session) step(next draft, words string, keys ...string) {
	if next == s.draft {
		return
	}
	s.undo = append(s.undo, step{s.draft, words})
	if len(s.undo) > mostSteps {
		s.undo = slices.Delete(s.undo, 0, len(s.undo)-mostSteps)
	}
	s.redo = nil
	s.turn(next, keys...)
}

// turn makes a draft the draft and has it worked out. The caller holds mu.
func (s *session) turn(next draft, keys ...string) {
	if len(keys) == 0 { // whatever differs
		keys = differing(s.draft.garden, next.garden)
	}
	s.draft = next
	s.version++
	s.stopped = false
	for _, k := range keys {
		s.changedIn[k] = s.version
	}
	s.ring()
	s.worker.kick()
}

// differing lists the keys whose values differ.
func differing(a, b string) []string {
	x, err := zones.KeyTexts(a)
	if err != nil {
		return nil
	}
	y, err := zones.KeyTexts(b)
	if err != nil {
		return nil
	}
	var keys []string
	for k, v := range x {
		if y[k] != v {
			keys = append(keys, k)
		}
	}
	for k := range y {
		if _, ok := x[k]; !ok {
			keys = append(keys, k)
		}
	}
	slices.Sort(keys)
	return keys
}

// after waits for the figures of the draft as it is now, and gives the state.
func (s *session) after(r *http.Request) any {
	s.mu.Lock()
	version := s.version
	s.mu.Unlock()
	s.settled(r.Context(), version)
	return s.encode()
}

// back undoes the last step.
func (s *session) back(r *http.Request, _ none) (any, error) {
	return s.swap(r, &s.undo, &s.redo, "There is nothing to undo.")
}

// again does an undone step once more.
func (s *session) again(r *http.Request, _ none) (any, error) {
	return s.swap(r, &s.redo, &s.undo, "There is nothing to do again.")
}

// swap takes the last draft of one pile and puts the present one on the other.
func (s *session) swap(r *http.Request, from, to *[]step, empty string) (any, error) {
	s.mu.Lock()
	n := len(*from)
	if n == 0 {
		s.mu.Unlock()
		return nil, &failure{status: http.StatusUnprocessableEntity, Words: empty}
	}
	last := (*from)[n-1]
	*from = (*from)[:n-1]
	*to = append(*to, step{s.draft, last.words})
	s.turn(last.draft)
	s.mu.Unlock()
	return s.after(r), nil
}

type wishIn struct {
	ID   string `json:"id"`
	Wish string `json:"wish"`
}

// wish puts a plant on the list of those wanted or not wanted, or takes it off.
func (s *session) wish(r *http.Request, in wishIn) (any, error) {
	p, err := s.plantNamed(in.ID)
	if err != nil {
		return nil, err
	}
	words := p.VernacularName
	switch in.Wish {
	case "wanted", "unwanted":
		words += " not " + in.Wish + " any more"
	case "":
		words += " as wished before"
	default:
		return nil, wrong("wish", in.Wish, "want wanted, unwanted or nothing")
	}
	if err := s.wishOn(in, report.Plain(words)); err != nil {
		return nil, err
	}
	return s.after(r), nil
}

func (s *session) wishOn(in wishIn, words string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	next := s.draft
	texts, err := zones.KeyTexts(next.garden)
	if err != nil {
		return err
	}
	for _, list := range []string{"wanted", "unwanted"} {
		key := "wishes." + list
		var ids []string
		for id := range strings.SplitSeq(texts[key], ",") {
			if id = strings.TrimSpace(id); id != "" && id != in.ID {
				ids = append(ids, id)
			}
		}
		if list == in.Wish {
			ids = append(ids, in.ID)
		}
		if next.garden, err = zones.EditKey(next.garden, key, strings.Join(ids, ", ")); err != nil {
			f := editFault(key, in.ID, err)
			return &failure{status: http.StatusUnprocessableEntity, Words: "This plant could not be noted.", Faults: []fault{f}}
		}
	}
	s.step(next, words)
	return nil
}

type moveIn struct {
	Stake string `json:"stake"`
	spotIn
}

// move puts a plant down elsewhere. All others keep their places from then on.
func (s *session) move(r *http.Request, in moveIn) (any, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	m := s.now()
	stands := m.standing(in.Stake)
	if stands == nil {
		return nil, &failure{status: http.StatusUnprocessableEntity, Words: "No plant stands at stake " + report.Plain(in.Stake) + " now."}
	}
	zone := ""
	m.live.with(func(j *plants.Judge) {
		if spot, ok := j.SpotAt(in.XM, in.YM); ok {
			zone = spot.Zone
		}
	})
	if zone == "" {
		return nil, &failure{status: http.StatusUnprocessableEntity, Words: "A plant wants a place inside the bed."}
	}
	if err := s.moveOn(m, stands.Stake, in, zone); err != nil {
		return nil, err
	}
	return s.after(r), nil
}

func (s *session) moveOn(m *model, stake string, in moveIn, zone string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	before, err := s.draft.standing()
	if err != nil {
		return err
	}
	rows := m.placed.Rows("", before)
	for i := range rows {
		if rows[i].Stake == stake {
			rows[i].X, rows[i].Y, rows[i].Zone, rows[i].Drift = in.XM, in.YM, zone, ""
		}
	}
	next := s.draft
	var text strings.Builder
	if err := placement.WritePlanted(&text, []byte(s.draft.planted), rows); err != nil {
		return err
	}
	next.planted = text.String()
	s.step(next, stake+" back to its place")
	return nil
}

// scatter forgets the places that were put by hand and are not saved.
func (s *session) scatter(r *http.Request, _ none) (any, error) {
	s.mu.Lock()
	next := s.draft
	next.planted = s.disk.planted
	s.step(next, "plants back to their places")
	s.mu.Unlock()
	return s.after(r), nil
}

type unitsIn struct {
	Units string `json:"units"`
}

// inUnits shows all figures in other units, in this session alone.
func (s *session) inUnits(r *http.Request, in unitsIn) (any, error) {
	units := zones.Units(in.Units)
	if units != zones.UnitsUS && units != zones.UnitsMetric {
		return nil, wrong("units", in.Units, "want us or metric")
	}
	s.mu.Lock()
	if s.units != units {
		s.units = units
		s.turn(s.draft)
	}
	s.mu.Unlock()
	return s.after(r), nil
}

// stop drops what is being worked out.
func (s *session) stop(_ *http.Request, _ none) (any, error) {
	s.mu.Lock()
	s.stopped = s.busy()
	s.ring()
	s.mu.Unlock()
	s.worker.stop()
	return s.encode(), nil
}
