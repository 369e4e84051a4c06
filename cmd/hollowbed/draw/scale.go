package draw

import (
	"fmt"
	"math"
)

// scale is a ratio of ground to paper.
type scale struct {
	ratio float64 // 50 for 1:50
	words string  // "1:50"
}

// mm is how long a distance in metres is on paper.
func (s scale) mm(m float64) float64 { return m * 1000 / s.ratio }

// scales lists the usual ones, largest picture first; in feet those of architects' and
// engineers' rulers. Common practice, no source.
func scales(metric bool) []scale {
	var out []scale
	if metric {
		for _, r := range []float64{5, 10, 20, 25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000, 2500, 5000, 10000} {
			out = append(out, scale{r, fmt.Sprintf("1:%g", r)})
		}
		return out
	}
	for _, inch := range []struct {
		ratio float64
		words string
	}{{4, "3 in"}, {8, "1 1/2 in"}, {12, "1 in"}, {16, "3/4 in"}, {24, "1/2 in"}, {32, "3/8 in"}, {48, "1/4 in"}, {64, "3/16 in"}, {96, "1/8 in"}, {128, "3/32 in"}} {
		out = append(out, scale{inch.ratio, fmt.Sprintf("%s = 1 ft (1:%g)", inch.words, inch.ratio)})
	}
	for _, ft := range []float64{15, 20, 25, 30, 40, 50, 60, 80, 100, 200, 500, 1000} {
		out = append(out, scale{ft * 12, fmt.Sprintf("1 in = %g ft (1:%g)", ft, ft*12)})
	}
	return out
}

// chooseScale takes the largest usual scale at which widthM by heightM fits
// into w by h mm, or an odd one if the ground is larger than all of them.
func chooseScale(metric bool, widthM, heightM, w, h float64) scale {
	for _, s := range scales(metric) {
		if s.mm(widthM) <= w && s.mm(heightM) <= h {
			return s
		}
	}
	r := math.Ceil(math.Max(widthM/w, heightM/h)) * 1000
	return scale{r, fmt.Sprintf("1:%g", r)}
}

// scaleBar draws a bar with its left end at x, y; it is at most room mm long.
func (s *svg) scaleBar(x, y, room float64, sc scale, metric bool) {
	unit, name := mPerFt, "ft"
	if metric {
		unit, name = 1, "m"
	}
	step := unit * niceStep(room*sc.ratio/1000/unit/4.2)
	n := 4
	w := sc.mm(step)
	for i := range n {
		look := framed(paper, ink, 0.2)
		if i%2 == 0 {
			look = framed(ink, ink, 0.2)
		}
		s.rect(box{x + float64(i)*w, y, x + float64(i+1)*w, y + 1.3}, look)
	}
	l := lettering{size: small, anchor: "middle"}
	last := figure(step*float64(n)/unit, 2) + " " + name
	end := l.box(x+float64(n)*w, y+4.4, last)
	s.text(x, y+4.4, "0", l)
	for i := 1; i < n; i++ {
		t := figure(step*float64(i)/unit, 2)
		b := l.box(x+float64(i)*w, y+4.4, t)
		if b.grown(0.5).meets(s.texts[len(s.texts)-1]) || b.grown(0.5).meets(end) {
			continue
		}
		s.text(x+float64(i)*w, y+4.4, t, l)
	}
	s.text(x+float64(n)*w, y+4.4, last, l)
}

const (
	mPerFt  = 0.3048 // exact by definition
	mmPerIn = 25.4   // exact by definition
)

// niceStep is the largest of ..., 0.1, 0.2, 0.5, 1, 2, 5, 10, ... up to v.
func niceStep(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	switch m := v / p; {
	case m >= 5:
		return 5 * p
	case m >= 2:
		return 2 * p
	}
	return p
}

// tickStep is a step for an axis up to most that gives about n ticks.
func tickStep(most float64, n int) float64 {
	if !(most > 0) || math.IsInf(most, 0) {
		return 1
	}
	v := most / float64(n)
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5, 10} {
		if v <= m*p*1.0001 {
			return m * p
		}
	}
	return 10 * p
}
