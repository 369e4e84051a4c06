package fit

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// FAO-56 Eq. 84 with a steady ET0 has a closed form: no stress until RAW is
// used, t0 = RAW / ET0, and from there what is left falls as
// exp(-(t - t0) ET0 / ((1 - p) TAW)), and Ks with it. The daily recursion takes
// Ks at the start of each day, so it runs ahead by at most k / 2e, k the share
// of the rest that a day takes (the error of Euler's rule on exp(-k t)), and by
// k^2 / 2 on the day that crosses RAW.
func TestReferenceDryingClosedForm(t *testing.T) {
	for _, rootCM := range []float64{20, 45, 100, 300} {
		r := NewReference(rootCM)
		taw := 1000 * (0.280 - 0.137) * rootCM / 100
		assert.InDelta(t, taw, r.tawMM, 1e-9)
		k := 5 / (0.5 * taw)
		before := 0.0
		for d, load := range r.load {
			ks := 1 - load/(before+1)
			before = load
			exact := min(1, math.Exp(-(float64(d+1)-1/k)*k))
			require.InDelta(t, exact, ks, k/(2*math.E)+k*k/2, "roots %g cm, day %d", rootCM, d+1)
		}
	}
}

// One rule for field capacity: the reference loam is the loam of mix and ground.
func TestReferenceIsTheLoamOfTheBed(t *testing.T) {
	loam, err := site.NativeSoil("loam")
	require.NoError(t, err)
	assert.InDelta(t, loam.FC, refFC, 0.0005)
	assert.InDelta(t, loam.WP, refWP, 0.0005)
}

// On the reference ground itself days mean days, and between whole days and
// above the longest that is told apart the scale keeps rising or stays.
func TestReferenceDays(t *testing.T) {
	r := NewReference(45)
	taw := r.tawMM
	calm := 0.5 * taw / 5
	for d := 1; d <= refDays; d++ {
		load := r.load[d-1]
		if load == 0 {
			assert.InDelta(t, float64(d), r.Days(water.Drought{PeakDepleted: 5 * float64(d) / taw}), 1e-9)
			continue
		}
		require.InDelta(t, float64(d), r.Days(water.Drought{Load: load, PeakDepleted: 1}), 1e-6, "day %d", d)
	}
	assert.Equal(t, calm, r.Days(water.Drought{PeakDepleted: 0.7}), "no stress: never more than the reference has before stress")
	assert.Equal(t, 0.0, r.Days(water.Drought{}))
	assert.Equal(t, float64(refDays), r.Days(water.Drought{Load: 1e6}))
	before := 0.0
	for load := 0.0; load < 30; load += 0.01 {
		days := r.Days(water.Drought{Load: load, PeakDepleted: 0.6})
		require.GreaterOrEqual(t, days, before)
		before = days
	}
}

// soil is a mix by its water contents.
type soil struct{ fc, wp, sat float64 }

// dryBed is a 4 x 3 m bed without a roof, over ground that takes all water at
// once, in which each year has so many days without rain from 1 July on (in
// the south from 10 December), and 24 mm spread evenly on every other day. ET0
// is 5 mm on all days.
func dryBed(t *testing.T, s soil, lat float64, rainless []int) *Bed {
	t.Helper()
	rec := &site.Record{Start: time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC), Step: "daily"}
	for y, n := range rainless {
		start := time.Date(2001+y, 7, 1, 0, 0, 0, 0, time.UTC)
		if lat < 0 {
			start = time.Date(2001+y, 12, 10, 0, 0, 0, 0, time.UTC)
		}
		for day := rec.Start.AddDate(0, 0, len(rec.Days)); day.Year() == 2001+y || y == len(rainless)-1 && day.Before(start.AddDate(0, 0, n+30)); day = day.AddDate(0, 0, 1) {
			since := int(day.Sub(start).Hours() / 24)
			for range 24 {
				mm := 1.0
				if since >= 0 && since < n && !day.Before(start) || lat < 0 && wasDry(rainless, y, day) {
					mm = 0
				}
				rec.RainMM = append(rec.RainMM, mm)
			}
			rec.Days = append(rec.Days, site.Day{TMinC: 14, TMaxC: 26, ET0MM: 5})
		}
	}
	rec.Missing = make([]bool, len(rec.RainMM))
	shape, err := basin.New(basin.Spec{Outline: basin.Outline{Kind: "rectangle", LengthM: 4, WidthM: 3}, PondingMM: 150, SideRun: 3, RimWidthM: 0.3, FreeboardMM: 50})
	require.NoError(t, err)
	run, err := water.Run(water.Setup{
		Bed: shape, InletM3H: math.Inf(1), MixFC: s.fc, MixWP: s.wp, MixSat: s.sat, MixDepthMM: 400,
		MixKMMH: math.Inf(1), NativeKMMH: math.Inf(1), Kc: 1, PTab: 0.5, LatitudeDeg: lat, StepsPerH: 1,
	}, rec)
	require.NoError(t, err)
	b := &Bed{Run: run, Start: rec.Start, Ground: water.Ground{MixFC: s.fc, MixWP: s.wp, MixDepthMM: 400, NativeFC: 0.280, NativeWP: 0.137}, Predict: DefaultPredictor()}
	for i := range run.Years {
		b.Use = append(b.Use, i)
		b.MinC = append(b.MinC, 14)
	}
	return b
}

