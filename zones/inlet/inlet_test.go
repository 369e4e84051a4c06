package inlet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
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

func has(w Way, kind TroubleKind) (Trouble, bool) {
	for _, t := range w.Troubles {
		if t.Kind == kind {
			return t, true
		}
	}
	return Trouble{}, false
}

// On level ground a pipe in a trench sets the depth of the bed. By hand: 12 in
// of soil, 4 in of pipe and 0.3 in of its wall, and 1 in per 10 ft over 18 ft
// and as far again as the side of the bed takes it in.
func TestTrenchSetsTheBedDepth(t *testing.T) {
	in := demo()
	in.Ground = []GroundPoint{{0, 2 * inch}, {17 * footM, 2 * inch}}
	in.BottomMM = -20 * inch
	pipe, _, _ := ways(t, in)
	z := 2.0 - 12 - 4.3 - 18*12/120.0 // level where the rim ends, in over the spill level
	z /= 1 - 3.0/120                  // the side goes in 3 in for each 1 down
	assert.InDelta(t, 2-z, pipe.TrenchBedMM/inch, 1e-9)
	top := (2 - 4.3 - 18*12/120.0) / (1 - 3.0/120)
	assert.InDelta(t, 2-top, pipe.BedDepthMM/inch, 1e-9)
	assert.True(t, pipe.Possible)
	assert.InDelta(t, 1.0/120, pipe.Fall, 1e-12)
	assert.InDelta(t, top, pipe.OutletMM/inch, 1e-9)
	drowned, ok := has(pipe, Drowned)
	require.True(t, ok)
	assert.InDelta(t, -top, drowned.Found/inch, 1e-9)
}

// The demo by hand. Rim 1 ft in: 17 ft of pipe; outlet at the spill level, so
// it starts 1.7 in higher; outside top 4.3 in over that; the ground at the
// wall lies 5.76 + 2 in over the spill level: 1.76 in of soil over the pipe.
func TestDemoPipe(t *testing.T) {
	pipe, _, _ := ways(t, demo())
	require.True(t, pipe.Possible)
	assert.Zero(t, pipe.OutletMM)
	assert.InDelta(t, 17, pipe.LengthM/footM, 1e-9)
	assert.InDelta(t, 1.7, pipe.StartMM/inch, 1e-9)
	assert.InDelta(t, 7.76-6.0, pipe.LeastCoverMM/inch, 1e-9)
	assert.Zero(t, pipe.LeastCoverAtM)
	assert.InDelta(t, 17-3, pipe.DaylightM/footM, 0.5, "12 in of cover run out at 3:1 over the last 3 ft")
	thin, ok := has(pipe, ThinCover)
	require.True(t, ok)
	assert.False(t, thin.Refuses)
	assert.Equal(t, "downspout", pipe.Capacity.Limit)
	assert.InDelta(t, 69.9, pipe.Capacity.CodeM3H/gpmM3H, 0.2, "78.2 gpm times the root of 0.8")
	assert.InDelta(t, 101.3, pipe.Capacity.ManningM3H/gpmM3H, 0.2)
	assert.InDelta(t, 1.076, pipe.Capacity.PeakM3H/pipe.Capacity.ManningM3H, 0.001)
	assert.Equal(t, pipe.Capacity.Safe, pipe.CapacityM3H)
	assert.True(t, pipe.Capacity.DesignOK && pipe.Capacity.RecordOK)
	_, flat := has(pipe, NotInCode)
	assert.True(t, flat, "1 in per 10 ft is flatter than the code's table begins")
	in := demo()
	in.LeastPipeFall = 1.0 / 90
	pipe, _, _ = ways(t, in)
	_, flat = has(pipe, NotInCode)
	assert.False(t, flat)
}

// Ground that falls much lets the pipe keep its cover: it starts 12 in deep.
func TestPipeWithFullCover(t *testing.T) {
	in := demo()
	in.Ground = []GroundPoint{{0, 40 * inch}, {16 * footM, 30 * inch}}
	pipe, _, _ := ways(t, in)
	assert.Zero(t, pipe.OutletMM)
	assert.InDelta(t, 40-12-4.3, pipe.StartMM/inch, 1e-9)
	assert.InDelta(t, (40-16.3)/(17*12), pipe.Fall, 1e-9)
	_, thin := has(pipe, ThinCover)
	assert.False(t, thin)
	assert.InDelta(t, 12, pipe.LeastCoverMM/inch, 1e-6)
	assert.InDelta(t, 30-(40-16.3-1.7), pipe.TrenchBedMM/inch, 1e-9)
}

