package placement

import (
	"fmt"
	"maps"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/basin"
	"hollowbed/zones/table"
)

// broken lists what a result does that the rules forbid. It looks at nothing
// but the result and the bed, and reckons distances its own way.
func broken(p Problem, r *Result) []string {
	var out []string
	say := func(form string, a ...any) { out = append(out, fmt.Sprintf(form, a...)) }
	placed, stakes := make([]int, len(p.Lines)), map[string]bool{}
	for i, a := range r.Plants {
		if stakes[a.Stake] || WrongStake(a.Stake) != "" {
			say("stake %q", a.Stake)
		}
		stakes[a.Stake] = true
		if a.Line >= 0 {
			placed[a.Line]++
		}
		for _, b := range r.Plants[:i] {
			if a.Stayed && b.Stayed {
				continue
			}
			if d := math.Hypot(a.X-b.X, a.Y-b.Y); d < (1-p.Overlap)*(a.SpreadCM+b.SpreadCM)/200-1e-6 {
				say("%s and %s are %g apart", a.Stake, b.Stake, d)
			}
		}
		if a.Stayed {
			continue
		}
		out = append(out, p.misplaced(a)...)
	}
	for _, l := range r.Left {
		placed[l.Line] += l.Count
	}
	for line, n := range placed {
		stood := 0
		for _, k := range p.Kept {
			if k.ID == p.Lines[line].ID && p.Bed.ZoneAt(k.X, k.Y) == p.Lines[line].Zone {
				stood++
			}
		}
		if n != max(stood, p.Lines[line].Count) {
			say("line %d: %d placed or left", line, n)
		}
	}
	for _, k := range p.Kept {
		if i := slices.IndexFunc(r.Plants, func(s Standing) bool { return s.Stake == k.Stake }); !k.Movable &&
			(i < 0 || r.Plants[i].X != k.X || r.Plants[i].Y != k.Y) {
			say("%s did not stay", k.Stake)
		}
	}
	return out
}

func (p Problem) misplaced(a Standing) (out []string) {
	l := p.Lines[a.Line]
	if z := p.Bed.ZoneAt(a.X, a.Y); z != l.Zone || a.Zone != z || a.ID != l.ID {
		out = append(out, fmt.Sprintf("%s of %s stands in %q", a.Stake, l.Zone, z))
	}
	if d := p.Bed.Spec().Outline.DistanceM(a.X, a.Y); d < p.MarginM+(1-p.Overhang)*l.SpreadCM/200 {
		out = append(out, fmt.Sprintf("%s is %g from the edge", a.Stake, d))
	}
	for _, k := range p.KeepOuts {
		d := math.Hypot(a.X-k.X, a.Y-k.Y) - k.R
		if len(k.Points) > 0 {
			d = -basin.Outline{Kind: "polygon", Points: k.Points}.DistanceM(a.X, a.Y)
		}
		if d < l.SpreadCM/200 {
			out = append(out, fmt.Sprintf("%s reaches into the %s", a.Stake, k.Kind))
		}
	}
	for _, k := range p.Failed {
		if d := math.Hypot(a.X-k.X, a.Y-k.Y); k.ID == a.ID && d < l.SpreadCM/200-1e-9 {
			out = append(out, fmt.Sprintf("%s stands %g from where its kind died", a.Stake, d))
		}
	}
	if a.Risk != p.Risk(a.Line, a.X, a.Y) && math.Abs(a.Risk-p.Risk(a.Line, a.X, a.Y)) > 0.2 {
		out = append(out, fmt.Sprintf("%s has risk %g", a.Stake, a.Risk))
	}
	return out
}

// furnished puts a bench, a boulder, a splash and some standing plants in a bed.
func furnished(t *rapid.T, p *Problem) {
	x0, y0, x1, y1 := p.Bed.Spec().Outline.Bounds()
	at := func(name string) (x, y float64) {
		return x0 + (x1-x0)*rapid.Float64Range(0, 1).Draw(t, name+" x"), y0 + (y1-y0)*rapid.Float64Range(0, 1).Draw(t, name+" y")
	}
	if rapid.Bool().Draw(t, "bench") {
		x, y := at("bench")
		p.KeepOuts = append(p.KeepOuts, KeepOut{Kind: "bench", Points: [][2]float64{{x, y}, {x + 1.6, y + 0.2}, {x + 1.5, y + 0.6}, {x - 0.1, y + 0.5}}})
	}
	for _, kind := range []string{"boulder", "inlet splash"} {
		x, y := at(kind)
		p.KeepOuts = append(p.KeepOuts, KeepOut{Kind: kind, X: x, Y: y, R: rapid.Float64Range(0.2, 0.7).Draw(t, kind)})
	}
	for range rapid.IntRange(0, 4).Draw(t, "failed") {
		x, y := at("failed")
		p.Failed = append(p.Failed, Kept{ID: p.Lines[rapid.IntRange(0, len(p.Lines)-1).Draw(t, "of")].ID, X: x, Y: y})
	}
	for n := range rapid.IntRange(0, 5).Draw(t, "kept") {
		x, y := at("kept")
		l := p.Lines[rapid.IntRange(0, len(p.Lines)-1).Draw(t, "of")]
		p.Kept = append(p.Kept, Kept{Stake: fmt.Sprintf("OLD%d", n+1), ID: l.ID, X: x, Y: y, Movable: rapid.Bool().Draw(t, "movable")})
	}
}

