package plants

import (
	"math"
	"slices"

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
	return j.verdict(p, s.Zone, j.bed.InBand(p, s.Band, s.SunH))
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
// worked out is kept. It panics if the run is another.
func (j *Judge) Over(e *zones.Exposure) *Judge {
	if e.Run != j.Exposure.Run {
		panic("plants: a judge taken over to another run")
	}
	return &Judge{Exposure: e, bed: j.bed}
}
