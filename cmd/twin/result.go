package main

import (
	"math"

	"hollowbed/plants/season"
)

// result is what an experiment found.
type result struct {
	Truth    madeUp        `json:"truth"`
	Plants   int           `json:"plants"`
	Policies []policyScore `json:"policies"`
	// Ours less others, of plants alive at the end.
	OursLessLabels interval `json:"ours_less_labels"`
	OursLessAlone  interval `json:"ours_less_ours_alone"`
	// Of ours: causes stated right, of plants in trouble and of those that are
	// fine; stated chances against what came; limits learned.
	CausesRight interval   `json:"causes_right"`
	Fine        interval   `json:"fine_called_fine"`
	Causes      []causeRow `json:"causes"`
	Calibration interval   `json:"calibration_error"`
	Reliability []reliable `json:"reliability"`
	Learned     []lesson   `json:"learned"`
}

// policyScore is how plants did under one policy. Shares are of all plants or
// plant-seasons, those that died early included.
type policyScore struct {
	Policy           string   `json:"policy"`
	Alive            interval `json:"alive_at_end"`
	Lived            interval `json:"plant_seasons_alive"`
	Well             interval `json:"plant_seasons_without_trouble"`
	Gain             interval `json:"gain"`                       // of plants alive at the end, over doing nothing
	OfOracle         interval `json:"share_of_oracle"`            // of the oracle's gain
	OfKind           interval `json:"share_of_kind_oracle"`       // of that of one who knows species but not single plants
	OfLived          interval `json:"share_of_oracle_alive"`      // of the oracle's gain of plant-seasons alive
	OfWell           interval `json:"share_of_oracle_untroubled"` // of the oracle's gain of those without trouble
	Moves            float64  `json:"moves_per_garden"`
	Needless         interval `json:"needless_moves"` // share of moves; 0 without moves
	Brier            float64  `json:"brier"`          // of stated chances; 0 if none were
	CalibrationError float64  `json:"calibration_error"`
	Said             float64  `json:"mean_said"`
	Came             float64  `json:"mean_came"`
}

// causeRow is a true cause and how often each was stated for it.
type causeRow struct {
	Cause  string    `json:"cause"`
	Cases  float64   `json:"cases"`
	Right  float64   `json:"right"`
	Stated []float64 `json:"stated"` // in the order of causes
}

// reliable is one bin of stated chances.
type reliable struct {
	From      float64 `json:"from"`
	To        float64 `json:"to"`
	Forecasts float64 `json:"forecasts"`
	Said      float64 `json:"said"`
	Came      float64 `json:"came"`
}

// lesson is how far the limits of species are from the truth, in log units, root
// of the mean square over the species that something was learned of.
type lesson struct {
	Limit   string  `json:"limit"`
	Species int     `json:"species"`
	Before  float64 `json:"error_of_catalogue"`
	After   float64 `json:"error_learned"`
	Within  float64 `json:"within_90_percent_interval"` // share of the species
}

// liveAll makes the world and lives it under every policy.
func liveAll(t madeUp, table *season.Table) (*result, error) {
	w, err := newWorld(t, table)
	if err != nil {
		return nil, err
	}
	if err := w.livePolicies(byNothing, byLabels, byCatalogue, byOursAlone, byOurs, byPonds, byChance, byKindOracle, byOracle); err != nil {
		return nil, err
	}
	return w.result(), nil
}

