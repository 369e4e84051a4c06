package placement

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"
)

// Solve places the plants. Same problem, same seed: same result, on any number
// of processors. The error is table.Faults.
//
// Method: the plants of a zone begin on a triangular lattice (sites.go), trade
// places for low loss and good looks (arrange.go), push each other apart to
// their distances and leave out what does not fit (relax.go, pack.go), and then
// move and trade as long as it pays (polish.go). Two beginnings are tried for
// each unit of Effort and the best kept (attempt.beats). Common practice in layout
// problems, no source.
func Solve(p Problem) (*Result, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	s := newSolver(&p)
	best := s.run()
	if p.stopped() {
		return nil, ErrStopped
	}
	best.c.beneath(&s.l, p.Overlap)
	out := s.result(best)
	out.NeededOverlap = p.Overlap
	if slices.ContainsFunc(out.Left, func(l Left) bool { return l.Why == WhyFull }) {
		out.NeededOverlap = s.needed()
	}
	if p.stopped() { // what was asked for last may be half done
		return nil, ErrStopped
	}
	out.Stopped = fmt.Sprintf("all %d trials made", s.trials()*len(s.ours))
	return out, nil
}

// starts is how many beginnings are tried for each unit of effort.
const starts = 2

type solver struct {
	p     *Problem
	g     *ground
	l     looks
	empty *crowd
	ours  []attempt
	runs  int // by chance
}

// attempt is one placement, and its crowd before anything was left out.
type attempt struct {
	c, loose *crowd
	out      int     // plants left out
	left     float64 // ground of those, m2
	loss     float64
	score    float64
	rand     []attempt // what chance did with the same plants
}

// beats reports whether an attempt leaves out neither more plants nor more ground
// than another, and is better in what it leaves out or, that being alike, in score.
func (a attempt) beats(b attempt) bool { return a.out <= b.out && byScore(a, b) < 0 }

func newSolver(p *Problem) *solver {
	g := newGround(p)
	s := &solver{p: p, g: g, l: newLooks(g), empty: newCrowd(g), runs: p.RandomRuns}
	if s.runs == 0 {
		s.runs = 3
	}
	s.ours = make([]attempt, starts*max(1, p.Effort))
	return s
}

func (s *solver) trials() int { return 60 * s.empty.stacks }

// run makes all attempts and keeps the best that loses no more than chance. With
// more effort it makes the same attempts and then more, and goes through them in
// that order, so that it never does worse (attempt.beats).
func (s *solver) run() attempt {
	s.attemptAll(s.ours, s.ourAttempt)
	bests := []attempt{s.ours[0]} // after each unit of effort
	for i, a := range s.ours {
		if i > 0 && i%starts == 0 {
			bests = append(bests, bests[len(bests)-1])
		}
		if best := &bests[len(bests)-1]; a.beats(*best) {
			*best = a
		}
	}
	if s.p.Early != nil && !s.p.stopped() {
		early := bests[len(bests)-1].c.clone()
		early.beneath(&s.l, s.p.Overlap)
		s.p.Early(s.standing(early))
	}
	var kept attempt
	for n, best := range bests {
		if n > 0 && best.c == bests[n-1].c {
			continue
		}
		if a := s.noWorse(best, s.ours[:starts*(n+1)]); n == 0 || a.beats(kept) {
			kept = a
		}
	}
	return kept
}

// attemptAll makes attempts, each with a stream of chance of its own and writing
// only its own slot, so that the order in which they end does not matter.
func (s *solver) attemptAll(out []attempt, make func(n int) attempt) {
	var jobs []func()
	for n := range out {
		jobs = append(jobs, func() { out[n] = make(n) })
	}
	both(jobs)
}