// The demo's swale by hand: 24 in of liner over 8 in of bottom and 2:1 sides
// cover 16 / 2 / sqrt(5) = 3.578 in of depth; the gravel takes 2 of them.
func TestDemoSwale(t *testing.T) {
	_, swale, _ := ways(t, demo())
	require.True(t, swale.Possible)
	assert.InDelta(t, 3.578, swale.SwaleDepthMM/inch, 0.001)
	assert.InDelta(t, 7.76-1.578, swale.StartMM/inch, 0.001)
	assert.Zero(t, swale.OutletMM)
	assert.InDelta(t, 6.182/(17*12), swale.Fall, 1e-5)
	assert.InDelta(t, 7, swale.LinerLengthM/footM, 1e-9, "6 ft beyond a basement wall, and 1 ft turned up")
	in := demo()
	in.Foundation = "slab"
	_, swale, _ = ways(t, in)
	assert.InDelta(t, 3, swale.LinerLengthM/footM, 1e-9, "2 ft beyond a slab, and 1 ft turned up")
	in.Foundation = "none"
	_, swale, surface := ways(t, in)
	assert.Zero(t, swale.LinerLengthM)
	assert.Zero(t, surface.ExtensionM)
}

// A route along the wall needs liner for longer: the bed's edge is 8 ft from
// the wall and 16 ft along the route, so 6 ft are reached after 12.
func TestReachOfASlantingRoute(t *testing.T) {
	in := demo()
	in.FoundationM = 8 * footM
	_, _, surface := ways(t, in)
	assert.InDelta(t, 12, surface.ExtensionM/footM, 1e-9)
	in.FoundationM = 4 * footM
	p, err := Compare(in)
	require.NoError(t, err)
	assert.InDelta(t, 16, p.Ways[2].ExtensionM/footM, 1e-9)
	assert.Contains(t, strings.Join(p.Cautions, "\n"), "Move the bed")
}

func TestSurface(t *testing.T) {
	_, _, surface := ways(t, demo())
	require.True(t, surface.Possible)
	assert.InDelta(t, 6, surface.ExtensionM/footM, 1e-9)
	assert.Equal(t, 2*inch, surface.OutletMM)
	in := demo()
	in.Ground = []GroundPoint{{0, 200}, {3, 60}, {4, 80}, {4.8, 50}}
	_, _, surface = ways(t, in)
	assert.False(t, surface.Possible)
	rises, ok := has(surface, GroundRises)
	require.True(t, ok)
	assert.Equal(t, 3.0, rises.AtM)
	assert.InDelta(t, -0.02, rises.Found, 1e-12)
	assert.True(t, math.IsNaN(surface.CapacityM3H), "a way refused carries nothing that could be used by mistake")

	in.Ground = []GroundPoint{{0, 200}, {4.8, -30}}
	_, _, surface = ways(t, in)
	low, ok := has(surface, EdgeLow)
	require.True(t, ok)
	assert.Equal(t, 30.0, low.Change)

	in.Ground = []GroundPoint{{0, 60}, {4.8, 55}}
	_, _, surface = ways(t, in)
	assert.True(t, surface.Possible)
	_, flat := has(surface, FlatLawn)
	assert.True(t, flat)
}

// What is too small says what would do, and that does.
func TestSmallPartsGrow(t *testing.T) {
	in := demo()
	in.Downspout = Downspout{DiameterMM: 8 * inch}
	in.PipeMM, in.RoofM2 = 2*inch, 150
	pipe, _, _ := ways(t, in)
	small, ok := has(pipe, SmallPipe)
	require.True(t, ok)
	assert.Equal(t, "design rain", small.Against)
	_, narrows := has(pipe, Narrows)
	assert.True(t, narrows)
	in.PipeMM = small.Change
	pipe, _, _ = ways(t, in)
	assert.True(t, pipe.Capacity.DesignOK)
	assert.Equal(t, in.PipeMM, pipe.NextDiameterMM)

	in.RoofM2 = 300
	_, swale, _ := ways(t, in)
	narrow, ok := has(swale, SmallSwale)
	require.True(t, ok)
	in.LinerWidthM = narrow.Change
	_, swale, _ = ways(t, in)
	assert.True(t, swale.Capacity.DesignOK)

	in = demo()
	in.RoofM2 = 400
	pipe, _, _ = ways(t, in)
	_, ok = has(pipe, SmallDownspout)
	assert.True(t, ok)
	in.DesignMMH, in.RecordMMH = math.NaN(), math.NaN()
	pipe, _, _ = ways(t, in)
	_, ok = has(pipe, NoDesignRain)
	assert.True(t, ok)
	_, ok = has(pipe, SmallDownspout)
	assert.False(t, ok, "nothing to hold it against")
}

