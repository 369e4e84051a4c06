package water

import "math"

// TAWMM returns the total available water of a root zone in mm:
// TAW = 1000 (FC - WP) Zr, water contents as volume fractions, Zr the root
// depth in m. Source: FAO-56 Eq. 82 [S1].
func TAWMM(fc, wp, rootM float64) float64 { return 1000 * (fc - wp) * rootM }

// Ground is what roots draw on: the mix, and below it the soil of the place.
type Ground struct {
	MixFC, MixWP, MixDepthMM float64 // volume fractions, mm
	NativeFC, NativeWP       float64
}

// TAWMM returns the total available water of roots of a depth, mm: FAO-56 Eq.
// 82 for the part in the mix and the part below it. Source: [S1].
func (g Ground) TAWMM(rootCM float64) float64 {
	inMix := min(rootCM/100, g.MixDepthMM/1000)
	return TAWMM(g.MixFC, g.MixWP, inMix) + TAWMM(g.NativeFC, g.NativeWP, rootCM/100-inMix)
}

// DepletionFraction returns p, the share of TAW that plants take without
// stress: p = pTab + 0.04 (5 - ETc), ETc in mm/d, held in 0.1 to 0.8.
// Source: FAO-56, note to Table 22 and Eq. 83 [S1].
func DepletionFraction(pTab, etcMMD float64) float64 {
	return min(max(pTab+0.04*(5-etcMMD), 0.1), 0.8)
}

// Stress returns Ks, the share of its unstressed water use that a plant
// reaches: 1 until the depletion passes RAW = p TAW, then falling in a
// straight line to 0 at TAW: Ks = (TAW - Dr) / ((1 - p) TAW). depletionMM is
// Dr below field capacity; 0 or less gives 1. Source: FAO-56 Eq. 84 [S1].
func Stress(depletionMM, tawMM, p float64) float64 {
	if depletionMM <= p*tawMM {
		return 1
	}
	if depletionMM >= tawMM {
		return 0
	}
	return (tawMM - depletionMM) / ((1 - p) * tawMM)
}

// store is the water that one place of the bed holds, with the constants of
// its soil. Depths are mm of water over the place's area.
type store struct {
	fieldMM float64 // held at field capacity
	satMM   float64 // held when every pore is full
	tawMM   float64 // TAW of the root zone
	seepMMH float64 // what leaves the place below when it is full
	wetMM   float64 // from which it counts as wet
	airMM   float64 // above which it is short of air
	law     *law

	fadeX, fadeY float64 // see fade
}

func newStore(fc, wp, sat, depthMM, mixMMH, nativeMMH float64) store {
	mixMMH = min(mixMMH, fastestMMH)
	return store{
		wetMM: wetSaturation * sat * depthMM, airMM: (sat - leastAir) * depthMM,
		fieldMM: fc * depthMM, satMM: sat * depthMM,
		tawMM: TAWMM(fc, wp, depthMM/1000), seepMMH: min(mixMMH, nativeMMH),
		law: newLaw(fc, wp, sat, depthMM, mixMMH, nativeMMH),
	}
}

// absorb lets water be offered at a steady rate for a step, while plants draw
// useMMH without stress, and returns what the place holds afterwards, what it took
// in and what seeped out below (mm).
//
//	dS/dt = q - e              below field capacity
//	dS/dt = q - e - seepage    above, until S = SAT; see law
//	in = e + seepage           when full and q is more
//
// S held water in mm, q offered and e used in mm/h; below field capacity q must be
// e at least. Every piece is solved exactly.
func (s *store) absorb(held, offeredMMH, useMMH float64, p *pace) change {
	net, offered := offeredMMH-useMMH, offeredMMH*p.hours
	after, left := held, p.hours
	if held == s.satMM && net >= s.seepMMH {
		// Full all along.
	} else if held < s.fieldMM {
		room := s.fieldMM - held
		if net*left <= room {
			return change{held + net*left, offered, 0}
		}
		after, left = s.law.cross(s.fieldMM, net, left-room/net, 0)
	} else {
		after, left = s.law.course(held, net, p)
	}
	if left == 0 {
		return change{after, offered, max(held-after+net*p.hours, 0)}
	}
	// Full on the way, or all along.
	steady := s.seepMMH * left
	out := max(held-after+net*(p.hours-left), 0)
	return change{after, offeredMMH*(p.hours-left) + useMMH*left + steady, out + steady}
}

// use returns what plants take in a step of the hourly balance, in mm, never
// more than is held above the wilting point: dS/dt = -Kc ET0 Ks with Ks
// following the depletion (FAO-56 Eq. 84 [S1]), solved exactly, so that the
// answer does not depend on how a day is cut. demandMM is Kc ET0 over the step.
// Past RAW what is left above wilting decays by exp(-use / ((1 - p) TAW)).
func (s *store) use(held, demandMM, p float64) float64 {
	easy := p*s.tawMM - (s.fieldMM - held) // to be had without stress
	if demandMM <= easy {
		return demandMM
	}
	easy = max(easy, 0)
	left := s.tawMM - (s.fieldMM - held) - easy
	if left <= 0 {
		return easy
	}
	return easy + left*s.fade((demandMM-easy)/((1-p)*s.tawMM))
}

// fade returns 1 - exp(-x). It remembers the last, since all places that are
// short of water ask for the same in an hour.
func (s *store) fade(x float64) float64 {
	if x != s.fadeX {
		s.fadeX, s.fadeY = x, -math.Expm1(-x)
	}
	return s.fadeY
}

// advance lets water be offered and plants draw through the same step: absorb
// and use at once. Where neither hinders the other, above field capacity or
// with more offered than used without stress, the piece is solved exactly;
// else plants draw from what is there on average while the water comes.
func (s *store) advance(held, offeredMMH, demandMM, depletion float64, p *pace) (c change, usedMM float64) {
	useMMH := demandMM / p.hours
	falls := demandMM - offeredMMH*p.hours // by so much, if all demand is met and nothing seeps
	switch over := held - s.fieldMM; {
	case offeredMMH == 0 && over <= 0:
		usedMM = s.use(held, demandMM, depletion)
		return change{afterMM: held - usedMM}, usedMM
	case offeredMMH >= useMMH && -over <= depletion*s.tawMM:
		return s.absorb(held, offeredMMH, useMMH, p), demandMM
	case over <= min(falls, 0) && depletion*s.tawMM+over >= falls: // to the end without stress
		in := offeredMMH * p.hours
		return change{held + in - demandMM, in, 0}, demandMM
	case over > 0:
		after, left := s.law.course(held, offeredMMH-useMMH, p)
		first := p.hours - left
		c = change{after, offeredMMH * first, max(held-after+(offeredMMH-useMMH)*first, 0)}
		if left == 0 {
			return c, demandMM
		}
		// Down to field capacity on the way; the rest of the step by itself.
		rest, restUsed := s.advance(s.fieldMM, offeredMMH, useMMH*left, depletion, &pace{hours: left})
		return change{rest.afterMM, c.inMM + rest.inMM, c.seepedMM + rest.seepedMM}, restUsed + useMMH*first
	}
	c = s.absorb(held, offeredMMH, 0, p)
	usedMM = s.use((held+c.afterMM)/2, demandMM, depletion)
	c.afterMM -= usedMM
	return c, usedMM
}
