package plants

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/testdata/testenv"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// weather draws a record of ten years: mean temperature and its swing, warmest
// day of the year, rain on a share of the days by month. All made up.
func weather(meanC, swingC float64, warmest int, wetShare func(time.Month) float64) *site.Record {
	rng := rand.New(rand.NewPCG(4, 4))
	rec := &site.Record{Source: "rain.csv", Start: time.Date(2005, 1, 1, 0, 0, 0, 0, time.FixedZone("", 0)), Step: "daily"}
	for day := rec.Start; day.Year() < 2015; day = day.AddDate(0, 0, 1) {
		rain := 0.0
		if rng.Float64() < wetShare(day.Month()) {
			rain = 12 * rng.ExpFloat64()
		}
		for h := range 24 {
			mm := 0.0
			if h >= 9 && h < 15 {
				mm = rain / 6
			}
			rec.RainMM = append(rec.RainMM, mm)
		}
		mean := meanC + swingC*math.Cos(2*math.Pi*float64(day.YearDay()-warmest)/365) + 2*rng.NormFloat64()
		rec.Days = append(rec.Days, site.Day{TMinC: mean - 5, TMaxC: mean + 5, ET0MM: math.NaN()})
	}
	rec.Missing = make([]bool, len(rec.RainMM))
	return rec
}

func evenly(share float64) func(time.Month) float64 {
	return func(time.Month) float64 { return share }
}

func climates() map[string]struct {
	latitude string
	rec      *site.Record
} {
	monsoon := func(m time.Month) float64 {
		if m >= time.June && m <= time.October {
			return 0.6
		}
		return 0.05
	}
	winterRain := func(m time.Month) float64 {
		if m >= time.November || m <= time.March {
			return 0.45
		}
		return 0.03
	}
	return map[string]struct {
		latitude string
		rec      *site.Record
	}{
		"cold winters": {"41.5", weather(10, 14, 200, evenly(0.3))},
		"south":        {"-37", weather(10, 8, 18, evenly(0.3))},
		"tropics":      {"14", weather(27, 2, 120, monsoon)},
		"dry summers":  {"38", weather(16, 8, 205, winterRain)},
	}
}

// somePlants are invented plants that differ in what they bear, how wide they
// grow and when they bloom.
func somePlants(n int) *catalogue.Catalogue {
	rng := rand.New(rand.NewPCG(11, uint64(n)))
	var all []catalogue.Plant
	for i := range n {
		all = append(all, with(hardy(fmt.Sprintf("ember-%d", i)), func(p *catalogue.Plant) {
			p.WetH, p.DryD = 20*math.Exp(4*rng.Float64()), 15*math.Exp(2.5*rng.Float64())
			p.PondMM = 60 + 300*rng.Float64()
			p.LowestC, p.SpreadCM, p.RootCM = -40, []float64{30, 45, 60}[i%3], 20+40*rng.Float64()
			p.FlowerFrom = 1 + rng.IntN(12)
			p.FlowerTo = 1 + (p.FlowerFrom+rng.IntN(3)-1)%12
			p.Price = 2 + 6*rng.Float64()
			if i%7 == 6 {
				p.Form = "shrub"
			}
			if i%9 == 8 {
				p.DryD = math.NaN()
			}
			if i%4 == 3 {
				p.Assumed = []string{"wet_h", "dry_d"}
			}
		}))
	}
	return tableOf(all...)
}

// scatter sets plants anywhere in a bed, apart by their spreads, until it is
// full or there are enough.
func scatter(j *Judge, c *catalogue.Catalogue, most int, seed uint64) []placement.Planted {
	rng := rand.New(rand.NewPCG(seed, 1))
	x0, y0, x1, y1 := j.Exposure.Lot.Bed.Spec().Outline.Bounds()
	var rows []placement.Planted
	for range 4000 {
		if len(rows) == most {
			break
		}
		p := c.Plants[rng.IntN(len(c.Plants))]
		r := placement.Planted{Stake: fmt.Sprintf("EM%d", len(rows)+1), ID: p.ID, X: x0 + (x1-x0)*rng.Float64(), Y: y0 + (y1-y0)*rng.Float64(), Planted: fmt.Sprintf("20%02d-05-01", 10+rng.IntN(14))}
		r.Zone = j.Exposure.Lot.Bed.ZoneAt(r.X, r.Y)
		fits := r.Zone != ""
		each(append(append([]placement.Planted(nil), rows...), r), c, func(a, b placement.Kept, d, want float64) { fits = fits && d >= want })
		if fits {
			rows = append(rows, r)
		}
	}
	return rows
}

