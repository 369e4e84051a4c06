package basin

import "math"

// ExcavationM3 is the soil to dig out, measured in place, so that the finished
// bed can be laid on mixDepthMM of new soil mix, in ground that was level at
// groundMM relative to the spill level:
//
//	dug = integral over the bed of max(0, ground - (height - mix depth)) dA
//	    = integral of area at or below z, for z from the bottom to ground + mix
//
// in which the mix follows the surface everywhere, the rim too. With ground 0
// the spill level is the old ground and the rim is built up; with ground equal
// to the freeboard the whole bed lies below the old ground.
//
// Limits: level old ground, upright outer sides; dug soil swells, commonly by a
// fifth to a third (common practice, no source): that is not counted here.
func (b *Basin) ExcavationM3(mixDepthMM, groundMM float64) float64 {
	return b.groundBelowM3(groundMM + math.Max(0, mixDepthMM))
}

// BermM3 is the soil, in place, that stands above level old ground at groundMM
// when the bed is finished: the raised part of the rim.
//
//	berm = integral of (bed area - area at or below z), z from ground to freeboard
func (b *Basin) BermM3(groundMM float64) float64 {
	top := b.spec.FreeboardMM
	if groundMM >= top {
		return 0
	}
	return b.shape.areaM2()*(top-groundMM)/1000 - (b.groundBelowM3(top) - b.groundBelowM3(groundMM))
}

// groundBelowM3 is the space between the finished ground and a level surface at
// levelMM, over the bed, at any level: the integral of exactAreaM2 up to it.
func (b *Basin) groundBelowM3(levelMM float64) float64 {
	low, high := -b.spec.PondingMM, b.spec.FreeboardMM
	if levelMM <= low {
		return 0
	}
	sum := b.exactVolumeM3(levelMM)
	if to := math.Min(levelMM, high); to > 0 && b.spec.RimWidthM > 0 {
		tol := 1e-10 * b.shape.areaM2() * (high - low)
		sum += integrate(b.exactAreaM2, 0, to, tol) / 1000
	} else if to > 0 { // no rim: the freeboard stands upright
		sum += b.shape.areaM2() * to / 1000
	}
	if levelMM > high {
		sum += b.shape.areaM2() * (levelMM - high) / 1000
	}
	return sum
}
