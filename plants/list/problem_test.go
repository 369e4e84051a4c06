package list

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small is a bed that can be reckoned by hand: two zones, 10 m2 in all.
func small() Problem {
	return Problem{
		Species: []Species{
			{ID: "aa", AreaM2: 0.5, Price: 2, Bloom: 0b0011, Native: true},
			{ID: "bb", AreaM2: 0.2, Price: 1, Bloom: 0b0110},
			{ID: "cc", AreaM2: 1.0, Price: 5, Bloom: 0b1000},
		},
		Zones: []Zone{{"low", 6}, {"high", 4}},
		Candidates: []Candidate{
			{0, 0, 0.9}, {1, 0, 0.8}, {2, 0, 0.7}, {0, 1, 0.5}, {1, 1, 0.6},
		},
		ShareCap: 0.5, SmallestGroup: 2, Budget: math.Inf(1),
		BloomWeight: 0.4, VarietyWeight: 0.3, NativeWeight: 0.1, BloomMonths: 0b1111,
	}
}

func TestObjectiveByHand(t *testing.T) {
	p := small()
	// 4 aa: 2 m2 of 10, survival 0.9, native 0.1: 0.2; 5 bb: 1 m2, 0.6: 0.06.
	// Months 1, 2, 3 of 4: 0.3. Two of three species: 0.2.
	assert.InDelta(t, 0.2+0.06+0.3+0.2, p.objective([]Line{{0, 4}, {4, 5}}), 1e-12)
	assert.Zero(t, p.objective(nil))
	p.MostSpecies = 2 // the target of variety cannot be more than this
	assert.InDelta(t, 0.2+0.06+0.3+0.3, p.objective([]Line{{0, 4}, {4, 5}}), 1e-12)
}

func TestCheckNamesEveryBrokenRule(t *testing.T) {
	good := []Line{{0, 6}, {1, 10}, {4, 10}}
	require.NoError(t, small().check(good))
	for want, c := range map[string]struct {
		change func(*Problem)
		lines  []Line
	}{
		"candidate 9: want 0 to 4":            {nil, []Line{{9, 2}}},
		`"aa" in "low": listed twice`:         {nil, []Line{{0, 2}, {0, 2}}},
		`"aa" in "low": count 1: want 2 to 6`: {nil, []Line{{0, 1}}},
		`"aa" in "low": count 7: want 2 to 6`: {nil, []Line{{0, 7}}},
		`"aa" in "low": count 0: want 2 to 6`: {nil, []Line{{0, 0}}},
		`zone "low": 7 m2 planted: want at most 6`: {func(p *Problem) { p.ShareCap = 0.6 },
			[]Line{{0, 6}, {1, 5}, {2, 3}}},
		"cost 32: want at most the budget of 31.5": {func(p *Problem) { p.Budget = 31.5 }, good},
		"2 species: want at most 1":                {func(p *Problem) { p.MostSpecies = 1 }, good},
		`wanted species "cc": stands nowhere`:      {func(p *Problem) { p.Species[2].Wanted = true }, good},
	} {
		p := small()
		if c.change != nil {
			c.change(&p)
		}
		assert.ErrorContains(t, p.check(c.lines), want)
	}
}

func TestFaultsInTheProblemAreNamed(t *testing.T) {
	nan := math.NaN()
	for want, change := range map[string]func(*Problem){
		"share cap: 0: want":                func(p *Problem) { p.ShareCap = 0 },
		"share cap: NaN":                    func(p *Problem) { p.ShareCap = nan },
		"smallest group: 0":                 func(p *Problem) { p.SmallestGroup = 0 },
		"most species: -1":                  func(p *Problem) { p.MostSpecies = -1 },
		"budget: NaN":                       func(p *Problem) { p.Budget = nan },
		"effort: -1":                        func(p *Problem) { p.Effort = -1 },
		"bloom months: 0x1000":              func(p *Problem) { p.BloomMonths = 1 << 12 },
		"bloom weight: NaN":                 func(p *Problem) { p.BloomWeight = nan },
		"variety weight: -1":                func(p *Problem) { p.VarietyWeight = -1 },
		"native weight: +Inf":               func(p *Problem) { p.NativeWeight = math.Inf(1) },
		`species "aa": listed twice`:        func(p *Problem) { p.Species[1].ID = "aa" },
		`species "bb": area 0 m2`:           func(p *Problem) { p.Species[1].AreaM2 = 0 },
		`species "bb": price NaN`:           func(p *Problem) { p.Species[1].Price = nan },
		`species "bb": bloom 0x2000`:        func(p *Problem) { p.Species[1].Bloom = 1 << 13 },
		`zone "low": area -1 m2`:            func(p *Problem) { p.Zones[0].AreaM2 = -1 },
		"zones: total area 0 m2":            func(p *Problem) { p.Zones[0].AreaM2, p.Zones[1].AreaM2 = 0, 0 },
		"candidate 0: species 3":            func(p *Problem) { p.Candidates[0].Species = 3 },
		"candidate 0: zone -1":              func(p *Problem) { p.Candidates[0].Zone = -1 },
		"candidate 1: survival 1.5":         func(p *Problem) { p.Candidates[1].Survival = 1.5 },
		`candidate 1: species "aa" in zone`: func(p *Problem) { p.Candidates[1].Species = 0 },
	} {
		p := small()
		change(&p)
		_, err := Solve(p)
		assert.ErrorContains(t, err, want)
		assert.ErrorContains(t, p.check(nil), want)
	}
}

