package water

import "math"

// pondStep is a step with a pond, or with more water than the ground takes as
// it comes. The water at hand (pond, inflow, rain on open water, what runs off
// the open ground) stands at one level; ground under it takes water at the mix
// rate as long as it has room, or the soil below takes it; what is left above
// the spill leaves. The bottom lies under water through the whole step, a
// higher band in the share that the way of the level covers, from where it is
// to where the step is foreseen to end.
func (s *state) pondStep(rainMM, inflowM3, demandMM, depletionShare float64) {
	openMM := s.beside.rainMM
	atHand := s.pondM3 + inflowM3 + (rainMM-openMM)*s.bedM3
	s.wetted = 0
	n := s.foresee(atHand, openMM, demandMM)
	atHand = s.soak(n.atHandM3, n.wantedM3)
	atHand += s.besidePond() + s.leftM3
	atHand = s.evaporate(atHand, demandMM, n.openM3, depletionShare)
	s.pondM3 = max(atHand, 0)
	if s.pondM3 > s.spillM3 {
		s.volume.OverflowM3 += s.pondM3 - s.spillM3
		s.pondM3 = s.spillM3
	}
	s.levelMM = s.levelOf(s.pondM3)
}

// share is meanShare, quick where the level stays, over the foot.
func (p *place) share(fromMM, toMM, limit float64) float64 {
	if fromMM == toMM {
		if share := (toMM - p.footMM) * p.perMM; share < limit {
			return share
		}
		return limit
	}
	return p.meanShare(fromMM, toMM, limit)
}

// meanShare returns how much of a place above the bottom lies under water
// while the level goes from one height to another, on average over the way and
// counting no more than cap at any moment. With z the height over the foot and
// H that of the band, the share is z / H, and its integral over z
//
//	G(z) = 0                     z <= 0
//	       z^2 / (2 H)           up to z = cap H
//	       cap z - cap^2 H / 2   above
//
// so the mean is (G(to) - G(from)) / (to - from). The ground is taken to rise
// evenly from foot to top.
func (p *place) meanShare(fromMM, toMM, limit float64) float64 {
	low, high := fromMM-p.footMM, toMM-p.footMM
	if low > high {
		low, high = high, low
	}
	height := p.topMM - p.footMM
	kink := limit * height
	switch {
	case high <= 0:
		return 0
	case low >= kink:
		return limit
	case high-low < 1e-6*height:
		return max(low, 0) * p.perMM
	}
	covered := high
	if covered > kink {
		covered = kink
	}
	sum := covered*covered*(p.perMM/2) + limit*(high-covered)
	if low > 0 {
		sum -= low * low * (p.perMM / 2)
	}
	return sum / (high - low)
}

// need is what it means for a step that the pond goes to some level.
type need struct {
	openM3   float64 // volume of 1 mm over what lies under water
	atHandM3 float64 // water at hand, with the rain on that
	wantedM3 float64 // what the ground there takes of the water at hand, if there is enough
}

// weigh sets what lies under water while the level goes from where it is to
// another, and what the places there are offered: the mix rate where water
// stands, and no more than fills them up and seeps away, and on the rest the rain.
// What the step before weighed of them, up to wetted, is kept where it is the same.
func (s *state) weigh(toMM, atHandM3, openMM float64) need {
	n := need{atHandM3: atHandM3}
	pace, mixMMH, levelMM, known := s.ponded, s.mixMMH, s.levelMM, s.wetted
	highest := levelMM
	if toMM > highest {
		highest = toMM
	}
	i, places := 0, s.places[:s.reach]
	for ; i < len(places); i++ {
		p := &places[i]
		under, feedMMH := 1.0, mixMMH
		if i > 0 {
			if highest <= p.footMM {
				break // all that follow lie higher
			}
			if levelMM < p.topMM || toMM < p.topMM {
				under = p.share(levelMM, toMM, 1)
				feedMMH *= under
				if most := s.mix.seepMMH + (s.mix.satMM-p.heldMM)*pace.perH; most < mixMMH {
					feedMMH = mixMMH * p.share(levelMM, toMM, most/mixMMH)
				}
			}
		}
		p.under, p.rainMM = under, (1-under)*openMM
		if offered := feedMMH*pace.hours + p.rainMM; i >= known || offered != p.offeredMM {
			p.offeredMM = offered
			s.offer(i)
		}
		n.openM3 += under * p.m3
		n.atHandM3 += (openMM - p.rainMM) * p.m3
		if more := p.takenMM - p.rainMM; more > 0 {
			n.wantedM3 += more * p.m3
		}
	}
	s.wetted = i
	return n
}

