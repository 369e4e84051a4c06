package placement

import "math"

// crownM is how near a bulb may be set to the middle of another plant: beside its
// crown, not into it. Common practice, no source.
const crownM = 0.1

// What a metre from the viewer, and from the first bulb of its line, is worth in
// yearly risk where bulbs are given places. Common practice, no source.
const (
	frontWorth    = 0.002
	togetherWorth = 0.5
)

// beneath gives bulbs their places once all others stand: those of a line together,
// where they risk least and near the viewer.
func (c *crowd) beneath(l *looks, overlap float64) {
	h := newHash(c)
	for line, plants := range c.lines {
		var first [][2]float64
		for _, i := range plants {
			if p := &c.plants[i]; !p.under || p.class < 0 || c.in[i] {
				if c.in[i] {
					first = append(first, [2]float64{c.x[i], c.y[i]})
				}
				continue
			}
			best, place := math.Inf(1), [2]float64{}
			for _, at := range c.g.classes[c.plants[i].class].place {
				worth := c.g.riskAt(line, at[0], at[1]) + frontWorth*l.depthM(at[0], at[1])
				if len(first) > 0 {
					worth += togetherWorth * math.Hypot(at[0]-first[0][0], at[1]-first[0][1])
				}
				if worth < best && c.fits(i, at[0], at[1], overlap, -1, -1, h) {
					best, place = worth, at
				}
			}
			if !math.IsInf(best, 1) {
				c.x[i], c.y[i], c.in[i] = place[0], place[1], true
				h.add(i, place[0], place[1])
				first = append(first, place)
			}
		}
	}
}
