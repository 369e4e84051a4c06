package draw

import "slices"

// formWord names a form for the legend.
func formWord(form string) string {
	if slices.Contains(formOrder(), form) {
		return form
	}
	return "forb"
}

// formOrder is the order of forms in a legend.
func formOrder() []string {
	return []string{"forb", "grass-like", "fern-like", "bulb", "groundcover", "climber", "shrub", "small tree", "tree"}
}
