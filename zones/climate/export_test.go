package climate

// SpreadOf is how the rain of a day falls by the months of a station.
func SpreadOf(n Normals, seed uint64) func(month int, rainMM float64) [24]float64 {
	return n.spread(seed, "")
}
