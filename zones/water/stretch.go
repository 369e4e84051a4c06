package water

import "math"

// stretch is a time that goes by in one step, some hours of one day. What the
// places beside the water are offered and asked for in it is the same for all.
type stretch struct {
	rain, demand []float64 // by hour, mm
	rainless     int       // hours up to which it rains
	depletion    float64   // FAO-56's p of the day

	rainMM, demandMM float64 // in all
	wettestMM        float64 // rain of the wettest hour
	lowMM            float64 // least by which rain was ahead of demand, at the start or after any hour
	highMM           float64 // most, were all rain of an hour to come first

	// A place under stress throughout holds in the end what it held at the start
	// times kept, plus cameMM; known once faded is set.
	faded        bool
	kept, cameMM float64
}

// passage is what a stretch does in a piece of the law: a place that is x mm into it
// is x decay + leftMM into it in the end; leastMM and mostMM are the bounds of
// leftMM after any hour.
type passage struct {
	number                  int // of the stretch
	decay                   float64
	leftMM, leastMM, mostMM float64
}

// total is what some hours do to one place.
type total struct {
	change
	usedMM float64
}

// skip moves the balance on at once by the coming hours of a day that pass
// without a pond and with no place wet or short of air, and returns how many these
// are. The pieces are those of store.absorb, use and advance, whose answers do not depend
// on how a steady time is cut: a place that stays in one of them all the time
// takes it over all hours at once, any other goes by the hour.
func (s *state) skip(rain, inflow, demand []float64, depletion float64) int {
	if s.hasPond() {
		return 0
	}
	hours, rainMM := s.untilWet(rain)
	var bottom total
	if rainMM > 0 {
		bottom, hours = s.bottom(rain[:hours], inflow, demand, depletion)
	}
	if hours == 0 {
		return 0
	}
	s.forget()
	s.moved, s.draining = true, false
	t := s.stretch(rain[:hours], demand, depletion)
	s.volume.RainOnBedM3 += t.rainMM * s.bedM3
	lastMM, last := math.NaN(), bottom
	seepedM3, usedM3 := 0.0, 0.0
	for i := range s.places {
		p := &s.places[i]
		if (i > 0 || rainMM == 0) && p.heldMM != lastMM {
			lastMM, last = p.heldMM, s.through(p.heldMM, &t)
		}
		s.draining = s.draining || last.afterMM > s.calmMM
		p.settle(last.afterMM, last.inMM, last.seepedMM, last.usedMM)
		seepedM3 += last.seepedMM * p.m3
		usedM3 += last.usedMM * p.m3
	}
	s.lose(seepedM3, usedM3)
	return hours
}

// dryDay moves the balance on by a day without rain, if no place drains, is wet or
// short of air: then all that plants use of it they use in one step.
func (s *state) dryDay(et0MM, depletion float64) bool {
	if s.draining || s.hasPond() {
		return false
	}
	s.forget()
	s.dryCatches(et0MM)
	demandMM := s.Kc * et0MM
	lastMM, used, usedM3 := math.NaN(), 0.0, 0.0
	for i := range s.places {
		p := &s.places[i]
		if p.heldMM != lastMM {
			lastMM, used = p.heldMM, s.mix.use(p.heldMM, demandMM, depletion)
		}
		p.heldMM -= used
		usedM3 += used * p.m3
	}
	s.lose(0, usedM3)
	return true
}

// untilWet returns how many of the coming hours pass before the rain on it could
// make any place wet, and their rain, mm.
func (s *state) untilWet(rain []float64) (hours int, rainMM float64) {
	fullest := 0.0
	for i := range s.places {
		if held := s.places[i].heldMM; held > fullest {
			fullest = held
		}
	}
	room := min(s.mix.wetMM, s.mix.airMM) - fullest
	for ; hours < len(rain) && rainMM+rain[hours] < room && rain[hours] <= s.mixMMH; hours++ {
		rainMM += rain[hours]
	}
	return hours, rainMM
}

// bottom takes the lowest place, into which the inflow runs, through hours of
// rain up to the first that it does not take or by which it is wet.
func (s *state) bottom(rain, inflow, demand []float64, depletion float64) (t total, hours int) {
	p := &s.places[0]
	t.afterMM = p.heldMM
	for h := range rain {
		offered := rain[h] + inflow[h]/p.m3
		if offered > s.mixMMH || offered > s.mix.satMM-t.afterMM {
			return t, h
		}
		next := t
		s.calmHour(&next, offered, demand[h], depletion)
		if next.afterMM >= min(s.mix.wetMM, s.mix.airMM) {
			return t, h
		}
		t = next
	}
	return t, len(rain)
}

// calmHour takes one place through an hour in which it takes what it is offered.
func (s *state) calmHour(t *total, offeredMM, demandMM, depletion float64) {
	for range s.calm.count {
		c, used := s.mix.advance(t.afterMM, offeredMM, demandMM*s.calm.hours, depletion, &s.calm)
		t.afterMM = c.afterMM
		t.inMM += c.inMM
		t.seepedMM += c.seepedMM
		t.usedMM += used
	}
}

func (s *state) stretch(rain, demand []float64, depletion float64) stretch {
	s.number++
	t := stretch{rain: rain, demand: demand, depletion: depletion}
	ahead := 0.0
	for h, mm := range rain {
		net := mm - demand[h]
		t.highMM = max(t.highMM, ahead+mm)
		ahead += net
		t.rainMM += mm
		if mm > 0 {
			t.rainless = h + 1
		}
		t.demandMM += demand[h]
		t.wettestMM = max(t.wettestMM, mm)
		t.lowMM = min(t.lowMM, ahead)
	}
	return t
}

