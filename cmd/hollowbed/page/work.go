package page

import (
	"context"
	"errors"
	"sync"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/zones/table"
)

// stage is a part of the work, for people to watch.
type stage struct {
	Name  string `json:"name"`
	Words string `json:"words"`
	State string `json:"state"`
}

// stages of the work, in order.
func newStages() []stage {
	return []stage{
		{"file", "reading the garden file", "waiting"}, {"record", "reading the weather record", "waiting"},
		{"water", "running the rain through the bed", "waiting"}, {"list", "choosing plants", "waiting"},
		{"places", "finding a place for each plant", "waiting"},
	}
}

// worker works out drafts, one at a time, always the newest.
type worker struct {
	s    *session
	ctx  context.Context
	wake chan struct{}

	mu     sync.Mutex
	cancel context.CancelFunc // of the work going on
}

func newWorker(ctx context.Context, s *session) *worker {
	return &worker{s: s, ctx: ctx, wake: make(chan struct{}, 1), cancel: func() {}}
}

// first works out the draft that the page begins with, and starts the worker.
func (w *worker) first() error {
	w.s.stages = newStages()
	m, err := w.figures(w.ctx, nil, w.s.draft, w.s.units, 1)
	if err != nil {
		return err
	}
	w.s.model = m
	go w.loop()
	w.kick()
	return nil
}

// kick has the newest draft worked out, and what is going on dropped.
func (w *worker) kick() {
	w.mu.Lock()
	w.cancel()
	w.mu.Unlock()
	select {
	case w.wake <- struct{}{}:
	default:
	}
}

// stop drops what is going on.
func (w *worker) stop() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.cancel()
}

func (w *worker) loop() {
	for {
		select {
		case <-w.wake:
		case <-w.ctx.Done():
			return
		}
		ctx, cancel := context.WithCancel(w.ctx)
		w.mu.Lock()
		w.cancel = cancel
		w.mu.Unlock()
		w.work(ctx)
		cancel()
	}
}

// work works out the newest draft: first the figures, then the places, each
// shown as soon as it is there.
func (w *worker) work(ctx context.Context) {
	s := w.s
	s.mu.Lock()
	old, d, units, version := s.model, s.draft, s.units, s.version
	fresh := old.version == version && old.units == units && old.draft == d // then only places are wanted
	if !fresh {
		s.stages = newStages()
		s.ring()
	}
	s.mu.Unlock()
	m := old
	if !fresh {
		var err error
		m, err = w.figures(ctx, old, d, units, version)
		if !w.show(ctx, version, m, err) {
			return
		}
	}
	if m.placedV == version && m.final {
		return
	}
	placed, err := w.places(ctx, m)
	if placed != nil {
		m = placed
	}
	w.show(ctx, version, m, err)
}

// show puts a model in place of the session's, unless it is of an old draft,
// and says whether to go on.
func (w *worker) show(ctx context.Context, version int, m *model, err error) bool {
	s := w.s
	s.mu.Lock()
	defer s.mu.Unlock()
	if err != nil {
		for i := range s.stages {
			if s.stages[i].State != "done" {
				s.stages[i].State = "stopped"
			}
		}
	}
	switch {
	case err != nil && ctx.Err() != nil: // stopped, or a newer draft is there
	case version != s.version:
	case err != nil:
		s.faults, s.failed, s.failedAt = faultsOf(err), failedWords(err), version
	default:
		s.faults, s.failed = nil, ""
		s.model = m
	}
	s.ring()
	return err == nil && version == s.version
}

// begin marks a stage as running and those before it as done; with no such
// stage, all are. It says whether to go on.
func (w *worker) begin(ctx context.Context, name string) error {
	s := w.s
	s.mu.Lock()
	defer s.mu.Unlock()
	if ctx.Err() != nil {
		return ctx.Err()
	}
	state := "done"
	for i := range s.stages {
		if s.stages[i].Name == name {
			s.stages[i].State = "running"
			state = "waiting"
			continue
		}
		s.stages[i].State = state
	}
	s.ring()
	return nil
}

// faultsOf gives what is wrong with a draft, field by field.
func faultsOf(err error) []fault {
	var out []fault
	var inFile table.Faults
	var unknown *plants.UnknownPlantError
	var clash *plants.WishClashError
	switch {
	case errors.As(err, &inFile):
		for _, f := range inFile {
			out = append(out, fault{Key: f.Name, Line: f.Line, Value: report.Plain(f.Value), Want: report.Plain(f.Want)})
		}
	case errors.As(err, &unknown):
		if unknown.Which != "" {
			out = append(out, fault{Key: unknown.Key, Value: report.Plain(unknown.ID), Want: "several plants have this name: expected one of " + report.Plain(unknown.Which)})
			break
		}
		out = append(out, fault{Key: unknown.Key, Value: report.Plain(unknown.ID), Want: "want the id of a plant in the catalogue" + near(unknown.Near)})
	case errors.As(err, &clash):
		out = append(out, fault{Key: "wishes", Want: report.Plain(clash.Err.Error())})
	}
	return out
}

func near(id string) string {
	if id == "" {
		return ""
	}
	return ", such as " + id
}

// failedWords says in a line why a draft could not be worked out.
func failedWords(err error) string {
	if n := len(faultsOf(err)); n > 0 {
		return "Figures are those of before: see what is marked."
	}
	return report.Plain(err.Error())
}
