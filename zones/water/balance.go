// Package water runs the hourly water balance of a bed and finds the wet and
// dry spells of every place in it.
//
// Input is a Setup (catch area, bed, soils) and a weather record; output is a
// Result: the volumes that went in and out, and for each elevation band and
// year the longest wet and dry spells with their dates.
package water

import (
	"fmt"
	"math"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

// Setup is what the balance needs to know beside the weather.
type Setup struct {
	Bed     *basin.Basin
	Catches []Catch
	// InletM3H is the most that the way in can carry, m3/h; +Inf if unlimited.
	// What exceeds it never reaches the bed.
	InletM3H float64

	MixFC, MixWP, MixSat float64 // water contents of the bed mix, volume fractions
	MixDepthMM           float64
	MixKMMH              float64 // rate at which water enters the mix, mm/h
	NativeKMMH           float64 // rate at which the soil below takes it, mm/h

	Kc   float64 // crop coefficient of the planted bed
	PTab float64 // share of TAW taken without stress at ETc 5 mm/d (FAO-56 Table 22)

	LatitudeDeg float64
	StepsPerH   int // 1 for ordinary use; 2 halves every step
}

// Catch is one surface that drains to the bed: by coefficient and loss (a
// roof), or by curve number (ground) where that is above 0.
type Catch struct {
	AreaM2      float64 // plan area
	Coefficient float64 // share of the rain that runs off once it is wet
	LossMM      float64 // rain that wets it first; dries out at the rate of ET0
	CurveNumber float64 // 0, or NRCS curve number: then the storm's rain so far decides
}

// stormGapH ends a storm, for curve numbers: rainless hours. Common practice,
// no source.
const stormGapH = 12

// catchState is a catch at one moment.
type catchState struct {
	lossMM   float64 // still to wet
	stormMM  float64 // rain of this storm so far
	rainless float64 // hours since it last rained
}

// Balance holds the volumes of a run in m3. RunoffM3 left the catch areas;
// BypassM3 of it was more than the inlet could carry.
type Balance struct {
	RainOnBedM3    float64
	RunoffM3       float64
	BypassM3       float64
	InflowM3       float64
	InfiltratedM3  float64 // taken by the soil below the mix
	EvaporatedM3   float64
	OverflowM3     float64
	StoredChangeM3 float64
}

// Closure returns |in - out - stored| / in, 0 for a run without water.
func (b Balance) Closure() float64 {
	in := b.RainOnBedM3 + b.InflowM3
	if in == 0 {
		return 0
	}
	return math.Abs(in-b.InfiltratedM3-b.EvaporatedM3-b.OverflowM3-b.StoredChangeM3) / in
}

// CapturedFraction returns the share of the runoff that neither passed the
// inlet by nor left over the spill: 1 - (bypass + overflow) / runoff, not
// below 0. Overflow of rain that fell on the bed itself counts against it.
// NaN if there was no runoff.
func (b Balance) CapturedFraction() float64 {
	return max(0, 1-(b.BypassM3+b.OverflowM3)/b.RunoffM3)
}

// pondSubsteps is how finely an hour with water in the pond is cut.
const pondSubsteps = 4

// state is the balance at one moment, with what it needs to move on.
type state struct {
	Setup
	bands  []basin.Band
	mix    store
	spill  float64   // m3
	pond   float64   // m3
	level  float64   // mm, of the pond; bottom level if empty
	held   []float64 // mm by band
	roofs  []catchState
	volume Balance

	// what the last hour did, for spells and traces
	intake []float64 // mm by band, into the mix or used from the pond over it
	seeped []float64 // mm by band
	used   []float64 // mm by band, evapotranspiration with the pond's share

	under  []float64 // submerged share by band in the last wet step
	areaM3 []float64 // m3 of one mm, by band
	bedM3  float64   // m3 of one mm on the bed
}

func (s Setup) check() error {
	for name, v := range map[string]float64{
		"mix depth": s.MixDepthMM, "mix rate": s.MixKMMH, "native rate": s.NativeKMMH, "crop coefficient": s.Kc, "inlet capacity": s.InletM3H,
	} {
		if !(v >= 0) {
			return fmt.Errorf("water balance: %s is %g: want a number of at least 0", name, v)
		}
	}
	if !(0 <= s.MixWP && s.MixWP < s.MixFC && s.MixFC < s.MixSat && s.MixSat <= 1 && s.MixDepthMM > 0) {
		return fmt.Errorf("water balance: mix water contents are wilting %g, field %g, full %g over %g mm: want them rising between 0 and 1 over some depth", s.MixWP, s.MixFC, s.MixSat, s.MixDepthMM)
	}
	for _, c := range s.Catches {
		if !(c.AreaM2 >= 0 && c.CurveNumber >= 0 && c.CurveNumber <= 100 && c.Coefficient >= 0 && c.Coefficient <= 1 && c.LossMM >= 0) {
			return fmt.Errorf("water balance: catch of %g m2, coefficient %g, loss %g mm, curve number %g: want none below 0, a coefficient of at most 1 and a curve number of at most 100", c.AreaM2, c.Coefficient, c.LossMM, c.CurveNumber)
		}
	}
	return nil
}

func newState(s Setup) *state {
	bands := s.Bed.Bands()
	n := len(bands)
	st := &state{
		Setup: s, bands: bands, spill: s.Bed.SpillVolumeM3(),
		mix:  newStore(s.MixFC, s.MixWP, s.MixSat, s.MixDepthMM, s.NativeKMMH),
		held: make([]float64, n), intake: make([]float64, n), seeped: make([]float64, n), used: make([]float64, n),
		under: make([]float64, n), areaM3: make([]float64, n), roofs: make([]catchState, len(s.Catches)),
	}
	for i, b := range bands {
		st.held[i] = st.mix.fieldMM
		st.areaM3[i] = b.AreaM2 / 1000
		st.bedM3 += st.areaM3[i]
	}
	for i, c := range s.Catches {
		st.roofs[i].lossMM = c.LossMM
	}
	st.level = bands[0].FootMM
	return st
}

// runoff returns the m3 that leave the catch areas in an hour with rainMM of
// rain, and lets them dry by et0MM. For a roof V = (rain - what wets it first)
// x coefficient x area, common practice, no source; for ground the growth of
// the curve-number runoff of the storm so far, TR-55 Eq. 2-1 [S5].
func (s *state) runoff(rainMM, et0MM float64) float64 {
	total := 0.0
	for i, c := range s.Catches {
		r := &s.roofs[i]
		if c.CurveNumber > 0 {
			if rainMM == 0 {
				if r.rainless++; r.rainless >= stormGapH {
					r.stormMM = 0
				}
				continue
			}
			r.rainless = 0
			before := site.RunoffMM(r.stormMM, c.CurveNumber)
			r.stormMM += rainMM
			total += (site.RunoffMM(r.stormMM, c.CurveNumber) - before) * c.AreaM2 / 1000
			continue
		}
		wetting := min(r.lossMM, rainMM)
		total += (rainMM - wetting) * c.Coefficient * c.AreaM2 / 1000
		r.lossMM = min(c.LossMM, r.lossMM-wetting+et0MM)
	}
	return total
}

// hour moves the balance on by one hour: rainMM fell evenly in it, et0MM is
// the reference evapotranspiration in it, p the depletion fraction of the day.
func (s *state) hour(rainMM, et0MM, p float64, decay *decays) {
	clear(s.intake)
	clear(s.seeped)
	clear(s.used)
	runoff := s.runoff(rainMM, et0MM)
	inflow := min(runoff, s.InletM3H)
	s.volume.RunoffM3 += runoff
	s.volume.BypassM3 += runoff - inflow
	s.volume.InflowM3 += inflow

	n := s.StepsPerH
	d := decay.calm
	switch {
	case rainMM == 0 && inflow == 0 && s.pond == 0:
		for range n {
			s.dryStep(1/float64(n), et0MM*s.Kc/float64(n), p, d)
		}
		return
	case s.pond > 0 || !s.bottomTakes(rainMM, inflow):
		n, d = n*pondSubsteps, decay.pond
	}
	part := 1 / float64(n)
	for range n {
		s.wetStep(part, rainMM*part, inflow*part, et0MM*s.Kc*part, p, d)
	}
}

// bottomTakes says whether rain and inflow of an hour enter the lowest band as
// they come, so that no water stands and the hour needs no finer cutting.
func (s *state) bottomTakes(rainMM, inflowM3 float64) bool {
	perBottomMM := rainMM + 1000*inflowM3/s.bands[0].AreaM2
	return rainMM <= s.MixKMMH && perBottomMM <= s.MixKMMH && perBottomMM <= s.mix.satMM-s.held[0]
}

// dryStep is a step without rain, inflow or pond: bands drain and dry alone.
func (s *state) dryStep(hours, demandMM, p, decay float64) {
	for i, held := range s.held {
		if held > s.mix.fieldMM {
			var out float64
			held, _, out = s.mix.absorb(held, 0, hours, decay)
			s.seeped[i] += out
			s.volume.InfiltratedM3 += out * s.bands[i].AreaM2 / 1000
		}
		use := s.mix.draw(held, demandMM, p)
		s.used[i] += use
		s.volume.EvaporatedM3 += use * s.bands[i].AreaM2 / 1000
		s.held[i] = held - use
	}
}

// wetStep is a step with rain, inflow or a pond. The water at hand (pond,
// inflow, rain on open water, what runs off the open ground) stands at one
// level; every band under it takes water at the mix rate as long as it has
// room or the soil below takes it; what is left above the spill leaves. Which
// share of a band lies under water is the mean of the start of the step and
// of its end as foreseen from the start, so that a trickle which the bottom
// takes as it comes does not wet the slope.
func (s *state) wetStep(hours, rainMM, inflowM3, demandMM, p, decay float64) {
	open := min(rainMM, s.MixKMMH*hours) // rain that open ground can take
	taken := s.submerge(s.pond, hours, 0)
	foreseen := s.pond + inflowM3 + s.submergedM2()*rainMM/1000 - taken
	wanted := s.submerge(foreseen, hours, 0.5)

	atHand := s.pond + inflowM3
	for i := range s.bands {
		atHand += (s.under[i]*rainMM + (1-s.under[i])*(rainMM-open)) * s.areaM3[i]
	}
	share := 1.0
	if wanted > atHand {
		share = max(0, atHand) / wanted
	}
	for i := range s.bands {
		s.soak(i, hours, open, share, demandMM, p, decay, &atHand)
	}
	s.volume.RainOnBedM3 += rainMM * s.bedM3
	s.settle(atHand)
}

// submerge sets the submerged shares for a pond volume, mixing in keep of the
// shares there are, and returns the m3 that the bands under water can take in
// the time at most.
func (s *state) submerge(pondM3, hours, keep float64) (takeM3 float64) {
	level := s.bands[0].FootMM
	if pondM3 > 0 {
		level = s.Bed.LevelMM(min(pondM3, s.spill))
	}
	most := s.MixKMMH * hours
	below := s.mix.seepMMH * hours
	for i := range s.bands {
		f := keep * s.under[i]
		if keep < 1 {
			f += (1 - keep) * submerged(&s.bands[i], level)
		}
		s.under[i] = f
		if f > 0 {
			takeM3 += f * min(most, s.mix.satMM-s.held[i]+below) * s.areaM3[i]
		}
	}
	return takeM3
}

func (s *state) submergedM2() float64 {
	total := 0.0
	for i, f := range s.under {
		total += f * s.bands[i].AreaM2
	}
	return total
}

// settle ends a step: what is above the spill leaves, and a film too thin to
// count goes to the lowest band, so that no water is lost.
func (s *state) settle(atHandM3 float64) {
	s.pond = atHandM3
	if s.pond > s.spill {
		s.volume.OverflowM3 += s.pond - s.spill
		s.pond = s.spill
	}
	if s.pond < dryFilmM3 {
		s.held[0] += s.pond / s.areaM3[0]
		s.pond = 0
	}
	s.level = s.bands[0].FootMM
	if s.pond > 0 {
		s.level = s.Bed.LevelMM(s.pond)
	}
}

// dryFilmM3 is the pond volume counted as none; it goes to the lowest band.
const dryFilmM3 = 1e-9

// soak moves water into band i: the share that pond and rain offer it, and
// lets plants and sun take theirs.
func (s *state) soak(i int, hours, openMM, share, demandMM, p, decay float64, atHand *float64) {
	f, m3 := s.under[i], s.areaM3[i]
	rain := (1 - f) * openMM
	offered := rain
	if f > 0 {
		offered += share * f * min(s.MixKMMH*hours, s.mix.satMM-s.held[i]+s.mix.seepMMH*hours)
	}
	after, in, out := s.mix.absorb(s.held[i], offered/hours, hours, decay)
	fromRain := min(rain, in)
	fromPond := in - fromRain
	*atHand += (rain-fromRain)*m3 - fromPond*m3

	fromOpen := 0.0
	if f > 0 {
		fromOpen = min(f*demandMM, max(*atHand, 0)/m3)
		*atHand -= fromOpen * m3
	}
	use := (1 - f) * s.mix.draw(after, demandMM, p)
	s.held[i] = after - use
	s.intake[i] += in + fromOpen
	s.seeped[i] += out
	s.used[i] += use + fromOpen
	s.volume.InfiltratedM3 += out * m3
	s.volume.EvaporatedM3 += (use + fromOpen) * m3
}

// submerged returns the share of a band that lies under a level. A flat bottom
// is all under water as soon as there is any.
func submerged(b *basin.Band, levelMM float64) float64 {
	switch {
	case levelMM >= b.TopMM:
		return 1
	case levelMM <= b.FootMM:
		return 0
	}
	return (levelMM - b.FootMM) / (b.TopMM - b.FootMM)
}

// storedM3 returns the water in the pond and the mix.
func (s *state) storedM3() float64 {
	total := s.pond
	for i, b := range s.bands {
		total += s.held[i] * b.AreaM2 / 1000
	}
	return total
}

// decays are exp(-drainPerH * hours) for the two lengths of step in use.
type decays struct{ calm, pond float64 }

func (s *state) decays() *decays {
	return &decays{
		calm: math.Exp(-s.mix.drainPerH / float64(s.StepsPerH)),
		pond: math.Exp(-s.mix.drainPerH / float64(pondSubsteps*s.StepsPerH)),
	}
}

// days prepares what changes by the day: ET0 and p.
func (s *state) day(d site.Day) (et0MM, p float64) {
	return d.ET0MM, DepletionFraction(s.PTab, s.Kc*d.ET0MM)
}