// Beds of every shape and climate, full, sparse and with a single plant: the
// plan is sound, and no plant is planned in a month that is frozen or hot and dry
// where there is a better one.
func TestRelocateBeds(t *testing.T) {
	shapes := map[string]string{
		"rectangle": "{shape: rectangle, length: 4 m, width: 3 m, ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}",
		"L":         "{shape: polygon, points: [[0 m, 0 m], [5 m, 0 m], [5 m, 2.4 m], [2.4 m, 2.4 m], [2.4 m, 5 m], [0 m, 5 m]], ponding_depth: 150 mm, side_slope: 3:1, rim_width: 0.3 m}",
		"small":     "{shape: oval, length: 1.6 m, width: 1.6 m, ponding_depth: 80 mm, side_slope: 3:1, rim_width: 0.2 m}",
	}
	moved, replaced, takenOut := 0, 0, 0
	for place, w := range climates() {
		for shape, bed := range shapes {
			if shape == "L" && !testenv.Heavy() {
				continue // the small ones ask the same
			}
			j := NewJudge(exposeAt(t, w.latitude, map[string]string{"bed": bed, "soil": "{texture: clay, rate: 1.5 mm/h, safety_factor: 1}", "wishes": "{yearly_risk_max: 30 %, hour_worth: 8, smallest_group: 1, share_cap: 100 %}"}, w.rec))
			c := somePlants(30)
			for i := range c.Plants {
				if i%2 == 0 {
					c.Plants[i].Price *= 10 // a cheap one may be better in its place
				}
			}
			for seed, most := range []int{1, 6, 1000} {
				t.Run(fmt.Sprintf("%s/%s/%d", place, shape, most), func(t *testing.T) {
					in := MoveInput{Judge: j, Catalogue: c, Standing: scatter(j, c, most, uint64(seed))}
					require.NotEmpty(t, in.Standing)
					in.Diagnoses = struggling(in.Standing...)
					if most == 6 {
						in.Dead = []string{in.Standing[0].Stake}
						in.Standing[1].ID = "nobody knows"
						in.Standing = append(in.Standing, placement.Planted{Stake: "OUT1", ID: c.Plants[0].ID, X: 99, Y: 99})
					}
					r := mustRelocate(t, in)
					sound(t, in, r)
					for _, m := range r.Moves {
						switch m.Action {
						case ActReplace:
							replaced++
						case ActTakeOut:
							takenOut++
						default:
							moved++
							assert.Empty(t, missing(j, m), "%s goes where what it bears is not known", m.Stake)
						}
					}
					if most == 6 {
						assert.Len(t, r.Moves, len(in.Standing)-2-len(r.Stays), "the dead one and the one outside are left out")
						for _, m := range r.Stays {
							assert.Equal(t, m.Plant.ID != "nobody knows", m.Plant.WetH > 0)
						}
						assert.NotEmpty(t, r.Notes)
					}
				})
			}
		}
	}
	t.Logf("%d moved, %d replaced, %d taken out", moved, replaced, takenOut)
	assert.Greater(t, moved, 20)
	assert.Greater(t, replaced, 10)
}

func missing(j *Judge, m PlantMove) []string { return j.unknown(&m.Plant, m.To.Zone) }

// exposeAt is expose at another latitude.
func exposeAt(t *testing.T, latitude string, blocks map[string]string, rec *site.Record) *zones.Exposure {
	t.Helper()
	blocks["site"] = "{latitude: " + latitude + ", time_zone: Etc/UTC}"
	return expose(t, blocks, rec)
}

