package list

import "math"

// AreaPerPlantM2 returns the ground that one plant takes in a triangular pattern, edges
// of the zone neglected: A = s^2 * sqrt(3)/2 (geometry), A in m2, s = spacing/100 in m,
// the distance between neighbours. A square pattern takes s^2.
func AreaPerPlantM2(spacingCM float64) float64 {
	s := spacingCM / 100
	return s * s * math.Sqrt(3) / 2
}
