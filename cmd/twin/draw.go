package main

import "math"

// chance is what a draw is for. Draws are common to all policies: the same
// plant meets the same luck in the same season, wherever it stands.
type chance uint64

const (
	luckWet chance = iota + 1 // one for each weather limit, in the order of fit.Limits
	luckDeep
	luckDry
	luckCold
	luckSun
	luckShock
	luckOther
	luckSlow
	luckDies
	luckVigour
	luckSlip
	luckSlipUp
	luckNote
	luckNoteWhich
	luckSigns // and one for each sign from here on
)

// luck returns a number between 0 and 1, never either, that hangs on nothing
// but its arguments: a chain of the finaliser of SplitMix64 (Steele, Lea and
// Flood 2014, OOPSLA; the constants from memory).
func luck(seed uint64, garden, plant, season int, what chance) float64 {
	x := mix(seed)
	for _, part := range [4]uint64{uint64(garden), uint64(plant), uint64(season), uint64(what)} {
		x = mix(x ^ mix(part))
	}
	return (float64(x>>11) + 0.5) / (1 << 53)
}

func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// normal turns a number between 0 and 1 into one of the normal distribution.
func normal(u float64) float64 { return math.Sqrt2 * math.Erfinv(2*u-1) }
