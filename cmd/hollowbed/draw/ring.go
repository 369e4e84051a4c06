package draw

import "math"

// ring draws a plant from above, at its mature spread: each growth form has an
// edge of its own, inside the circle of that spread, so that none looks wider
// than it is. The circle itself carries the scale.
func (s *svg) ring(x, y, r float64, form string) {
	const see = ` fill-opacity="0.8"`
	switch form {
	case "grass-like":
		s.circle(x, y, r, framed(paper, ink, 0.22)+see+` stroke-dasharray="5 5"`)
	case "fern-like":
		s.circle(x, y, r, framed(paper, ink, 0.3)+see+` stroke-dasharray="1 5" stroke-linecap="round"`)
	case "groundcover":
		s.circle(x, y, r, framed(paper, pencil, 0.3)+see)
	case "bulb":
		s.circle(x, y, r, framed(paper, ink, 0.22)+see+` stroke-dasharray="12 4 2 4"`)
	case "climber":
		s.circle(x, y, r, framed(paper, ink, 0.22)+see+` stroke-dasharray="10 3"`)
	case "shrub":
		s.circle(x, y, r, framed(paper, ink, 0.42)+see)
	case "small tree", "tree":
		s.circle(x, y, r, framed(paper, ink, 0.3)+see)
		s.circle(x, y, math.Max(r-0.7, r*0.7), stroke(ink, 0.18))
	default: // forb
		s.circle(x, y, r, framed(paper, ink, 0.25)+see)
	}
}

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
