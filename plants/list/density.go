package list

import "math"

// AreaPerPlantM2 returns the ground that one plant takes when plants stand in
// a triangular pattern: A = s^2 * sqrt(3)/2.
// A in m2; s = spacing/100 in m, the distance between neighbours, taken as the
// mature spread. Edges of the zone are neglected. A square pattern takes s^2.
// Source: geometry of the triangular lattice (two triangles of side s per
// plant).
func AreaPerPlantM2(spacingCM float64) float64 {
	s := spacingCM / 100
	return s * s * math.Sqrt(3) / 2
}