// foresee weighs a step for the level that it ends with, as the start foresees it.
// Where ground that the water just reaches takes much more than comes, the level that
// this leaves lies far on the other side, and the next step is further out, until a
// rounding decides: there the level is sought between them that foresees itself, within
// settled of the way (false position, Illinois).
func (s *state) foresee(atHandM3, openMM, demandMM float64) need {
	var n need
	end := func(levelMM float64) (higherMM float64) { // than foreseen
		n = s.weigh(levelMM, atHandM3, openMM)
		return s.levelOf(n.atHandM3-n.wantedM3-demandMM*n.openM3) - levelMM
	}
	a := s.levelMM
	aMM := end(a)
	b := a + aMM
	if s.mixMMH*s.ponded.hours <= s.gentleMM {
		return s.weigh(b, atHandM3, openMM)
	}
	bMM, enough := end(b), settled*math.Abs(aMM)
	for k := 0; k < seeks && math.Abs(bMM) > enough && (aMM < 0) != (bMM < 0); k++ {
		c := b - bMM*(b-a)/(bMM-aMM)
		cMM := end(c)
		if (cMM < 0) != (bMM < 0) {
			a, aMM = b, bMM
		} else {
			aMM /= 2
		}
		b, bMM = c, cMM
	}
	return n
}

// offer sets what a place takes of what it is offered. Where it may not take all
// that is solved at once, unless the place below, as full, is offered the same.
func (s *state) offer(i int) {
	p := &s.places[i]
	p.takenMM, p.solved = p.offeredMM, p.heldMM+p.offeredMM > s.mix.satMM
	if !p.solved {
		return
	}
	if i > 0 && s.places[i-1].solved && s.places[i-1].heldMM == p.heldMM && s.places[i-1].offeredMM == p.offeredMM {
		p.taking = s.places[i-1].taking
	} else {
		p.taking = s.mix.absorb(p.heldMM, p.offeredMM*s.ponded.perH, 0, s.ponded)
	}
	p.takenMM = p.taking.inMM
}

// levelOf returns the level of the pond that a volume makes.
func (s *state) levelOf(volumeM3 float64) float64 {
	if volumeM3 <= s.filmM3 {
		return s.places[0].footMM
	}
	return s.Bed.LevelMM(min(volumeM3, s.spillM3))
}

// soak lets places under water have the rain on their open part and what they can take,
// or their share, of the water at hand; it returns what is left, m3.
func (s *state) soak(atHand, wantedM3 float64) float64 {
	share := 1.0
	if wantedM3 > atHand {
		share = atHand / wantedM3
	}
	places, pace := s.places[:s.wetted], s.ponded
	for i := range places {
		p := &places[i]
		if share < 1 || !p.solved {
			offered := p.offeredMM
			if share < 1 {
				offered = p.rainMM + share*max(p.takenMM-p.rainMM, 0)
			}
			p.taking = s.mix.absorb(p.heldMM, offered*pace.perH, 0, pace)
		}
		atHand += (p.rainMM - p.taking.inMM) * p.m3
	}
	return atHand
}