// wasDry says whether a spell that began in the December before still lasts.
func wasDry(rainless []int, y int, day time.Time) bool {
	if y == 0 {
		return false
	}
	start := time.Date(2000+y, 12, 10, 0, 0, 0, 0, time.UTC)
	return day.Before(start.AddDate(0, 0, rainless[y-1]))
}

func dryPlant(dryD float64) catalogue.Plant {
	nan := math.NaN()
	return catalogue.Plant{RootCM: nan, WetH: nan, PondMM: nan, DryD: dryD, LowestC: nan, SunMinH: 0, SunMaxH: 24}
}

// N rainless days at ET0 5 on a bed of reference loam are N reference days, in
// every band, from the hourly balance to the figure that people see.
func TestRainlessDaysOnReferenceLoam(t *testing.T) {
	rainless := []int{2, 4, 6, 10, 20, 40, 90}
	b := dryBed(t, soil{0.280, 0.137, 0.45}, 40, rainless)
	for band := range b.Run.Bands {
		for i, y := range b.years(dryPlant(30), band) {
			assert.InDelta(t, rainless[i], y.DryD, 1, "%d rainless days, band %d", rainless[i], band)
			if rainless[i] >= 10 {
				assert.Equal(t, time.Month(7), y.DryFrom.Month())
			}
		}
	}
}

// One limit, two grounds: the same rainless days are more reference days in
// sand and fewer in a soil that holds more, by the time each takes to run dry.
// Available water: sand 0.06, clay loam 0.17 or so; FAO-56 Table 19 has 0.05 to
// 0.11 and 0.13 to 0.18 for such textures.
func TestSameLimitOnSandAndClay(t *testing.T) {
	const days = 30
	sand := dryBed(t, soil{0.11, 0.05, 0.40}, 40, []int{days})
	loam := dryBed(t, soil{0.280, 0.137, 0.45}, 40, []int{days})
	clay := dryBed(t, soil{0.36, 0.19, 0.47}, 40, []int{days})
	at := func(b *Bed) float64 { return b.years(dryPlant(days), 11)[0].DryD }
	assert.Greater(t, at(sand), at(loam)+3)
	assert.Less(t, at(clay), at(loam)-3)
	assert.InDelta(t, days, at(loam), 1)
	// Long after the soils have run dry each day adds one to all. The grounds
	// then differ by what each lasts: t0 = RAW / 5 without stress and, as Ks
	// falls as exp(-(t - t0) / t0), two or three t0 more at part supply.
	gap := at(sand) - at(clay)
	stores := 400 * 0.5 * (0.17 - 0.06) / 5
	assert.Greater(t, gap, stores)
	assert.Less(t, gap, 4*stores)
	for name, c := range map[string]struct {
		b     *Bed
		limit float64
		past  int
	}{
		"sand, as many days": {sand, days, 1}, "clay, as many days": {clay, days, 0},
		"clay, far fewer": {clay, days / 2, 1}, "sand, twice as many": {sand, 2 * days, 0},
	} {
		assert.Equal(t, c.past, c.b.InBand(dryPlant(c.limit), 11, 6).PastYears, name)
	}
}

// Years south of the equator run from July to June, so that the drought of one
// summer is one year's.
func TestSouthernSummerIsOneYear(t *testing.T) {
	rainless := []int{42, 8, 60}
	south := dryBed(t, soil{0.280, 0.137, 0.45}, -35, rainless)
	years := south.years(dryPlant(30), 11)
	require.Len(t, years, 4)
	assert.Equal(t, 2000, years[0].Name)
	assert.Less(t, years[0].DryD, 8.0, "half a year without a dry spell; the run before it ended in one")
	for i, n := range rainless {
		assert.Equal(t, 2001+i, years[i+1].Name)
		assert.InDelta(t, n, years[i+1].DryD, 1)
	}
	f := south.InBand(dryPlant(30), 11, 6)
	assert.Equal(t, 2, f.PastYears)
	assert.Equal(t, 2003, f.Reason.Year)
	assert.Equal(t, "2003-12", f.Reason.When.Format("2006-01"))
}
