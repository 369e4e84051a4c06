package inlet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Uniform Plumbing Code, horizontal rainwater piping at 1 in/h, sq ft at 1/8,
// 1/4 and 1/2 in per foot. 6 in at 1/8: 21,400 was read (Appendix D: 21,400 /
// 3.2 = 6,688); the other figures are from memory. The table is rounded: 1/4 is
// 1.41 of 1/8 within 0.3 %.
func TestCodeRows(t *testing.T) {
	for _, r := range []struct{ inches, eighth, quarter, half float64 }{
		{3, 3288, 4640, 6576}, {4, 7520, 10600, 15040}, {5, 13360, 18880, 26720}, {6, 21400, 30200, 42800}, {8, 46000, 65200, 92000},
	} {
		for slope, sqft := range map[float64]float64{1.0 / 96: r.eighth, 1.0 / 48: r.quarter, 1.0 / 24: r.half} {
			got, listed := codeM3H(r.inches*25.4, slope)
			assert.True(t, listed)
			assert.InEpsilon(t, roofM3H(sqft*sqftM2, 1, 25.4), got, 0.004, "%g in at %g", r.inches, slope)
		}
	}
	got, _ := codeM3H(152, 1.0/96)
	assert.InEpsilon(t, roofM3H(6688*sqftM2, 1, 3.2*25.4), got, 1e-4)
}

// The code's figures are about a third under Manning at n 0.010, in every size.
func TestCodeIsAThirdUnderManning(t *testing.T) {
	for _, r := range upcRows() {
		code, _ := codeM3H(r.inches*25.4, 1.0/96)
		share := code / 3600 / fullM3S(0.010, r.inches*0.0254, 1.0/96)
		assert.InDelta(t, 0.667, share, 0.03, "%g in", r.inches)
		assert.GreaterOrEqual(t, code/3600, fullM3S(codeN, r.inches*0.0254, 1.0/96)*(1-0.002), "n %g is the highest that a row comes to", codeN)
	}
}

// A later edition of the other American code prints flows instead: 3 in at 1/8
// in per foot 55 gpm, 4 in 115 gpm (International Plumbing Code 2015, Table
// 1106.2, from memory). These are Manning at n 0.010 and not a third under it:
// the codes disagree, and the lower is quoted.
func TestOtherCodeIsHigher(t *testing.T) {
	for inches, gpm := range map[float64]float64{3: 55, 4: 115, 6: 344} {
		code, _ := codeM3H(inches*25.4, 1.0/96)
		assert.Greater(t, gpm*gpmM3H, 1.4*code)
		assert.InEpsilon(t, gpm*gpmM3S, fullM3S(0.010, inches*0.0254, 1.0/96), 0.05)
	}
}

func TestCodeEdges(t *testing.T) {
	steep, listed := codeM3H(101.6, 0.2)
	top, _ := codeM3H(101.6, 1.0/24)
	assert.Equal(t, top, steep, "the table ends at 1/2 in per foot")
	assert.True(t, listed)
	_, listed = codeM3H(101.6, 1.0/120)
	assert.False(t, listed, "1 in per 10 ft is flatter than the table")
	small, listed := codeM3H(50, 1.0/96)
	assert.False(t, listed)
	assert.Positive(t, small)
	between, _ := codeM3H(90, 1.0/96)
	three, _ := codeM3H(76.2, 1.0/96)
	assert.Equal(t, three, between, "a size between two rows counts as the smaller")
	metric, _ := codeM3H(100, 1.0/96)
	four, _ := codeM3H(101.6, 1.0/96)
	assert.Equal(t, four, metric)
	none, _ := codeM3H(100, 0)
	assert.Zero(t, none)
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(25, 200).Draw(t, "diameter")
		s := rapid.Float64Range(0.001, 0.1).Draw(t, "slope")
		more := rapid.Float64Range(1, 1.5).Draw(t, "more")
		a, _ := codeM3H(d, s)
		wider, _ := codeM3H(d*more, s)
		steeper, _ := codeM3H(d, s*more)
		if wider < a*(1-1e-12) || steeper < a {
			t.Fatalf("%g mm at %g: %g; wider %g, steeper %g", d, s, a, wider, steeper)
		}
	})
}

