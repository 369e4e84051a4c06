package placement_test

import (
	"fmt"

	"hollowbed/plants/placement"
	"hollowbed/zones/basin"
)

// Five plants of two invented species round a boulder, seen from the south.
func Example() {
	bed, err := basin.New(basin.Spec{
		Outline:   basin.Outline{Kind: "oval", LengthM: 4, WidthM: 3},
		PondingMM: 120, SideRun: 4, RimWidthM: 0.3, FreeboardMM: 50,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := placement.Solve(placement.Problem{
		Bed:      bed,
		KeepOuts: []placement.KeepOut{{Kind: "boulder", X: 2, Y: 1.5, R: 0.3}},
		View:     placement.View{Kind: "side", X: 0, Y: 1},
		Lines: []placement.Line{
			{ID: "fennick", Name: "Fennick", Zone: "bottom", Count: 2, SpreadCM: 40, HeightCM: 60},
			{ID: "dunwhistle", Name: "Dunwhistle", Zone: "slope", Count: 3, SpreadCM: 35, HeightCM: 30},
		},
		Risk: func(line int, x, y float64) float64 { return 0.05 },
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range r.Plants {
		fmt.Println(s.Stake, s.Zone)
	}
	fmt.Printf("left over %d, overlap needed %.0f %%\n", len(r.Left), 100*r.NeededOverlap)
	// Output:
	// FEN1 bottom
	// FEN2 bottom
	// DUN1 slope
	// DUN2 slope
	// DUN3 slope
	// left over 0, overlap needed 0 %
}
