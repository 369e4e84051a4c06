package water

import "math"

const (
	// curvePieces is how many straight pieces stand for the curve of drainage.
	// One of them spans a factor of about 1.3 in sandy loam, and lies over the curve
	// by at most (ln of that)^2 / 8, a hundredth; in sand up to four.
	curvePieces = 32
	lawPieces   = curvePieces + 2 // and the taper below, the flat above
	lawCells    = 128
)

// drainage returns what a soil that holds theta lets pass under its own weight,
// mm/h: K = Ks (theta / Sat)^(3 + 2 / lambda), lambda = ln(FC / WP) / ln(1500 / 33),
// contents as volume fractions and Ks the conductivity when full. Source: Saxton
// and Rawls 2006, Table 1, Eq. 17 and 18 [S2].
func drainage(theta, fc, wp, sat, kMMH float64) float64 {
	return kMMH * math.Pow(theta/sat, DrainPower(fc, wp))
}

// DrainPower returns 3 + 2 / lambda of drainage.
func DrainPower(fc, wp float64) float64 { return 3 + 2*math.Log(1500.0/33)/math.Log(fc/wp) }

// piece is a straight piece of the law: what seeps from a place that holds from
// fromMM to toMM.
type piece struct {
	fromMM, toMM   float64
	fromMMH, toMMH float64
	perH           float64 // by which it grows with each mm; 0: flat
}

// law is what seeps out of a place by what it holds: nothing up to field
// capacity, the least of drainage and what the soil below takes above. The curve
// is followed by straight pieces, each of which is solved exactly, so that the
// answer does not depend on how a steady time is cut. Below the first of them it
// falls to nothing at field capacity, where drainage is 0.01 mm a day in sandy
// loam and 0.5 in clay loam.
type law struct {
	n      int
	pieces [lawPieces]piece
	byHeld [lawCells + 1]uint8 // the piece at the start of each cell
	fromMM float64
	perMM  float64 // cells
}

// newLaw makes the law of a mix over a soil that takes nativeMMH.
func newLaw(fc, wp, sat, depthMM, mixMMH, nativeMMH float64) *law {
	fieldMM, satMM := fc*depthMM, sat*depthMM
	l := &law{fromMM: fieldMM, perMM: lawCells / (satMM - fieldMM)}
	most := min(nativeMMH, mixMMH)
	if l.add(fieldMM, satMM, 0, 0); most == 0 {
		return l
	}
	l.n = 0
	power := DrainPower(fc, wp)
	holds := func(mmh float64) float64 { return satMM * math.Pow(mmh/mixMMH, 1/power) }
	atField := min(drainage(fc, fc, wp, sat, mixMMH), most)
	first := min(2*atField, math.Sqrt(atField*most))
	lastMM, lastMMH := fieldMM, 0.0
	for k := range curvePieces {
		mmh := first * math.Pow(most/first, float64(k)/(curvePieces-1))
		heldMM := min(holds(mmh), satMM)
		if k == curvePieces-1 {
			mmh = most
		}
		// Where the soil below takes less than the mix lets pass at field capacity,
		// only the last piece is left, and that must not be upright.
		if heldMM = max(heldMM, fieldMM+(satMM-fieldMM)/1024); heldMM > lastMM {
			l.add(lastMM, heldMM, lastMMH, mmh)
			lastMM, lastMMH = heldMM, mmh
		}
	}
	last := &l.pieces[l.n-1]
	last.toMMH, last.perH = most, (most-last.fromMMH)/(last.toMM-last.fromMM)
	if mixMMH > nativeMMH && lastMM < satMM {
		l.add(lastMM, satMM, most, most)
	} else {
		last.toMM = satMM
	}
	l.fill()
	return l
}

func (l *law) add(fromMM, toMM, fromMMH, toMMH float64) {
	l.pieces[l.n] = piece{fromMM, toMM, fromMMH, toMMH, (toMMH - fromMMH) / (toMM - fromMM)}
	l.n++
}

func (l *law) fill() {
	i := 0
	for k := range l.byHeld {
		for i+1 < l.n && l.pieces[i].toMM <= l.fromMM+float64(k)/l.perMM {
			i++
		}
		l.byHeld[k] = uint8(max(i-1, 0))
	}
}

// at returns the piece of a place above field capacity.
func (l *law) at(heldMM float64) int {
	i := int(l.byHeld[min(int((heldMM-l.fromMM)*l.perMM), lawCells)])
	for i+1 < l.n && l.pieces[i].toMM <= heldMM {
		i++
	}
	return i
}

// step is what a time makes of 1 mm: what is left of it, and of 1 mm that comes
// evenly, as a share.
type step struct{ decay, gain float64 }

// step returns what hours do in a piece.
func (p *piece) step(hours float64) step {
	fall := p.perH * hours
	if fall == 0 {
		return step{1, 1}
	}
	less := -math.Expm1(-fall)
	return step{1 - less, less / fall}
}

// after returns what is held in the end of a step within the piece.
func (p *piece) after(heldMM, netMMH, hours float64, s step) float64 {
	return p.fromMM + (heldMM-p.fromMM)*s.decay + (netMMH-p.fromMMH)*hours*s.gain
}

func (p *piece) seepsMMH(heldMM float64) float64 { return p.fromMMH + (heldMM-p.fromMM)*p.perH }

// until returns the hours in which water that comes at netMMH takes a place in
// the piece to an end of it, goalMM, where goalMMH seeps; +Inf if it never does, or
// clearly not within hours. What is gained by the hour, netMMH less what seeps,
// fades exponentially.
func (p *piece) until(heldMM, goalMM, netMMH, goalMMH, hours float64) float64 {
	gains, there := netMMH-p.seepsMMH(heldMM), netMMH-goalMMH
	switch {
	case p.perH == 0:
		return (goalMM - heldMM) / gains
	case gains*there <= 0, math.Abs(gains)*hours < math.Abs(goalMM-heldMM):
		return math.Inf(1)
	}
	return max(0, math.Log1p(p.perH*(goalMM-heldMM)/there)/p.perH)
}

// course lets water come, or be used, at a steady rate above field capacity, and
// returns what the place holds after the hours. Where it gets down to field
// capacity, or full, before they are over, leftH is what is left of them.
func (l *law) course(heldMM, netMMH float64, p *pace) (afterMM, leftH float64) {
	i := l.at(heldMM)
	if p.steps == nil {
		return l.cross(heldMM, netMMH, p.hours, i)
	}
	q := &l.pieces[i]
	if after := q.after(heldMM, netMMH, p.hours, p.steps[i]); after >= q.fromMM && after <= q.toMM {
		return after, 0
	}
	return l.cross(heldMM, netMMH, p.hours, i)
}

// cross is course from piece to piece.
func (l *law) cross(heldMM, netMMH, hours float64, i int) (afterMM, leftH float64) {
	falls := netMMH < l.pieces[i].seepsMMH(heldMM)
	if falls && heldMM <= l.pieces[i].fromMM {
		i--
	}
	for i >= 0 && i < l.n {
		q, next := &l.pieces[i], i+1
		goalMM, goalMMH := q.toMM, q.toMMH
		if falls {
			goalMM, goalMMH, next = q.fromMM, q.fromMMH, i-1
		}
		takes := q.until(heldMM, goalMM, netMMH, goalMMH, hours)
		if !(takes < hours) {
			return min(max(q.after(heldMM, netMMH, hours, q.step(hours)), q.fromMM), q.toMM), 0
		}
		heldMM, hours, i = goalMM, hours-takes, next
	}
	return heldMM, hours
}