// National Standard Plumbing Code 2006, Table 13.6.1, vertical leaders 7/24
// full, gpm (read). The Uniform Plumbing Code has 30, 92 and 192 for 2, 3 and 4
// in (from memory): a third more.
func TestDownspout(t *testing.T) {
	for inches, gpm := range map[float64]float64{2: 23, 3: 67, 4: 144, 5: 261, 6: 424, 8: 913} {
		got := Downspout{DiameterMM: inches * 25.4}.capacityM3H() / gpmM3H
		assert.InEpsilon(t, gpm, got, 0.02, "%g in", inches)
	}
	for inches, gpm := range map[float64]float64{2: 30, 3: 92, 4: 192} {
		assert.Less(t, Downspout{DiameterMM: inches * 25.4}.capacityM3H()/gpmM3H, gpm/1.25)
	}
	square := Downspout{WidthMM: 50, DepthMM: 60}
	assert.InEpsilon(t, Downspout{DiameterMM: math.Sqrt(4 * 3000 / math.Pi)}.capacityM3H(), square.capacityM3H(), 1e-12)
	assert.InDelta(t, 0.22, square.perimeterM(), 1e-12)
}

// HEC-14, Appendix D gives Eq. D.2 in both systems: 0.0413 for m and m/s,
// 0.0126 for ft and ft/s.
func TestStoneByVelocity(t *testing.T) {
	assert.InEpsilon(t, 0.0126*64*304.8, velocityStoneMM(8*footM), 0.002)
}

// HEC-14, Eq. 10.4. Its design example, from memory: 85 cfs from a 5 ft pipe
// with 1.6 ft of tailwater, which counts as 0.4 D = 2 ft: 0.43 ft, 5.2 in.
func TestStoneOfRoundOutlet(t *testing.T) {
	assert.InDelta(t, 0.43, stoneMM(5*footM, 85*cfs, 1.6*footM)/304.8, 0.01)
	assert.Equal(t, stoneMM(0.1, 0.002, 0.04), stoneMM(0.1, 0.002, math.NaN()), "0.4 D if not known")
	assert.InEpsilon(t, 0.4*stoneMM(0.1, 0.002, math.NaN()), stoneMM(0.1, 0.002, 5), 1e-12, "at most D")
}

// Every texture class has a velocity, and the table's order holds: sands and
// loams 1.5, clay loams 2.0, clays 2.5 ft/s (Minnesota Stormwater Manual, bare).
// North Carolina's table (15A NCAC 04B .0109) lets sandy loam bear 2.5 and stiff
// clay 5 ft/s, in water with silt: never less than ours.
func TestBareSoil(t *testing.T) {
	for texture, fps := range map[string]float64{"sand": 1.5, "sandy loam": 1.5, "silt loam": 1.5, "loam": 1.5, "": 1.5,
		"clay loam": 2, "silty clay loam": 2, "sandy clay loam": 2, "clay": 2.5, "silty clay": 2.5, "sandy clay": 2.5} {
		assert.InDelta(t, fps, bareMS(texture)/footM, 1e-12, texture)
	}
	assert.Less(t, bareMS("sandy loam")/footM, 2.5)
	assert.Less(t, bareMS("clay")/footM, 5.0)
	assert.Less(t, rockMS/footM, 6.0)
}

// Manning's n against the printed ranges: smooth plastic 0.011 to 0.015 or 0.009
// to 0.011 (general tables, read), corrugated 0.018 to 0.025.
func TestMaterials(t *testing.T) {
	want := map[string][2]float64{"pvc": {0.009, 0.011}, "smooth hdpe": {0.009, 0.015}, "corrugated hdpe": {0.018, 0.025},
		"clay": {0.013, 0.015}, "cast iron": {0.012, 0.015}, "concrete": {0.011, 0.015}}
	for _, m := range pipeMaterials() {
		span, ok := want[m.Name]
		require.True(t, ok, m.Name)
		assert.True(t, m.N >= span[0] && m.N <= span[1], m.Name)
		assert.NotEmpty(t, m.Source)
		got, ok := material(m.Name)
		assert.True(t, ok)
		assert.Equal(t, m, got)
	}
	assert.Len(t, MaterialNames(), len(want))
	_, ok := material("bamboo")
	assert.False(t, ok)
}
