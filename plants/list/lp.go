package list

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"math/bits"
	"slices"
)

// WriteLP writes the problem as an integer programme in CPLEX LP format, so
// that a second solver can be asked. It is exactly the programme that Solve
// works on; see Problem for the objective. Variables, with k the candidate, s
// the species and m the month:
//
//	n_k  plants of candidate k      y_k  1 if candidate k stands
//	x_s  1 if species s is in the bed      t_k  1 if candidate k stands in threes or more
//	b_m  1 if wanted month m has a flower      v  species counted as variety
//	u_z_l  ground of zone z that layer l takes beyond what is kept for it
func (p Problem) WriteLP(w io.Writer) error {
	if err := p.validate(); err != nil {
		return err
	}
	f := &lpWriter{w: bufio.NewWriter(w), p: p, m: newModel(p)}
	f.objective()
	f.line("Subject To")
	f.zoneRows()
	f.bedRows()
	f.bounds()
	f.line("End")
	return f.w.Flush()
}

// lpWriter leaves errors to bufio.Writer, which keeps the first one for Flush.
type lpWriter struct {
	w *bufio.Writer
	p Problem
	m *model
}

func (f *lpWriter) line(format string, args ...any) { fmt.Fprintf(f.w, format+"\n", args...) }

// term writes one term on its own line: some readers limit the length of a line.
func (f *lpWriter) term(factor float64, name string, index int) {
	f.line(" %+.17g %s_%d", factor, name, index)
}

func (f *lpWriter) objective() {
	f.line("Maximize\n value:")
	for i := range f.m.items {
		f.term(f.m.items[i].gain, "n", f.m.items[i].cand)
	}
	for _, m := range f.wantedMonths() {
		f.term(f.m.monthValue, "b", m)
	}
	f.line(" %+.17g v", f.m.kindValue)
}

func (f *lpWriter) wantedMonths() []int {
	var out []int
	for b := f.p.BloomMonths; b != 0; b &= b - 1 {
		out = append(out, bits.TrailingZeros16(b)+1)
	}
	return out
}

func (f *lpWriter) zoneRows() {
	for z, items := range f.m.inZone {
		if !slices.ContainsFunc(items, func(i int) bool { return f.m.items[i].layer != Bulb }) {
			f.layerRows(z, items)
			continue
		}
		k := &f.m.kept[z]
		f.line(" area_%d:", z)
		for _, i := range items {
			if it := &f.m.items[i]; it.layer != Bulb && k.of[it.layer] == 0 {
				f.term(it.area, "n", it.cand)
			}
		}
		for l := Matrix; l < Bulb; l++ {
			if k.of[l] > 0 {
				f.line(" + u_%d_%d", z, l)
			}
		}
		f.line(" <= %.17g", f.p.Zones[z].AreaM2-k.of.cover())
		f.layerRows(z, items)
	}
	for i := range f.m.items {
		it := &f.m.items[i]
		f.line(" most_%d: n_%d - %d y_%d <= 0", it.cand, it.cand, it.most, it.cand)
		f.line(" least_%d: n_%d - %d y_%d >= 0", it.cand, it.cand, it.least, it.cand)
		if it.layer == Structure && it.most > 2 {
			f.line(" one_%d: n_%d - y_%d - %d t_%d <= 0", it.cand, it.cand, it.cand, it.most-1, it.cand)
			f.line(" three_%d: n_%d - y_%d - 2 t_%d >= 0", it.cand, it.cand, it.cand, it.cand)
		}
		if f.p.MostSpecies > 0 {
			f.line(" bed_%d: y_%d - x_%d <= 0", it.cand, it.cand, it.species)
		}
	}
}

// layerRows are the ground that each layer of a zone takes of the free, u, and the
// cover above bulbs.
func (f *lpWriter) layerRows(z int, items []int) {
	k := &f.m.kept[z]
	for l := Matrix; l < Bulb; l++ {
		if k.of[l] == 0 {
			continue
		}
		f.line(" layer_%d_%d:", z, l)
		for _, i := range items {
			if it := &f.m.items[i]; it.layer == l {
				f.term(it.area, "n", it.cand)
			}
		}
		f.line(" - u_%d_%d <= %.17g", z, l, k.of[l])
	}
	if !slices.ContainsFunc(items, func(i int) bool { return f.m.items[i].layer == Bulb }) {
		return
	}
	f.line(" beneath_%d:", z)
	for _, i := range items {
		it := &f.m.items[i]
		area := -it.area
		if it.layer == Bulb {
			area = it.area
		}
		f.term(area, "n", it.cand)
	}
	f.line(" <= 0")
}

func (f *lpWriter) bedRows() {
	if !math.IsInf(f.p.Budget, 1) && len(f.m.items) > 0 {
		f.line(" budget:")
		for i := range f.m.items {
			f.term(f.m.items[i].price, "n", f.m.items[i].cand)
		}
		f.line(" <= %.17g", f.p.Budget)
	}
	for s := range f.p.Species {
		f.line(" stands_%d: x_%d", s, s)
		for _, i := range f.m.ofSpecies[s] {
			f.term(-1, "y", f.m.items[i].cand)
		}
		f.line(" <= 0")
		if f.m.wanted[s] {
			f.line(" wanted_%d: x_%d = 1", s, s)
		}
	}
	f.line(" variety: v")
	for s := range f.p.Species {
		f.term(-1, "x", s)
	}
	f.line(" <= 0")
	if f.p.MostSpecies > 0 {
		f.line(" most_species:")
		for s := range f.p.Species {
			f.term(1, "x", s)
		}
		f.line(" <= %d", f.p.MostSpecies)
	}
	for _, m := range f.wantedMonths() {
		f.line(" bloom_%d: b_%d", m, m)
		for s := range f.p.Species {
			if f.p.Species[s].Bloom&(1<<(m-1)) != 0 {
				f.term(-1, "x", s)
			}
		}
		f.line(" <= 0")
	}
}

func (f *lpWriter) bounds() {
	f.line("Bounds\n 0 <= v <= %d", f.m.target)
	for _, m := range f.wantedMonths() {
		f.line(" 0 <= b_%d <= 1", m)
	}
	for i := range f.m.items {
		f.line(" 0 <= n_%d <= %d", f.m.items[i].cand, f.m.items[i].most)
	}
	f.line("General")
	for i := range f.m.items {
		f.line(" n_%d", f.m.items[i].cand)
	}
	f.line("Binary")
	for i := range f.m.items {
		it := &f.m.items[i]
		f.line(" y_%d", it.cand)
		if it.layer == Structure && it.most > 2 {
			f.line(" t_%d", it.cand)
		}
	}
	for s := range f.p.Species {
		f.line(" x_%d", s)
	}
}