// steady takes a place through a stretch in which it stays in one piece; ok is
// false if it may not.
func (s *state) steady(heldMM float64, t *stretch) (out total, ok bool) {
	over := heldMM - s.mix.fieldMM
	switch {
	case over <= 0 && t.rainMM == 0:
		used := s.mix.use(heldMM, t.demandMM, t.depletion)
		return total{change{afterMM: heldMM - used}, used}, true
	case over+t.highMM <= 0 && over+t.depletion*s.mix.tawMM+t.lowMM >= t.wettestMM/2: // without stress
		return total{change{heldMM + t.rainMM - t.demandMM, t.rainMM, 0}, t.demandMM}, true
	}
	return total{}, false
}

// onePiece takes a place through a stretch in which it stays in one piece of the
// law; ok is false if it may not.
func (s *state) onePiece(heldMM float64, t *stretch) (out total, ok bool) {
	i := s.mix.law.at(heldMM)
	p, r := &s.mix.law.pieces[i], &s.runs[i]
	if r.number != s.number {
		*r = passage{number: s.number, decay: 1}
		step := s.whole.steps[i]
		for h, mm := range t.rain {
			r.decay *= step.decay
			r.leftMM = r.leftMM*step.decay + (mm-t.demand[h]-p.fromMMH)*step.gain
			r.leastMM, r.mostMM = min(r.leastMM, r.leftMM), max(r.mostMM, r.leftMM)
		}
	}
	into := heldMM - p.fromMM
	if into*r.decay+r.leastMM < 0 || into+r.mostMM > p.toMM-p.fromMM {
		return total{}, false
	}
	after := p.fromMM + into*r.decay + r.leftMM
	return total{change{after, t.rainMM, max(heldMM-after+t.rainMM-t.demandMM, 0)}, t.demandMM}, true
}

// through takes a place that held so much through a stretch.
func (s *state) through(heldMM float64, t *stretch) total {
	out, ok := s.steady(heldMM, t)
	if !ok && heldMM > s.mix.fieldMM {
		out, ok = s.onePiece(heldMM, t)
	}
	if ok {
		return out
	}
	if heldMM-s.mix.fieldMM+t.depletion*s.mix.tawMM+t.rainMM > 0 {
		return s.byHour(heldMM, t)
	}
	// Under stress throughout: an hour takes its share of what is left above
	// wilting, so the whole is a straight line of what was held.
	if !t.faded {
		s.fade(t)
	}
	out.afterMM = heldMM*t.kept + t.cameMM
	out.inMM, out.usedMM = t.rainMM, heldMM-out.afterMM+t.rainMM
	return out
}

// byHour takes a place through a stretch hour by hour, so far as that is needed.
func (s *state) byHour(heldMM float64, t *stretch) total {
	out := total{change: change{afterMM: heldMM}}
	for h := 0; h < len(t.rain); {
		switch {
		case out.afterMM > s.mix.fieldMM:
			h = s.drain(&out, t, h)
			continue
		case h >= t.rainless:
			demandMM := 0.0 // that is left
			for _, mm := range t.demand[h:len(t.rain)] {
				demandMM += mm
			}
			used := s.mix.use(out.afterMM, demandMM, t.depletion)
			out.afterMM -= used
			out.usedMM += used
			return out
		}
		s.calmHour(&out, t.rain[h], t.demand[h], t.depletion)
		h++
	}
	return out
}

// drain takes a place above field capacity from hour h through those in its piece of the
// law and the one in which it leaves that; it returns the hour after.
func (s *state) drain(out *total, t *stretch, h int) int {
	i := s.mix.law.at(out.afterMM)
	p, do := &s.mix.law.pieces[i], s.whole.steps[i]
	intoMM, wideMM := out.afterMM-p.fromMM, p.toMM-p.fromMM
	inMM, usedMM := 0.0, 0.0
	for ; h < len(t.rain); h++ {
		next := intoMM*do.decay + (t.rain[h]-t.demand[h]-p.fromMMH)*do.gain
		if next < 0 || next > wideMM {
			break
		}
		intoMM = next
		inMM += t.rain[h]
		usedMM += t.demand[h]
	}
	heldMM := p.fromMM + intoMM
	if h < len(t.rain) {
		after, left := s.mix.law.cross(heldMM, t.rain[h]-t.demand[h], 1, i)
		if left > 0 { // down to field capacity on the way
			out.drained(heldMM, inMM, usedMM)
			s.calmHour(out, t.rain[h], t.demand[h], t.depletion)
			return h + 1
		}
		heldMM = after
		inMM += t.rain[h]
		usedMM += t.demand[h]
		h++
	}
	out.drained(heldMM, inMM, usedMM)
	return h
}

// drained books hours in which all demand was met and what was not used seeped.
func (t *total) drained(afterMM, inMM, usedMM float64) {
	t.seepedMM += max(t.afterMM-afterMM+inMM-usedMM, 0)
	t.afterMM = afterMM
	t.inMM += inMM
	t.usedMM += usedMM
}

// fade works out what a stretch leaves of water under stress. As in advance,
// plants draw from what is there on average in a step while the rain comes.
func (s *state) fade(t *stretch) {
	t.faded, t.kept, t.cameMM = true, 1, 0
	for h := range t.rain {
		mm, gone := t.rain[h]*s.calm.hours, 0.0
		if demand := t.demand[h] * s.calm.hours; demand > 0 {
			gone = -math.Expm1(-demand / ((1 - t.depletion) * s.mix.tawMM))
		}
		for range s.calm.count {
			t.kept *= 1 - gone
			t.cameMM = t.cameMM*(1-gone) + mm - (mm/2-s.mix.fieldMM+s.mix.tawMM)*gone
		}
	}
}
