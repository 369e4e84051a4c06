package season

import "math"

// Figures of the model are chances on a grid of log units about 0, two steps to three of
// a limit's steepness, so that no curve falls between.
const step = 0.1

// grid holds chances, or logs of them, at -n step ... n step; len is 2n + 1.
type grid []float64

func newGrid(half int) grid { return make(grid, 2*half+1) }

func (g grid) half() int { return len(g) / 2 }

// at is the value of the k-th point.
func (g grid) at(k int) float64 { return float64(k-g.half()) * step }

// normal fills a grid with a bell curve about 0, its sum 1; a spread of 0 is
// certainty.
func normal(half int, sd float64) grid {
	g := newGrid(half)
	if sd == 0 {
		g[half] = 1
		return g
	}
	for k := range g {
		z := g.at(k) / sd
		g[k] = math.Exp(-z * z / 2)
	}
	g.normalise()
	return g
}

func (g grid) normalise() {
	sum := 0.0
	for _, v := range g {
		sum += v
	}
	for k := range g {
		g[k] /= sum
	}
}

// fromLog turns logs of chances into chances with the sum 1.
func (g grid) fromLog(logs grid) {
	top := math.Inf(-1)
	for _, v := range logs {
		top = max(top, v)
	}
	for k, v := range logs {
		g[k] = math.Exp(v - top)
	}
	g.normalise()
}

// belief is mean and standard deviation of chances with the sum 1.
func (g grid) belief() Belief {
	mean, square := 0.0, 0.0
	for k, p := range g {
		mean += p * g.at(k)
	}
	for k, p := range g {
		square += p * (g.at(k) - mean) * (g.at(k) - mean)
	}
	return Belief{mean, math.Sqrt(square)}
}

// atLeast returns the chances spread out to a standard deviation of at least sd.
func (g grid) atLeast(sd float64) grid {
	more := sd*sd - g.belief().SD*g.belief().SD
	if more <= 0 {
		return g
	}
	wide := newGrid(g.half())
	spread(wide, g, normal(g.half(), math.Sqrt(more)))
	wide.normalise()
	return wide
}

// quantile is the value below which a share of the chances lies.
func (g grid) quantile(share float64) float64 {
	sum := 0.0
	for k, p := range g {
		if sum+p >= share && p > 0 {
			return g.at(k) + ((share-sum)/p-0.5)*step
		}
		sum += p
	}
	return g.at(len(g) - 1)
}

// blur sets dst(x) to the sum over y of kernel(y) src(x + y); src reaches far enough.
func blur(dst, src, kernel grid) {
	shift := src.half() - dst.half() - kernel.half()
	for k := range dst {
		sum := 0.0
		part := src[k+shift:]
		for j, w := range kernel {
			sum += w * part[j]
		}
		dst[k] = sum
	}
}

// spread sets dst to the chances of the sum of two independent figures; what
// falls beyond dst is left out.
func spread(dst, a, b grid) {
	clear(dst)
	shift := dst.half() - a.half() - b.half()
	for i, p := range a {
		if p == 0 {
			continue
		}
		for j, q := range b {
			if k := i + j + shift; k >= 0 && k < len(dst) {
				dst[k] += p * q
			}
		}
	}
}