func TestRulesAreKept(t *testing.T) {
	shapes := outlines()
	names := slices.Sorted(maps.Keys(shapes))
	rapid.Check(t, func(t *rapid.T) {
		b, err := basin.New(basin.Spec{
			Outline:   shapes[rapid.SampledFrom(names).Draw(t, "outline")].Scaled(testenv.Of(0.4, 0.55)),
			PondingMM: 80, SideRun: rapid.SampledFrom([]float64{0, 3, 5}).Draw(t, "run"),
			RimWidthM: rapid.SampledFrom([]float64{0, 0.3, 0.4}).Draw(t, "rim"), FreeboardMM: 60,
		})
		if err != nil {
			t.Fatal(err)
		}
		spread := 20 + rapid.Float64Range(0, 40).Draw(t, "spread")
		p := invented(b, rapid.Uint64Range(0, 1000).Draw(t, "seed"), rapid.Float64Range(0.1, 1.1).Draw(t, "fill"), 2,
			func(n int) float64 { return spread * (1 + float64(n)/2) })
		p.Overlap = rapid.SampledFrom([]float64{0, 0.1, 0.3}).Draw(t, "overlap")
		p.Overhang = rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "overhang")
		p.MarginM = rapid.SampledFrom([]float64{0, 0.1}).Draw(t, "margin")
		p.View = rapid.SampledFrom([]View{{}, {Kind: "side", X: 0.6, Y: -0.8}, {Kind: "point", X: 3, Y: -4}}).Draw(t, "view")
		p.RandomRuns = 1
		furnished(t, &p)
		r, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		if bad := broken(p, r); len(bad) > 0 {
			t.Fatal(strings.Join(bad, "\n"))
		}
		if r.LossM2 > r.RandomMeanM2+1e-9 {
			t.Fatalf("loss %g above the mean %g by chance", r.LossM2, r.RandomMeanM2)
		}
		for _, v := range append(r.RandomLossM2, r.LossM2) {
			if v < r.BoundM2-1e-9 {
				t.Fatalf("loss %g below the bound %g", v, r.BoundM2)
			}
		}
	})
}

// The same problem gives the same bytes, on one processor and on two.
func TestSameSeedSameResult(t *testing.T) {
	for _, name := range testenv.Of([]string{"L"}, slices.Sorted(maps.Keys(outlines()))) {
		p := invented(bed(t, outlines()[name].Scaled(testenv.Of(0.48, 0.65))), 5, 0.9, 2, someSpreads)
		first, err := Solve(p)
		require.NoError(t, err)
		was := runtime.GOMAXPROCS(1)
		again, err := Solve(p)
		runtime.GOMAXPROCS(was)
		require.NoError(t, err)
		assert.Equal(t, fmt.Sprintf("%+v", first), fmt.Sprintf("%+v", again), name)
		p.Seed++
		other, err := Solve(p)
		require.NoError(t, err)
		assert.NotEqual(t, fmt.Sprintf("%+v", first.Plants), fmt.Sprintf("%+v", other.Plants), name)
	}
}

// When plants are left over, the overlap that is offered holds them all.
func TestNeededOverlapHoldsAll(t *testing.T) {
	testenv.Sweep(t)
	testenv.NotRaced(t) // TestRulesAreKept is
	tried := 0
	for name, o := range outlines() {
		p := invented(bed(t, o.Scaled(0.65)), 3, 1, 3, func(n int) float64 { return 28 + 6*float64(n) })
		r, err := Solve(p)
		require.NoError(t, err)
		full := slices.ContainsFunc(r.Left, func(l Left) bool { return l.Why == WhyFull })
		if !full {
			assert.Equal(t, 0.0, r.NeededOverlap, name)
			continue
		}
		tried++
		require.Greater(t, r.NeededOverlap, 0.0, name)
		t.Logf("%s: %d of %d have no place without overlap; %.1f %% holds them", name, total(p)-len(r.Plants), total(p), 100*r.NeededOverlap)
		p.Overlap = r.NeededOverlap
		r, err = Solve(p)
		require.NoError(t, err)
		for _, l := range r.Left {
			assert.Equal(t, WhyNarrow, l.Why, name)
		}
		assert.Empty(t, broken(p, r))
	}
	assert.Positive(t, tried, "no bed was too full")
}

