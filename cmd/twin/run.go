package main

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"

	"hollowbed/plants/fit"
	"hollowbed/plants/season"
)

// The policies, in the order in which they are run: random moves as many
// plants as ours does, so it comes after it.
const (
	byNothing    = "nothing"
	byLabels     = "labels"
	byCatalogue  = "catalogue"
	byOurs       = "ours"
	byPonds      = "ours, ponds watched"
	byOursAlone  = "ours alone"
	byChance     = "random"
	byKindOracle = "kind oracle"
	byOracle     = "oracle"
)

// policies lists every policy.
func policies() []string {
	return []string{byNothing, byChance, byLabels, byCatalogue, byOursAlone, byOurs, byPonds, byKindOracle, byOracle}
}

// world is all that is made up, and how each policy fares in it.
type world struct {
	truth   madeUp
	table   *season.Table // as the method has it
	rows    []season.Row  // as signs truly are
	species []species
	gardens []*garden
	runs    map[string]*run
	stated  stated
	handed  handed
	told    []species // as the method has them
}

// run is all gardens under one policy.
type run struct {
	policy string
	rivals
	gardens []*garden
	states  []*state
	fates   [][][]fate            // by season, garden, plant
	notes   [][][]season.Note     // alike
	stands  [][][]int             // place of each plant in that season
	moved   [][][]bool            // just before that season
	said    [][][]float64         // chance of struggling that was stated before the season; nil if none was
	limits  []season.SpeciesLimit // learned by the end
	causes  [][][]int             // the likeliest cause that was stated after it, by number; nil if none was

	// Where ponds are watched: the ground of each garden by them, its rate, and how far
	// that may be off, ln units.
	grounds []*fit.Bed
	rates   []float64
	spreads []float64
}

// each does something for every garden, on as many cores as there are. What it
// does may hang on nothing but the garden's number.
func each(n int, do func(i int) error) error {
	errs := make([]error, n)
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				errs[i] = do(i)
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
	for i, err := range errs {
		if err != nil {
			return fmt.Errorf("garden %d: %w", i, err)
		}
	}
	return nil
}

func newWorld(t madeUp, table *season.Table) (*world, error) {
	w := &world{truth: t, table: table, rows: t.shaken(table), species: makeSpecies(t), stated: defaultStated(), gardens: make([]*garden, t.Gardens), runs: map[string]*run{}}
	w.tell(handed{})
	err := each(t.Gardens, func(i int) (err error) {
		w.gardens[i], err = makeGarden(t, w.species, i)
		return err
	})
	return w, err
}

// livePolicies takes all gardens through the seasons, once under each policy.
func (w *world) livePolicies(policies ...string) error {
	for _, p := range policies {
		if err := w.live(p, rivals{}); err != nil {
			return err
		}
	}
	return nil
}

// live takes all gardens through the seasons under one policy of moves, and its rivals.
func (w *world) live(policy string, beside rivals) error {
	r := &run{policy: policy, rivals: beside}
	for _, g := range w.gardens {
		g = beside.garden(g)
		r.gardens, r.states = append(r.gardens, g), append(r.states, newState(g))
	}
	w.runs[policy+beside.String()] = r
	var learned *lessons
	for turn := range w.truth.Seasons {
		n := len(r.gardens)
		r.fates, r.notes = append(r.fates, make([][]fate, n)), append(r.notes, make([][]season.Note, n))
		r.stands, r.moved = append(r.stands, make([][]int, n)), append(r.moved, make([][]bool, n))
		r.said, r.causes = append(r.said, make([][]float64, n)), append(r.causes, nil)
		err := each(n, func(i int) error {
			if turn > 0 {
				if err := w.decide(r, learned, i, turn); err != nil {
					return err
				}
				if r.replants {
					w.replant(r, i, turn)
				}
			}
			w.pass(r, i, turn)
			return nil
		})
		if err != nil {
			return err
		}
		if policy == byPonds {
			if err := w.watch(r, turn+1); err != nil {
				return err
			}
		}
		if slices.Contains([]string{byOurs, byPonds, byOursAlone, byCatalogue}, policy) {
			if learned, err = w.learn(r, turn+1); err != nil {
				return err
			}
			r.causes[turn], r.limits = learned.causes, learned.limits
		}
	}
	return nil
}

// pass takes one garden through a season.
func (w *world) pass(r *run, i, turn int) {
	g, s := r.gardens[i], r.states[i]
	r.stands[turn][i], r.moved[turn][i] = slices.Clone(s.at), slices.Clone(s.moved)
	r.fates[turn][i] = w.truth.live(g, s, turn)
	notes := make([]season.Note, len(g.plants))
	for k, f := range r.fates[turn][i] {
		if f.cause != "" {
			notes[k] = w.truth.observe(g, w.rows, k, turn, f)
		}
	}
	r.notes[turn][i] = notes
}

// decide moves the plants of garden i before a season.
func (w *world) decide(r *run, learned *lessons, i, turn int) error {
	g, s, t := r.gardens[i], r.states[i], w.truth
	switch r.policy {
	case byNothing:
		return nil
	case byChance:
		count := 0
		for _, moved := range w.runs[byOurs].moved[turn][i] {
			if moved {
				count++
			}
		}
		s.carry(randomMoves(g, s, count, rand.New(rand.NewPCG(t.Seed, uint64(1e9)+uint64(i*t.Seasons+turn)))))
		return nil
	case byLabels:
		s.carry(labelMoves(g, s, w.species, r.notes[turn-1][i]))
		return nil
	}
	var m mind
	caution, disturb, work := 0.0, t.MoveShock, 0.0
	switch r.policy {
	case byOracle:
		m = t.oracle(g)
	case byKindOracle:
		m = t.kindOracle(g, w.species)
	default:
		m = w.planner(r, g, learned.bearing[i])
		caution, disturb, work = w.stated.caution, w.stated.disturb, w.stated.work
	}
	to, err := planMoves(g, s, min(horizon, t.Seasons-turn), caution, disturb+work, m)
	if err != nil {
		return err
	}
	s.carry(to)
	said := make([]float64, len(g.plants))
	for k := range said {
		if s.alive[k] {
			said[k] = m.chance(k, s.at[k], s.moved[k])
			if s.moved[k] {
				said[k] = 1 - (1-said[k])*(1-disturb)
			}
		}
	}
	r.said[turn][i] = said
	return nil
}
