package inlet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/zones/table"
)

const (
	inch = 25.4
	foot = 304.8
)

// demo is a lot like the demo garden: 16 ft of ground falling 3 % from a house
// with a basement to an oval bed 6 in deep whose rim meets the ground.
func demo() Input {
	edge := 2 * inch // ground at the edge of the bed above the spill level
	return Input{
		Ground:     []GroundPoint{{0, 0.03*16*foot + edge}, {16 * footM, edge}},
		Foundation: "basement", FoundationM: 16 * footM,
		BottomMM: -6 * inch, FreeboardMM: 2 * inch, RimWidthM: footM, SideRun: 3,
		Downspout: Downspout{WidthMM: 2 * inch, DepthMM: 3 * inch}, PipeMM: 4 * inch, Material: "pvc",
		LeastPipeFall: math.NaN(), CoverMM: math.NaN(), LinerWidthM: math.NaN(), BareSoil: "loam",
		RoofM2: 620 * sqftM2, Coefficient: 0.95, DesignMMH: 4 * inch, RecordMMH: 60, SoilFromBedM3: 3,
	}
}

func ways(t *testing.T, in Input) (pipe, swale, surface Way) {
	t.Helper()
	p, err := Compare(in)
	require.NoError(t, err)
	require.Len(t, p.Ways, 3)
	return p.Ways[0], p.Ways[1], p.Ways[2]
}

func has(w Way, kind troubleKind) (Trouble, bool) {
	for _, t := range w.Troubles {
		if t.Kind == kind {
			return t, true
		}
	}
	return Trouble{}, false
}

func TestFaults(t *testing.T) {
	_, err := Compare(Input{LeastPipeFall: math.NaN(), CoverMM: math.NaN(), LinerWidthM: math.NaN(), SoilFromBedM3: math.NaN(), Foundation: "stilts", Material: "bamboo"})
	var bad table.Faults
	require.ErrorAs(t, err, &bad)
	assert.True(t, bad.BadInput())
	text := err.Error()
	for _, part := range []string{"ground: want levels at two stations", `foundation: "stilts"`, `"bamboo"`, "bottom of the bed", "downspout area", "pipe diameter", "roof: 0", "runoff coefficient"} {
		assert.Contains(t, text, part)
	}
	for name, spoil := range map[string]func(*Input){
		"first station":     func(in *Input) { in.Ground[0].StationM = 1 },
		"stations in order": func(in *Input) { in.Ground[1].StationM = 0 },
		"ground level 2":    func(in *Input) { in.Ground[1].LevelMM = math.NaN() },
		"distance":          func(in *Input) { in.FoundationM = -1 },
		"freeboard":         func(in *Input) { in.FreeboardMM = math.NaN() },
		"side slope":        func(in *Input) { in.SideRun = 0 },
		"least fall":        func(in *Input) { in.LeastPipeFall = 0 },
		"cover":             func(in *Input) { in.CoverMM = -1 },
		"design rain":       func(in *Input) { in.DesignMMH = -1 },
		"wettest hour":      func(in *Input) { in.RecordMMH = math.Inf(1) },
		"liner":             func(in *Input) { in.LinerWidthM = 0 },
		"soil from the bed": func(in *Input) { in.SoilFromBedM3 = -1 },
	} {
		in := demo()
		spoil(&in)
		_, err := Compare(in)
		assert.ErrorContains(t, err, name)
	}
}

