package placement

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"
)

// Solve places the plants. Same problem, same seed: same result, on any number
// of processors. The error is Faults.
//
// Method: the plants of a zone begin on a triangular lattice (sites.go), trade
// places for low loss and good looks (arrange.go), push each other apart to
// their distances and leave out what does not fit (relax.go, pack.go), and then
// move and trade as long as it pays (polish.go). Three beginnings are tried and
// the best kept. Common practice in layout problems, no source.
func Solve(p Problem) (*Result, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	s := newSolver(&p)
	s.run()
	best := s.best()
	out := s.result(best.c)
	out.NeededOverlap = p.Overlap
	if slices.ContainsFunc(out.Left, func(l Left) bool { return l.Why == WhyFull }) {
		out.NeededOverlap = s.needed()
	}
	out.Stopped = fmt.Sprintf("all %d trials made", s.trials()*2)
	return out, nil
}

// starts is how many beginnings are tried.
const starts = 2

type solver struct {
	p     *Problem
	g     *ground
	l     looks
	empty *crowd
	ours  [starts]attempt
	rand  []attempt
}

// attempt is one placement, and its crowd before anything was left out.
type attempt struct {
	c, loose *crowd
	loss     float64
	score    float64
}

func newSolver(p *Problem) *solver {
	g := newGround(p)
	s := &solver{p: p, g: g, l: newLooks(g), empty: newCrowd(g)}
	runs := p.RandomRuns
	if runs == 0 {
		runs = 3
	}
	s.rand = make([]attempt, runs)
	return s
}

func (s *solver) effort() int { return max(1, s.p.Effort) }

func (s *solver) trials() int { return 60 * s.effort() * len(s.empty.plants) }

// run makes all attempts, each with a stream of chance of its own and writing
// only its own slot, so that the order in which they end does not matter.
func (s *solver) run() {
	var jobs []func()
	for i := range s.ours {
		jobs = append(jobs, func() { s.ours[i] = s.ourAttempt(i) })
	}
	for i := range s.rand {
		jobs = append(jobs, func() { s.rand[i] = s.randomAttempt(i) })
	}
	both(jobs)
}

// both runs jobs, two at a time.
func both(jobs []func()) {
	var wg sync.WaitGroup
	room := make(chan struct{}, 2)
	for _, job := range jobs {
		wg.Go(func() {
			room <- struct{}{}
			job()
			<-room
		})
	}
	wg.Wait()
}

func byLoss(a, b attempt) int { return cmp.Compare(a.loss, b.loss) }

func (s *solver) judged(c, loose *crowd) attempt {
	return attempt{c: c, loose: loose, loss: c.loss(), score: c.score(&s.l)}
}

func (s *solver) ourAttempt(start int) attempt {
	c, rng := s.empty.clone(), chance(s.p.Seed, uint64(start))
	c.sites(rng)
	if start == 0 {
		c.byTurn(2 * math.Pi * rng.Float64())
	} else {
		c.byHeight()
	}
	c.trades(&s.l, rng, s.trials(), 0.5, false)
	c.spreadOut(8)
	c.trades(&s.l, rng, s.trials()/2, 0.1, false)
	c.spreadOut(12)
	loose := c.clone()
	c.pack(s.p.Overlap, rng, s.effort())
	c.polish(&s.l, s.p.Overlap, rng, s.trials()/2)
	c.fill(s.p.Overlap, rng)
	c.polish(&s.l, s.p.Overlap, rng, s.trials()/2)
	return s.judged(c, loose)
}

// randomAttempt deals the places out by chance and keeps all other rules. It
// packs as hard as ours does.
func (s *solver) randomAttempt(run int) attempt {
	c, rng := s.empty.clone(), chance(s.p.Seed, uint64(100+run))
	c.sites(rng)
	c.byChance(rng)
	c.spreadOut(12)
	loose := c.clone()
	c.pack(s.p.Overlap, rng, s.effort())
	return s.judged(c, loose)
}

// best is our best attempt by score among those that lose no more than the mean
// by chance. The luckiest by chance is a beginning too: its plants trade places
// with others of their size, which keeps all distances. Should good looks still
// cost more than chance would lose, it is improved for loss alone, so that a
// placement of ours never loses more than the mean by chance.
func (s *solver) best() attempt {
	tried := s.ours[:]
	if len(s.rand) > 0 {
		lucky := slices.MinFunc(s.rand, byLoss)
		again, plain := lucky.c.clone(), s.l
		rng := chance(s.p.Seed, 1000)
		again.trades(&s.l, rng, s.trials(), 0.5, true)
		again.polish(&s.l, s.p.Overlap, rng, s.trials()/2)
		tried = append(tried, s.judged(again, lucky.loose))
		tried = slices.DeleteFunc(tried, func(a attempt) bool { return !(a.loss <= s.randomMean()) })
		if len(tried) == 0 {
			plain.group, plain.hide = 0, 0
			lucky.c.polish(&plain, s.p.Overlap, rng, s.trials())
			return s.judged(lucky.c, lucky.loose)
		}
	}
	return slices.MinFunc(tried, func(a, b attempt) int { return cmp.Compare(a.score, b.score) })
}

func (s *solver) randomMean() float64 {
	sum := 0.0
	for _, a := range s.rand {
		sum += a.loss
	}
	return sum / float64(len(s.rand))
}

