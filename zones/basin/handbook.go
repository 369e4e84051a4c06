package basin

import (
	"fmt"
	"math"

	"hollowbed/zones/table"
)

const (
	sqftM2 = 0.3048 * 0.3048
	inchMM = 25.4
	footMM = 304.8
)

// HandbookAreaM2 is the bed area that a handbook asks for, and the factor it
// rests on: area = factor x area that drains to the bed.
//
//	soilGroup  "sandy", "loam" (the handbook's silty) or "clay"
//	depthMM    ponding depth, taken to the nearest inch, 3 to 8 in
//
// Limits: a bed less than 30 ft from the downspout, in the climate of
// Wisconsin. Source: Univ. of Wisconsin-Extension and Wisconsin DNR 2003, Rain
// Gardens: a how-to manual for homeowners (GWQ037). The sandy factors and loam
// at 6-7 in were read in second-hand copies; the others are from memory.
func HandbookAreaM2(soilGroup string, depthMM, drainageM2 float64) (areaM2, factor float64, err error) {
	var f [3]float64 // 3-5 in, 6-7 in, 8 in
	var bad table.Faults
	switch soilGroup {
	case "sandy":
		f = [3]float64{0.19, 0.15, 0.08}
	case "loam":
		f = [3]float64{0.34, 0.25, 0.16}
	case "clay":
		f = [3]float64{0.43, 0.32, 0.20}
	default:
		bad = append(bad, table.Fault{Want: fmt.Sprintf("soil group: %q: want sandy, loam or clay", soilGroup)})
	}
	if !(drainageM2 >= 0) || math.IsInf(drainageM2, 0) {
		bad = append(bad, table.Fault{Want: fmt.Sprintf("area that drains to the bed: %g m2: want 0 or more", drainageM2)})
	}
	switch inches := math.Round(depthMM / inchMM); {
	case inches >= 3 && inches <= 5:
		factor = f[0]
	case inches >= 6 && inches <= 7:
		factor = f[1]
	case inches == 8:
		factor = f[2]
	default:
		bad = append(bad, table.Fault{Want: fmt.Sprintf("ponding depth: %g mm: the handbook covers 3 to 8 in (76 to 203 mm)", depthMM)})
	}
	if len(bad) > 0 {
		return 0, 0, bad
	}
	return factor * drainageM2, factor, nil
}