func TestNarrowZoneIsTold(t *testing.T) {
	b := bed(t, outlines()["rectangle"])
	p := Problem{Bed: b, Lines: []Line{{ID: "broadleaf", Name: "Broadleaf", Zone: "rim", Count: 3, SpreadCM: 120, HeightCM: 50}},
		Risk: func(int, float64, float64) float64 { return 0.1 }}
	r, err := Solve(p)
	require.NoError(t, err)
	assert.Equal(t, []Left{{0, 3, WhyNarrow}}, r.Left, "0.6 m from the edge is off a rim of 0.5 m")
	assert.Equal(t, 0.0, r.NeededOverlap, "no overlap would help")
	assert.InDelta(t, 3*1.2*1.2*math.Sqrt(3)/2, r.LossM2, 1e-12, "what has no place is lost")
	p.Overhang = 0.5
	r, err = Solve(p)
	require.NoError(t, err)
	assert.Empty(t, r.Left)
	assert.Empty(t, broken(p, r))
}

// Of hundreds that stand on one spot the first pairs are told, and how many more
// there are; those that may still move keep clear of all of them.
func TestManyOnOneSpot(t *testing.T) {
	const many = 300
	p := invented(bed(t, outlines()["rectangle"]), 3, 0.2, 1, someSpreads)
	for n := range many {
		p.Kept = append(p.Kept, Kept{Stake: fmt.Sprintf("OLD%d", n+1), ID: "old", X: 2, Y: 1.5, SpreadCM: 30, HeightCM: 30})
	}
	r, err := Solve(p)
	require.NoError(t, err)
	assert.Empty(t, broken(p, r))
	require.Len(t, r.Notes, mostCrowded+1)
	assert.Equal(t, fmt.Sprintf("so do %d more pairs of plants", many*(many-1)/2-mostCrowded), r.Notes[mostCrowded])
}

// Fixed plants alike on one spot take no more trials than one of them, and what
// they hide is what it is plant by plant.
func TestStackedPlantsAreWeighedOnce(t *testing.T) {
	trials := map[int]int{}
	for _, many := range []int{1, 40} {
		p := invented(bed(t, outlines()["rectangle"]), 3, 0.2, 1, someSpreads)
		p.View = View{Kind: "side", X: 0, Y: 1}
		for n := range many {
			p.Kept = append(p.Kept, Kept{Stake: fmt.Sprintf("OLD%d", n+1), ID: "old", X: 2, Y: 1.5, SpreadCM: 60, HeightCM: 300})
		}
		s := newSolver(&p)
		trials[many] = s.trials()
		c := s.run().c
		want, at := 0.0, c.spots(&s.l)
		mine := make([]float64, len(c.plants))
		for i := range c.plants {
			for j := range c.plants {
				if i != j && c.in[i] && c.in[j] {
					mine[i] += s.l.between(&c.plants[i], &c.plants[j], &at[i], &at[j])
				}
			}
			want += mine[i] / 2
		}
		require.Positive(t, want)
		assert.InDelta(t, want, c.hiding(&s.l), 1e-9)
		polish := newPolisher(c, &s.l, p.Overlap)
		for i := range c.plants {
			if c.in[i] && !c.plants[i].fixed {
				assert.InDelta(t, mine[i], polish.hides(i), 1e-9)
			}
		}
	}
	assert.Equal(t, trials[1], trials[40])
}

func TestMistakesAreToldAtOnce(t *testing.T) {
	p := Problem{Bed: bed(t, outlines()["oval"]), Overlap: 2, View: View{Kind: "above"},
		KeepOuts: []KeepOut{{Kind: "bench", Points: [][2]float64{{0, 0}, {1, 1}}}},
		Lines:    []Line{{ID: "a", Zone: "hill", Count: -1, SpreadCM: math.NaN()}},
		Kept:     []Kept{{Stake: "A 1", ID: "gone"}}}
	_, err := Solve(p)
	var f table.Faults
	require.ErrorAs(t, err, &f)
	assert.True(t, f.BadInput())
	for _, want := range []string{"overlap: 2", "view", "keep-out 1 (bench)", "spread NaN", "-1 plants", "zone bottom", `stake "A 1"`, `"gone"`} {
		assert.Contains(t, err.Error(), want)
	}
}
