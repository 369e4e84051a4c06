package search

import (
	"errors"
	"sync"
	"time"

	"hollowbed/plants/catalogue"
)

// Options says how an Index works. The zero Options keeps all in memory and
// knows no synonyms.
type Options struct {
	Synonyms *Synonyms

	// A table of MemoryRows plants or more (0 reads 1,000) has its words indexed on disk
	// in CacheDir, by Digest, a digest of the table; without either in memory.
	MemoryRows int
	CacheDir   string
	Digest     string

	// LockWait is how long to wait for another process that builds the same
	// index before building one in memory; 0 reads 20 s.
	LockWait time.Duration

	// Building, if set, is told how many plants are read into an index on disk, and what
	// share of the work is done: 0 before it begins, 1 at its end.
	Building func(plants int, done float64)
}

// Index finds plants in one table. It may be used by several goroutines.
type Index struct {
	plants  []catalogue.Plant
	opts    Options
	columns columns

	mu    sync.Mutex
	words *wordIndex // nil until words are first looked for
	lang  language
	table synonymTable
	notes []string // about the cache
}

// New makes an index of plants, which must not change afterwards. Words are
// not read until a query holds some.
func New(plants []catalogue.Plant, o Options) (*Index, error) {
	if uint64(len(plants)) > 1<<31 {
		return nil, errors.New("search: too many plants")
	}
	if o.MemoryRows == 0 {
		o.MemoryRows = leastKept
	}
	if o.LockWait == 0 {
		o.LockWait = 20 * time.Second
	}
	return &Index{plants: plants, opts: o}, nil
}

// Close gives back what the index holds; a later Find builds it anew.
func (x *Index) Close() error {
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.words == nil {
		return nil
	}
	w := x.words
	x.words = nil
	return w.close()
}

// load makes the word index ready. The caller holds x.mu.
func (x *Index) load() error {
	if x.words != nil {
		return nil
	}
	m, err := newMapping()
	if err != nil {
		return err
	}
	if x.lang.english == nil { // once: Find reads them without the lock
		x.lang = newLanguage(m)
		x.table = x.lang.table(x.opts.Synonyms)
	}
	defer func() {
		if x.words != nil {
			x.words.plants, x.words.lang = x.plants, x.lang.remembering()
		}
	}()
	if len(x.plants) >= x.opts.MemoryRows && x.opts.CacheDir != "" && x.opts.Digest != "" {
		w, err := openOrBuild(x.plants, m, x.lang, x.opts)
		if err == nil {
			x.words = w
			return nil
		}
		x.notes = append(x.notes, "the index is kept in memory: "+err.Error())
	}
	x.words, err = buildInMemory(x.plants, m)
	return err
}

// tally runs the words of a query. A damaged index on disk is built anew, once.
func (x *Index) tally(words []Word) (*spoken, error) {
	x.mu.Lock()
	defer x.mu.Unlock()
	var s *spoken
	for attempt := 0; ; attempt++ {
		if err := x.load(); err != nil {
			return nil, err
		}
		err := x.words.guard(func() (err error) {
			s, err = x.speak(words)
			return err
		})
		if err == nil {
			return s, nil
		}
		if !x.words.onDisk || attempt > 0 {
			return nil, err
		}
		x.words.discard()
		x.words = nil
	}
}