// When to move, worked out by hand from the made-up climates. Cold winters: 10 +
// 14 cos is at least 5 deg C within 112 days of day 200, 29 March to 8 November,
// so April to October grow. South: 10 + 8 cos within 131 days of day 18, 9
// September to 29 May, so September to May grow. Rain from June to October in the
// tropics, and from November to March where summers are dry.
func TestWhenToMove(t *testing.T) {
	day := func(s string) time.Time {
		d, err := time.Parse(time.DateOnly, s)
		require.NoError(t, err)
		return d
	}
	for _, x := range []struct {
		climate        string
		from, to       int // months of bloom
		on             string
		first, last    string
		reason         whenReason
		neverTheMonths []time.Month
	}{
		{"cold winters", 4, 5, "2024-06-10", "2024-09-01", "2024-10-31", inAutumn, []time.Month{1, 2, 7, 12}},
		{"cold winters", 4, 5, "2024-10-20", "2024-10-20", "2024-10-31", inAutumn, nil},
		{"cold winters", 4, 5, "2024-10-28", "2025-09-01", "2025-10-31", inAutumn, nil},
		{"cold winters", 9, 10, "2024-06-10", "2025-04-01", "2025-04-30", inSpring, nil},
		{"cold winters", 0, 0, "2024-11-10", "2025-04-01", "2025-04-30", eitherWay, nil},
		{"cold winters", 6, 8, "2024-06-10", "2024-09-01", "2024-10-31", eitherWay, nil},
		{"south", 9, 10, "2024-01-10", "2024-04-01", "2024-05-31", inAutumn, []time.Month{6, 7, 8}},
		{"south", 3, 4, "2024-01-10", "2024-09-01", "2024-09-30", inSpring, nil},
		{"tropics", 4, 5, "2024-01-10", "", "", wetSeasonOn, []time.Month{1, 2, 3, 4, 5, 11, 12}},
		{"dry summers", 4, 5, "2024-06-10", "", "", wetSeasonOn, []time.Month{5, 6, 7, 8, 9}},
	} {
		w := climates()[x.climate]
		c := newClimate(exposeAt(t, w.latitude, map[string]string{}, w.rec).Lot)
		got := c.window(catalogue.Plant{FlowerFrom: x.from, FlowerTo: x.to}, day(x.on))
		assert.Equal(t, x.reason, got.Reason, "%+v", x)
		if x.first != "" {
			assert.Equal(t, x.first, got.From.Format(time.DateOnly), "%+v: %v", x, got)
			assert.Equal(t, x.last, got.To.Format(time.DateOnly), "%+v", x)
		}
		for _, m := range x.neverTheMonths {
			assert.NotContains(t, got.Months, m, "%+v", x)
		}
	}
}

// Months that are frozen, or hot and dry, are taken out of a window; if none is
// left the month with most rain over demand is taken, and the better one beside
// it.
func TestUnfitMonths(t *testing.T) {
	c := &climate{seasons: care.Seasons{Growing: []time.Month{3, 4, 5, 6, 7, 8, 9, 10}, Wake: 3, LeafFall: []time.Month{9, 10}, Dormant: true}}
	for m := range c.month {
		c.month[m] = care.Monthly{MeanC: 12, RainMM: 2, ET0MM: 3}
	}
	on := time.Date(2024, 6, 1, 0, 0, 0, 0, time.UTC)
	early, late := catalogue.Plant{FlowerFrom: 4, FlowerTo: 4}, catalogue.Plant{FlowerFrom: 9, FlowerTo: 9}
	assert.Equal(t, []time.Month{9, 10}, c.window(early, on).Months)
	c.month[9] = care.Monthly{MeanC: 22, RainMM: 1, ET0MM: 5}
	w := c.window(early, on)
	assert.Equal(t, []time.Month{10}, w.Months, "September is hot and dry")
	assert.Equal(t, inAutumn, w.Reason)
	assert.Equal(t, "2024-10-01", w.From.Format(time.DateOnly))
	c.month[10] = c.month[9]
	c.month[1], c.month[2], c.month[12] = care.Monthly{MeanC: -2, RainMM: 9}, care.Monthly{MeanC: 5, RainMM: 6, ET0MM: 1}, care.Monthly{MeanC: 4, RainMM: 5, ET0MM: 1}
	w = c.window(early, on)
	assert.Equal(t, leastHard, w.Reason)
	assert.Equal(t, []time.Month{2, 3}, w.Months, "January is wetter, and frozen")
	c.month[3].MeanC = -1
	assert.Equal(t, leastHard, c.window(late, on).Reason, "March is frozen")
}

