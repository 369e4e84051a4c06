package placement

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/zones/basin"
)

// In beds of all shapes, with plants set out in them: whoever takes which room,
// the widest that each holds stand apart as they should, off the edge and off
// the keep-outs, unless both stood too near already; the plants keep their own
// places; and at the end no ground is left that would hold a plant of the least
// spread.
func TestRooms(t *testing.T) {
	shapes := outlines()
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"rectangle", "oval", "L", "kidney", "U"}).Draw(t, "shape")
		b, err := basin.New(basin.Spec{Outline: shapes[name], PondingMM: 150, SideRun: 4, RimWidthM: 0.5, FreeboardMM: 60})
		require.NoError(t, err)
		x0, y0, x1, y1 := b.Spec().Outline.Bounds()
		p := Problem{
			Bed: b, MarginM: rapid.SampledFrom([]float64{0, 0.2}).Draw(t, "margin"),
			Overhang: rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "overhang"), Overlap: rapid.SampledFrom([]float64{0, 0.2}).Draw(t, "overlap"),
			KeepOuts: []KeepOut{{Kind: "bench", X: x0 + 1, Y: y0 + 1.5, R: 0.6}},
		}
		draw := func(n int) (out []Kept) {
			for i := range n {
				k := Kept{
					Stake: "T" + string(rune('A'+i)), SpreadCM: rapid.SampledFrom([]float64{25, 40, 60}).Draw(t, "spread"),
					X: rapid.Float64Range(x0, x1).Draw(t, "x"), Y: rapid.Float64Range(y0, y1).Draw(t, "y"),
				}
				if b.ZoneAt(k.X, k.Y) != "" {
					out = append(out, k)
				}
			}
			return out
		}
		p.Kept = draw(rapid.IntRange(0, 20).Draw(t, "plants"))
		vacant := draw(3)
		for i := range vacant {
			vacant[i].Stake = "V" + vacant[i].Stake
		}
		const least, widest, most = 45.0, 80.0, 300
		all, err := Rooms(p, vacant, least, widest, most)
		require.NoError(t, err)
		between := 0
		for i, a := range all {
			ra := a.SpreadCM / 200
			if a.Kept >= 0 {
				require.Equal(t, i, a.Kept)
				require.GreaterOrEqual(t, a.SpreadCM, p.Kept[i].SpreadCM-1e-9)
				require.Equal(t, [2]float64{p.Kept[i].X, p.Kept[i].Y}, [2]float64{a.X, a.Y})
			} else {
				require.LessOrEqual(t, a.SpreadCM, widest+1e-9)
				if a.Vacant < 0 {
					between++
					require.GreaterOrEqual(t, a.SpreadCM, least-1e-9)
				}
			}
			require.Equal(t, b.ZoneAt(a.X, a.Y), a.Zone)
			if a.Kept < 0 || a.SpreadCM > p.Kept[a.Kept].SpreadCM+1e-9 {
				require.GreaterOrEqual(t, b.Spec().Outline.DistanceM(a.X, a.Y)+1e-6, p.MarginM+(1-p.Overhang)*ra, "edge")
				require.GreaterOrEqual(t, math.Hypot(a.X-x0-1, a.Y-y0-1.5)+1e-9, 0.6+ra, "bench")
			}
			for j, o := range all[:i] {
				own := a.Kept >= 0 && o.Kept >= 0 && a.SpreadCM <= p.Kept[i].SpreadCM+1e-9 && o.SpreadCM <= p.Kept[j].SpreadCM+1e-9
				if !own {
					require.GreaterOrEqual(t, math.Hypot(a.X-o.X, a.Y-o.Y)+1e-9, (1-p.Overlap)*(ra+o.SpreadCM/200), "rooms %d and %d", i, j)
				}
			}
		}
		require.LessOrEqual(t, between, most)
	})
}

// A bed of 4 m by 3 m with one plant: what is found fills every zone, and no
// more of the least spread could be added.
func TestRoomsFillTheGround(t *testing.T) {
	b, err := basin.New(basin.Spec{Outline: basin.Outline{Kind: "rectangle", LengthM: 4, WidthM: 3}, PondingMM: 150, SideRun: 3, RimWidthM: 0.3})
	require.NoError(t, err)
	p := Problem{Bed: b, Overhang: 0.5, Kept: []Kept{{Stake: "AB1", X: 2, Y: 1.5, SpreadCM: 50}}}
	all, err := Rooms(p, nil, 40, 50, 1000)
	require.NoError(t, err)
	assert.Greater(t, len(all), 30, "12 m2 hold more than 30 plants of 50 cm")
	zones := map[string]int{}
	for _, a := range all {
		zones[a.Zone]++
	}
	assert.Len(t, zones, 3)
	for x := 0.2; x < 3.9; x += 0.1 {
		for y := 0.2; y < 2.9; y += 0.1 {
			left := min(x, y, 4-x, 3-y) / 0.5
			for _, a := range all {
				left = min(left, math.Hypot(a.X-x, a.Y-y)-a.SpreadCM/200)
			}
			assert.Less(t, left, 0.20+0.15, "ground left at %.1f, %.1f", x, y) // squares of 10 cm
		}
	}
	few, err := Rooms(p, nil, 40, 50, 5)
	require.NoError(t, err)
	assert.Len(t, few, 6)
	_, err = Rooms(Problem{Bed: b, Overlap: 2}, nil, 40, 50, 5)
	assert.Error(t, err)
}
