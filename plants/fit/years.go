package fit

import (
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/water"
)

// years compares every year that counts with the plant's limits in one band.
func (b *Bed) years(p catalogue.Plant, band int) []Year {
	out := make([]Year, len(b.Use))
	dry := b.dryDays(band, b.rootCM(&p))
	for i, y := range b.Use {
		out[i] = b.year(&p, band, y, dry)
	}
	return out
}

// At compares one year of the run, or one window of a run over windows, with
// the plant's limits in a band, whether it counts in Use or not.
func (b *Bed) At(p catalogue.Plant, band, y int) Year {
	return b.year(&p, band, y, b.dryDays(band, b.rootCM(&p)))
}

// rootCM is how deep a plant roots: through the mix, where that is not known.
func (b *Bed) rootCM(p *catalogue.Plant) float64 {
	if math.IsNaN(p.RootCM) {
		return b.Ground.MixDepthMM / 10
	}
	return p.RootCM
}

func (b *Bed) year(p *catalogue.Plant, band, y int, dry *dryYears) Year {
	e := &b.Run.Exposure[band][y]
	year := Year{Name: b.Run.Years[y].Name}
	year.WetH, year.RestH = e.WetWorst.EquivalentHours(), float64(e.WetWorst.Hours-e.WetWorst.GrowingHours)
	year.Wet = share(year.WetH, p.WetH, leastWetH)
	if year.WetH > 0 {
		year.WetFrom = b.Start.Add(hours(e.WetWorst.FromHour))
	}
	year.DeepMM, year.DeepByWet = b.depthMM(band, y, p.WetH)
	year.Deep = share(year.DeepMM, p.PondMM, leastPondMM)
	year.DryD = b.unwatered(dry.days[y])
	year.Dry = share(year.DryD, p.DryD, leastDryD)
	if from := dry.from[y]; from >= 0 {
		year.DryFrom = b.Start.Add(hours(24 * from))
	}
	year.MinC = b.MinC[y]
	year.Cold = coldOf(p.LowestC, year.MinC)
	return year
}

// unwatered is how many of the days without rain a plant goes without water.
func (b *Bed) unwatered(days float64) float64 {
	if b.Watered {
		return min(days, wateredDays)
	}
	return days
}

func coldOf(lowestC, foundC float64) float64 { return math.Exp((lowestC - foundC) / coldScaleC) }

// rootKey names one band for roots of one depth.
type rootKey struct {
	band   int
	rootCM float64
}

// dryYears is how dry each year was for such roots, as days on the reference
// ground, and the first day of the worst spell, -1 in a year without stress.
type dryYears struct {
	days []float64
	from []int
}

// dryDays follows roots of a depth through the record in one band; plants
// with roots alike share the answer.
func (b *Bed) dryDays(band int, rootCM float64) *dryYears {
	b.readyFor(rootCM, []int{band})
	return b.dry[rootKey{band, rootCM}]
}

// readyFor makes dryDays known in some bands, which are quicker together.
func (b *Bed) readyFor(rootCM float64, bands []int) {
	if b.unknown(rootCM, bands) {
		b.keep(rootCM, bands, b.follow(rootCM, bands))
	}
}

func (b *Bed) unknown(rootCM float64, bands []int) bool {
	return slices.ContainsFunc(bands, func(band int) bool { return b.dry[rootKey{band, rootCM}] == nil })
}

func (b *Bed) keep(rootCM float64, bands []int, found []*dryYears) {
	if b.dry == nil {
		b.dry = map[rootKey]*dryYears{}
	}
	for i, dry := range found {
		b.dry[rootKey{bands[i], rootCM}] = dry
	}
}

func (b *Bed) follow(rootCM float64, bands []int) []*dryYears {
	reference := NewReference(rootCM)
	out := make([]*dryYears, len(bands))
	for i, years := range b.Run.Droughts(water.RootZone{TAWMM: b.Ground.TAWMM(rootCM), PTab: refPTab}, bands...) {
		out[i] = &dryYears{}
		for _, d := range years {
			from := d.FromDay
			if d.Days == 0 {
				from = -1
			}
			out[i].days = append(out[i].days, reference.Days(d))
			out[i].from = append(out[i].from, from)
		}
	}
	return out
}

// ready works out on all processors how dry it gets for the roots of some plants
// in some bands, so that judging them there changes nothing of the bed any more.
func (b *Bed) ready(plants []catalogue.Plant, bands []int) {
	var roots []float64
	for i := range plants {
		roots = append(roots, b.rootCM(&plants[i]))
	}
	slices.Sort(roots)
	roots = slices.Compact(roots)
	found := make([][]*dryYears, len(roots))
	each(len(roots), func(r int) {
		if b.unknown(roots[r], bands) {
			found[r] = b.follow(roots[r], bands)
		}
	})
	for r := range found {
		b.keep(roots[r], bands, found[r])
	}
}

// each does something for 0 to n-1, on all processors. What panics there panics
// in the caller, who may be ready for it.
func each(n int, do func(i int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	var broken atomic.Pointer[any]
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			defer func() {
				if why := recover(); why != nil {
					broken.Store(&why)
				}
			}()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	wg.Wait()
	if why := broken.Load(); why != nil {
		panic(*why)
	}
}

func hours(h int) time.Duration { return time.Duration(h) * time.Hour }

// share returns found / limit, with a limit below least taken as least; NaN
// if either is not known.
func share(found, limit, least float64) float64 { return found / max(limit, least) }

// depthMM returns how deep water stood over the foot of a band in a year, in
// mm, as a plant feels it that bears wetness for wetH hours:
//
//	the largest over all levels of (level - foot) min(1, T / wetH)
//
// T longest run of equivalent hours that the pond stood over the level. Water
// that stood as long as the plant bears wetness counts with its depth; deeper
// water for a shorter time with the share of that time. Without the share no
// depth could harm a plant before the hours did, whatever its pond_mm.
// Assumption, no source. Between the levels that were followed T goes in a
// straight line. NaN if wetH is not known.
//
// byWet is -d ln(depth) / d ln(wetH), how much of what a plant bears of wetness
// counts for depth as well: 0 where the water stood longer than wetH, 1 where
// shorter.
func (b *Bed) depthMM(band, year int, wetH float64) (deepest, byWet float64) {
	if math.IsNaN(wetH) {
		return math.NaN(), 0
	}
	levels, above := b.Run.LevelsMM, b.Run.Above
	foot, hours := b.Run.Bands[band].FootMM, max(wetH, leastWetH)
	for k := range levels {
		low, lowRun := levels[k], above[k][year]
		top, topRun := 0.0, 0.0 // the spill, over which nothing stands
		if k+1 < len(levels) {
			top, topRun = levels[k+1], above[k+1][year]
		}
		if lowRun == 0 || top <= foot {
			continue
		}
		look := func(level float64) bool { // in this step
			run := lowRun + (topRun-lowRun)*(level-low)/(top-low)
			depth := (level - foot) * min(1, run/hours)
			if depth <= deepest {
				return false
			}
			deepest, byWet = depth, 0
			if run < hours {
				byWet = 1
			}
			return true
		}
		look(low)
		if lowRun > topRun {
			slope := (top - low) / (lowRun - topRun)
			enough := low + (lowRun-hours)*slope     // the level that water stood over just so long
			crest := (low + lowRun*slope + foot) / 2 // where depth times run is largest
			look(min(max(crest, low), top))
			if low < enough && enough < top && look(enough) {
				byWet = min(1, hours*slope/deepest)
			}
		}
	}
	return deepest, byWet
}