// anyInput draws a route.
func anyInput(t *rapid.T) Input {
	in := demo()
	n := rapid.IntRange(2, 6).Draw(t, "points")
	station, level := 0.0, rapid.Float64Range(-200, 900).Draw(t, "wall")
	in.Ground = nil
	for range n {
		in.Ground = append(in.Ground, GroundPoint{station, level})
		station += rapid.Float64Range(0.3, 5).Draw(t, "step")
		level += rapid.Float64Range(-250, 80).Draw(t, "fall")
	}
	in.Foundation = rapid.SampledFrom([]string{"slab", "crawl space", "basement", "none", ""}).Draw(t, "foundation")
	in.FoundationM = rapid.SampledFrom([]float64{math.NaN(), 1, 3, 20}).Draw(t, "distance")
	in.BottomMM = -rapid.Float64Range(50, 400).Draw(t, "ponding")
	in.SideRun = rapid.Float64Range(1, 8).Draw(t, "side")
	in.PipeMM = rapid.Float64Range(40, 210).Draw(t, "pipe")
	in.Material = rapid.SampledFrom(MaterialNames()).Draw(t, "material")
	in.LeastPipeFall = rapid.Float64Range(0.004, 0.03).Draw(t, "least fall")
	in.RoofM2 = rapid.Float64Range(10, 400).Draw(t, "roof")
	in.SoilFromBedM3 = rapid.Float64Range(0, 5).Draw(t, "soil")
	return in
}

// Whatever the ground: levels fall to the outlet, which lies between bottom and
// spill; cut and fill close; the safe figure is the least; a refused way
// carries nothing; every figure of a way that runs is a number.
func TestWayProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		p, err := Compare(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range p.Ways {
			if !w.Possible {
				if !math.IsNaN(w.CapacityM3H) || len(w.Troubles) == 0 || !w.Troubles[0].Refuses || w.Items != nil {
					t.Fatalf("refused %s: %+v", w.Kind, w)
				}
				continue
			}
			e := w.Earth
			if math.Abs(e.CutM3+e.BedM3+e.ImportM3-e.BackM3-e.FillM3-e.LeftM3) > 1e-9 || e.ImportM3 > 0 && e.LeftM3 > 0 {
				t.Fatalf("%s: cut and fill do not close: %+v", w.Kind, e)
			}
			for _, v := range []float64{e.CutM3, e.BackM3, e.MoundM3, e.GravelM3, w.LengthM, w.VelocityMS, w.DepthMM, w.Pad.RockM3, w.BedDepthMM, w.BacksUpM} {
				if !(v >= 0) || math.IsInf(v, 0) {
					t.Fatalf("%s: %g in %+v", w.Kind, v, w)
				}
			}
			if e.BackM3 > e.CutM3 {
				t.Fatalf("%s: more goes back than came out: %+v", w.Kind, e)
			}
			if w.Kind != Surface && (w.OutletMM > 0 || w.OutletMM < in.BottomMM*(1+1e-6) || !(w.Fall > 0)) {
				t.Fatalf("%s: outlet %g mm, fall %g", w.Kind, w.OutletMM, w.Fall)
			}
			if w.Kind == Pipe && w.Fall < in.LeastPipeFall*(1-1e-9) {
				t.Fatalf("pipe falls %g", w.Fall)
			}
			if first := w.Section.Points[0]; w.Kind == Pipe && first.CrownMM > first.GroundMM+1e-6 {
				t.Fatalf("the pipe stands out of the ground at the wall: %+v", first)
			}
			checkFlow(t, p, w, in)
			for _, v := range []float64{w.Capacity.ManningM3H, w.Capacity.CodeM3H, w.Capacity.HeadM3H, w.Capacity.DownspoutM3H} {
				if v < w.CapacityM3H {
					t.Fatalf("%s: %g is less than the safe %g", w.Kind, v, w.CapacityM3H)
				}
			}
			last := -1.0
			for _, s := range w.Section.Points {
				if !(s.StationM > last) || w.Kind == Pipe && s.TopMM < s.GroundMM {
					t.Fatalf("%s: section %+v", w.Kind, s)
				}
				last = s.StationM
			}
			if math.Abs(last-w.LengthM) > 1e-9 {
				t.Fatalf("section ends at %g of %g", last, w.LengthM)
			}
		}
	})
}