func TestFaults(t *testing.T) {
	_, err := Compare(Input{LeastPipeFall: math.NaN(), CoverMM: math.NaN(), LinerWidthM: math.NaN(), SoilFromBedM3: math.NaN(), Foundation: "stilts", Material: "bamboo"})
	var bad Faults
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

func show() Show {
	unit := func(u string) func(float64) string {
		return func(v float64) string { return fmt.Sprintf("%.4g %s", v, u) }
	}
	return Show{Depth: unit("mm"), Length: unit("m"), Flow: unit("m3/h"), Speed: unit("m/s"), Volume: unit("m3")}
}

// Every kind of trouble has words for what is wrong and for what would do.
func TestEveryTroubleHasWords(t *testing.T) {
	for _, kind := range []TroubleKind{TooLow, EdgeLow, GroundRises, NarrowLiner, Hangs, ThinCover, Drowned, BacksToWall, SmallPipe, SmallSwale,
		SmallExtension, SmallDownspout, NotInCode, Narrows, FastSwale, FastLawn, FlatLawn, ShortOfSoil, NoDesignRain} {
		what, change := Trouble{Kind: kind, Found: 1, Want: 2, Change: 3}.Text(show())
		assert.NotEmpty(t, what)
		assert.NotEmpty(t, change)
		assert.NotContains(t, what+change, "%!")
	}
	_, change := Trouble{Kind: SmallPipe, Change: math.NaN()}.Text(show())
	assert.NotContains(t, change, "NaN")
	_, change = Trouble{Kind: SmallSwale, Change: math.NaN()}.Text(show())
	assert.NotContains(t, change, "NaN")
	assert.Panics(t, func() { Trouble{Kind: "nonsense"}.Text(show()) })
	what, change := Trouble{Kind: TooLow, Change: 31}.Text(show())
	assert.Equal(t, "the water would arrive 31 mm below the bottom of the bed", what)
	assert.Equal(t, "make the bed 31 mm deeper, or set it further down the slope, or take another way", change)
}

func TestCautions(t *testing.T) {
	text := strings.Join(Cautions(demo()), "\n")
	for _, word := range []string{"Local code first", "permit", "located and marked before you dig", "cap the standpipe", "approved", "neighbours", "wells, septic", "licensed", "basement wall"} {
		if word == "basement wall" {
			word = "Water beside a wall"
		}
		assert.Contains(t, text, word)
	}
	assert.NotContains(t, text, "steep. Wetting")
	in := demo()
	in.Ground[0].LevelMM = 1000
	in.Foundation = ""
	text = strings.Join(Cautions(in), "\n")
	assert.Contains(t, text, "steep. Wetting")
	assert.Contains(t, text, "foundation is not known")
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
			trouble, low := has(w, TooLow)
			if !low {
				continue
			}
			mended := in
			mended.BottomMM -= trouble.Change
			if mended.BottomMM < -2000 {
				continue
			}
			again, err := Compare(mended)
			if err != nil || !again.Ways[i].Possible {
				t.Fatalf("%s: %g mm deeper does not do: %v %+v", w.Kind, trouble.Change, err, again.Ways[i].Troubles)
			}
			nearly := in
			nearly.BottomMM -= trouble.Change * 0.98
			if again, _ = Compare(nearly); again.Ways[i].Possible {
				t.Fatalf("%s: less than %g mm does as well", w.Kind, trouble.Change)
			}
		}
	})
}

