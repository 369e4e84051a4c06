package water

import (
	"math"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

const (
	// An hour with a pond is cut in 2 to the power of finest steps at most, and
	// in so many that none moves much more than stepShare of a full pond.
	finest    = 5
	stepShare = 1.0 / 32
	// The end of a step over thirsty ground is sought so often, to settled of its way at most.
	settled = 1e-9
	seeks   = 40
	// film is the share of the full pond that counts as none: it waits on the
	// bottom for the next water, so that none is lost.
	film = 1e-6
	// fastestMMH stands for a mix that takes any rain at once.
	fastestMMH = 1e5
)

// place is one band at one moment: what it is, what it holds, and what the
// last hour did to it.
type place struct {
	footMM, topMM float64
	perMM         float64 // 1 over its height
	m3            float64 // volume of 1 mm over it
	heldMM        float64 // in the mix

	intakeMM float64 // into the mix, or used from the pond over it
	seepedMM float64 // into the soil below
	usedMM   float64 // evapotranspiration, with the pond's share

	// Within a step with a pond:
	under     float64 // share that lies under water, on average
	rainMM    float64 // on the rest, as mm over the whole
	offeredMM float64 // that, and what the pond feeds
	takenMM   float64 // of what is offered, if there is water enough
	solved    bool    // taking is known before it is sure that there is
	taking    change  // what the step does to the mix, before plants draw on it
}

// change is what a time does to the mix of one place.
type change struct{ afterMM, inMM, seepedMM float64 }

// state is the balance at one moment, with what it needs to move on.
type state struct {
	Setup
	bands   []basin.Band
	places  []place
	mix     store
	mixMMH  float64 // MixKMMH, finite
	spillM3 float64
	filmM3  float64
	// gentleMM is what ground may take in a step that is foreseen at once: half of what
	// a band needs so that a level 1 mm higher is asked for 1 mm more of the pond.
	gentleMM float64
	bedM3    float64 // volume of 1 mm over the bed
	calm     pace    // without a pond
	whole    pace    // an hour in one step
	paces    [finest + 1]pace
	runs     [lawPieces]passage // of the stretch that is numbered
	number   int
	ponded   *pace   // with one, in this hour
	beside   stretch // a step of this hour, for places above the water
	reach    int     // places that this hour's water may come to
	leftM3   float64 // of the rain on those above, what they do not take in a step

	inflowM3 float64 // of the last hour that was moved on by itself
	pondM3   float64
	levelMM  float64 // of the pond; bottom level if there is none
	wetted   int     // within a step with a pond: places that lie under water, in part at least
	catches  []catchState
	volume   Balance
	startM3  float64 // stored when volume was last set to nothing

	moved    bool    // the last hour moved water, so that the places' figures are not all 0
	draining bool    // a place may hold more than calmMM
	calmMM   float64 // up to this a place neither drains nor is wet or short of air
}

// pace is how an hour is cut.
type pace struct {
	count int     // of steps
	hours float64 // of one
	perH  float64 // 1 over that
	steps []step  // what one does in each piece of the law; nil: worked out when needed
}

func newState(s Setup) *state {
	bands := s.Bed.Bands()
	st := &state{
		Setup: s, bands: bands, places: make([]place, len(bands)),
		mix:     newStore(s.MixFC, s.MixWP, s.MixSat, s.MixDepthMM, s.MixKMMH, s.NativeKMMH),
		mixMMH:  min(s.MixKMMH, fastestMMH),
		spillM3: s.Bed.SpillVolumeM3(), levelMM: bands[0].FootMM,
		catches: make([]catchState, len(s.Catches)),
	}
	st.filmM3 = film * st.spillM3
	for k := range st.paces {
		st.paces[k] = st.mix.law.pace(s.StepsPerH << k)
	}
	st.calmMM = min(st.mix.fieldMM, math.Nextafter(st.mix.wetMM, 0), st.mix.airMM)
	st.draining = st.mix.fieldMM > st.calmMM
	st.calm = st.paces[0]
	st.whole = st.mix.law.pace(1)
	st.gentleMM = math.Inf(1)
	for i, b := range bands {
		m3 := max(b.AreaM2, 0) / 1000
		st.places[i] = place{footMM: b.FootMM, topMM: b.TopMM, perMM: 1 / (b.TopMM - b.FootMM), m3: m3, heldMM: st.mix.fieldMM}
		if i > 0 && m3 > 0 {
			st.gentleMM = min(st.gentleMM, (b.TopMM-b.FootMM)*st.bedM3/m3/2)
		}
		st.bedM3 += m3
	}
	for i, c := range s.Catches {
		st.catches[i] = catchState{Catch: c, wettingMM: c.LossMM}
	}
	return st
}

func (l *law) pace(count int) pace {
	p := pace{count: count, hours: 1 / float64(count), perH: float64(count), steps: make([]step, l.n)}
	for i := range p.steps {
		p.steps[i] = l.pieces[i].step(p.hours)
	}
	return p
}

// begin sets the volumes to nothing.
func (s *state) begin() {
	s.volume = Balance{}
	s.startM3 = s.storedM3()
}

// volumes returns the volumes since begin.
func (s *state) volumes() Balance {
	v := s.volume
	v.StoredChangeM3 = s.storedM3() - s.startM3
	return v
}

// storedM3 returns the water in the pond and the mix.
func (s *state) storedM3() float64 {
	total := s.pondM3
	for i := range s.places {
		total += s.places[i].heldMM * s.places[i].m3
	}
	return total
}

// day prepares what changes by the day: ET0 and p.
func (s *state) day(d site.Day) (et0MM, p float64) {
	return d.ET0MM, DepletionFraction(s.PTab, s.Kc*d.ET0MM)
}

// hour moves the balance on by one hour: rainMM fell evenly in it, et0MM is
// the reference evapotranspiration in it, p the depletion fraction of the day.
func (s *state) hour(rainMM, et0MM, p float64) {
	s.move(rainMM, s.inflow(rainMM, et0MM), s.Kc*et0MM, p)
}

// move is hour, with what the inlet lets in and what plants and sun ask for.
func (s *state) move(rainMM, inflowM3, demandMM, p float64) {
	s.forget()
	s.inflowM3 = inflowM3
	s.volume.RainOnBedM3 += rainMM * s.bedM3
	if !s.hasPond() && s.takesAll(rainMM, inflowM3) {
		if rainMM == 0 && demandMM == 0 && !s.draining {
			return
		}
		s.moved = true
		h := s.calm.hours
		for range s.calm.count {
			s.calmStep(rainMM*h, inflowM3*h, demandMM*h, p)
		}
		return
	}
	s.moved, s.draining = true, true
	s.ponded = s.pondPace(rainMM, inflowM3)
	h := s.ponded.hours
	s.aboveWater(rainMM, inflowM3, demandMM, p)
	s.besideWater(rainMM*h, demandMM*h, p)
	for range s.ponded.count {
		s.pondStep(rainMM*h, inflowM3*h, demandMM*h, p)
	}
}

// forget clears what the hour before did.
func (s *state) forget() {
	if !s.moved {
		return
	}
	s.moved = false
	for i := range s.places {
		p := &s.places[i]
		p.intakeMM, p.seepedMM, p.usedMM = 0, 0, 0
	}
}

// today works out what a day's hours bring from the catches and ask for.
func (s *state) today(rain []float64, et0MM float64, rainless bool, share, inflow, demand *[24]float64) {
	for h := range demand {
		demand[h] = s.Kc * (et0MM * share[h])
	}
	if rainless {
		clear(inflow[:])
		s.dryCatches(et0MM)
		return
	}
	for h := range inflow {
		inflow[h] = s.inflow(rain[h], et0MM*share[h])
	}
}

// dryCatches lets a day without rain pass over the catches.
func (s *state) dryCatches(et0MM float64) {
	for i := range s.catches {
		s.catches[i].dry(24, et0MM)
	}
}

// inflow lets the rain of an hour run off the catches and returns what the
// inlet lets in, m3.
func (s *state) inflow(rainMM, et0MM float64) float64 {
	runoff, overGround := 0.0, 0.0
	for i := range s.catches {
		m3 := s.catches[i].runoffM3(rainMM, et0MM)
		runoff += m3
		if s.catches[i].CurveNumber > 0 {
			overGround += m3
		}
	}
	if runoff == 0 {
		return 0
	}
	inflow := overGround + min(runoff-overGround, s.InletM3H)
	s.volume.RunoffM3 += runoff
	s.volume.BypassM3 += runoff - inflow
	s.volume.InflowM3 += inflow
	return inflow
}

func (s *state) hasPond() bool { return s.pondM3 > s.filmM3 }

// takesAll says whether the rain and inflow of an hour enter the mix as they
// come, so that no water stands: the inflow in the lowest band.
func (s *state) takesAll(rainMM, inflowM3 float64) bool {
	if rainMM == 0 {
		return true // hence no inflow
	}
	for i := range s.places {
		offered := rainMM
		if i == 0 {
			offered += inflowM3 / s.places[0].m3
		}
		if offered > s.mixMMH || offered > s.mix.satMM-s.places[i].heldMM {
			return false
		}
	}
	return true
}

// pondPace says how to cut an hour with a pond, from how fast water comes and
// goes at its start.
func (s *state) pondPace(rainMM, inflowM3 float64) *pace {
	comes, goes := inflowM3+rainMM*s.bedM3, 0.0
	for i := range s.places {
		p := &s.places[i]
		if i > 0 && p.footMM >= s.levelMM {
			break
		}
		goes += min(s.mixMMH, s.mix.satMM-p.heldMM+s.mix.seepMMH) * p.m3
	}
	parts := max(comes, goes) / (stepShare * s.spillM3)
	k := 1
	for k < finest && float64(int(1)<<k) < parts {
		k++
	}
	return &s.paces[k]
}

// calmStep is a step without a pond: every place drains and dries alone, with the rain on
// it, the lowest with the inflow too.
func (s *state) calmStep(rainMM, inflowM3, demandMM, depletionShare float64) {
	s.draining = false
	hours := s.calm.hours
	lastMM, used := math.NaN(), 0.0
	seepedM3, usedM3 := 0.0, 0.0
	var c change
	for i := range s.places {
		p := &s.places[i]
		offered := rainMM
		if i == 0 {
			offered += inflowM3 / p.m3
		}
		if p.heldMM != lastMM || i == 1 && inflowM3 > 0 {
			lastMM = p.heldMM
			c, used = s.mix.advance(p.heldMM, offered/hours, demandMM, depletionShare, &s.calm)
			s.draining = s.draining || c.afterMM > s.calmMM
		}
		p.settle(c.afterMM, c.inMM, c.seepedMM, used)
		seepedM3 += c.seepedMM * p.m3
		usedM3 += used * p.m3
		s.pondM3 += (offered - c.inMM) * p.m3 // rounding, as takesAll is true
	}
	s.lose(seepedM3, usedM3)
}

// settle books what a step did to a place.
func (p *place) settle(heldMM, inMM, seepedMM, usedMM float64) {
	p.heldMM = heldMM
	p.intakeMM += inMM
	p.seepedMM += seepedMM
	p.usedMM += usedMM
}

// lose books what seeped and what was used of all places.
func (s *state) lose(seepedM3, usedM3 float64) {
	s.volume.InfiltratedM3 += seepedM3
	s.volume.EvaporatedM3 += usedM3
}
