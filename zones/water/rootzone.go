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
	fieldMM   float64 // held at field capacity
	satMM     float64 // held when every pore is full
	tawMM     float64 // TAW of the root zone
	seepMMH   float64 // what the soil below takes when the place is saturated; +Inf allowed
	drainPerH float64 // seepMMH / (satMM - fieldMM): linear reservoir constant, 1/h
	drainH    float64 // 1 over that

	fadeX, fadeY float64 // see fade
}

func newStore(fc, wp, sat, depthMM, seepMMH float64) store {
	s := store{
		fieldMM: fc * depthMM, satMM: sat * depthMM,
		tawMM: TAWMM(fc, wp, depthMM/1000), seepMMH: seepMMH,
	}
	s.drainPerH = seepMMH / (s.satMM - s.fieldMM)
	s.drainH = 1 / s.drainPerH
	return s
}

// absorb lets water be offered at a steady rate for a time and returns what
// the place holds afterwards, what it took in and what seeped out below (mm).
//
//	dS/dt = q                             below field capacity
//	dS/dt = q - k (S - FC) / (SAT - FC)   above, until S = SAT
//	in = out = k                          when full and q >= k
//
// S held water in mm, q offered in mm/h, k seepMMH. The pieces are solved
// exactly, so the answer does not depend on how a steady spell is cut into
// steps. decay is exp(-drainPerH * hours), passed in because callers reuse it.
// Seepage rising in a straight line from 0 at field capacity to k at
// saturation is a simplification (see data/METHOD.md).
func (s *store) absorb(held, offeredMMH, hours, decay float64) change {
	in := 0.0
	if held < s.fieldMM {
		room := s.fieldMM - held
		if offeredMMH*hours <= room {
			in = offeredMMH * hours
			return change{held + in, in, 0}
		}
		fill := room / offeredMMH
		in, held, hours = room, s.fieldMM, hours-fill
		decay = math.Exp(-s.drainPerH * hours)
	}
	if s.seepMMH > math.MaxFloat64 {
		out := offeredMMH*hours + held - s.fieldMM
		return change{s.fieldMM, in + offeredMMH*hours, out}
	}
	if s.seepMMH == 0 {
		add := min(offeredMMH*hours, s.satMM-held)
		return change{held + add, in + add, 0}
	}
	if held == s.satMM && offeredMMH >= s.seepMMH { // full, and stays so
		return change{held, s.seepMMH * hours, s.seepMMH * hours}
	}
	goal := s.fieldMM + offeredMMH*s.drainH
	after := goal + (held-goal)*decay
	if after <= s.satMM {
		add := offeredMMH * hours
		return change{after, in + add, max(add-(after-held), 0)}
	}
	// Full on the way: the time when it fills, then in = out = k.
	full := 0.0
	if held < s.satMM {
		full = min(math.Log((held-goal)/(s.satMM-goal))/s.drainPerH, hours)
	}
	add := offeredMMH * full
	out := max(add-(s.satMM-held), 0)
	steady := s.seepMMH * (hours - full)
	return change{s.satMM, in + (s.satMM - held) + out + steady, out + steady}
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
func (s *store) advance(held, offeredMMH, demandMM, p, hours, decay float64) (c change, usedMM float64) {
	useMMH := demandMM / hours
	switch over := held - s.fieldMM; {
	case offeredMMH == 0 && over <= 0:
		usedMM = s.use(held, demandMM, p)
		return change{afterMM: held - usedMM}, usedMM
	case offeredMMH >= useMMH && -over <= p*s.tawMM:
		c = s.absorb(held, offeredMMH-useMMH, hours, decay)
		c.inMM += demandMM
		return c, demandMM
	case over > 0 && s.drainPerH > 0 && !math.IsInf(s.drainPerH, 1):
		goal := (useMMH - offeredMMH) / s.drainPerH // below field capacity
		if left := (over+goal)*decay - goal; left >= 0 {
			in := offeredMMH * hours
			return change{s.fieldMM + left, in, max(over-left+in-demandMM, 0)}, demandMM
		}
		// Down to field capacity on the way; the rest of the step by itself.
		first := min(math.Log1p(over/goal)/s.drainPerH, hours)
		rest, restUsed := s.advance(s.fieldMM, offeredMMH, useMMH*(hours-first), p, hours-first, 1)
		rest.inMM += offeredMMH * first
		rest.seepedMM += max(over-(useMMH-offeredMMH)*first, 0)
		return rest, restUsed + useMMH*first
	}
	c = s.absorb(held, offeredMMH, hours, decay)
	usedMM = s.use((held+c.afterMM)/2, demandMM, p)
	c.afterMM -= usedMM
	return c, usedMM
}
