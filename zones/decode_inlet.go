package zones

import (
	"math"
	"strconv"

	"hollowbed/zones/inlet"
)

// Inlet is how the water comes from the downspout to the bed. Levels are mm
// over a spot of the gardener's choice, the same for all of them.
type Inlet struct {
	Given         bool                // the file has the section; nothing else counts if not
	Way           string              // one of inlet.Kinds, or "": not chosen yet
	Ground        []inlet.GroundPoint // from the downspout to the edge of the bed
	SpillMM       float64             // level at which the bed spills; NaN: the rim meets the ground at the edge
	Downspout     inlet.Downspout     // inside
	PipeMM        float64             // inside diameter
	Material      string              // one of inlet.MaterialNames
	LeastPipeFall float64             // fraction; NaN: as usual
	CoverMM       float64             // soil over the pipe
	LinerWidthM   float64             // of a swale
	DesignMMH     float64             // design rain; NaN if not given
}

// compareInlets returns the three ways in, worked out for this garden. recordMMH is the
// wettest hour on record, soilM3 the soil dug and not needed; NaN if not known. ok is
// false without an inlet section.
func (g *Garden) compareInlets(recordMMH, soilM3 float64) (plan inlet.Plan, ok bool, err error) {
	if !g.Inlet.Given {
		return inlet.Plan{}, false, nil
	}
	plan, err = inlet.Compare(g.inletInput(recordMMH, soilM3))
	if err != nil {
		return plan, true, g.misfit("inlet", err)
	}
	return plan, true, nil
}

// inletInput moves the levels to the spill level and adds what other sections say.
func (g *Garden) inletInput(recordMMH, soilM3 float64) inlet.Input {
	i := g.Inlet
	spill := i.SpillMM
	if math.IsNaN(spill) {
		spill = i.Ground[len(i.Ground)-1].LevelMM - g.Bed.FreeboardMM
	}
	ground := make([]inlet.GroundPoint, len(i.Ground))
	for n, p := range i.Ground {
		ground[n] = inlet.GroundPoint{StationM: p.StationM, LevelMM: p.LevelMM - spill}
	}
	return inlet.Input{
		Ground: ground, Foundation: g.Site.Foundation, FoundationM: g.Site.FoundationDistanceM,
		BottomMM: -g.Bed.PondingDepthMM, FreeboardMM: g.Bed.FreeboardMM, RimWidthM: g.Bed.RimWidthM, SideRun: g.Bed.SideSlope,
		Downspout: i.Downspout, PipeMM: i.PipeMM, Material: i.Material, LeastPipeFall: i.LeastPipeFall, CoverMM: i.CoverMM,
		LinerWidthM: i.LinerWidthM, BareSoil: g.Mix.Texture,
		RoofM2: g.Roof.AreaM2 * g.Roof.Share, Coefficient: g.Roof.Coefficient,
		DesignMMH: i.DesignMMH, RecordMMH: recordMMH, SoilFromBedM3: soilM3,
	}
}

// levelMM is a depth that may lie below zero.
func levelMM() quantity {
	q := depthMM()
	q.want = "a level with its unit, such as 6 in or -50 mm"
	q.signed = true
	return q
}

// readInlet reads the section, if the file has it.
func readInlet(top *section) Inlet {
	if _, ok := top.node("inlet"); !ok {
		return Inlet{}
	}
	s := top.sub("inlet")
	defer s.done()
	return Inlet{
		Given:         true,
		Way:           s.choice("way"),
		Ground:        s.groundLine("ground"),
		SpillMM:       s.quantity("spill"),
		Downspout:     s.downspout("downspout"),
		PipeMM:        s.quantity("pipe"),
		Material:      s.choice("material"),
		LeastPipeFall: s.quantity("pipe_fall"),
		CoverMM:       s.quantity("cover"),
		LinerWidthM:   s.quantity("liner_width"),
		DesignMMH:     s.quantity("design_rain"),
	}
}

// groundLine reads levels of the ground in order from the downspout.
func (s *section) groundLine(key string) []inlet.GroundPoint {
	want := s.key(key).want
	if !s.has(key) {
		s.missing(key, want)
		return nil
	}
	var out []inlet.GroundPoint
	before := len(s.d.faults)
	entries := s.sections(key)
	for n, e := range entries {
		p := inlet.GroundPoint{
			StationM: e.quantity("at"),
			LevelMM:  e.quantity("level"),
		}
		e.done()
		switch {
		case n == 0 && p.StationM > 0:
			e.bad("at", s.d.units.Length(p.StationM), "want the first place at the downspout: at: 0 ft")
		case n > 0 && p.StationM <= out[n-1].StationM:
			e.bad("at", s.d.units.Length(p.StationM), "want the places in order, each further from the downspout than the one before")
		}
		out = append(out, p)
	}
	if n := len(entries); n < 2 && len(s.d.faults) == before {
		s.bad(key, strconv.Itoa(n)+" places", want)
	}
	return out
}

// downspout reads [width, depth], or one diameter.
func (s *section) downspout(key string) inlet.Downspout {
	k := s.key(key)
	want := k.want
	if !s.has(key) {
		s.missing(key, want)
		return inlet.Downspout{}
	}
	nodes, ok := s.items(key, want)
	if !ok {
		return inlet.Downspout{}
	}
	if len(nodes) < 1 || len(nodes) > 2 {
		s.bad(key, strconv.Itoa(len(nodes))+" figures", want)
		return inlet.Downspout{}
	}
	var size [2]float64
	for n, node := range nodes {
		size[n] = s.d.figure(s.name(key), node, k.of, want, k.lo, k.hi)
	}
	if len(nodes) == 1 {
		return inlet.Downspout{DiameterMM: size[0]}
	}
	return inlet.Downspout{WidthMM: size[0], DepthMM: size[1]}
}
