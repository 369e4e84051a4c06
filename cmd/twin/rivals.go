package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"text/tabwriter"

	"hollowbed/plants/season"
)

// rivals are what people do for a bed beside moving plants, or instead.
type rivals struct {
	replants bool // a new plant wherever one died, of another species than failed there
	waters   bool // once a week in dry spells, every season
}

// String is what stands behind a policy's name.
func (b rivals) String() (s string) {
	if b.replants {
		s += " + replant"
	}
	if b.waters {
		s += " + water"
	}
	return s
}

// garden is the garden as it is under the rivals: of its own where they change it.
func (b rivals) garden(g *garden) *garden {
	if b == (rivals{}) {
		return g
	}
	own := *g
	own.always = b.waters
	own.plants, own.species = slices.Clip(g.plants), slices.Clip(g.species)
	own.born, own.start = slices.Clip(g.born), slices.Clip(g.start)
	return &own
}

// draw is the number of a plant's luck: that of the plant, or of one that was set later
// the place and season, so that it meets the same luck under every policy.
func (g *garden) draw(i int) int {
	if g.born[i] == 0 {
		return i
	}
	return 1000*g.born[i] + g.start[i]
}

// replant sets a new plant for each that died in the season before, where it stood or
// else where a plant was moved away, so that as many grow as at first. What is picked
// for a place, and how it does, hangs on the place and the season alone.
func (w *world) replant(r *run, i, turn int) {
	g, s, t := r.gardens[i], r.states[i], w.truth
	before, dead := r.stands[turn-1][i], 0
	for k, f := range r.fates[turn-1][i] {
		if f.dies {
			dead++
			before = append([]int{s.at[k]}, before...) // places of the dead come first
		}
	}
	survival := map[int][]float64{}
	holder := s.holders(g)
	for _, at := range before {
		if dead == 0 || holder[at] >= 0 {
			continue
		}
		rng := rand.New(rand.NewPCG(t.Seed, uint64(2e9)+uint64((i*t.Seasons+turn)*len(g.places)+at)))
		failed := -1
		for k, p := range s.at {
			if p == at && !s.alive[k] {
				failed = g.species[k] // the last of them
			}
		}
		g.add(t, w.species, g.pick(t, w.species, g.places[at], failed, survival, rng), rng)
		g.born, g.start = append(g.born, turn), append(g.start, at)
		holder[at] = len(s.at)
		s.at, s.alive, s.moved = append(s.at, at), append(s.alive, true), append(s.moved, false)
		dead--
	}
}

// fared is how a garden did, counted by its places: as many as were planted at first.
type fared struct{ places, alive, seasons, well, moves, bought float64 }

func (w *world) fared(r *run) (all []fared) {
	for i, g := range r.gardens {
		first := len(w.gardens[i].plants)
		f := fared{places: float64(first), seasons: float64(first * w.truth.Seasons), bought: float64(len(g.plants) - first)}
		for turn := range w.truth.Seasons {
			for k, one := range r.fates[turn][i] {
				if one.cause == season.Fine {
					f.well++
				}
				if r.moved[turn][i][k] {
					f.moves++
				}
				if turn == w.truth.Seasons-1 && one.cause != "" && !one.dies {
					f.alive++
				}
			}
		}
		all = append(all, f)
	}
	return all
}

// What a garden is counted in beside plants: the price of one, and the work of buying
// and setting it, 7 minutes (as the demo's) at 20 an hour.
const (
	plantPrice = 20.0
	buyCost    = plantPrice + 7.0/60*20
)

// money is what a garden has come to: its plants at their price, less what was bought and
// the work of setting and moving.
func (f fared) money() float64 { return plantPrice*f.alive - buyCost*f.bought - moveCost*f.moves }

// beside lives a world under each of the rivals: without moves, with those of ours, and
// with those that pay for their work and half of it again; and prints what moves add.
func beside(t madeUp, table *season.Table, out io.Writer) error {
	w, err := newWorld(t, table)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%d made-up gardens, %d seasons, seed %d. In brackets: 95 %% of %d draws of gardens.\n\n", t.Gardens, t.Seasons, t.Seed, resamples)
	tab := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tab, "policy\tplaces alive at the end\tseasons without trouble\tbought a garden\tmoves a garden\tmoving adds: alive\twithout trouble\tmoney a garden\t")
	for _, b := range []rivals{{}, {replants: true}, {waters: true}, {replants: true, waters: true}} {
		var still []fared
		for k, policy := range []string{byNothing, byOurs, byOurs} {
			name, work := policy+b.String(), w.stated.work
			if k == 2 {
				name += ", if it pays"
				w.stated.work = 1.5 * moveCost / (t.Dies * plantPrice)
			}
			if err := w.live(policy, b); err != nil {
				return err
			}
			w.stated.work = work
			all := w.fared(w.runs[policy+b.String()])
			if still == nil {
				still = all
			}
			share := func(less []fared, of func(f fared) (over, under float64)) interval {
				return bootstrap(t.Seed, t.Gardens, func(weight []float64) float64 {
					a, n := 0.0, 0.0
					for g, x := range weight {
						over, under := of(all[g])
						if less != nil {
							before, _ := of(less[g])
							over -= before
						}
						a, n = a+x*over, n+x*under
					}
					return a / n
				})
			}
			alive := func(f fared) (float64, float64) { return f.alive, f.places }
			well := func(f fared) (float64, float64) { return f.well, f.seasons }
			a := func(of func(f fared) float64) func(f fared) (float64, float64) {
				return func(f fared) (float64, float64) { return of(f), 1 }
			}
			added := "\t\t"
			if k > 0 {
				more := share(still, a(fared.money))
				added = fmt.Sprintf("%s\t%s\t%+.2f (%+.2f to %+.2f)", share(still, alive).points(), share(still, well).points(), more.Value, more.Low, more.High)
			}
			fmt.Fprintf(tab, "%s\t%s\t%s\t%.2f\t%.2f\t%s\t\n", name, share(nil, alive).percent(), share(nil, well).percent(),
				share(nil, a(func(f fared) float64 { return f.bought })).Value, share(nil, a(func(f fared) float64 { return f.moves })).Value, added)
		}
	}
	return tab.Flush()
}
