package placement

import "math"

// bound is a yearly loss that no placement can go below, in m2: every plant by
// itself in the best place of its class, as if it stood alone,
//
//	bound = sum over plants of area * least risk over the squares it may stand in
//
// with a fixed plant in its own place and a plant that has no place in its zone
// lost. Risk is one number per square (Problem.RiskStepM), so the least over
// the squares is exact. Assumptions: none beyond that; overlap, groups and looks
// are ignored, so a placement that reaches the bound need not exist.
func (c *crowd) bound() float64 {
	least := make([]float64, len(c.lines))
	for line := range least {
		least[line] = 1
		k := c.g.classes[c.g.classOf[line]]
		if k.zone == nil {
			continue
		}
		for _, i := range k.touched {
			least[line] = math.Min(least[line], c.g.risk[line][i])
		}
	}
	sum := 0.0
	for i := range c.plants {
		switch p := &c.plants[i]; {
		case p.fixed:
			sum += c.lossOf(i)
		case p.line >= 0 && !p.under:
			sum += p.areaM2 * least[p.line]
		}
	}
	return sum
}