func TestLimitsAndReliefs(t *testing.T) {
	p := Problem{
		Species: []Species{{ID: "small", AreaM2: 0.1}, {ID: "large", AreaM2: 1}},
		Zones:   []Zone{{"wide", 10}, {"narrow", 0.5}, {"tiny", 0.25}, {"none", 0.05}},
		Candidates: []Candidate{
			{0, 0, 1}, {1, 0, 1}, {0, 1, 1}, {1, 1, 1}, {0, 2, 1}, {0, 3, 1},
		},
		ShareCap: 0.4, SmallestGroup: 3, Budget: math.Inf(1),
	}
	assert.Equal(t, []limit{
		{3, 40}, {3, 4}, // ordinary: 0.4 * 10 m2
		{3, 3}, {}, // 0.4 * 0.5 m2 holds two: the share gives way to one group of three
		{2, 2}, // not even three fit: the group is what fits
		{},     // nothing fits
	}, p.limits())

	res, err := Solve(p)
	require.NoError(t, err)
	require.NoError(t, p.check(res.Lines))
	assert.Equal(t, []string{
		`zone "narrow" is small: one species may take more than 40 % of it, up to one group of 3`,
		`zone "tiny" is small: no group of 3 fits, so groups there are as many as fit`,
	}, res.Notes)
	assert.Equal(t, []Why{WhyShare, WhyShare, WhySmallPlant, WhyNone}, res.WhyEmpty)
	assert.Equal(t, []Line{{0, 40}, {1, 4}, {2, 3}, {4, 2}}, res.Lines)
}

func TestWantedClashes(t *testing.T) {
	base := func() Problem {
		return Problem{
			Species: []Species{
				{ID: "aa", AreaM2: 1, Price: 10, Wanted: true}, {ID: "bb", AreaM2: 1, Price: 20, Wanted: true},
				{ID: "cc", AreaM2: 0.1, Price: 1},
			},
			Zones:      []Zone{{"low", 5}, {"high", 5}},
			Candidates: []Candidate{{0, 0, 1}, {1, 0, 1}, {2, 0, 1}, {2, 1, 1}},
			ShareCap:   0.6, SmallestGroup: 2, Budget: math.Inf(1),
		}
	}
	res, err := Solve(base())
	require.NoError(t, err)
	require.NoError(t, base().check(res.Lines))
	for want, change := range map[string]func(*Problem){
		"costs at least 60.00, the budget is 50.00":                   func(p *Problem) { p.Budget = 50 },
		"2 are wanted, but the bed may hold 1 species":                func(p *Problem) { p.MostSpecies = 1 },
		`wanted species "aa": a smallest group (2 plants, 8 m2)`:      func(p *Problem) { p.Species[0].AreaM2 = 4 },
		`wanted species "aa", "bb": their smallest groups do not fit`: func(p *Problem) { p.Species[0].AreaM2, p.Species[1].AreaM2 = 1.4, 1.4 },
		"cost more than the budget of 65.00": func(p *Problem) {
			// Groups of three in "low", of two in the nook, which holds one of
			// them: 2*10 + 3*20 or 3*10 + 2*20, though each alone could be in
			// the nook, 2*10 + 2*20.
			p.Zones = []Zone{{"low", 3}, {"nook", 2}}
			p.ShareCap, p.SmallestGroup, p.Budget = 1, 3, 65
			p.Candidates = []Candidate{{0, 0, 1}, {0, 1, 1}, {1, 0, 1}, {1, 1, 1}}
		},
	} {
		p := base()
		change(&p)
		_, err := Solve(p)
		var clash *Clash
		if assert.ErrorAs(t, err, &clash, want) {
			assert.ErrorContains(t, err, want)
			assert.True(t, clash.BadInput())
		}
	}
}

func TestWantedWithoutAnyZoneIsANote(t *testing.T) {
	p := small()
	p.Species[2].Wanted = true
	p.Candidates = append(p.Candidates[:2:2], p.Candidates[3:]...)
	res, err := Solve(p)
	require.NoError(t, err)
	assert.Equal(t, []string{`wanted species "cc" is left out: no zone suits it`}, res.Notes)
}

func TestNothingToPlant(t *testing.T) {
	p := small()
	p.Candidates = nil
	res, err := Solve(p)
	require.NoError(t, err)
	assert.Empty(t, res.Lines)
	assert.Zero(t, res.Gap)
	assert.Equal(t, stoppedProved, res.Stopped)
	assert.Equal(t, []Why{WhyNone, WhyNone}, res.WhyEmpty)
}

func TestEveryReasonHasAName(t *testing.T) {
	seen := map[string]bool{}
	for w := WhyFull; w <= WhyLayer; w++ {
		seen[w.String()] = true
	}
	assert.Len(t, seen, int(WhyLayer)+1)
	assert.Panics(t, func() { _ = (WhyLayer + 1).String() })
}