// byScore puts the attempt that leaves less out first, then the better score.
func byScore(a, b attempt) int {
	return cmp.Or(cmp.Compare(a.left, b.left), cmp.Compare(a.score, b.score))
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

func (s *solver) judged(c, loose *crowd) attempt {
	a := attempt{c: c, loose: loose, loss: c.loss(), score: c.score(&s.l)}
	for i := range c.plants {
		if !c.in[i] {
			a.out++
			a.left += c.plants[i].areaM2
		}
	}
	return a
}

func (s *solver) ourAttempt(start int) attempt {
	c, rng := s.empty.clone(), chance(s.p.Seed, uint64(start/starts)<<32+uint64(start%starts))
	c.sites(rng)
	if start%starts == 0 {
		c.byTurn(2 * math.Pi * rng.Float64())
	} else {
		c.byHeight()
	}
	c.trades(&s.l, rng, s.trials(), 0.5)
	c.spreadOut(60)
	c.trades(&s.l, rng, s.trials()/2, 0.1)
	c.spreadOut(60)
	loose := c.clone()
	c.pack(s.p.Overlap, rng)
	c.polish(&s.l, s.p.Overlap, rng, s.trials()/2, 0.2)
	c.fill(s.p.Overlap, rng)
	c.polish(&s.l, s.p.Overlap, rng, s.trials()/2, 0)
	return s.judged(c, loose)
}

// randomAttempt places the plants that another attempt placed, dealing the
// places out by chance and keeping all other rules. It packs as hard as ours
// does; those it finds no place for count as lost, as do those that ours left.
func (s *solver) randomAttempt(run int, like *crowd) attempt {
	c, rng := s.empty.clone(), chance(s.p.Seed, uint64(100+run))
	c.barred = make([]bool, len(c.plants))
	for i := range c.barred {
		c.barred[i] = !like.in[i]
	}
	c.sites(rng)
	c.byChance(rng)
	c.spreadOut(20)
	c.pack(s.p.Overlap, rng)
	c.barred = nil
	return s.judged(c, nil)
}

// noWorse returns the attempt, or, if good looks have cost it more than chance would lose
// with the same plants, another of those tried, or new ones that think less of looks, or
// the best by chance improved for loss alone.
func (s *solver) noWorse(best attempt, tried []attempt) attempt {
	best.rand = make([]attempt, s.runs)
	s.attemptAll(best.rand, func(run int) attempt { return s.randomAttempt(run, best.c) })
	mean := meanLoss(best.rand)
	if best.loss <= mean {
		return best
	}
	wished := s.l
	judge := func(a attempt) attempt {
		s.l = wished
		out := s.judged(a.c, a.loose)
		out.rand = best.rand
		return out
	}
	tried = slices.Clone(tried)
	for _, share := range []float64{1, 0.25, 0} {
		s.l.group, s.l.hide = share*wished.group, share*wished.hide
		if share < 1 {
			s.attemptAll(tried, s.ourAttempt)
		}
		slices.SortStableFunc(tried, byScore)
		for _, a := range tried {
			if a.loss <= mean {
				return judge(a)
			}
		}
	}
	lucky := slices.MinFunc(best.rand, func(a, b attempt) int { return cmp.Compare(a.loss, b.loss) }).c.clone()
	lucky.polish(&s.l, s.p.Overlap, chance(s.p.Seed, 1000), s.trials(), 0) // for loss alone
	return judge(attempt{c: lucky})
}

func meanLoss(all []attempt) float64 {
	sum := 0.0
	for _, a := range all {
		sum += a.loss
	}
	return sum / float64(len(all))
}

// needed is the least overlap at which one of our beginnings is found to hold all plants that can have a place; NaN if none up to a
// half is. With that overlap asked for, the same problem is solved by the same
// steps, and so does hold them all.
func (s *solver) needed() float64 {
	var from []*crowd
	for _, a := range s.ours {
		from = append(from, a.loose)
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
	for hi-lo > 0.01 && !c.g.p.stopped() {
		if m := (lo + hi) / 2; c.clone().partAll(m) {
			hi = m
		} else {
			lo = m
		}
	}
	return hi
}

func (s *solver) result(best attempt) *Result {
	c := best.c
	out := &Result{LossM2: best.loss, BoundM2: c.bound(), RandomMeanM2: meanLoss(best.rand)}
	for _, a := range best.rand {
		out.RandomLossM2 = append(out.RandomLossM2, a.loss)
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
			at.Stake, at.ID, at.Drift = k.Stake, k.ID, k.Drift
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
	letter(out, s.p.Taken)
	return out
}

// mostCrowded is how many pairs that stand too near each other are told one by
// one; on a spot where hundreds stand nobody reads on.
const mostCrowded = 50

// notes tells of plants that stand already where the rules would not have them.
func (s *solver) notes(c *crowd) []string {
	var out []string
	crowded := 0
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
				if crowded++; crowded > mostCrowded {
					continue
				}
				out = append(out, fmt.Sprintf("%s and %s stand too near each other", k.Stake, s.p.Kept[q.kept].Stake))
			}
		}
	}
	if more := crowded - mostCrowded; more > 0 {
		out = append(out, fmt.Sprintf("so do %d more pairs of plants", more))
	}
	for line, l := range s.p.Lines {
		if n := len(c.lines[line]); n > l.Count {
			out = append(out, fmt.Sprintf("%s in the %s: %d stand already, %d are in the list", l.ID, l.Zone, n, l.Count))
		}
	}
	return out
}
