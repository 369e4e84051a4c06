package basin

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func feet(mm float64) string { return fmt.Sprintf("%.4g ft", mm/304.8) }

// Limits as published: building 10 ft (several handbooks), slope 12 % (GWQ037),
// groundwater or rock 3 ft, well and septic 50 ft, property line 10 ft
// (Minnesota PCA), sides 3:1 (common practice, no source), drain time 24 h. From
// memory: mosquitoes 72 h (US EPA, CDC), pond 8 in (GWQ037), a fence past 300 mm
// (Australian state laws on pools).
func TestChecksAtTheirLimits(t *testing.T) {
	const ft = .3048
	for _, c := range []struct {
		name          string
		good, bad     func(*Ground, *Spec, *float64)
		found, wanted string // of the bad one
	}{
		{"distance to a building", func(g *Ground, _ *Spec, _ *float64) { g.FoundationM = 10 * ft }, func(g *Ground, _ *Spec, _ *float64) { g.FoundationM = 9.9 * ft }, "9.9 ft", "at least 10 ft"},
		{"slope of the ground", func(g *Ground, _ *Spec, _ *float64) { g.SlopePercent = 12 }, func(g *Ground, _ *Spec, _ *float64) { g.SlopePercent = 12.1 }, "12.1 %", "at most 12 %"},
		{"groundwater or rock below the bottom", func(g *Ground, _ *Spec, _ *float64) { g.WaterTableM = 3 * ft }, func(g *Ground, _ *Spec, _ *float64) { g.WaterTableM = 2.9 * ft }, "2.9 ft", "at least 3 ft"},
		{"slope of the sides", func(_ *Ground, s *Spec, _ *float64) { s.SideRun = 3 }, func(_ *Ground, s *Spec, _ *float64) { s.SideRun = 2.5 }, "2.5:1", "at least 3:1"},
		{"time to drain", func(_ *Ground, _ *Spec, h *float64) { *h = 24 }, func(_ *Ground, _ *Spec, h *float64) { *h = math.Inf(1) }, "never", "at most 24 h"},
		{"standing water, for mosquitoes", func(_ *Ground, _ *Spec, h *float64) { *h = 72 }, func(_ *Ground, _ *Spec, h *float64) { *h = 73 }, "73 h", "at most 72 h"},
		{"depth of the pond", func(_ *Ground, s *Spec, _ *float64) { s.PondingMM = 8 * 25.4 }, func(_ *Ground, s *Spec, _ *float64) { s.PondingMM = 9 * 25.4 }, "0.75 ft", "at most 0.6667 ft"},
		{"depth to the rim, for children", func(_ *Ground, s *Spec, _ *float64) { s.PondingMM, s.FreeboardMM = 200, 100 }, func(_ *Ground, s *Spec, _ *float64) { s.PondingMM, s.FreeboardMM = 200, 104.8 }, "1 ft", "at most 0.9843 ft; watch them at any depth"},
		{"distance to a well", func(g *Ground, _ *Spec, _ *float64) { g.WellM = 50 * ft }, func(g *Ground, _ *Spec, _ *float64) { g.WellM = 49 * ft }, "49 ft", "at least 50 ft"},
		{"distance to a septic system", func(g *Ground, _ *Spec, _ *float64) { g.SepticM = 50 * ft }, func(g *Ground, _ *Spec, _ *float64) { g.SepticM = 40 * ft }, "40 ft", "at least 50 ft"},
		{"distance to the property line", func(g *Ground, _ *Spec, _ *float64) { g.PropertyLineM = 10 * ft }, func(g *Ground, _ *Spec, _ *float64) { g.PropertyLineM = 0 }, "0 ft", "at least 10 ft"},
	} {
		find := func(change func(*Ground, *Spec, *float64)) Check {
			g, s, hours := UnknownGround(), Spec{Outline{Kind: "rectangle", LengthM: 6, WidthM: 3}, 150, 3, .3, 50}, math.NaN()
			change(&g, &s, &hours)
			for _, k := range mustNew(t, s).Checks(g, hours, 0, feet) {
				if k.Name == c.name {
					return k
				}
			}
			require.Fail(t, "no check", c.name)
			return Check{}
		}
		good, bad := find(c.good), find(c.bad)
		assert.True(t, good.OK && good.Known, "%+v", good)
		assert.True(t, !bad.OK && bad.Known, "%+v", bad)
		assert.Equal(t, []string{c.found, c.wanted}, []string{bad.Found, bad.Wanted})
		assert.NotEmpty(t, bad.Source)
	}
}

func TestWhatIsNotGivenIsNeverOK(t *testing.T) {
	b := mustNew(t, Spec{Outline{Kind: "oval", LengthM: 6, WidthM: 3}, 150, 3, .3, 50})
	unknown := 0
	for _, c := range b.Checks(UnknownGround(), math.NaN(), 24, feet) {
		if slices.Contains([]string{"slope of the sides", "depth of the pond", "depth to the rim, for children"}, c.Name) { // the spec itself gives it
			continue
		}
		unknown++
		assert.False(t, c.OK || c.Known, "%+v", c)
		assert.Equal(t, "not given: measure it", c.Found)
	}
	assert.Equal(t, 8, unknown)
}

// Drain time: 12 in at 0.5 in/h takes 24 h (handbook arithmetic), which is the
// limit; a limit of one's own takes its place.
func TestDrainLimit(t *testing.T) {
	b := mustNew(t, Spec{Outline{Kind: "oval", LengthM: 9, WidthM: 6}, 304.8, 3, .3, 50})
	drain := func(limit float64) Check { return b.Checks(UnknownGround(), 12/.5, limit, feet)[4] }
	assert.True(t, drain(0).OK)
	assert.True(t, drain(math.NaN()).OK)
	assert.False(t, drain(12).OK)
	assert.Equal(t, "at most 12 h", drain(12).Wanted)
}

func TestCheckNamesInJSON(t *testing.T) {
	out, err := json.Marshal(Check{"a", true, true, "b", "c", "d"})
	require.NoError(t, err)
	assert.Equal(t, `{"name":"a","ok":true,"known":true,"found":"b","wanted":"c","source":"d"}`, string(out))
}

func TestCautionsNameEveryDanger(t *testing.T) {
	all := strings.Join(Cautions(UnknownGround(), feet), "\n")
	for _, word := range []string{"permits", "Buried", "cables", "overflow", "neighbours", "10 ft", "basement", "wells", "septic", "trees", "children", "mosquitoes", "licensed", "Steep"} {
		assert.Contains(t, strings.ToLower(all), strings.ToLower(word))
	}
	g := UnknownGround()
	g.SlopePercent, g.Foundation = 15, "basement"
	steep := Cautions(g, feet)
	assert.Len(t, steep, 10)
	assert.Contains(t, steep[8], "Ask an engineer")
	g.SlopePercent, g.Foundation = 2, "slab"
	assert.Len(t, Cautions(g, feet), 8)
}
