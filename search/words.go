package search

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"runtime/debug"
	"slices"
	"strconv"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/searcher"
	index "github.com/blevesearch/bleve_index_api"

	"hollowbed/plants/catalogue"
)

// wordIndex is a bleve index that is no longer written to, with the row of each document.
type wordIndex struct {
	bleve  bleve.Index
	reader index.IndexReader
	rows   []uint32 // by document number
	onDisk bool
	folder string

	plants []catalogue.Plant
	lang   language // for one goroutine
}

const batchSize = 1000 // plants handed to bleve at once

// buildInMemory reads all plants into an index in memory. bleve.NewMemOnly is
// another engine, several times slower and larger, and is not used.
func buildInMemory(plants []catalogue.Plant, m mapping.IndexMapping) (*wordIndex, error) {
	b, err := bleve.NewUsing("", m, scorch.Name, scorch.Name, nil)
	if err != nil {
		return nil, fmt.Errorf("search: new index: %w", err)
	}
	batch := b.NewBatch()
	for i := range plants {
		if err := batch.Index(docID(i), newWordDoc(&plants[i])); err != nil {
			return nil, fmt.Errorf("search: plant %d: %w", i, err)
		}
		if batch.Size() == batchSize || i == len(plants)-1 {
			if err := b.Batch(batch); err != nil {
				return nil, fmt.Errorf("search: index: %w", err)
			}
			batch = b.NewBatch()
		}
	}
	w, err := newWordIndex(b)
	if err != nil {
		return nil, err
	}
	w.rows, err = w.readRows()
	return w, err
}

func docID(row int) string { return strconv.Itoa(row) }

func newWordIndex(b bleve.Index) (*wordIndex, error) {
	inner, err := b.Advanced()
	if err != nil {
		return nil, fmt.Errorf("search: index: %w", err)
	}
	reader, err := inner.Reader()
	if err != nil {
		return nil, fmt.Errorf("search: index: %w", err)
	}
	return &wordIndex{bleve: b, reader: reader}, nil
}

// readRows asks bleve which row each document number stands for. The numbers
// hold as long as the reader is open.
func (w *wordIndex) readRows() ([]uint32, error) {
	n, err := w.reader.DocCount()
	if err != nil {
		return nil, err
	}
	rows := make([]uint32, n)
	id := make([]byte, 8)
	for doc := range rows {
		binary.BigEndian.PutUint64(id, uint64(doc))
		name, err := w.reader.ExternalID(id)
		if err != nil {
			return nil, err
		}
		row, err := strconv.ParseUint(name, 10, 32)
		if err != nil || row >= n {
			return nil, fmt.Errorf("search: document %q is no row", name)
		}
		rows[doc] = uint32(row)
	}
	return rows, nil
}

func (w *wordIndex) close() error {
	if err := w.reader.Close(); err != nil {
		return err
	}
	return w.bleve.Close()
}

// guard runs f and turns a fault of a damaged index file, even one that shows
// as a broken memory map, into an error.
func (w *wordIndex) guard(f func() error) (err error) {
	if !w.onDisk {
		return f()
	}
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%w: %v", errDamaged, r)
		}
	}()
	return f()
}

// each calls found with the row and bleve's score of every plant that has the terms at
// their places in the field: tf-idf, sqrt(times in the field) / sqrt(words in it) x (1 +
// ln(plants / (plants with it + 1))). Of a phrase bleve finds the plants that have all
// terms; holds looks at the text.
func (w *wordIndex) each(way way, found func(row uint32, score float64)) error {
	ctx := context.Background()
	var terms []search.Searcher
	for _, slot := range way.slots {
		if len(slot) == 0 {
			continue
		}
		look := searcher.NewTermSearcher
		if way.prefix {
			look = searcher.NewTermPrefixSearcher
		}
		s, err := look(ctx, w.reader, slot[0], way.field.name, 1, search.SearcherOptions{})
		if err != nil {
			return fmt.Errorf("search: %q: %w", way.said, err)
		}
		terms = append(terms, s)
	}
	s, err := terms[0], error(nil)
	if len(terms) > 1 {
		s, err = searcher.NewConjunctionSearcher(ctx, w.reader, terms, search.SearcherOptions{})
	}
	if err != nil {
		return fmt.Errorf("search: %q: %w", way.said, err)
	}
	defer s.Close()
	sc := &search.SearchContext{DocumentMatchPool: search.NewDocumentMatchPool(s.DocumentMatchPoolSize()+2, 0), IndexReader: w.reader}
	for {
		m, err := s.Next(sc)
		if err != nil {
			return fmt.Errorf("search: %q: %w", way.said, err)
		}
		if m == nil {
			return nil
		}
		doc := m.IndexInternalID.Value()
		if doc >= uint64(len(w.rows)) || math.IsNaN(m.Score) {
			return errDamaged
		}
		if row := w.rows[doc]; len(terms) == 1 || w.holds(way, row) {
			found(row, m.Score)
		}
		sc.DocumentMatchPool.Put(m)
	}
}

