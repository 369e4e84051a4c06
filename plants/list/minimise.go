package list

import "math"

const (
	shrunk = 0.4 // of a direction, by each dilation; Shor advises 1/3 to 1/2
	longer = 1.1 // a step that led down three times
	short  = 0.9 // a step that led up at once
)

// minimise looks for the least of a convex function of few variables, which may
// have edges. look is told a place and sets the slope there; it is asked at most
// looks times, and keeps the best by itself. Space is stretched along the
// difference of slopes that follow each other, so that narrow valleys grow round.
// Source: the r-algorithm (Shor 1985, Minimization Methods for Non-Differentiable
// Functions).
func minimise(x []float64, step float64, looks int, stopped func() bool, look func(x, slope []float64)) {
	n := len(x)
	s := &stretched{n: n, basis: make([]float64, n*n), inner: make([]float64, n), outer: make([]float64, n)}
	for i := range n {
		s.basis[i*n+i] = 1
	}
	slope, before := make([]float64, n), make([]float64, n)
	look(x, slope)
	for asked := 1; asked < looks && !stopped(); {
		if !s.turn(slope) {
			return
		}
		copy(before, slope)
		for down := 1; ; down++ {
			ahead := 0.0
			for i := range x {
				x[i] -= float64(step * s.outer[i])
			}
			look(x, slope)
			asked++
			for i := range x {
				ahead += float64(s.outer[i] * slope[i])
			}
			if down%3 == 0 {
				step *= longer
			}
			if ahead <= 0 || asked >= looks {
				if down == 1 {
					step *= short
				}
				break
			}
		}
		for i := range before {
			before[i] = slope[i] - before[i]
		}
		if s.turn(before) {
			s.shrink()
		}
	}
}

// stretched is a space in which directions have been shrunk; basis leads out of it.
type stretched struct {
	n            int
	basis        []float64
	inner, outer []float64 // a direction of length 1 within, and led out
}

// turn sets the direction to that of a slope; false if it is none.
func (s *stretched) turn(slope []float64) bool {
	n, length := s.n, 0.0
	for j := range n {
		t := 0.0
		for i := range n {
			t += float64(s.basis[i*n+j] * slope[i])
		}
		s.inner[j] = t
		length += float64(t * t)
	}
	if length = math.Sqrt(length); length < 1e-14 {
		return false
	}
	for j := range n {
		s.inner[j] /= length
	}
	for i := range n {
		t := 0.0
		for j := range n {
			t += float64(s.basis[i*n+j] * s.inner[j])
		}
		s.outer[i] = t
	}
	return true
}

// shrink shrinks the direction.
func (s *stretched) shrink() {
	for i := range s.n {
		for j := range s.n {
			s.basis[i*s.n+j] -= float64((1 - shrunk) * s.outer[i] * s.inner[j])
		}
	}
}
