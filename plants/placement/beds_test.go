package placement

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"hollowbed/plants/list"
	"hollowbed/zones/basin"
)

// outlines are beds of all kinds of shape, about 10 m long.
func outlines() map[string]basin.Outline {
	poly := func(p ...[2]float64) basin.Outline { return basin.Outline{Kind: "polygon", Points: p} }
	kidney := basin.Outline{Kind: "polygon"}
	for i := range 40 {
		a := 2 * math.Pi * float64(i) / 40
		r := 3.4 + 0.9*math.Cos(2*a) - 0.7*math.Sin(a)
		kidney.Points = append(kidney.Points, [2]float64{r*math.Cos(a) - 20, r*math.Sin(a) + 7})
	}
	return map[string]basin.Outline{
		"rectangle": {Kind: "rectangle", LengthM: 10, WidthM: 5},
		"oval":      {Kind: "oval", LengthM: 11, WidthM: 6},
		"L":         poly([2]float64{0, 0}, [2]float64{9, 0}, [2]float64{9, 4}, [2]float64{4, 4}, [2]float64{4, 9}, [2]float64{0, 9}),
		"kidney":    kidney,
		"U": poly([2]float64{0, 0}, [2]float64{11, 0}, [2]float64{11, 8}, [2]float64{7.5, 8}, [2]float64{7.5, 3.5},
			[2]float64{3.5, 3.5}, [2]float64{3.5, 8}, [2]float64{0, 8}),
	}
}

func bed(t testing.TB, o basin.Outline) *basin.Basin {
	b, err := basin.New(basin.Spec{Outline: o, PondingMM: 150, SideRun: 4, RimWidthM: 0.5, FreeboardMM: 60})
	require.NoError(t, err)
	return b
}

// invented makes a problem whose lines fill each zone to a share, half of them
// lovers of low ground and half of high, with a shade that falls from the west.
// All of it is made up.
func invented(b *basin.Basin, seed uint64, fill float64, perZone int, spreadCM func(n int) float64) Problem {
	rng := rand.New(rand.NewPCG(seed, 7))
	p := Problem{Bed: b, Seed: seed}
	var low, worst, shade []float64
	x0, _, x1, _ := b.Spec().Outline.Bounds()
	for _, z := range b.Zones() {
		for n := range perZone {
			id := z.Zone + string(rune('a'+n))
			s := spreadCM(n)
			l := Line{ID: id, Name: "Ember " + id, Zone: z.Zone, SpreadCM: s, HeightCM: 20 + 120*rng.Float64()}
			l.Count = int(fill * z.AreaM2 / float64(perZone) / list.AreaPerPlantM2(s))
			p.Lines = append(p.Lines, l)
			low, worst, shade = append(low, float64(rng.IntN(2))), append(worst, 0.05+0.3*rng.Float64()), append(shade, 0.1*rng.Float64())
		}
	}
	p.Risk = func(line int, x, y float64) float64 {
		h, _ := b.HeightMM(x, y)
		up := (h + 150) / 210
		if low[line] > 0.5 {
			up = 1 - up
		}
		return 0.01 + worst[line]*up*up + shade[line]*(x-x0)/(x1-x0)
	}
	return p
}

func someSpreads(n int) float64 { return []float64{25, 30, 38, 45, 30, 60, 35}[n%7] }
