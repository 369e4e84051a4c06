package zones

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/site"
)

// Each stratum of each dimension holds one point; the same seed gives the same
// points and another seed others.
func TestLatinHypercube(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 80).Draw(t, "n")
		dimensions := rapid.IntRange(1, 4).Draw(t, "dimensions")
		seed := rapid.Uint64().Draw(t, "seed")
		points := latinHypercube(n, dimensions, seed)
		assert.Len(t, points, n)
		for d := range dimensions {
			hit := make([]int, n)
			for _, p := range points {
				hit[int(p[d]*float64(n))]++
			}
			for _, times := range hit {
				assert.Equal(t, 1, times, "dimension %d", d)
			}
		}
		assert.Equal(t, points, latinHypercube(n, dimensions, seed))
		assert.NotEqual(t, points, latinHypercube(n, dimensions, seed+1))
	})
	apart := 0.0 // dimensions are paired at random: no point lies where the last one led to
	for seed := range uint64(200) {
		for _, p := range latinHypercube(10, 2, seed) {
			apart += (p[0] - 0.5) * (p[1] - 0.5) / 2000
		}
	}
	assert.InDelta(t, 0, apart, 4.0/12/math.Sqrt(2000), "correlation of the dimensions within four standard errors")
}

// Each year comes up just as often over all draws, and in a draw as by chance.
func TestBalancedBootstrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, years := rapid.IntRange(1, 60).Draw(t, "n"), rapid.IntRange(1, 40).Draw(t, "years")
		count := make([]int, years)
		for _, draw := range balancedBootstrap(n, years, rapid.Uint64().Draw(t, "seed")) {
			assert.Len(t, draw, years)
			for _, y := range draw {
				count[y]++
			}
		}
		for _, times := range count {
			assert.Equal(t, n, times)
		}
	})
	missed, draws := 0, balancedBootstrap(400, 20, 7)
	for _, draw := range draws {
		if !slices.Contains(draw, 0) {
			missed++
		}
	}
	chance := math.Pow(0.95, 20) // of a year not to be drawn, textbook; balance brings it a little nearer to the mean
	assert.InDelta(t, chance, float64(missed)/400, 4*math.Sqrt(chance*(1-chance)/400))
}

// Nine of ten samples lie within the stated factor, one in twenty beyond it on
// either side, and the middle is the plan: by strata exactly so.
func TestSamples(t *testing.T) {
	assert.InDelta(t, 1.6449, normalQuantile(0.95), 5e-5, "table of the normal distribution, textbook")
	assert.InDelta(t, -1.9600, normalQuantile(0.025), 5e-5, "table of the normal distribution, textbook")
	rapid.Check(t, func(t *rapid.T) {
		d := Doubt{SoilFactor: rapid.Float64Range(1.01, 8).Draw(t, "soil"), RoofPart: rapid.Float64Range(0.01, 0.5).Draw(t, "roof")}
		samples := d.Samples(200, 5, rapid.Uint64().Draw(t, "seed"))
		low, high, above := 0, 0, 0
		for _, s := range samples {
			assert.Nil(t, s.Years)
			assert.True(t, s.Roof >= 1-d.RoofPart && s.Roof <= 1+d.RoofPart)
			switch {
			case s.Soil < 1/d.SoilFactor:
				low++
			case s.Soil > d.SoilFactor:
				high++
			}
			if s.Soil > 1 {
				above++
			}
		}
		assert.Equal(t, [3]int{10, 10, 100}, [3]int{low, high, above})
	})
	sure := Doubt{SoilFactor: 1}.Samples(7, 5, 1)
	for _, s := range sure {
		assert.Equal(t, Sample{Soil: 1, Roof: 1}, s)
	}
}

// demoOver is the demo lot under its first years, 0 for all.
func demoOver(t testing.TB, years int, change ...string) *Exposure {
	t.Helper()
	text, err := os.ReadFile("../data/garden.yaml")
	require.NoError(t, err)
	g, err := ReadGarden("garden.yaml", strings.NewReader(strings.NewReplacer(change...).Replace(string(text))))
	require.NoError(t, err)
	rain, err := os.ReadFile("../data/rain.csv")
	require.NoError(t, err)
	if years > 0 {
		rain = bytes.Join(bytes.SplitAfter(rain, []byte("\n"))[:1+366*years], nil)
	}
	rec, err := site.ReadRecord("rain.csv", bytes.NewReader(rain), g.Weather.Format, g.Site.LatitudeDeg)
	require.NoError(t, err)
	lot, err := Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	return e
}

