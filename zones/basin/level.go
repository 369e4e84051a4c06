package basin

import "math"

// levels is area and volume by level as pieces in which the area is a quadratic
// of the level, that is exact wherever the inset keeps its structure. The
// volume is the exact integral of that same quadratic, so water that goes by
// volume and ground that goes by level agree to rounding.
type levels struct {
	lowMM   float64
	cells   []cell
	byLevel []int32 // first cell that reaches into each of the equal steps
	byVol   []int32
	perMM   float64 // steps per mm
	perM3   float64 // steps per m3
}

// cell covers levels fromMM to toMM. With u from 0 to 1 across it,
//
//	area = a + p u + q u^2,  volume = v + h (a u + p u^2/2 + q u^3/3),
//
// a, p, q in m2, v in m3 and h the cell's height in m.
type cell struct {
	fromMM, toMM, perMM float64
	a, p, q             float64
	v, h, endV          float64

	// Where the area less than triples, u is near s1 s + s2 s^2 + s3 s^3 with s
	// the share of the cell's volume: the right place and steepness at both ends.
	even              bool
	perM3, s1, s2, s3 float64
}

// newTable cuts lowMM to 0 into cells until the area is met within 1e-7 of the
// area at 0 at three places in each, and the volume within 1e-10 of the whole
// in all, but no finer than 2^-28 of the depth.
func newLevels(area func(levelMM float64) float64, lowMM float64) levels {
	t := levels{lowMM: lowMM}
	place, weight := lobatto()
	full := area(0)
	var cut func(from, to, a0, a1 float64, left int)
	cut = func(from, to, a0, a1 float64, left int) {
		var seen [5]float64
		mean := weight[0]*a0 + weight[4]*a1
		for i := 1; i < 4; i++ {
			seen[i] = area(from + place[i]*(to-from))
			mean += weight[i] * seen[i]
		}
		rise := a1 - a0
		q := math.Max(-rise, math.Min(rise, 3*(a0+a1)-6*mean)) // keeps the area rising
		p, off := rise-q, 0.0
		for i := 1; i < 4; i++ {
			u := place[i]
			off = math.Max(off, math.Abs(a0+u*(p+u*q)-seen[i]))
		}
		if left > 0 && (off > 1e-7*full || off*(to-from) > 1e-10*full*-lowMM) {
			mid := (from + to) / 2
			cut(from, mid, a0, seen[2], left-1)
			cut(mid, to, seen[2], a1, left-1)
			return
		}
		t.add(from, to, a0, p, q)
	}
	const parts = 4
	at, a0 := lowMM, area(lowMM)
	for i := 1; i <= parts; i++ {
		to := lowMM * float64(parts-i) / parts
		a1 := area(to)
		cut(at, to, a0, a1, 26)
		at, a0 = to, a1
	}
	t.index()
	return t
}

// add appends the piece in which the area is a + p u + q u^2 for u from 0 at
// level from to 1 at level to, in cells of at most a 32nd of the depth, so that
// the first guess of LevelMM is a good one.
func (t *levels) add(from, to, a, p, q float64) {
	n := math.Ceil((to - from) * 32 / -t.lowMM)
	for i := range int(n) {
		u := float64(i) / n
		c := cell{
			fromMM: from + u*(to-from), toMM: from + float64(i+1)/n*(to-from),
			a: a + u*(p+u*q), p: (p + 2*q*u) / n, q: q / (n * n),
		}
		c.perMM, c.h = 1/(c.toMM-c.fromMM), (c.toMM-c.fromMM)/1000
		if n := len(t.cells); n > 0 {
			c.v = t.cells[n-1].endV
		}
		middle, end := c.a+c.p/2+c.q/3, c.a+c.p+c.q
		c.endV = c.v + c.h*middle
		c.perM3 = 1 / (c.h * middle)
		if c.even = end < 3*c.a; c.even {
			m0, m1 := middle/c.a, middle/end
			c.s1, c.s2, c.s3 = m0, 3-2*m0-m1, m0+m1-2
		}
		t.cells = append(t.cells, c)
	}
}

