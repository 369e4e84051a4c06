package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"hollowbed/plants/fit"
	"hollowbed/plants/season"
)

// planner is what the method knows of one garden: the believed ground, the
// catalogue, and what notes have taught. It never looks at what is true.
type planner struct {
	model   season.Model
	g       *garden
	species []species
	bed     *fit.Bed // the believed one, over the record
	bearing []season.Bearing
	known   map[[2]int]season.Outlook
	ahead   []*season.Prospect
	years   map[[2]int][]fit.Year // by species and band
}

func (w *world) planner(r *run, g *garden, bearing []season.Bearing) *planner {
	p := &planner{
		model: w.model(), g: g, species: w.told, bed: over(w.ground(r, g), g.record, g.always), bearing: bearing,
		known: map[[2]int]season.Outlook{}, years: map[[2]int][]fit.Year{},
	}
	for _, b := range bearing {
		p.ahead = append(p.ahead, p.model.Prospect(b, p.bed.Predict, len(g.record)))
	}
	return p
}

// outlook is what the method says of plant i at a place.
func (p *planner) outlook(i, at int) season.Outlook {
	key := [2]int{i, at}
	o, ok := p.known[key]
	if !ok {
		place, s := p.g.places[at], p.g.species[i]
		kind := [2]int{s, place.band}
		years, ok := p.years[kind]
		if !ok {
			years = p.bed.InBand(p.species[s].stated, place.band, math.NaN()).ByYear
			p.years[kind] = years
		}
		o = p.ahead[i].At(years, p.species[s].stated.SunMinH-place.sunH, place.sunH-p.species[s].stated.SunMaxH)
		p.known[key] = o
	}
	return o
}

func (p *planner) loss(i, own, at, seasons int) (loss, doubt float64) {
	o := p.outlook(i, at)
	if at == own {
		return o.YearlyRisk, 0
	}
	return o.LossMoved(seasons), p.outlook(i, own).Harm(o, seasons)
}

func (p *planner) chance(i, at int, moved bool) float64 {
	if moved {
		return p.outlook(i, at).LossMoved(1)
	}
	return p.outlook(i, at).YearlyRisk
}

// cases are the plants of a garden in the seasons so far, as the program would
// make them: doses by the catalogue's limits on the believed ground.
func (w *world) cases(r *run, i, turns int) []season.Case {
	g := r.gardens[i]
	var out []season.Case
	since := slices.Clone(g.born) // planting, or the last move
	for turn := range turns {
		for k, f := range r.fates[turn][i] {
			if f.cause == "" {
				continue
			}
			if r.moved[turn][i][k] {
				since[k] = turn
			}
			stated := w.told[g.species[k]].stated
			at := r.stands[turn][i][k]
			young := turn == g.born[k]
			y := g.year(w.ground(r, g), bearing(stated, w.stated.share(young, r.moved[turn][i][k])), at, turn, young)
			c := season.Case{
				Garden: gardenName(i), Species: stated.ID, Plant: fmt.Sprintf("%02d", k),
				From: g.begin(turn), To: g.end(turn), Notes: w.noted(r, turn, i, k), Assumed: w.handed.limits,
				SunShortH: stated.SunMinH - g.places[at].sunH, SunOverH: g.places[at].sunH - stated.SunMaxH,
				Months: 12 * float64(turn+1-since[k]), GroundSD: r.spread(i),
			}
			for l, severity := range [season.LimitCount]float64{y.Wet, y.Deep, y.Dry, y.Cold} {
				c.Dose[l].Severity = severity
			}
			c.Dose[1].ByWet = y.DeepByWet
			out = append(out, c)
		}
	}
	return out
}

// spread is how far the rate of a garden's ground may be off, ln units, where ponds are
// watched; else 0.
func (r *run) spread(garden int) float64 {
	if r.spreads == nil {
		return 0
	}
	return r.spreads[garden]
}

func gardenName(i int) string { return fmt.Sprintf("%05d", i) }

// lessons is what a policy has learned by the end of a season.
type lessons struct {
	bearing [][]season.Bearing // by garden and plant, for what comes next
	limits  []season.SpeciesLimit
	causes  [][]int // the likeliest cause of each plant in the last season, by number
}

// learn lets a policy that learns go through all notes so far. Without notes,
// or for one that does not, plants bear what the catalogue says, give or take.
func (w *world) learn(r *run, turns int) (*lessons, error) {
	n := len(r.gardens)
	out := &lessons{bearing: make([][]season.Bearing, n), causes: make([][]int, n)}
	cases := make([][]season.Case, n)
	err := each(n, func(i int) error {
		cases[i] = w.cases(r, i, turns)
		return nil
	})
	if err != nil {
		return nil, err
	}
	model, table := w.model(), w.signs()
	var all *season.Learned
	if r.policy == byOurs || r.policy == byPonds {
		var every []season.Case
		for _, c := range cases {
			every = append(every, c...)
		}
		all = model.Learn(table, every)
	}
	if all != nil {
		out.limits = all.Species
	}
	err = each(n, func(i int) error {
		learned := all
		if r.policy == byOursAlone {
			learned = model.Learn(table, cases[i])
		}
		out.bearing[i] = make([]season.Bearing, len(r.gardens[i].plants))
		out.causes[i] = make([]int, len(r.gardens[i].plants))
		for k := range out.bearing[i] {
			out.bearing[i][k] = model.Unlearned(season.Case{Assumed: w.handed.limits, GroundSD: r.spread(i)})
		}
		for _, c := range cases[i] {
			before := model.Unlearned(c)
			k, err := strconv.Atoi(c.Plant) // and not Sscan, to which "08" is no number
			if err != nil {
				return err
			}
			if learned != nil {
				b, ok := learned.Bearing(c.Garden, c.Plant)
				if !ok {
					return fmt.Errorf("nothing learned of plant %s", c.Plant)
				}
				before, out.bearing[i][k] = b.Before, b.After
			}
			if c.To.Equal(r.gardens[i].end(turns - 1)) {
				out.causes[i][k] = number(model.Diagnose(table, c, before).Top)
			}
		}
		return nil
	})
	return out, err
}

// lessonsOf compares what was learned by the end with the truth.
func (w *world) lessonsOf(r *run) []lesson {
	var out []lesson
	for l, limit := range season.Limits() {
		lesson := lesson{Limit: string(limit)}
		for _, s := range w.species {
			k := slices.IndexFunc(r.limits, func(x season.SpeciesLimit) bool { return x.ID == s.stated.ID && x.Limit == limit })
			if k < 0 {
				continue
			}
			truth, known := s.trulyMore()[l], r.limits[k]
			lesson.Species++
			lesson.Before += truth * truth
			lesson.After += (known.Belief.Mean - truth) * (known.Belief.Mean - truth)
			if x := math.Exp(truth); known.Low <= x && x <= known.High {
				lesson.Within++
			}
		}
		if n := float64(lesson.Species); n > 0 {
			lesson.Before, lesson.After, lesson.Within = math.Sqrt(lesson.Before/n), math.Sqrt(lesson.After/n), lesson.Within/n
		}
		out = append(out, lesson)
	}
	return out
}
