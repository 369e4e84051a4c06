package basin_test

import (
	"fmt"

	"hollowbed/zones/basin"
)

// A bed of 6 by 3 m, 150 mm deep, with sides of 3:1 and a rim 300 mm wide.
func ExampleNew() {
	bed, err := basin.New(basin.Spec{
		Outline:     basin.Outline{Kind: "rectangle", LengthM: 6, WidthM: 3},
		PondingMM:   150,
		SideRun:     3,
		RimWidthM:   0.3,
		FreeboardMM: 50,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("holds %.3f m3\n", bed.SpillVolumeM3())
	fmt.Printf("half of it stands at %.0f mm\n", bed.LevelMM(bed.SpillVolumeM3()/2))
	for _, z := range bed.Zones() {
		fmt.Printf("%s: %.2f m2, %.0f to %.0f mm\n", z.Zone, z.AreaM2, z.FootMM, z.TopMM)
	}
	// Output:
	// holds 1.458 m3
	// half of it stands at -63 mm
	// bottom: 6.75 m2, -150 to -150 mm
	// slope: 6.21 m2, -150 to 0 mm
	// rim: 5.04 m2, 0 to 50 mm
}