// Plants that trade places are moved in one go: when it suits all, or when it
// suits the one that a move harms most.
func TestTogether(t *testing.T) {
	on := time.Date(2024, 6, 1, 0, 0, 0, 0, time.UTC)
	group := func(a, b []time.Month) []PlantMove {
		return []PlantMove{
			{Stake: "A", Action: ActSwap, WeightM2: 1, Disturb: 0.1, When: next(a, inAutumn, on)},
			{Stake: "B", Action: ActSwap, WeightM2: 1, Disturb: 0.2, When: next(b, inSpring, on)},
		}
	}
	g := group([]time.Month{9, 10}, []time.Month{4, 10})
	together(g, on)
	for _, m := range g {
		assert.Equal(t, []time.Month{10}, m.When.Months)
		assert.Equal(t, "2024-10-01", m.When.From.Format(time.DateOnly))
	}
	assert.Equal(t, []whenReason{inAutumn, inSpring}, []whenReason{g[0].When.Reason, g[1].When.Reason})
	g = group([]time.Month{9, 10}, []time.Month{4})
	together(g, on)
	for _, m := range g {
		assert.Equal(t, "2025-04-01", m.When.From.Format(time.DateOnly))
	}
	assert.Equal(t, []whenReason{withPartner, inSpring}, []whenReason{g[0].When.Reason, g[1].When.Reason})
}

func TestBloomMiddle(t *testing.T) {
	for _, x := range []struct {
		from, to int
		want     float64
	}{{4, 6, 5}, {4, 5, 4.5}, {11, 2, 12.5}, {12, 1, 12.5}, {12, 2, 1}, {7, 7, 7}, {0, 0, -1}} {
		assert.Equal(t, x.want, bloomMiddle(catalogue.Plant{FlowerFrom: x.from, FlowerTo: x.to}), "%+v", x)
	}
}

// The ball and its water by hand: sandy loam holds fc - wp; a plant of 60 cm
// after a year and a half is half grown from a pot of 15 cm: 37.5 cm wide, 22.5
// deep, 39.8 kg.
func TestLifting(t *testing.T) {
	l := expose(t, map[string]string{}, someYears(3)).Lot
	planted := time.Date(2023, 4, 1, 0, 0, 0, 0, time.UTC)
	h := lifting(l, catalogue.Plant{RootCM: 50}, 60, planted, planted.Add(time.Duration(1.5*365.25*24)*time.Hour))
	assert.InDelta(t, 37.5, h.BallWidthCM, 0.01)
	assert.InDelta(t, 22.5, h.BallDepthCM, 0.01)
	assert.InDelta(t, 1.6*math.Pi/4*3.75*3.75*2.25, h.BallKG, 0.02)
	water := (l.Mix.FC - l.Mix.WP) * 225 * math.Pi / 4 * 0.575 * 0.575 / 0.8
	assert.InDelta(t, water, h.WaterL, 0.02)
	grown := lifting(l, catalogue.Plant{RootCM: 20}, 150, time.Time{}, planted)
	assert.Equal(t, 60.0, grown.BallWidthCM)
	assert.Equal(t, 20.0, grown.BallDepthCM)
}

