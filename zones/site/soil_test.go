package site

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// saxtonRawlsRow is one row of Saxton and Rawls 2006, Table 3 (organic matter
// 2.5 %, no salt, no gravel, normal density).
type saxtonRawlsRow struct {
	class      string
	sand, clay float64
	wp, fc     float64 // percent by volume
	sat        float64
	ks         float64 // mm/h
	tolerance  float64 // half of the last printed digit of the water contents
}

// Source: Saxton and Rawls 2006, Soil Sci. Soc. Am. J. 70:1569. The first five
// rows carry a decimal (from memory); the other rows are whole percent, read in
// a second-hand table of Green-Ampt parameters that reprints them; sandy clay
// from memory.
func saxtonRawlsTable3() []saxtonRawlsRow {
	return []saxtonRawlsRow{
		{"sandy loam", 65, 10, 8.1, 17.9, 45.0, 50.3, 0.05},
		{"loam", 40, 20, 13.7, 28.0, 45.9, 15.5, 0.05},
		{"silt loam", 20, 15, 11.0, 30.5, 47.9, 16.1, 0.05},
		{"clay loam", 30, 35, 21.8, 35.8, 47.7, 4.3, 0.05},
		{"clay", 25, 50, 29.8, 42.1, 49.8, 1.1, 0.05},
		{"sand", 88, 5, 5, 10, 46, 108.1, 0.5},
		{"loamy sand", 80, 5, 5, 12, 46, 96.7, 0.5},
		{"silt", 10, 5, 6, 30, 48, 22.0, 0.5},
		{"sandy clay loam", 60, 25, 17, 27, 43, 11.3, 0.5},
		{"silty clay loam", 10, 35, 22, 38, 51, 5.7, 0.5},
		{"silty clay", 10, 45, 27, 41, 52, 3.7, 0.5},
		{"sandy clay", 50, 40, 25, 36, 44, 1.4, 0.5},
	}
}

func TestSaxtonRawlsMeetsItsPrintedTable(t *testing.T) {
	rows := saxtonRawlsTable3()
	require.Len(t, rows, len(SoilClasses()))
	for _, r := range rows {
		t.Run(r.class, func(t *testing.T) {
			s, err := saxtonRawls(r.sand, r.clay, 2.5)
			require.NoError(t, err)
			assert.Equal(t, r.class, s.Texture, "the middle of a class lies in the class")
			assert.InDelta(t, r.wp, 100*s.WP, r.tolerance+1e-9, "wilting point")
			assert.InDelta(t, r.fc, 100*s.FC, r.tolerance+1e-9, "field capacity")
			assert.InDelta(t, r.sat, 100*s.Sat, r.tolerance+1e-9, "saturation")
			assert.InDelta(t, r.ks, s.KMMH, 0.05+1e-9, "conductivity")

			mix, err := MixSoil(r.class, 2.5)
			require.NoError(t, err)
			assert.Equal(t, s, mix, "MixSoil takes the middle of the class")
		})
	}
}

// rawlsRow is one row of Rawls, Brakensiek and Miller 1983, Table 2.
type rawlsRow struct {
	class                string
	porosity             float64 // effective
	suctionCM, kCMPerH   float64
	totalPorosityPrinted float64 // the same table, as reprinted by Chow and others 1988, Table 4.3.1; from memory
}

func rawlsTable2() []rawlsRow {
	return []rawlsRow{
		{"sand", .417, 4.95, 11.78, .437},
		{"loamy sand", .401, 6.13, 2.99, .437},
		{"sandy loam", .412, 11.01, 1.09, .453},
		{"loam", .434, 8.89, 0.34, .463},
		{"silt loam", .486, 16.68, 0.65, .501},
		{"sandy clay loam", .330, 21.85, 0.15, .398},
		{"clay loam", .309, 20.88, 0.10, .464},
		{"silty clay loam", .432, 27.30, 0.10, .471},
		{"sandy clay", .321, 23.90, 0.06, .430},
		{"silty clay", .423, 29.22, 0.05, .479},
		{"clay", .385, 31.63, 0.03, .475},
	}
}