// evaporate lets sun and plants take their part where water stands: from the
// open water so far as it lies and lasts, else from the mix. It returns what
// is left of the water, m3.
func (s *state) evaporate(atHand, demandMM, openM3, depletionShare float64) float64 {
	share := 1.0
	if open := demandMM * openM3; open > max(atHand, 0) {
		share = max(atHand, 0) / open
	}
	seepedM3, usedM3 := 0.0, 0.0
	places := s.places[:s.wetted]
	for i := range places {
		p := &places[i]
		c := &p.taking
		pond, used := share*p.under*demandMM, 0.0
		if pond < demandMM {
			used = s.mix.use(c.afterMM, demandMM-pond, depletionShare)
		}
		atHand -= pond * p.m3
		p.settle(c.afterMM-used, c.inMM+pond, c.seepedMM, pond+used)
		seepedM3 += c.seepedMM * p.m3
		usedM3 += (pond + used) * p.m3
	}
	s.lose(seepedM3, usedM3)
	return atHand
}

// aboveWater takes the places that no water can come to in an hour with a pond, even if
// all that comes were to stay, through that hour at once.
func (s *state) aboveWater(rainMM, inflowM3, demandMM, depletionShare float64) {
	highest := s.levelMM
	if rainMM > 0 {
		highest = max(highest, s.levelOf(s.pondM3+inflowM3+rainMM*s.bedM3))
	}
	s.reach = 1
	for s.reach < len(s.places) && s.places[s.reach].footMM < highest {
		s.reach++
	}
	t := steadyRain(min(rainMM, s.mixMMH), demandMM, depletionShare)
	lastMM := math.NaN()
	var last total
	leftM3, seepedM3, usedM3 := 0.0, 0.0, 0.0
	places := s.places[s.reach:]
	for i := range places {
		p := &places[i]
		if p.heldMM != lastMM {
			lastMM = p.heldMM
			var ok bool
			if last, ok = s.steady(lastMM, &t); !ok {
				last = total{change: change{afterMM: lastMM}}
				s.calmHour(&last, t.rainMM, demandMM, depletionShare)
			}
		}
		p.settle(last.afterMM, last.inMM, last.seepedMM, last.usedMM)
		leftM3 += (t.rainMM - last.inMM) * p.m3
		seepedM3 += last.seepedMM * p.m3
		usedM3 += last.usedMM * p.m3
	}
	s.lose(seepedM3, usedM3)
	s.leftM3 = leftM3 * s.ponded.hours
}

// besideWater says what the steps of an hour with a pond bring to places above it
// that it may come to.
func (s *state) besideWater(rainMM, demandMM, depletionShare float64) {
	s.beside = steadyRain(min(rainMM, s.mixMMH*s.ponded.hours), demandMM, depletionShare)
}

// steadyRain is the stretch of a step: rain that open ground can take.
func steadyRain(rainMM, demandMM, depletionShare float64) stretch {
	return stretch{
		depletion: depletionShare, rainMM: rainMM, demandMM: demandMM, wettestMM: rainMM,
		lowMM: min(rainMM-demandMM, 0), highMM: rainMM,
	}
}

// besidePond does the step for the places that lie wholly above the water, and
// returns the volume of rain that they do not take.
func (s *state) besidePond() (leftM3 float64) {
	t := &s.beside
	lastMM := math.NaN()
	var last total
	seepedM3, usedM3 := 0.0, 0.0
	places := s.places[s.wetted:s.reach]
	for i := range places {
		p := &places[i]
		if p.heldMM != lastMM {
			lastMM = p.heldMM
			var ok bool
			if last, ok = s.steady(lastMM, t); !ok {
				last.change, last.usedMM = s.mix.advance(lastMM, t.rainMM*s.ponded.perH, t.demandMM, t.depletion, s.ponded)
			}
		}
		p.settle(last.afterMM, last.inMM, last.seepedMM, last.usedMM)
		leftM3 += (t.rainMM - last.inMM) * p.m3
		seepedM3 += last.seepedMM * p.m3
		usedM3 += last.usedMM * p.m3
	}
	s.lose(seepedM3, usedM3)
	return leftM3
}
