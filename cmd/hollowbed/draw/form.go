package draw

// formWord names a form for the legend.
func formWord(form string) string {
	switch form {
	case "grass-like", "fern-like", "groundcover", "bulb", "climber", "shrub", "small tree", "tree":
		return form
	}
	return "forb"
}

// formOrder is the order of forms in a legend.
func formOrder() []string {
	return []string{"forb", "grass-like", "fern-like", "bulb", "groundcover", "climber", "shrub", "small tree", "tree"}
}
