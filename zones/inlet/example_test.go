package inlet_test

import (
	"fmt"
	"math"

	"hollowbed/zones/inlet"
)

// Ground that falls 150 mm over 5 m from a house on a slab to a bed 150 mm deep.
func ExampleCompare() {
	plan, err := inlet.Compare(inlet.Input{
		Ground:     []inlet.GroundPoint{{StationM: 0, LevelMM: 200}, {StationM: 5, LevelMM: 50}},
		Foundation: "slab", FoundationM: 5,
		BottomMM: -150, FreeboardMM: 50, RimWidthM: 0.3, SideRun: 3,
		Downspout: inlet.Downspout{DiameterMM: 75}, PipeMM: 100, Material: "pvc",
		LeastPipeFall: math.NaN(), CoverMM: math.NaN(), LinerWidthM: math.NaN(), // as usual
		RoofM2: 60, Coefficient: 0.95, DesignMMH: 100, RecordMMH: 45,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the design rain brings %.1f m3/h\n", plan.DesignM3H)
	for _, w := range plan.Ways {
		fmt.Printf("%s: carries %.1f m3/h (%s), arrives %.0f mm over the spill level\n", w.Kind, w.CapacityM3H, w.Capacity.Limit, w.OutletMM)
	}
	// Output:
	// the design rain brings 5.7 m3/h
	// pipe: carries 14.5 m3/h (downspout), arrives 0 mm over the spill level
	// swale: carries 14.5 m3/h (downspout), arrives 0 mm over the spill level
	// surface: carries 14.5 m3/h (downspout), arrives 50 mm over the spill level
}