// Source: Rawls, Brakensiek and Miller 1983, J. Hydraulic Eng. 109(1), Table 2
// (second-hand copy; ten of the suctions read in a second copy as well).
func TestNativeSoilTakesRawlsRates(t *testing.T) {
	for _, r := range rawlsTable2() {
		t.Run(r.class, func(t *testing.T) {
			s, err := NativeSoil(r.class)
			require.NoError(t, err)
			assert.InDelta(t, 10*r.kCMPerH, s.KMMH, 1e-9)
			assert.InDelta(t, 10*r.suctionCM, s.SuctionMM, 1e-9)
			assert.InDelta(t, r.porosity, s.EffectivePorosity, 1e-12)
			assert.Less(t, s.EffectivePorosity, r.totalPorosityPrinted)
			assert.InDelta(t, r.totalPorosityPrinted, s.Sat, 0.045, "two surveys of porosity")
			assert.Contains(t, s.WaterSource, "Saxton and Rawls 2006")
			assert.Contains(t, s.RateSource, "Rawls, Brakensiek and Miller 1983")
		})
	}
}

// An outside check against slips of a row: the regression that manuals of urban
// runoff print beside this table, suction = 3.23 K^-0.328 (inches, in/h; seen
// second-hand). It scatters by up to 1.8 times.
func TestRawlsSuctionFollowsItsRegression(t *testing.T) {
	for _, r := range rawlsTable2() {
		s, err := NativeSoil(r.class)
		require.NoError(t, err)
		regression := 25.4 * 3.23 * math.Pow(s.KMMH/25.4, -0.328)
		assert.InDelta(t, 0, math.Log(s.SuctionMM/regression), math.Log(1.85), r.class)
	}
}

// The two published rates are different quantities; the largest gap is in sandy
// clay loam (11.3 against 1.5 mm/h), and only for sand are they alike.
func TestTheTwoRatesAreNotMixed(t *testing.T) {
	worst, worstClass := 0.0, ""
	for _, r := range rawlsTable2() {
		native, err := NativeSoil(r.class)
		require.NoError(t, err)
		mix, err := MixSoil(r.class, 2.5)
		require.NoError(t, err)
		assert.NotEqual(t, native.RateSource, mix.RateSource)
		assert.Equal(t, mix.WaterSource, mix.RateSource)
		assert.Zero(t, mix.SuctionMM, "Saxton and Rawls give no wetting front suction")
		ratio := mix.KMMH / native.KMMH
		if r.class == "sand" {
			assert.InDelta(t, 0.92, ratio, 0.01)
			continue
		}
		assert.Greater(t, ratio, 2.0, r.class)
		if ratio > worst {
			worst, worstClass = ratio, r.class
		}
	}
	assert.Equal(t, "sandy clay loam", worstClass)
	assert.InDelta(t, 11.3/1.5, worst, 0.1)
}

// Source: FAO Irrigation and Drainage Paper 56 (Allen and others 1998), Table
// 19; sandy loam, loam, silt loam and clay read there, the others from memory.
// Saxton and Rawls lie inside but for the misses listed: they hold clay wetter
// at wilting (29.8 % against at most 24), and silt drier (5.7 against 12).
func TestSaxtonRawlsAgainstFAO56(t *testing.T) {
	rows := []struct {
		class          string
		fcLow, fcHigh  float64
		wpLow, wpHigh  float64
		fcMiss, wpMiss float64 // how far outside, signed
	}{
		{"sand", .07, .17, .02, .07, 0, 0},
		{"loamy sand", .11, .19, .03, .10, 0, 0},
		{"sandy loam", .18, .28, .06, .16, -.001, 0},
		{"loam", .20, .30, .07, .17, 0, 0},
		{"silt loam", .22, .36, .09, .21, 0, 0},
		{"silt", .28, .36, .12, .22, 0, -.063},
		{"silty clay loam", .30, .37, .17, .24, .01, 0},
		{"silty clay", .30, .42, .17, .29, 0, 0},
		{"clay", .32, .40, .20, .24, .021, .058},
	}
	outside := func(x, low, high float64) float64 { return math.Min(x-low, 0) + math.Max(x-high, 0) }
	for _, r := range rows {
		s, err := MixSoil(r.class, 2.5)
		require.NoError(t, err)
		assert.InDelta(t, r.fcMiss, outside(s.FC, r.fcLow, r.fcHigh), 0.002, "%s FC %.3f", r.class, s.FC)
		assert.InDelta(t, r.wpMiss, outside(s.WP, r.wpLow, r.wpHigh), 0.002, "%s WP %.3f", r.class, s.WP)
	}
}