// Without doubt every case is the plain answer.
func TestSpreadOfNoWidth(t *testing.T) {
	e := demoOver(t, 3)
	there, err := e.inCase(Sample{Soil: 1, Roof: 1})
	require.NoError(t, err)
	assert.Equal(t, e.Bands, there.Bands)
	sure := Doubt{SoilFactor: 1}
	s, err := e.Spread(sure, sure.Samples(5, len(e.Whole), 1), nil)
	require.NoError(t, err)
	for i, z := range s.Zones {
		wet, dry := e.Bands[e.Zones[i].Wettest].WetOneInTenH, e.Bands[e.Zones[i].Driest].DryOneInTenD
		assert.Equal(t, Range{wet, wet, wet, wet}, z.WetH)
		assert.Equal(t, Range{dry, dry, dry, dry}, z.DryD)
		assert.True(t, math.IsNaN(z.WetBySoil))
	}
}

// A case is the lot with the changed soil and roof in its file, and with the
// years it names.
func TestAtIsTheChangedFile(t *testing.T) {
	text, err := os.ReadFile("../data/garden.yaml")
	require.NoError(t, err)
	_, hole, _ := strings.Cut(string(text), "  soak_test:")
	hole, _, _ = strings.Cut(hole, "\n# What the bed")
	e := demoOver(t, 4, "area: 1240 sq ft", "area: 100 m2", "  soak_test:"+hole, "  rate: 12 mm/h\n")
	want := demoOver(t, 4, "area: 1240 sq ft", "area: 108 m2", "  soak_test:"+hole, "  rate: 9 mm/h\n", "safety_factor: 2", "safety_factor: 3")
	there, err := e.inCase(Sample{Soil: 0.75, Roof: 1.08})
	require.NoError(t, err)
	for b := range want.Bands {
		assert.InDeltaSlice(t, want.Bands[b].WetHByYear, there.Bands[b].WetHByYear, 1e-9)
		assert.InDeltaSlice(t, want.Bands[b].DryDByYear, there.Bands[b].DryDByYear, 1e-9)
	}
	assert.InDelta(t, want.Lot.CatchM2, there.Lot.CatchM2, 1e-9)
	assert.InDelta(t, 50, e.Lot.CatchM2, 1e-9, "the lot itself stays as it is")

	years, err := e.inCase(Sample{Soil: 1, Roof: 1, Years: []int{2, 2, 0, 2}})
	require.NoError(t, err)
	for b, band := range e.Bands {
		assert.Equal(t, []float64{band.DryDByYear[2], band.DryDByYear[2], band.DryDByYear[0], band.DryDByYear[2]}, years.Bands[b].DryDByYear)
	}
}

// The less is known of the soil, the wider the spells.
func TestSpreadWidens(t *testing.T) {
	e := demoOver(t, 3)
	before := 0.0
	for _, factor := range []float64{1, 1.3, 2, 4} {
		d := Doubt{SoilFactor: factor}
		s, err := e.Spread(d, d.Samples(20, len(e.Whole), 3), nil)
		require.NoError(t, err)
		width := s.Zones[0].WetH.High - s.Zones[0].WetH.Low
		assert.True(t, width > before || factor == 1, "factor %g: %g h after %g", factor, width, before)
		before = width
		if factor > 1 {
			assert.Less(t, s.Zones[0].WetBySoil, -0.8, "slower soil, longer wet")
		}
	}
	roof := Doubt{SoilFactor: 1, RoofPart: 0.3}
	s, err := e.Spread(roof, roof.Samples(10, len(e.Whole), 3), nil)
	require.NoError(t, err)
	assert.Less(t, s.Captured.Low, s.Captured.High)
	years := Doubt{SoilFactor: 1, Years: true}
	s, err = e.Spread(years, years.Samples(20, len(e.Whole), 3), nil)
	require.NoError(t, err)
	rim := s.Zones[len(s.Zones)-1].DryD
	assert.Less(t, rim.Low, rim.Plan)
	assert.Equal(t, rim.High, rim.Plan, "of three years the longest is what the record shows")
}

