package plants

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// Spot is a place of the bed with what it is like there.
type Spot struct {
	X, Y     float64 // m, in the coordinates of the outline
	HeightMM float64 // of the ground, relative to the spill level
	Zone     string
	Band     int     // index in Exposure.Bands
	SunH     float64 // rounded as for a placement
}

// SpotAt looks up a place; ok is false outside the bed.
func (j *Judge) SpotAt(x, y float64) (s Spot, ok bool) {
	band, ok := j.Exposure.BandAt(x, y)
	if !ok {
		return Spot{X: x, Y: y}, false
	}
	l := j.Exposure.Lot
	height, _ := l.Bed.HeightMM(x, y)
	return Spot{
		X: x, Y: y, HeightMM: height, Zone: l.Bed.ZoneAt(x, y), Band: band,
		SunH: math.Round(l.SunAt(x, y)/sunStep) * sunStep,
	}, true
}

// At judges a plant at a place of the bed, with the risk that a placement
// would reckon with there.
func (j *Judge) At(p catalogue.Plant, s Spot) Verdict {
	return j.verdict(&p, s.Zone, j.bed.InBand(p, s.Band, s.SunH))
}

// Loss is the chance that a year kills the plant, sun included, as a placement
// reckons it; certain where its limits are not known.
func (v Verdict) Loss() float64 { return orDefault(1-v.Fit.Survival(), 1) }

// AllAt judges every plant of a catalogue at a place: those that would live
// there first, least loss first, and by name where two are alike.
func (j *Judge) AllAt(c *catalogue.Catalogue, s Spot) []Verdict {
	var all []Verdict
	for _, p := range c.Plants {
		all = append(all, j.At(p, s))
	}
	slices.SortStableFunc(all, func(a, b Verdict) int {
		switch {
		case a.Lives() != b.Lives():
			if a.Lives() {
				return -1
			}
			return 1
		case a.Loss() != b.Loss():
			if a.Loss() < b.Loss() {
				return -1
			}
			return 1
		}
		return 0
	})
	return all
}

// Over is this judge for another exposure of the same run: the same ground,
// soils, water and weather, with other wishes, layout or sun. What has been
// worked out is kept, unless they are watered otherwise. It panics if the run is another.
func (j *Judge) Over(e *zones.Exposure) *Judge {
	if e.Run != j.Exposure.Run {
		panic("plants: a judge taken over to another run")
	}
	again := NewJudge(e)
	if again.bed.Watered == j.bed.Watered {
		again.bed, again.found = j.bed, j.found
	}
	return again
}

// Reaching lists the stakes of the plants whose mature spread reaches a place,
// nearest first.
func (p *Placed) Reaching(x, y float64) []string {
	type near struct {
		stake string
		m     float64
	}
	var found []near
	for _, s := range p.Result.Plants {
		if d := math.Hypot(s.X-x, s.Y-y); d <= s.SpreadCM/200 {
			found = append(found, near{s.Stake, d})
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return cmp.Compare(a.m, b.m) })
	var out []string
	for _, n := range found {
		out = append(out, n.stake)
	}
	return out
}

// Crowds tells what a plant of a spread would stand too near to at a place: the
// stakes of others that it would overlap by more than the layout allows, and
// the ground kept free that it would reach into. stake is its own, passed over.
func (p *Placed) Crowds(l *zones.Lot, stake string, spreadCM, x, y float64) (stakes, grounds []string) {
	radius := orDefault(spreadCM, unknownSpreadCM) / 200
	for _, s := range p.Result.Plants {
		apart := (1 - l.Garden.Layout.Overlap) * (radius + s.SpreadCM/200)
		if !strings.EqualFold(s.Stake, stake) && math.Hypot(s.X-x, s.Y-y) < apart-1e-6 {
			stakes = append(stakes, s.Stake)
		}
	}
	for _, k := range keepOuts(l) {
		if k.Reach(x, y) < radius-1e-6 && !slices.Contains(grounds, k.Kind) {
			grounds = append(grounds, k.Kind)
		}
	}
	return stakes, grounds
}