// needed is the least overlap at which one of our beginnings, or the luckiest by
// chance, is found to hold all plants that can have a place; NaN if none up to a
// half is. With that overlap asked for, the same problem is solved by the same
// steps, and so does hold them all.
func (s *solver) needed() float64 {
	var from []*crowd
	for _, a := range s.ours {
		from = append(from, a.loose)
	}
	if len(s.rand) > 0 {
		from = append(from, slices.MinFunc(s.rand, byLoss).loose)
	}
	found := make([]float64, len(from))
	var jobs []func()
	for i, c := range from {
		jobs = append(jobs, func() { found[i] = c.needs(s.p.Overlap) })
	}
	both(jobs)
	least := math.Inf(1)
	for _, v := range found {
		least = math.Min(least, v)
	}
	if math.IsInf(least, 1) {
		return math.NaN()
	}
	return least
}

// needs halves, to a hundredth, for an overlap at which the crowd keeps its
// distances; +Inf if it does not at a half.
func (c *crowd) needs(lo float64) float64 {
	hi := 0.5
	if lo >= hi || !c.clone().partAll(hi) {
		return math.Inf(1)
	}
	for hi-lo > 0.01 {
		if m := (lo + hi) / 2; c.clone().partAll(m) {
			hi = m
		} else {
			lo = m
		}
	}
	return hi
}

func (s *solver) result(c *crowd) *Result {
	out := &Result{LossM2: c.loss(), BoundM2: c.bound(), RandomMeanM2: math.NaN()}
	for _, a := range s.rand {
		out.RandomLossM2 = append(out.RandomLossM2, a.loss)
		out.RandomMeanM2 = s.randomMean()
	}
	if out.LossM2 > 0 {
		out.Gap = math.Max(0, out.LossM2-out.BoundM2) / out.LossM2
	}
	out.Plants = s.standing(c)
	for line, mine := range c.lines {
		var left [2]int
		var xs, ys []float64
		for _, i := range mine {
			switch {
			case c.in[i]:
				xs, ys = append(xs, c.x[i]), append(ys, c.y[i])
			case c.possible(i):
				left[WhyFull]++
			default:
				left[WhyNarrow]++
			}
		}
		for why, n := range left {
			if n > 0 {
				out.Left = append(out.Left, Left{line, n, Why(why)})
			}
		}
		groups, _ := drift(xs, ys, c.nearM(line))
		out.Drifts = append(out.Drifts, groups)
	}
	out.Hidden = s.hiddenPlants(c)
	out.Notes = s.notes(c)
	return out
}

// hiddenPlants sums over plants the share that is hidden, at most the whole.
func (s *solver) hiddenPlants(c *crowd) float64 {
	sum, at := 0.0, c.spots(&s.l)
	for j := range c.plants {
		share := 0.0
		for i := range c.plants {
			if i != j && c.in[i] && c.in[j] {
				share += s.l.hidden(&c.plants[i], &c.plants[j], &at[i], &at[j])
			}
		}
		sum += math.Min(1, share)
	}
	return sum
}

// standing lists the plants that have a place: by line and, within a line,
// along the bed and then across it, so that stakes count in walking order.
func (s *solver) standing(c *crowd) []Standing {
	var out []Standing
	for i := range c.plants {
		p := &c.plants[i]
		if !c.in[i] {
			continue
		}
		at := Standing{Line: p.line, X: c.x[i], Y: c.y[i], SpreadCM: 200 * p.r, Risk: math.NaN()}
		if p.line >= 0 {
			at.ID = s.p.Lines[p.line].ID
			if s.g.known(p.line, at.X, at.Y) {
				at.Risk = s.g.riskAt(p.line, at.X, at.Y)
			}
		}
		if p.kept >= 0 {
			k := s.p.Kept[p.kept]
			at.Stake, at.ID = k.Stake, k.ID
			at.Stayed = k.X == at.X && k.Y == at.Y
		}
		at.HeightMM, _ = s.p.Bed.HeightMM(at.X, at.Y)
		at.Zone = s.p.Bed.ZoneAt(at.X, at.Y)
		out = append(out, at)
	}
	place := func(line int) uint { return uint(line) } // -1 last
	slices.SortStableFunc(out, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(place(a.Line), place(b.Line)), cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	s.p.stakes(out)
	return out
}

// notes tells of plants that stand already where the rules would not have them.
func (s *solver) notes(c *crowd) []string {
	var out []string
	for i := range c.plants {
		p := &c.plants[i]
		if p.kept < 0 || !p.fixed {
			continue
		}
		k := s.p.Kept[p.kept]
		switch {
		case s.p.Bed.ZoneAt(k.X, k.Y) == "":
			out = append(out, fmt.Sprintf("%s stands outside the bed", k.Stake))
		case s.g.clearM(k.X, k.Y) < p.r:
			out = append(out, fmt.Sprintf("%s reaches into what is kept free", k.Stake))
		}
		for j := range i {
			if q := &c.plants[j]; q.fixed && q.kept >= 0 &&
				math.Hypot(c.x[i]-c.x[j], c.y[i]-c.y[j]) < c.apartM(i, j, s.p.Overlap) {
				out = append(out, fmt.Sprintf("%s and %s stand too near each other", k.Stake, s.p.Kept[q.kept].Stake))
			}
		}
	}
	for line, l := range s.p.Lines {
		if n := len(c.lines[line]); n > l.Count {
			out = append(out, fmt.Sprintf("%s in the %s: %d stand already, %d are in the list", l.ID, l.Zone, n, l.Count))
		}
	}
	return out
}
