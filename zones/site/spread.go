package site

import "math"

// Patterns returns the names of the 24-hour patterns that daily rain can be
// spread by; the first is the default.
func Patterns() []string { return []string{"type-ii", "even", "block-6h"} }

// typeII returns the share of a day's rain that has fallen by each whole hour,
// 0 to 24, in the NRCS Type II 24-hour distribution.
// Source: US Natural Resources Conservation Service, TR-55 (1986), as typed in
// Washington State DOT, Highway Runoff Manual M 31-16.04, Table 4C-4.
func typeII() [25]float64 {
	return [25]float64{
		0.000, 0.011, 0.022, 0.035, 0.048, 0.063, 0.080, 0.099, 0.120,
		0.147, 0.181, 0.235, 0.663, 0.772, 0.820, 0.854, 0.880,
		0.902, 0.921, 0.938, 0.952, 0.965, 0.977, 0.989, 1.000,
	}
}

// PatternShares returns the share of a day's rain in each hour, and whether
// there is a pattern of that name. "type-ii" is a cloudburst about noon, made
// for design storms and harsher than most days; "even" is the gentlest; and
// "block-6h" is six equal hours from 9 to 15 (both common practice, no source).
func PatternShares(name string) ([24]float64, bool) {
	var share [24]float64
	switch name {
	case "type-ii":
		sum := typeII()
		for h := range share {
			share[h] = sum[h+1] - sum[h]
		}
	case "even":
		for h := range share {
			share[h] = 1.0 / 24
		}
	case "block-6h":
		for h := 9; h < 15; h++ {
			share[h] = 1.0 / 6
		}
	default:
		return share, false
	}
	return share, true
}

// spreadDay writes a day's depth into 24 hours that add up to it exactly, in any order:
// each is rounded to a whole number of its last binary place, and the wettest takes what
// is left.
func spreadDay(hours []float64, depthMM float64, share *[24]float64) {
	if depthMM == 0 {
		clear(hours)
		return
	}
	place := math.Nextafter(depthMM, math.Inf(1)) - depthMM
	wettest, rest := 0, depthMM
	for h := range share {
		if share[h] > share[wettest] {
			wettest = h
		}
	}
	for h := range share {
		if h == wettest {
			continue
		}
		hours[h] = math.Round(depthMM*share[h]/place) * place
		rest -= hours[h]
	}
	hours[wettest] = rest
}
