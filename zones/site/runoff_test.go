package site

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Source: USDA 1986, TR-55, Table 2-1, inches. The rows of 2 and 4 in at CN 70
// to 98 were redone by hand from Eq. 2-3; all others from memory.
func TestRunoffTR55Table21(t *testing.T) {
	numbers := []float64{40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 98}
	table := []struct {
		rain   float64
		runoff []float64
	}{
		{1.0, []float64{0, 0, 0, 0, 0, 0, 0, .03, .08, .17, .32, .56, .79}},
		{2.0, []float64{0, 0, 0, .02, .06, .14, .24, .38, .56, .80, 1.09, 1.48, 1.77}},
		{3.0, []float64{0, .02, .09, .19, .33, .51, .71, .96, 1.25, 1.59, 1.98, 2.45, 2.77}},
		{4.0, []float64{.06, .18, .33, .53, .76, 1.03, 1.33, 1.67, 2.04, 2.46, 2.92, 3.43, 3.77}},
		{5.0, []float64{.24, .44, .69, .98, 1.30, 1.65, 2.04, 2.45, 2.89, 3.37, 3.88, 4.42, 4.76}},
		{6.0, []float64{.50, .80, 1.14, 1.52, 1.92, 2.35, 2.81, 3.28, 3.78, 4.30, 4.85, 5.41, 5.76}},
	}
	for _, row := range table {
		require.Len(t, row.runoff, len(numbers))
		for i, cn := range numbers {
			got := RunoffMM(row.rain*25.4, cn) / 25.4
			assert.InDelta(t, row.runoff[i], got, 0.00501, "P %g in, CN %g", row.rain, cn)
		}
	}
}

// Two worked examples printed elsewhere (read in retrieved text): CN 94.82, P 9
// in: S 0.546 in, Q 8.38 in (a civil engineering textbook's answer key); CN 57:
// S 7.54 in, initial loss 1.508 in (a published question set of atmospheric
// science). TR-55 Example 2-1: CN 70, P 6.0 in: Q 2.81 in is in the table above.
func TestRunoffWorkedExamples(t *testing.T) {
	assert.InDelta(t, 0.546, retentionMM(94.82)/25.4, 0.0005)
	assert.InDelta(t, 8.38, RunoffMM(9*25.4, 94.82)/25.4, 0.005)
	assert.InDelta(t, 7.54, retentionMM(57)/25.4, 0.005)
	assert.Zero(t, RunoffMM(1.508*25.4, 57))
	assert.Positive(t, RunoffMM(1.52*25.4, 57))
}

func TestRunoffProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(0, 500).Draw(t, "rain")
		cn := rapid.Float64Range(1, 100).Draw(t, "curve number")
		q := RunoffMM(p, cn)
		if !(q >= 0 && q <= p) {
			t.Fatalf("%g mm of rain gave %g mm", p, q)
		}
		if p-q > retentionMM(cn)*1.2+1e-9 {
			t.Fatalf("held back %g mm, more than S + 0.2 S", p-q)
		}
		if RunoffMM(p+1, cn) < q || RunoffMM(p, math.Min(cn+1, 100)) < q {
			t.Fatal("more rain or a harder surface gave less")
		}
	})
}

func TestRunoffEdges(t *testing.T) {
	assert.InDelta(t, 30, RunoffMM(30, 100), 1e-12, "nothing is held back at CN 100")
	assert.Zero(t, RunoffMM(0, 100))
	assert.Zero(t, RunoffMM(-5, 98))
	for _, cn := range []float64{0, -1, 100.1, math.NaN()} {
		assert.True(t, math.IsNaN(RunoffMM(30, cn)), "CN %g", cn)
	}
	assert.True(t, math.IsNaN(RunoffMM(math.NaN(), 98)))
}