// Odd input: nothing planted, nothing known, two plants at one spot, a stake
// twice, no temperatures. A plan or an error that says what is wrong, never a
// panic.
func TestRelocateOddities(t *testing.T) {
	cold := someYears(4)
	blind := someYears(4)
	for d := range blind.Days {
		blind.Days[d] = site.Day{TMinC: math.NaN(), TMaxC: math.NaN(), ET0MM: 3}
	}
	row := func(stake string, x, y float64) placement.Planted {
		return placement.Planted{Stake: stake, ID: "ember-1", X: x, Y: y}
	}
	for name, x := range map[string]struct {
		rec    *site.Record
		c      *catalogue.Catalogue
		rows   []placement.Planted
		moves  int
		stays  int
		wanted string
	}{
		"nothing planted":    {rec: cold, c: somePlants(10)},
		"empty plant table":  {rec: cold, c: tableOf(), rows: []placement.Planted{row("A1", 1, 1)}, stays: 1},
		"outside the bed":    {rec: cold, c: somePlants(10), rows: []placement.Planted{row("A1", -3, 1)}},
		"two at one spot":    {rec: cold, c: somePlants(10), rows: []placement.Planted{row("A1", 1, 1), row("A2", 1, 1)}, stays: 2},
		"one stake twice":    {rec: cold, c: somePlants(10), rows: []placement.Planted{row("A1", 1, 1), row("a1", 2, 1)}, wanted: "stands twice"},
		"no temperatures":    {rec: blind, c: somePlants(10), rows: []placement.Planted{row("A1", 1, 1)}, stays: 1},
		"all of them dead":   {rec: cold, c: somePlants(10), rows: []placement.Planted{row("DEAD1", 1, 1)}},
		"a place not finite": {rec: cold, c: somePlants(10), rows: []placement.Planted{row("A1", math.NaN(), 1)}, wanted: "want metres"},
	} {
		t.Run(name, func(t *testing.T) {
			in := MoveInput{Judge: NewJudge(expose(t, map[string]string{}, x.rec)), Catalogue: x.c, Standing: x.rows, Dead: []string{"DEAD1"}, On: autumn(), Model: season.Default()}
			r, err := Relocate(in)
			if x.wanted != "" {
				require.ErrorContains(t, err, x.wanted)
				assert.True(t, badInput(err))
				return
			}
			require.NoError(t, err)
			assert.Len(t, r.Moves, x.moves)
			assert.Len(t, r.Stays, x.stays)
			if len(x.rows) > 0 && x.rows[0].X < 0 {
				assert.Contains(t, r.Notes[0], "outside the bed")
			}
			for _, m := range r.Stays {
				assert.False(t, m.When.From.Before(autumn()))
			}
		})
	}
}

// Plants alike on one spot are weighed once for all of them, and each as it would
// be by itself.
func TestAlikeAreWeighedOnce(t *testing.T) {
	j := NewJudge(expose(t, map[string]string{"sun": "{bottom: 6 h, slope: 6 h, rim: 9 h}"}, someYears(4)))
	c := somePlants(12)
	in := MoveInput{Judge: j, Catalogue: c, Standing: scatter(j, c, 12, 5), Model: season.Default(), On: autumn()}
	for i := range 8 { // the last eight like the first
		s := &in.Standing[len(in.Standing)-1-i]
		s.ID, s.X, s.Y = in.Standing[0].ID, in.Standing[0].X, in.Standing[0].Y
	}
	in.Diagnoses = struggling(in.Standing...)
	r, err := newRelocation(in)
	require.NoError(t, err)
	kinds := map[string]bool{}
	for i := range r.plants {
		s := &r.plants[i]
		kinds[s.row.ID] = true
		alone := in.Model.Prospect(r.bearing(s.row.Stake, s.plant), fit.DefaultPredictor(), len(j.Exposure.Whole))
		require.Equal(t, j.outlook(alone, s.plant, r.spots[0]), r.outlook(i, 0).Outlook)
	}
	assert.Len(t, r.prospects, len(kinds))
	places := map[int]bool{}
	for _, first := range r.spotsAlike() {
		places[first] = true
	}
	assert.Less(t, len(r.outlooks), len(r.plants)*len(places)/2)
}
