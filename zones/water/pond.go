package water

import "math"

// pondStep is a step with a pond, or with more water than the ground takes as
// it comes. The water at hand (pond, inflow, rain on open water, what runs off
// the open ground) stands at one level; ground under it takes water at the mix
// rate as long as it has room, or the soil below takes it; what is left above
// the spill leaves. The bottom lies under water through the whole step, a
// higher band in the share that the way of the level covers, from where it is
// to where the start of the step foresees its end.
func (s *state) pondStep(rainMM, inflowM3, demandMM, depletionShare float64) {
	openMM := min(rainMM, s.mixMMH*s.ponded.hours) // rain that open ground can take
	for i := range s.places {
		s.places[i].weighed = false
	}
	s.cover(s.levelMM)
	atHand, wanted := s.weigh(rainMM, openMM, inflowM3)
	s.cover(s.levelOf(atHand - wanted - demandMM*s.coveredM3()))
	atHand, wanted = s.weigh(rainMM, openMM, inflowM3)
	share := 1.0
	if wanted > atHand {
		share = atHand / wanted
	}
	atHand = s.soak(atHand, openMM, share)
	atHand += s.besidePond(openMM, demandMM, depletionShare)
	if demandMM > 0 {
		atHand = s.evaporate(atHand, demandMM, depletionShare)
	}
	s.pondM3 = max(atHand, 0)
	if s.pondM3 > s.spillM3 {
		s.volume.OverflowM3 += s.pondM3 - s.spillM3
		s.pondM3 = s.spillM3
	}
	s.levelMM = s.levelOf(s.pondM3)
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
	low, high := min(fromMM, toMM)-p.footMM, max(fromMM, toMM)-p.footMM
	height := p.topMM - p.footMM
	kink := limit * height
	switch {
	case high <= 0:
		return 0
	case low >= kink:
		return limit
	case high-low < 1e-6*height:
		return max(low, 0) / height
	}
	covered := min(high, kink)
	sum := covered*covered/(2*height) + limit*(high-covered)
	if low > 0 {
		sum -= low * low / (2 * height)
	}
	return sum / (high - low)
}

// cover sets what lies under water while the level goes from where it is to
// another, and at what rate the places can be fed from it: the mix rate where
// water stands, and no more than fills them up and seeps away.
func (s *state) cover(toMM float64) {
	bottom := &s.places[0]
	bottom.under, bottom.feedMMH = 1, s.mixMMH
	highest := max(s.levelMM, toMM)
	for s.wetted = 1; s.wetted < len(s.places); s.wetted++ {
		p := &s.places[s.wetted]
		if highest <= p.footMM {
			break // all that follow lie higher
		}
		p.under = p.meanShare(s.levelMM, toMM, 1)
		p.feedMMH = p.under * s.mixMMH
		if p.under == 1 {
			continue
		}
		if most := s.mix.seepMMH + (s.mix.satMM-p.heldMM)/s.ponded.hours; most < s.mixMMH {
			p.feedMMH = s.mixMMH * p.meanShare(s.levelMM, toMM, most/s.mixMMH)
		}
	}
}

// levelOf returns the level of the pond that a volume makes.
func (s *state) levelOf(volumeM3 float64) float64 {
	if volumeM3 <= s.filmM3 {
		return s.places[0].footMM
	}
	return s.Bed.LevelMM(min(volumeM3, s.spillM3))
}

// coveredM3 returns the volume of 1 mm over what lies under water.
func (s *state) coveredM3() float64 {
	total := 0.0
	for i := range s.places[:s.wetted] {
		total += s.places[i].under * s.places[i].m3
	}
	return total
}

// weigh lets every place that lies under water, in whole or part, take what it
// can, and returns the water at hand in a step and how much of it that takes,
// m3. Where a part lies under water the place as a whole is offered the mix
// rate on that part and the rain on the rest.
func (s *state) weigh(rainMM, openMM, inflowM3 float64) (atHand, wanted float64) {
	atHand = s.pondM3 + inflowM3 + (rainMM-openMM)*s.bedM3
	var below *place
	for i := range s.places[:s.wetted] {
		p := &s.places[i]
		rain := (1 - p.under) * openMM
		if offered := p.feedMMH + rain/s.ponded.hours; !p.weighed || p.offeredMMH != offered {
			p.weighed, p.offeredMMH = true, offered
			if below != nil && below.offeredMMH == offered && below.heldMM == p.heldMM {
				p.taking = below.taking
			} else {
				p.taking = s.mix.absorb(p.heldMM, offered, s.ponded.hours, s.ponded.decay)
			}
		}
		atHand += (openMM - rain) * p.m3
		wanted += max(p.taking.inMM-rain, 0) * p.m3
		below = p
	}
	return atHand, wanted
}

// soak lets the places under water have the rain on their open part, and their
// share of what they would take of the water at hand; it returns what is left
// of that, m3.
func (s *state) soak(atHand, openMM, share float64) float64 {
	for i := range s.places[:s.wetted] {
		p := &s.places[i]
		rain := (1 - p.under) * openMM
		c := p.taking
		if share < 1 {
			offered := rain + share*max(c.inMM-rain, 0)
			c = s.mix.absorb(p.heldMM, offered/s.ponded.hours, s.ponded.hours, s.ponded.decay)
		}
		atHand += (rain - c.inMM) * p.m3
		s.settle(p, c.afterMM, c.inMM, c.seepedMM, 0)
	}
	return atHand
}

// evaporate lets sun and plants take their part where water stands: from the
// open water so far as it lies and lasts, else from the mix. It returns what
// is left of the water, m3.
func (s *state) evaporate(atHand, demandMM, depletionShare float64) float64 {
	share := 1.0
	if open := demandMM * s.coveredM3(); open > atHand {
		share = max(atHand, 0) / open
	}
	for i := range s.places[:s.wetted] {
		p := &s.places[i]
		pond := share * p.under * demandMM
		used := s.mix.use(p.heldMM, demandMM-pond, depletionShare)
		atHand -= pond * p.m3
		s.settle(p, p.heldMM-used, pond, 0, pond+used)
	}
	return atHand
}

// besidePond does the step for the places that lie wholly above the water, and
// returns the volume of rain that they do not take.
func (s *state) besidePond(openMM, demandMM, depletionShare float64) (leftM3 float64) {
	hours := s.ponded.hours
	lastMM, used := math.NaN(), 0.0
	var c change
	for i := s.wetted; i < len(s.places); i++ {
		p := &s.places[i]
		if p.heldMM != lastMM {
			lastMM = p.heldMM
			c, used = s.mix.advance(p.heldMM, openMM/hours, demandMM, depletionShare, hours, s.ponded.decay)
		}
		leftM3 += (openMM - c.inMM) * p.m3
		s.settle(p, c.afterMM, c.inMM, c.seepedMM, used)
	}
	return leftM3
}
