package search

import (
	"encoding/binary"
	"slices"
	"sync"

	"hollowbed/plants/catalogue"
)

// columns are the plants column by column, each made when first asked for.
type columns struct {
	mu      sync.Mutex
	numbers [price + 1][]float64
	kinds   map[string]*kinds
	rows    sync.Pool // of *[]int32, to sieve in
}

// kinds parts the plants by what they say in a field that holds no number.
type kinds struct {
	of    []int32 // by row
	first []int32 // by kind: the first row of it
}

func (x *Index) numbers(c column) []float64 {
	x.columns.mu.Lock()
	defer x.columns.mu.Unlock()
	known := &x.columns.numbers[c]
	if *known == nil {
		*known = make([]float64, len(x.plants))
		for row := range x.plants {
			(*known)[row] = c.of(&x.plants[row])
		}
	}
	return *known
}

func (x *Index) kinds(field string) *kinds {
	x.columns.mu.Lock()
	defer x.columns.mu.Unlock()
	if k := x.columns.kinds[field]; k != nil {
		return k
	}
	k := &kinds{of: make([]int32, len(x.plants))}
	places := map[string]int32{}
	var said []byte
	for row := range x.plants {
		said = appendSaid(said[:0], field, &x.plants[row])
		place, ok := places[string(said)]
		if !ok {
			place = int32(len(k.first))
			places[string(said)] = place
			k.first = append(k.first, int32(row))
		}
		k.of[row] = place
	}
	if x.columns.kinds == nil {
		x.columns.kinds = map[string]*kinds{}
	}
	x.columns.kinds[field] = k
	return k
}

// appendSaid appends what a plant says in a field, so that no two come out the same.
func appendSaid(to []byte, field string, p *catalogue.Plant) []byte {
	switch field {
	case "bloom":
		return binary.AppendVarint(binary.AppendVarint(to, int64(p.FlowerFrom)), int64(p.FlowerTo))
	case "form":
		return append(to, p.Form...)
	case "toxic":
		if slices.Contains(p.Assumed, field) { // of others than these it is not known
			to = append(to, 0)
		}
	}
	for _, s := range labels(field, p) {
		to = append(binary.AppendUvarint(to, uint64(len(s))), s...)
	}
	return to
}