// The cut of a trench and of a swale, and a berm, on ground where they can be
// written down: a pipe in level ground with full cover, by prisms.
func TestEarthByHand(t *testing.T) {
	in := demo()
	in.Ground = []GroundPoint{{0, 500}, {10, 500}}
	in.RimWidthM, in.FreeboardMM = 0, 500
	in.BottomMM = -1
	pipe, swale, _ := ways(t, in)
	outM := in.PipeMM * 1.15 / 1000
	wall := in.PipeMM * 0.075
	mean := (500 - (pipe.StartMM+pipe.OutletMM)/2 + wall) / 1000 // ground to outside bottom, mid way
	width := outM + 8*0.0254
	assert.InEpsilon(t, 10*width*(mean+2*0.0254), pipe.Earth.CutM3, 1e-6)
	back := 10 * (width*mean - math.Pi*outM*outM/4)
	assert.InEpsilon(t, back, pipe.Earth.BackM3, 1e-6)
	assert.InEpsilon(t, 10*width*2*0.0254, pipe.Earth.GravelM3, 1e-6)

	// The swale's dug depth grows evenly from h to h + 10 fall: the prismoid rule
	// is exact for the trapezoid.
	h := swale.SwaleDepthMM / 1000
	deep := h + 10*swale.Fall
	area := func(y float64) float64 { return (8*0.0254 + 2*y) * y }
	assert.InEpsilon(t, 10.0/6*(area(h)+4*area((h+deep)/2)+area(deep)), swale.Earth.CutM3, 1e-6)
	assert.InDelta(t, 0, swale.Earth.MoundM3, 1e-9)

	assert.InDelta(t, 0.3*0.2+3*0.04, moundM2(0.3, 0.2), 1e-12)
	assert.Zero(t, moundM2(0.3, -1))
	e := Earth{CutM3: 1, BackM3: 0.4, MoundM3: 2, BedM3: 0.5}.balanced()
	assert.InDelta(t, 2*1.15-1.1, e.ImportM3, 1e-12)
	assert.Zero(t, e.LeftM3)
}

// A berm leaves the wall alone and gives the cover beyond the reach.
func TestBermKeepsOffTheWall(t *testing.T) {
	pipe, _, _ := ways(t, demo())
	first := pipe.Section.Points[0]
	assert.Equal(t, first.GroundMM, first.TopMM)
	for _, p := range pipe.Section.Points {
		if p.StationM >= pipe.Section.ReachM && p.StationM <= pipe.LengthM-3*pipe.Section.CoverMM/1000 {
			assert.GreaterOrEqual(t, p.TopMM-p.CrownMM, 12*inch-1e-6, "at %g", p.StationM)
		}
	}
	end := pipe.Section.Points[len(pipe.Section.Points)-1]
	assert.InDelta(t, end.CrownMM, end.TopMM, 1e-6, "at the outlet the pipe is bare")
}

func TestTakeOff(t *testing.T) {
	pipe, swale, surface := ways(t, demo())
	find := func(w Way, name string) Item {
		for _, i := range w.Items {
			if strings.HasPrefix(i.Name, name) {
				return i
			}
		}
		t.Fatalf("no %s in the %s", name, w.Kind)
		return Item{}
	}
	assert.InDelta(t, 17, find(pipe, "pipe").Net/footM, 0.01)
	assert.InEpsilon(t, find(pipe, "pipe").Net*1.05, find(pipe, "pipe").Order, 1e-12)
	assert.Equal(t, 2.0, find(pipe, "sticks").Order, "17.9 ft from sticks of 10 ft")
	assert.Equal(t, 1.0, find(pipe, "standpipe").Order)
	assert.InDelta(t, 14, find(swale, "liner").Net/sqftM2, 1e-9, "2 ft by 7 ft")
	assert.InDelta(t, 0.762, find(swale, "liner").SizeMM, 1e-12, "30 mil")
	assert.Equal(t, 2.0, find(surface, "strap").Order)
	for _, w := range []Way{pipe, swale, surface} {
		for _, i := range w.Items {
			assert.Equal(t, practice, i.Source)
			assert.GreaterOrEqual(t, i.Order, i.Net)
			assert.Contains(t, []string{"m", "m2", "m3", "pieces"}, i.Unit)
		}
	}
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

// The greater capacity of a larger or steeper pipe reaches the safe figure.
func TestCapacityRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := demo()
		in.Ground[0].LevelMM = rapid.Float64Range(400, 1500).Draw(t, "wall")
		in.Downspout = Downspout{DiameterMM: 300}
		in.PipeMM = rapid.Float64Range(50, 150).Draw(t, "pipe")
		a, _ := Compare(in)
		in.Ground[0].LevelMM *= 1.2
		b, _ := Compare(in)
		if !(b.Ways[0].Fall >= a.Ways[0].Fall) || b.Ways[0].CapacityM3H < a.Ways[0].CapacityM3H {
			t.Fatalf("steeper carries less: %+v %+v", a.Ways[0].Capacity, b.Ways[0].Capacity)
		}
		if b.Ways[1].CapacityM3H < a.Ways[1].CapacityM3H {
			t.Fatal("a steeper swale carries less")
		}
	})
}