// The quantiles agree with brute random cases, within the error of both; and
// strata need fewer cases for it.
func TestSpreadAgainstBruteForce(t *testing.T) {
	testenv.Sweep(t)
	e := demoOver(t, 1)
	d := Doubt{SoilFactor: 2, RoofPart: 0.1}
	run := func(samples []Sample) []float64 {
		wet := make([]float64, len(samples))
		require.NoError(t, e.eachCase(samples, func(i int, there *Exposure) error {
			wet[i], _ = there.hardest(0)
			return nil
		}))
		return wet
	}
	brute, few, seeds := 1200, 30, 12
	r := rand.New(rand.NewPCG(11, 0))
	random := make([]Sample, brute)
	for i := range random {
		random[i] = Sample{Soil: d.soil(r.Float64()), Roof: d.roof(r.Float64())}
	}
	all := run(random)
	byChance, byStrata := make([]float64, seeds), make([]float64, seeds)
	sums := map[float64]float64{0.05: 0, 0.5: 0, 0.95: 0}
	for seed := range seeds {
		wet := run(d.Samples(few, 1, uint64(seed)))
		for p := range sums {
			sums[p] += site.QuantileWeibull(wet, p) / float64(seeds)
		}
		byStrata[seed] = mean(wet)
		byChance[seed] = mean(all[few*seed : few*(seed+1)])
	}
	for p, got := range sums {
		// The place of a quantile among random values has the error
		// sqrt(p (1 - p) / n), and spells are whole hours.
		slack := 3 * math.Sqrt(p*(1-p)*(1/float64(brute)+1/float64(few*seeds)))
		low, high := site.QuantileWeibull(all, max(0, p-slack)), site.QuantileWeibull(all, min(1, p+slack))
		assert.True(t, got >= low-0.5 && got <= high+0.5, "%g: %g h, by brute force %g to %g h", p, got, low, high)
	}
	assert.Less(t, variance(byStrata), variance(byChance)/4, "the mean is far surer by strata")
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}

func variance(v []float64) float64 {
	m, sum := mean(v), 0.0
	for _, x := range v {
		sum += (x - m) * (x - m)
	}
	return sum / float64(len(v)-1)
}

// What is doubted of the soil follows from how it is known.
func TestUsualDoubt(t *testing.T) {
	of := func(change ...string) Doubt { return demoOver(t, 1, change...).Lot.UsualDoubt() }
	tested := of()
	assert.Greater(t, tested.SoilFactor, 2.0)
	assert.Less(t, tested.SoilFactor, 2.2, "the readings of the demo agree")
	assert.Contains(t, tested.SoilWhy, "readings")
	const twoReadings = "      - {at: 40 min, water: 6 3/4 in}\n      - {at: 60 min, water: 5 3/4 in}\n      - {at: 80 min, water: 4 7/8 in}\n      - {at: 100 min, water: 4 1/8 in}\n"
	assert.Equal(t, 2.0, of(twoReadings, "").SoilFactor, "too few readings to differ")
	class := of("  soak_test:", "  # soak_test:", "    hole", "    # hole", "    readings", "    # readings", "      - {at", "      # - {at")
	assert.Equal(t, 4.0, class.SoilFactor)
	assert.Contains(t, class.SoilWhy, "texture class")
}

// A range keeps what 5 %, half and 95 % stay at or below: of 39 values the
// second, the twentieth and the last but one.
func TestRange(t *testing.T) {
	var values []float64
	for i := range 39 {
		values = append(values, float64((i*7)%39+1))
	}
	assert.Equal(t, Range{Plan: 12, Low: 2, Middle: 20, High: 38}, NewRange(12, values))
	assert.True(t, math.IsNaN(NewRange(12, []float64{1, math.NaN()}).High))
}

// Rank correlations, ties too, against scipy.
func TestRankCorrelation(t *testing.T) {
	a := []float64{3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5}
	b := []float64{2, 7, 1, 8, 2, 8, 1, 8, 2, 8, 4}
	assert.InDelta(t, 1, rankCorrelation(a, a), 1e-12)
	assert.Equal(t, []float64{4.5, 1.5, 6, 1.5, 8, 11, 3, 10, 8, 4.5, 8}, ranks(a), "by hand")
	python := testenv.Python(t, "scipy")
	in, err := json.Marshal([][]float64{a, b})
	require.NoError(t, err)
	cmd := exec.Command(python, "-c", "import json,sys,scipy.stats as s; a,b=json.load(sys.stdin); print(s.spearmanr(a,b)[0])")
	cmd.Stdin = bytes.NewReader(in)
	out, err := cmd.Output()
	require.NoError(t, err)
	var want float64
	require.NoError(t, json.Unmarshal(out, &want))
	assert.InDelta(t, want, rankCorrelation(a, b), 1e-12)
}