func TestSoilClassNames(t *testing.T) {
	for _, name := range []string{"Silt Loam", "silt-loam", "SILT_LOAM", "silty loam", "  silt   loam "} {
		s, err := NativeSoil(name)
		require.NoError(t, err, name)
		assert.Equal(t, "silt loam", s.Texture)
	}
	for _, name := range SoilClasses() {
		s, err := MixSoil(strings.ToUpper(strings.ReplaceAll(name, " ", "-")), 3)
		require.NoError(t, err, name)
		assert.Equal(t, name, s.Texture)
	}
	// "sand loam" must not fall to "sand", nor "loam sand" to "sandy loam"
	for in, want := range map[string]string{"sand loam": "sandy loam", "loam sand": "loamy sand", "sand clay": "sandy clay"} {
		s, err := NativeSoil(in)
		require.NoError(t, err)
		assert.Equal(t, want, s.Texture)
	}
}

func TestUnknownSoilClass(t *testing.T) {
	_, err := NativeSoil("sandy lome")
	require.Error(t, err)
	assert.Contains(t, err.Error(), `soil class "sandy lome": want one of sand, loamy sand,`)
	assert.Contains(t, err.Error(), `nearest is "sandy loam"`)

	_, err = MixSoil("granite", 2)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "silty clay, clay")
	assert.NotContains(t, err.Error(), "nearest", "nothing is near")

	_, err = MixSoil("", 2)
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "nearest")

	_, err = NativeSoil("silt")
	require.Error(t, err, "Rawls and others 1983 have no silt")
	assert.Contains(t, err.Error(), "take silt loam")
}

func TestSoilInputLimits(t *testing.T) {
	for _, bad := range [][3]float64{
		{-1, 10, 2}, {50, -1, 2}, {101, 0, 2}, {60, 50, 2}, {20, 61, 2},
		{40, 20, -0.1}, {40, 20, 8.1}, {math.NaN(), 20, 2}, {40, math.NaN(), 2}, {40, 20, math.NaN()},
		{100, 0, 0}, // pure sand: the equations give a wilting point below 0
	} {
		_, err := saxtonRawls(bad[0], bad[1], bad[2])
		assert.Error(t, err, "%v", bad)
	}
	_, err := MixSoil("loam", 30)
	assert.ErrorContains(t, err, `organic matter "30": want 0 to 8 percent`)
}

func TestSoilIsPossibleWhereverItIsGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clay := rapid.Float64Range(0, 60).Draw(t, "clay")
		sand := rapid.Float64Range(0, 100-clay).Draw(t, "sand")
		organic := rapid.Float64Range(0, 8).Draw(t, "organic")
		s, err := saxtonRawls(sand, clay, organic)
		if err != nil {
			t.Skip("near a corner of the triangle")
		}
		if !(0 < s.WP && s.WP < s.FC && s.FC < s.Sat && s.Sat < 1 && s.KMMH > 0 && s.KMMH < 1930) {
			t.Fatalf("impossible soil %+v", s)
		}
	})
}

// Organic matter loosens: in every class that a mix may be made of (all but
// those with over 35 % clay) more of it holds more water and lets more through.
func TestOrganicMatterLoosens(t *testing.T) {
	for _, c := range SoilClasses() {
		var before Soil
		for organic := 1.0; organic <= 6; organic++ {
			s, err := MixSoil(c, organic)
			require.NoError(t, err, c)
			if organic > 1 && !strings.HasSuffix(c, "clay") {
				assert.Greater(t, s.Sat, before.Sat, c)
				assert.Greater(t, s.KMMH, before.KMMH, c)
			}
			before = s
		}
	}
}

func TestDeficit(t *testing.T) {
	s := Soil{Sat: 0.5, EffectivePorosity: 0.3}
	assert.InDelta(t, 0.1, s.deficit(0.4), 1e-12)
	assert.InDelta(t, 0.3, s.deficit(0.1), 1e-12, "no more than the effective porosity")
	assert.Zero(t, s.deficit(0.5))
	assert.Zero(t, s.deficit(0.6), "never below 0")
	s.EffectivePorosity = 0
	assert.InDelta(t, 0.4, s.deficit(0.1), 1e-12, "not known, not applied")
}