// holds reports whether a plant has a phrase.
func (w *wordIndex) holds(way way, row uint32) bool {
	return slices.ContainsFunc(textsIn(way.field.name, &w.plants[row]), func(text string) bool {
		return len(w.lang.phraseSpots(way, text)) > 0
	})
}

// tally is what words do for each plant.
type tally struct {
	score   []float64
	hits    []uint16 // how many of the wants the plant has
	out     []bool   // has what it must not have, or lacks a phrase it must have
	found   []int    // plants that have it, by want
	touched []match  // plants with hits
}

// tallyOf adds up, for every plant, the best way of each want.
func (w *wordIndex) tallyOf(wants []want, plants []catalogue.Plant) (*tally, error) {
	t := &tally{
		score: make([]float64, len(plants)),
		hits:  make([]uint16, len(plants)),
		out:   make([]bool, len(plants)),
		found: make([]int, len(wants)),
	}
	best := make([]float64, len(plants))
	var touched []uint32
	for i, want := range wants {
		touched = touched[:0]
		note := func(row uint32, score float64) {
			if best[row] == 0 {
				touched = append(touched, row)
			}
			best[row] = max(best[row], score, math.SmallestNonzeroFloat64)
		}
		for _, way := range want.ways {
			if way.wish != nil {
				granted(way, plants, note)
				continue
			}
			if err := w.each(way, func(row uint32, s float64) { note(row, s*way.weight) }); err != nil {
				return nil, err
			}
		}
		t.found[i] = len(touched)
		t.add(want, touched, best)
		for _, row := range touched {
			best[row] = 0
		}
	}
	return t, nil
}

func (t *tally) add(want want, touched []uint32, best []float64) {
	if want.not {
		for _, row := range touched {
			t.out[row] = true
		}
		return
	}
	for _, row := range touched {
		if t.hits[row] == 0 {
			t.touched = append(t.touched, match{row: int32(row)})
		}
		t.hits[row]++
		t.score[row] += best[row]
	}
	if want.required {
		for row := range best {
			t.out[row] = t.out[row] || best[row] == 0
		}
	}
}

// granted scores the plants that meet a wish: as rare as a word on as many
// plants, by the idf that each uses, and more for those that meet it by more.
func granted(w way, plants []catalogue.Plant, note func(uint32, float64)) {
	ask := w.wish.ask
	var rows []uint32
	for i := range plants {
		if ask(&plants[i]) == yes {
			rows = append(rows, uint32(i))
		}
	}
	idf := 1 + math.Log(float64(len(plants))/float64(len(rows)+1))
	for _, row := range rows {
		note(row, w.weight*max(idf, 0.1)*w.wish.ease(w.wish.f, &plants[row]))
	}
}

// ease says how easily a plant meets a wish, 0.5 at the limit towards 1 far beyond; of
// sun by how near the middle of what it takes is; else 1.
func (c Condition) ease(f Field, p *catalogue.Plant) float64 {
	low, high := !math.IsInf(c.Range.Min, -1), !math.IsInf(c.Range.Max, 1)
	switch {
	case c.Not || f.dim == degreesC:
		return 1
	case f.kind == number && low && !high && c.Range.Min > 0:
		return 1 - 0.5*c.Range.Min/f.column.of(p)
	case f.kind == number && high && !low && c.Range.Max > 0:
		return 1 - 0.5*f.column.of(p)/c.Range.Max
	case f.kind == hours && low && high:
		off := math.Abs(p.SunMinH+p.SunMaxH-c.Range.Min-c.Range.Max) / 2
		return max(1-off/12, 0.5)
	}
	return 1
}
