package page

import (
	"context"
	"errors"
	"io/fs"
	"sync"
	"time"

	"hollowbed/cmd/hollowbed/plainfile"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants/placement"
	"hollowbed/zones"
)

// session is the one draft that all windows of the page share: the texts of
// the garden's files as they would be saved, and what was worked out of them.
type session struct {
	garden Garden
	worker *worker
	plays  plays
	notes  notes
	young  young

	mu        sync.Mutex
	draft     draft
	version   int            // of the draft
	changedIn map[string]int // by key: the version that changed it last
	units     zones.Units
	undo      []step
	redo      []step
	disk      draft // as last read or written
	conflict  *conflict
	tick      int
	news      chan struct{} // closed when tick rises
	model     *model        // newest that was worked out
	faults    []fault       // of the draft, if it could not be
	failed    string
	failedAt  int // version that faults and failed are of
	stages    []stage
	stopped   bool
	encoded   []byte // the state of this tick

	writing sync.Mutex // held while the state is encoded; taken before mu
	files   sync.Mutex // held from reading the files until disk says what they hold; taken before mu
}

// draft is the text of each file that the page may write; "" for no file.
type draft struct {
	garden  string
	planted string
}

// step is a draft that can be gone back to, with words for it.
type step struct {
	draft draft
	words string
}

func newSession(ctx context.Context, g Garden) (*session, error) {
	s := &session{garden: g, units: g.Units, changedIn: map[string]int{}, news: make(chan struct{}), version: 1}
	var err error
	if s.disk, err = s.read(); err != nil {
		return nil, err
	}
	if err := readable(s.disk); err != nil {
		return nil, err
	}
	s.draft = s.disk
	s.worker = newWorker(ctx, s)
	if err := s.worker.first(); err != nil {
		return nil, err
	}
	if g.Change != nil {
		go s.watch(ctx)
	}
	return s, nil
}

// read reads the files as they are on disk. However long that takes, mu is not
// held meanwhile.
func (s *session) read() (draft, error) {
	files := store.AtOnce(s.garden.Files)
	text, err := plainfile.Read(files, "garden.yaml", zones.MaxGardenBytes)
	if err != nil {
		return draft{}, err
	}
	planted, err := plainfile.Read(files, "planted.csv", placement.MaxBytes)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return draft{}, err
	}
	return draft{string(text), string(planted)}, nil
}

// ring tells all who wait that something is new. The caller holds mu.
func (s *session) ring() {
	s.tick++
	s.encoded = nil
	close(s.news)
	s.news = make(chan struct{})
}

// until waits for a state of the session, for at most so long, and says whether
// it came. done is called with mu held.
func (s *session) until(ctx context.Context, most time.Duration, done func() bool) bool {
	limit := time.NewTimer(most)
	defer limit.Stop()
	for {
		s.mu.Lock()
		ok, news := done(), s.news
		s.mu.Unlock()
		if ok {
			return true
		}
		select {
		case <-news:
		case <-limit.C:
			return false
		case <-ctx.Done():
			return false
		}
	}
}

// now is the newest model, which there always is.
func (s *session) now() *model {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.model
}