// The change that a refusal names does: a bed as much deeper takes the water.
func TestRefusedLevelsCanBeMended(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		p, _ := Compare(in)
		for i, w := range p.Ways {
			trouble, low := has(w, tooLow)
			if !low {
				continue
			}
			mended := in
			mended.BottomMM -= trouble.Change
			if mended.BottomMM < -2000 {
				continue
			}
			again, err := Compare(mended)
			if _, wall := has(again.Ways[i], wallLow); wall {
				continue // a second fault, which a deeper bed does not mend
			}
			if err != nil || !again.Ways[i].Possible {
				t.Fatalf("%s: %g mm deeper does not do: %v %+v", w.Kind, trouble.Change, err, again.Ways[i].Troubles)
			}
			nearly := in // and not much less
			nearly.BottomMM -= trouble.Change * 0.98
			if again, _ = Compare(nearly); again.Ways[i].Possible {
				t.Fatalf("%s: less than %g mm does as well", w.Kind, trouble.Change)
			}
		}
	})
}

func TestWayByName(t *testing.T) {
	p, err := Compare(demo())
	require.NoError(t, err)
	for _, kind := range Kinds() {
		w, ok := p.Way(kind)
		assert.True(t, ok)
		assert.Equal(t, kind, w.Kind)
	}
	_, ok := p.Way("aqueduct")
	assert.False(t, ok)
}

// checkFlow holds velocity times area against the flow: the greater of the two
// as far as it fits.
func checkFlow(t *rapid.T, p Plan, w Way, in Input) {
	flow := math.Min(math.Max(p.DesignM3H, p.RecordM3H), w.CapacityM3H) / 3600
	area, _, _ := roundSection(in.PipeMM/1000, w.DepthMM/1000)
	switch w.Kind {
	case Swale:
		area = trapezoid{swaleBottomM, swaleRun}.areaM2(w.DepthMM / 1000)
	case Surface:
		if w.ExtensionM >= w.LengthM-1e-9 {
			return // the extension ends at the bed
		}
		area = trapezoid{0, lawnRun}.areaM2(w.DepthMM / 1000)
	}
	if math.Abs(w.VelocityMS*area/flow-1) > 1e-6 {
		t.Fatalf("%s: %g m/s through %g m2 is not %g m3/s", w.Kind, w.VelocityMS, area, flow)
	}
}

// What is named as large enough is, laid anew.
func TestNamedSizesDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.Downspout = Downspout{DiameterMM: 300}
		p, _ := Compare(in)
		most := math.Max(p.DesignM3H, p.RecordM3H)
		if d := p.Ways[0].NextDiameterMM; !math.IsNaN(d) {
			again := in
			again.PipeMM = d
			if q, _ := Compare(again); !(q.Ways[0].CapacityM3H >= most) {
				t.Fatalf("a pipe of %g mm carries %g of %g", d, q.Ways[0].CapacityM3H, most)
			}
		}
		if b := p.Ways[1].NeedLinerWidthM; !math.IsNaN(b) {
			again := in
			again.LinerWidthM = b
			if q, _ := Compare(again); !(q.Ways[1].CapacityM3H >= most) {
				t.Fatalf("a liner of %g m carries %g of %g", b, q.Ways[1].CapacityM3H, most)
			}
		}
	})
}

// A wall as low as the water of a full bed refuses pipe and swale, and a bed
// that spills as much lower as is said takes that away.
func TestWallLow(t *testing.T) {
	in := demo()
	in.Ground = []GroundPoint{{0, 20}, {2, -60}}
	in.BottomMM = -300
	pipe, swale, _ := ways(t, in)
	for i, w := range []Way{pipe, swale} {
		low, ok := has(w, wallLow)
		require.True(t, ok, w.Kind)
		assert.True(t, low.Refuses)
		assert.InDelta(t, 2*inch-20, low.Change, 1e-9)
		assert.False(t, w.Possible)
		lower := in
		lower.Ground = []GroundPoint{{0, 20 + low.Change}, {2, -60 + low.Change}}
		p, err := Compare(lower)
		require.NoError(t, err)
		assert.True(t, p.Ways[i].Possible, w.Kind)
		assert.Positive(t, p.Ways[i].CapacityM3H)
	}
}
