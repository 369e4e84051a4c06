package main

import (
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// place is where one plant can stand.
type place struct {
	band int
	zone string
	sunH float64
}

// garden is one lot: two balances over one weather, on the ground as believed and as it
// is. The first years are on record; the others, one a season, are to come.
type garden struct {
	index          int
	believed, real *fit.Bed
	groundOff      float64 // ln of the true rate of the ground over the believed one
	setup          water.Setup
	weather        func() (*site.Record, error)
	record         []int // years on record
	seasons        []int // years to come
	places         []place
	species        []int             // of each plant
	plants         []catalogue.Plant // with their own true limits
	start          []int             // place of each plant
	born           []int             // season in which each was planted
	watered        bool              // once a week in dry spells of a plant's first season
	always         bool              // and of all others
}

// makeGarden draws a garden by its number: soils, roof, bed, weather, places
// and plants.
func makeGarden(t madeUp, all []species, index int) (*garden, error) {
	rng := rand.New(rand.NewPCG(t.Seed, 1000+uint64(index)))
	climates := site.InventedClimates()
	climate := climates[rng.IntN(len(climates))]
	g := &garden{index: index, watered: rng.Float64() < t.FirstWatered}
	years := 10 + rng.IntN(6)
	for y := range years + t.Seasons {
		if y < years {
			g.record = append(g.record, y)
		} else {
			g.seasons = append(g.seasons, y)
		}
	}
	seed := rng.Uint64()
	g.weather = func() (*site.Record, error) { return climate.Invent(years+t.Seasons, seed) }
	rec, err := g.weather()
	if err != nil {
		return nil, err
	}
	setup, err := makeSetup(rng, climate)
	if err != nil {
		return nil, err
	}
	if g.believed, err = makeBed(setup, rec, all); err != nil {
		return nil, err
	}
	g.setup = setup
	g.groundOff = t.SoilError * rng.NormFloat64()
	setup.NativeKMMH *= math.Exp(g.groundOff)
	if g.real, err = makeBed(setup, rec, all); err != nil {
		return nil, err
	}
	g.makePlaces(rng)
	g.makePlants(t, all, rng)
	return g, nil
}

// makeSetup draws a roof, a bed, a mix and the ground as the owner believes it
// to be.
func makeSetup(rng *rand.Rand, climate site.Climate) (water.Setup, error) {
	width := 2.5 + 1.5*rng.Float64()
	shape, err := basin.New(basin.Spec{
		Outline:     basin.Outline{Kind: "rectangle", LengthM: width * (1.2 + 0.8*rng.Float64()), WidthM: width},
		PondingMM:   100 + 80*rng.Float64(),
		SideRun:     3,
		RimWidthM:   0.3 + 0.2*rng.Float64(),
		FreeboardMM: 50,
	})
	if err != nil {
		return water.Setup{}, err
	}
	mix, err := site.MixSoil([]string{"loamy sand", "sandy loam", "loam"}[rng.IntN(3)], 2.5)
	if err != nil {
		return water.Setup{}, err
	}
	return water.Setup{
		Bed:      shape,
		Catches:  []water.Catch{{AreaM2: 30 + 90*rng.Float64(), Coefficient: 0.95, LossMM: 1}},
		InletM3H: math.Inf(1),
		MixFC:    mix.FC, MixWP: mix.WP, MixSat: mix.Sat, MixDepthMM: 300 + 150*rng.Float64(), MixKMMH: mix.KMMH,
		NativeKMMH: 1.5 * math.Pow(20, rng.Float64()), // 1.5 to 30 mm/h
		Kc:         1, PTab: 0.5, LatitudeDeg: climate.LatitudeDeg, StepsPerH: 1,
	}, nil
}

// makeBed runs the balance and keeps of it what fit needs: doses by band, root
// depth and year are worked out here once, and the daily lines dropped.
func makeBed(s water.Setup, rec *site.Record, all []species) (*fit.Bed, error) {
	run, err := water.Run(s, rec)
	if err != nil {
		return nil, err
	}
	b := &fit.Bed{
		Run: run, Start: rec.Start, Predict: fit.DefaultPredictor(),
		Ground: water.Ground{MixFC: s.MixFC, MixWP: s.MixWP, MixDepthMM: s.MixDepthMM, NativeFC: 0.25, NativeWP: 0.12},
	}
	for i, y := range run.Years {
		b.Use = append(b.Use, i)
		low := math.Inf(1)
		for _, d := range rec.Days[y.FromDay:y.ToDay] {
			low = min(low, d.TMinC)
		}
		b.MinC = append(b.MinC, low)
	}
	for band := range run.Bands {
		for _, s := range all {
			b.InBand(s.stated, band, math.NaN())
		}
	}
	run.OfferedMM, run.DemandMM = nil, nil
	return b, nil
}

// over is the same bed judged over other years. The doses are shared.
func over(b *fit.Bed, years []int, watered bool) *fit.Bed {
	other := *b
	other.Use, other.Watered = years, watered
	return &other
}

// start and end of a season.
func (g *garden) begin(turn int) time.Time {
	return g.believed.Start.AddDate(0, 0, g.believed.Run.Years[g.seasons[turn]].FromDay)
}

func (g *garden) end(turn int) time.Time {
	return g.believed.Start.AddDate(0, 0, g.believed.Run.Years[g.seasons[turn]].ToDay-1)
}

// makePlaces spreads 20 to 40 plants, and about a sixth more places that stay
// free, over the bed by area. The sun differs a little from place to place.
func (g *garden) makePlaces(rng *rand.Rand) {
	bands := g.believed.Run.Bands
	total := 0.0
	for _, b := range bands {
		total += b.AreaM2
	}
	plants := 20 + rng.IntN(21)
	sun := 4 + 4*rng.Float64()
	for range plants + max(3, plants/6) {
		at, band := total*rng.Float64(), 0
		for band < len(bands)-1 && at >= bands[band].AreaM2 {
			at -= bands[band].AreaM2
			band++
		}
		g.places = append(g.places, place{band, bands[band].Zone, min(11, max(1, sun+rng.NormFloat64()))})
	}
	for i := range plants {
		g.start = append(g.start, i)
	}
	g.born = make([]int, plants)
}

// makePlants plants as a person would: some by what the computation says of
// the catalogue's limits on the believed ground, some by the label.
func (g *garden) makePlants(t madeUp, all []species, rng *rand.Rand) {
	survival := map[int][]float64{}
	for _, at := range g.start {
		g.add(t, all, g.pick(t, all, g.places[at], -1, survival, rng), rng)
	}
}

// add adds a plant of a species.
func (g *garden) add(t madeUp, all []species, kind int, rng *rand.Rand) {
	g.species = append(g.species, kind)
	g.plants = append(g.plants, all[kind].one(t, rng))
}

// pick draws a species for a place, never a certain one. survival are the chances
// by band and species that were looked at so far.
func (g *garden) pick(t madeUp, all []species, p place, never int, survival map[int][]float64, rng *rand.Rand) int {
	const good = 0.85 // least yearly survival for which a plant is usually offered
	if survival[p.band] == nil {
		bed := over(g.believed, g.record, false)
		for _, s := range all {
			survival[p.band] = append(survival[p.band], 1-bed.InBand(s.stated, p.band, math.NaN()).YearlyRisk)
		}
	}
	byLabel := rng.Float64() < t.ByLabel
	var fits []int
	best, bestYet := 0, -1.0
	for i, s := range all {
		if i == never {
			continue
		}
		off := hoursOff(s.stated, p.sunH)
		if byLabel && off <= 1 && slices.Contains(s.stated.Zones, p.zone) {
			fits = append(fits, i)
		}
		lives := survival[p.band][i] * (1 - fit.SunLoss(off))
		if !byLabel && lives >= good {
			fits = append(fits, i)
		}
		if lives > bestYet {
			best, bestYet = i, lives
		}
	}
	if len(fits) > 0 {
		best = fits[rng.IntN(len(fits))]
	}
	return best
}

// hoursOff is how many hours of sun a place has too few or too many for a
// plant.
func hoursOff(p catalogue.Plant, sunH float64) float64 {
	return max(0, p.SunMinH-sunH, sunH-p.SunMaxH)
}