// Source: TR-55, Table 2-2a. Mark: C read as printed in a document (98; lawn,
// good, C 74), S in a second-hand copy, M from memory.
func TestCurveNumbers(t *testing.T) {
	rows := []struct {
		surface string
		want    [4]float64
		mark    string
	}{
		{"roof", [4]float64{98, 98, 98, 98}, "S"},
		{"pavement", [4]float64{98, 98, 98, 98}, "S"},
		{"gravel", [4]float64{76, 85, 89, 91}, "S, two copies"},
		{"dirt", [4]float64{72, 82, 87, 89}, "S"},
		{"lawn, good", [4]float64{39, 61, 74, 80}, "C for group C, S two copies for the others"},
		{"lawn, fair", [4]float64{49, 69, 79, 84}, "M"},
		{"lawn, poor", [4]float64{68, 79, 86, 89}, "M"},
	}
	var names []string
	for _, r := range rows {
		names = append(names, r.surface)
		for i, group := range []string{"A", "B", "C", "D"} {
			cn, err := CurveNumber(r.surface, group)
			require.NoError(t, err)
			assert.Equal(t, r.want[i], cn, "%s %s (%s)", r.surface, group, r.mark)
		}
	}
	assert.Equal(t, names, runoffSurfaces(), "every surface is checked")

	cn, err := CurveNumber("Lawn-Good", " c ")
	require.NoError(t, err)
	assert.Equal(t, 74.0, cn)
	for _, bad := range [][2]string{{"lawn", "A"}, {"moss", "A"}, {"", "A"}, {"roof", ""}, {"roof", "E"}, {"roof", "AB"}} {
		_, err := CurveNumber(bad[0], bad[1])
		assert.Error(t, err, "%v", bad)
	}
	_, err = CurveNumber("lawn", "A")
	assert.ErrorContains(t, err, `surface "lawn": want one of: roof; pavement;`)
}

// A harder soil never sheds less; a poorer lawn neither (order of the table).
func TestCurveNumbersRise(t *testing.T) {
	for _, r := range curveRows() {
		for i := 1; i < 4; i++ {
			assert.GreaterOrEqual(t, r.byGroup[i], r.byGroup[i-1], r.surface)
		}
	}
	for _, g := range []string{"A", "B", "C", "D"} {
		good, _ := CurveNumber("lawn, good", g)
		fair, _ := CurveNumber("lawn, fair", g)
		poor, _ := CurveNumber("lawn, poor", g)
		assert.True(t, good < fair && fair < poor, g)
	}
}

// Source: NRCS National Engineering Handbook part 630, chapter 7 (2009), Table
// 7-1, limits in in/h as printed: 5.67, 1.42, 0.14 where something tight or wet
// lies 50 to 100 cm down; 1.42, 0.57, 0.06 where it is deeper (second-hand
// copies; D under 50 cm from memory).
func TestHydrologicGroup(t *testing.T) {
	const in = 25.4
	for _, c := range []struct {
		inPerH, depthMM float64
		want            string
	}{
		{5.70, 800, "A"}, {5.64, 800, "B"}, {1.43, 800, "B"}, {1.41, 800, "C"},
		{0.145, 800, "C"}, {0.139, 800, "D"}, {0, 800, "D"},
		{1.43, 1500, "A"}, {1.41, 1500, "B"}, {0.575, 1500, "B"}, {0.56, 1500, "C"},
		{0.061, 1500, "C"}, {0.055, 1500, "D"},
		{20, 499, "D"}, {20, 500, "A"}, {1.43, 1000, "B"}, {1.43, 1001, "A"},
		{math.NaN(), 1500, "D"}, {20, math.NaN(), "D"}, {20, math.Inf(1), "A"},
	} {
		assert.Equal(t, c.want, HydrologicGroup(c.inPerH*in, c.depthMM), "%g in/h, %g mm", c.inPerH, c.depthMM)
	}
	assert.Equal(t, "B", HydrologicGroup(36, 1500), "just 10 um/s is not above the limit")
}

// TR-55 appendix A goes by texture: A sand, loamy sand, sandy loam; B silt loam,
// loam; C sandy clay loam; D the rest (from memory). By the limits of chapter 7,
// which came later, and the rates of Rawls and others 1983, which are about half
// of a saturated conductivity, loamy sand, loam and silt loam come out one group
// and sandy loam two groups towards more runoff; the rest agree.
func TestHydrologicGroupOfTextureClasses(t *testing.T) {
	want := []struct{ class, byRate, byTexture string }{
		{"sand", "A", "A"}, {"loamy sand", "B", "A"}, {"sandy loam", "C", "A"},
		{"loam", "C", "B"}, {"silt loam", "C", "B"}, {"sandy clay loam", "C", "C"},
		{"clay loam", "D", "D"}, {"silty clay loam", "D", "D"}, {"sandy clay", "D", "D"},
		{"silty clay", "D", "D"}, {"clay", "D", "D"},
	}
	for _, w := range want {
		s, err := NativeSoil(w.class)
		require.NoError(t, err)
		got := HydrologicGroup(s.KMMH, 2000)
		assert.Equal(t, w.byRate, got, w.class)
		assert.GreaterOrEqual(t, got, w.byTexture, "%s: never drier than by texture", w.class)
	}
}