func (w *world) result() *result {
	t := w.truth
	out := &result{Truth: t}
	all := map[string][]tally{}
	for _, p := range policies() {
		all[p] = w.tallies(p)
	}
	for g := range w.gardens {
		out.Plants += int(all[byNothing][g].plants)
	}
	share := func(p string, over, under func(*tally) float64) interval {
		return bootstrap(t.Seed, t.Gardens, func(weight []float64) float64 { return ratio(weight, all[p], over, under) })
	}
	less := func(a, b string) interval {
		return bootstrap(t.Seed, t.Gardens, func(weight []float64) float64 {
			return ratio(weight, all[a], aliveOf, plantsOf) - ratio(weight, all[b], aliveOf, plantsOf)
		})
	}
	for _, p := range policies() {
		s := policyScore{
			Policy: p, Alive: share(p, aliveOf, plantsOf), Lived: share(p, livedOf, seasonsOf), Well: share(p, wellOf, seasonsOf),
			Gain: less(p, byNothing),
		}
		part := func(best string, over, under func(*tally) float64) interval {
			return shareOf(t, all[p], all[byNothing], all[best], over, under)
		}
		s.OfOracle, s.OfKind = part(byOracle, aliveOf, plantsOf), part(byKindOracle, aliveOf, plantsOf)
		s.OfLived, s.OfWell = part(byOracle, livedOf, seasonsOf), part(byOracle, wellOf, seasonsOf)
		sum := sumOf(all[p])
		s.Moves = sum.moves / float64(t.Gardens)
		if sum.moves > 0 {
			s.Needless = share(p, func(c *tally) float64 { return c.needless }, func(c *tally) float64 { return c.moves })
		}
		s.Brier, s.CalibrationError, s.Said, s.Came = sum.reliability()
		out.Policies = append(out.Policies, s)
	}
	out.OursLessLabels, out.OursLessAlone = less(byOurs, byLabels), less(byOurs, byOursAlone)
	w.causes(out, all[byOurs])
	out.Learned = w.lessonsOf(w.runs[byOurs])
	sum := sumOf(all[byOurs])
	for b := range reliabilityBins {
		if n := sum.forecasts[b]; n > 0 {
			out.Reliability = append(out.Reliability, reliable{
				float64(b) / reliabilityBins, float64(b+1) / reliabilityBins, n, sum.said[b] / n, sum.came[b] / n,
			})
		}
	}
	out.Calibration = bootstrap(t.Seed, t.Gardens, func(weight []float64) float64 {
		var some tally
		for g, x := range weight {
			if x != 0 {
				some.add(&all[byOurs][g], x)
			}
		}
		_, e, _, _ := some.reliability()
		return e
	})
	return out
}

// shareOf is what one policy gains over doing nothing, as a share of what the best
// gains.
func shareOf(t madeUp, one, nothing, best []tally, over, under func(*tally) float64) interval {
	return bootstrap(t.Seed, t.Gardens, func(weight []float64) float64 {
		base := ratio(weight, nothing, over, under)
		return (ratio(weight, one, over, under) - base) / (ratio(weight, best, over, under) - base)
	})
}

func aliveOf(c *tally) float64   { return c.alive }
func plantsOf(c *tally) float64  { return c.plants }
func livedOf(c *tally) float64   { return c.lived }
func seasonsOf(c *tally) float64 { return c.seasons }
func wellOf(c *tally) float64    { return c.well }

func (w *world) causes(out *result, ours []tally) {
	sum := sumOf(ours)
	t := w.truth
	for i, c := range season.Causes() {
		row := causeRow{Cause: string(c), Stated: sum.byCause[i][:]}
		for _, n := range row.Stated {
			row.Cases += n
		}
		if row.Cases > 0 {
			row.Right = row.Stated[i] / row.Cases
		}
		out.Causes = append(out.Causes, row)
	}
	out.CausesRight = bootstrap(t.Seed, t.Gardens, func(weight []float64) float64 {
		return ratio(weight, ours, func(c *tally) float64 { return c.alike }, func(c *tally) float64 { return c.struggled })
	})
	out.Fine = bootstrap(t.Seed, t.Gardens, func(weight []float64) float64 {
		return ratio(weight, ours, func(c *tally) float64 { return c.fineAsFine }, func(c *tally) float64 { return c.fine })
	})
}

func sumOf(all []tally) tally {
	var sum tally
	for g := range all {
		sum.add(&all[g], 1)
	}
	return sum
}

func (c *tally) add(o *tally, weight float64) {
	c.moves += weight * o.moves
	c.needless += weight * o.needless
	c.squared += weight * o.squared
	for a := range c.byCause {
		for b := range c.byCause[a] {
			c.byCause[a][b] += weight * o.byCause[a][b]
		}
	}
	for b := range c.said {
		c.said[b] += weight * o.said[b]
		c.came[b] += weight * o.came[b]
		c.forecasts[b] += weight * o.forecasts[b]
	}
}

// reliability returns the Brier score of stated chances, and their expected
// calibration error: the mean over forecasts of |mean said - share that came|
// of their bin, bins 0.05 wide.
func (c *tally) reliability() (brier, expected, said, came float64) {
	n, off := 0.0, 0.0
	for b := range c.said {
		n += c.forecasts[b]
		said += c.said[b]
		came += c.came[b]
		off += math.Abs(c.said[b] - c.came[b])
	}
	if n == 0 {
		return 0, 0, 0, 0
	}
	return c.squared / n, off / n, said / n, came / n
}