// index notes for equal steps of level and of volume where to start looking.
func (t *levels) index() {
	const steps = 256
	total := t.cells[len(t.cells)-1].endV
	t.perMM, t.perM3 = steps/-t.lowMM, steps/total
	t.byLevel, t.byVol = make([]int32, steps+1), make([]int32, steps+1)
	var l, v int
	for i := range steps + 1 {
		for l+1 < len(t.cells) && t.cells[l].toMM <= t.lowMM+float64(i)/t.perMM {
			l++
		}
		for v+1 < len(t.cells) && t.cells[v].endV <= float64(i)/t.perM3 {
			v++
		}
		// One cell back, so that rounding of the step never starts too late.
		t.byLevel[i], t.byVol[i] = int32(max(l-1, 0)), int32(max(v-1, 0))
	}
}

// at finds the cell of a level between the bottom and 0, and the place in it.
func (t *levels) at(levelMM float64) (*cell, float64) {
	i := int(t.byLevel[int((levelMM-t.lowMM)*t.perMM)])
	for t.cells[i].toMM < levelMM {
		i++
	}
	c := &t.cells[i]
	return c, math.Min(1, (levelMM-c.fromMM)*c.perMM)
}

// AreaAtOrBelowM2 is the area, seen from above, of the ground that lies at or
// below a level. Below the bottom it is 0; at or above the freeboard it is the
// whole bed, so a rim without freeboard, which lies flat at the spill level,
// counts at 0 and not below it. From the bottom to the spill level the figure is
// within 1e-6 of the exact one.
func (b *Basin) AreaAtOrBelowM2(levelMM float64) float64 {
	switch {
	case math.IsNaN(levelMM):
		return math.NaN()
	case levelMM < -b.spec.PondingMM:
		return 0
	case levelMM >= b.spec.FreeboardMM:
		return b.shape.areaM2()
	case levelMM <= 0:
		c, u := b.levels.at(levelMM)
		return c.a + u*(c.p+u*c.q)
	}
	return b.exactAreaM2(levelMM)
}

// LevelMM is the level to which a volume fills the bed: the level below
// which the integral of AreaAtOrBelowM2 from the bottom up is that much. No water gives the bottom; more than SpillVolumeM3 gives 0.
func (b *Basin) LevelMM(volumeM3 float64) float64 {
	t := &b.levels
	switch {
	case math.IsNaN(volumeM3):
		return math.NaN()
	case volumeM3 <= 0:
		return t.lowMM
	case volumeM3 >= b.SpillVolumeM3():
		return 0
	}
	i := int(t.byVol[int(volumeM3*t.perM3)])
	for t.cells[i].endV < volumeM3 {
		i++
	}
	c := &t.cells[i]
	share := (volumeM3 - c.v) * c.perM3
	y := share * (c.a + c.p*(1./2) + c.q*(1./3))
	var u float64
	if c.even {
		u = share * (c.s1 + share*(c.s2+share*c.s3))
	} else {
		u = 2 * y / (c.a + math.Sqrt(c.a*c.a+2*max(0, c.p)*y))
	}
	// a u + p u^2/2 + q u^3/3 = y is rising and bends upward (the area rises with
	// the level), so Newton's steps close in on u from above. A step leaves an
	// error of at most its square times half the rise of the area over the area.
	enough := 1e-10
	if c.even {
		enough = 1e-7
	}
	for range 60 {
		step := (u*(c.a+u*(c.p*(1./2)+u*c.q*(1./3))) - y) / (c.a + u*(c.p+u*c.q))
		u -= step
		if -enough <= step && step <= enough {
			break
		}
	}
	switch level := c.fromMM + u*(c.toMM-c.fromMM); {
	case level > c.toMM:
		return c.toMM
	case level > c.fromMM:
		return level
	}
	return c.fromMM
}

// SpillVolumeM3 is the water held at the spill level.
func (b *Basin) SpillVolumeM3() float64 { return b.levels.cells[len(b.levels.cells)-1].endV }

// exactVolumeM3 is the water held below a level, without the level table, by
// adaptive quadrature of the exact inset area to 1e-10 of the whole. It is slow;
// it is there to check the table and for figures that are published.
func (b *Basin) exactVolumeM3(levelMM float64) float64 {
	low := -b.spec.PondingMM
	if !(levelMM > low) {
		return 0
	}
	scale := b.pondAreaM2(0) * -low
	return integrate(b.pondAreaM2, low, math.Min(levelMM, 0), 1e-10*scale) / 1000
}
