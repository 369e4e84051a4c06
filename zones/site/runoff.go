package site

import (
	"fmt"
	"math"
	"strings"
)

const mmPerInch = 25.4

// RunoffMM returns the depth that runs off a surface in a storm:
// Q = (P - 0.2 S)^2 / (P + 0.8 S) for P > 0.2 S, else 0, with
// S = 25.4 (1000/CN - 10) mm and P the storm's rain in mm. CN is the curve
// number, above 0 to 100. For whole storms on average wet ground; under about
// half an inch of runoff it is rough, and it takes no account of intensity.
// Source: USDA 1986, Urban Hydrology for Small Watersheds, TR-55, Eq. 2-1 to
// 2-4.
func RunoffMM(rainMM, curveNumber float64) float64 {
	s := retentionMM(curveNumber)
	if math.IsNaN(rainMM) || math.IsNaN(s) {
		return math.NaN()
	}
	const initialShare = 0.2
	over := rainMM - initialShare*s
	if over <= 0 {
		return 0
	}
	return over * (over / (over + s)) // in this order never more than over
}

// retentionMM returns the most a surface can hold back once it runs off,
// S = 25.4 (1000/CN - 10) mm; NaN unless CN is above 0 and at most 100.
// Source: TR-55, Eq. 2-4.
func retentionMM(curveNumber float64) float64 {
	if !(curveNumber > 0 && curveNumber <= 100) {
		return math.NaN()
	}
	return mmPerInch * (1000/curveNumber - 10)
}

// curveRow is one surface with its curve numbers by soil group A to D.
type curveRow struct {
	surface string
	byGroup [4]float64
}

// curveRows lists the surfaces round a house that may drain to a bed. Source:
// TR-55, Table 2-2a, average wetness: open space by grass cover (good above
// 75 %, fair 50-75 %, poor below 50 %), paved areas and roofs, gravel and dirt
// streets (these two with their verges).
func curveRows() []curveRow {
	return []curveRow{
		{"roof", [4]float64{98, 98, 98, 98}},
		{"pavement", [4]float64{98, 98, 98, 98}},
		{"gravel", [4]float64{76, 85, 89, 91}},
		{"dirt", [4]float64{72, 82, 87, 89}},
		{"lawn, good", [4]float64{39, 61, 74, 80}},
		{"lawn, fair", [4]float64{49, 69, 79, 84}},
		{"lawn, poor", [4]float64{68, 79, 86, 89}},
	}
}

// runoffSurfaces returns the names of the surfaces that CurveNumber knows.
func runoffSurfaces() []string {
	var names []string
	for _, r := range curveRows() {
		names = append(names, r.surface)
	}
	return names
}

// CurveNumber returns the curve number of a surface on soil of hydrologic group A to D.
func CurveNumber(surface, group string) (float64, error) {
	g := strings.Index("ABCD", strings.ToUpper(strings.TrimSpace(group)))
	if g < 0 || len(strings.TrimSpace(group)) != 1 {
		return 0, fmt.Errorf("hydrologic soil group %q: want A, B, C or D", group)
	}
	want := surfaceKey(surface)
	for _, r := range curveRows() {
		if surfaceKey(r.surface) == want {
			return r.byGroup[g], nil
		}
	}
	return 0, fmt.Errorf("surface %q: want one of: %s", surface, strings.Join(runoffSurfaces(), "; "))
}

// surfaceKey makes "Lawn, good", "lawn-good" and "lawn good" the same.
func surfaceKey(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" -_,", r) }), " ")
}

// HydrologicGroup returns the hydrologic soil group A to D from the saturated
// conductivity (mm/h) of the tightest layer and the depth (mm) to rock, a tight
// layer or the high water table, whichever is nearer: D if that is under
// 500 mm; below 1000 mm the limits are 40, 10 and 1 um/s, deeper 10, 4 and
// 0.4 um/s (1 um/s = 3.6 mm/h). A value on a limit belongs to the wetter group.
// Simplified: dual groups (A/D and so on) and a water table at 600 mm are left
// out. NaN input counts as nothing known: D. Source: USDA NRCS 2009, National
// Engineering Handbook part 630, chapter 7, Table 7-1 (limits read in second-hand
// copies).
func HydrologicGroup(rateMMH, depthMM float64) string {
	const (
		shallowMM, deepMM = 500, 1000
		mmhPerUMS         = 3.6
	)
	if !(depthMM >= shallowMM) {
		return "D"
	}
	limits := [3]float64{40, 10, 1}
	if depthMM > deepMM {
		limits = [3]float64{10, 4, 0.4}
	}
	for i, um := range limits {
		if rateMMH > um*mmhPerUMS {
			return "ABC"[i : i+1]
		}
	}
	return "D"
}
