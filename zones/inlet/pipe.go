package inlet

import "math"

// Common practice, no source: the outside of a pipe is at most 15 % wider than
// its inside; a trench is a hand wider than the pipe and at least a spade wide;
// the pipe lies on 2 in of gravel; sticks are 10 ft long.
const (
	outsideShare = 1.15
	trenchMoreM  = 8 * 0.0254
	trenchLeastM = 12 * 0.0254
	beddingM     = 2 * 0.0254
	stickM       = 10 * footM
)

// pipe works out the buried pipe.
//
// The outlet is wanted at the spill level, so that the pipe drains dry. With
// full cover at the wall and at least the least fall it may lie there: then the
// pipe starts under full cover, and falls as steeply as that gives. If not, it
// starts as high as it must, down to the top of the pipe in level with the
// ground at the wall, and what cover is missing is bermed. If even that is not
// enough the outlet sinks below the spill level, and below the bottom of the
// bed the way is refused.
func (j job) pipe() Way {
	w := j.pipeLevels(j.PipeMM)
	if !w.Possible {
		return w
	}
	w.BacksUpM = math.Min(w.LengthM, math.Max(0, -w.OutletMM)/1000/w.Fall)
	topMM := topOverInvertMM(j.PipeMM)
	j.pipeCover(&w, topMM)
	j.pipeFlow(&w)
	j.pipeEarth(&w, topMM)
	j.pipeItems(&w)
	return w
}

// topOverInvertMM is how far the outside top of a pipe lies over its invert.
func topOverInvertMM(diameterMM float64) float64 { return diameterMM * (1 + (outsideShare-1)/2) }

// pipeLevels lays a pipe of a diameter, or refuses it.
func (j job) pipeLevels(diameterMM float64) Way {
	w := blank(Pipe)
	highest := j.wallMM() - topOverInvertMM(diameterMM)
	full := highest - j.CoverMM
	need := 1000 * j.LeastPipeFall * (j.edgeM() + j.RimWidthM)
	w.TrenchBedMM = math.Max(0, j.edgeMM()-j.arrives(full, j.LeastPipeFall))
	w.BedDepthMM = math.Max(0, j.edgeMM()-j.arrives(highest, j.LeastPipeFall))
	w.StartMM, w.OutletMM = math.Max(full, need), 0
	if w.StartMM > highest {
		w.StartMM = highest
		w.OutletMM = j.arrives(highest, j.LeastPipeFall)
	}
	if w.OutletMM < j.BottomMM*(1+levelSlack) {
		w.refuse(Trouble{Kind: tooLow, Found: w.OutletMM, Want: j.BottomMM, Change: j.BottomMM - w.OutletMM, Source: practice})
		return w
	}
	if j.wallLow(&w) {
		return w
	}
	w.LengthM = j.outletM(w.OutletMM)
	w.Fall = (w.StartMM - w.OutletMM) / 1000 / w.LengthM
	return w
}

// wallLow refuses a way through which a full bed would stand at the wall: there
// would be no head left to drive the water, and a leak would reach the wall.
func (j job) wallLow(w *Way) bool {
	if j.wallMM() >= leastWallMM*(1-levelSlack) {
		return false
	}
	w.refuse(Trouble{Kind: wallLow, Found: j.wallMM(), Want: leastWallMM, Change: leastWallMM - j.wallMM(), Source: practice})
	return true
}

// invertMM is the level of a straight line from start to outlet.
func (w Way) invertMM(stationM float64) float64 { return w.StartMM - float64(1000*w.Fall*stationM) }

// bermTopMM is the finished soil over the pipe: the ground, or what gives the cover,
// running out at 3:1 towards the outlet. Over what falls away from the wall none is
// raised: a bank would turn rain to the building.
func (j job) bermTopMM(w Way, topMM, stationM float64) float64 {
	ground := j.groundMM(stationM)
	cover := math.Min(j.CoverMM, math.Max(0, w.LengthM-stationM)*1000/bermRun)
	top := math.Min(w.invertMM(stationM)+topMM+cover, j.fallsAwayMM(stationM))
	return math.Max(ground, top)
}

// fallsAwayMM is the highest that soil may be raised at a station: it falls from the
// wall by what the code asks for near a building, and by a lawn's least fall beyond.
func (j job) fallsAwayMM(stationM float64) float64 {
	if j.Foundation == "none" {
		return math.Inf(1)
	}
	from := j.wallDistanceM(stationM)
	near := math.Min(from, wallFallM)
	return j.wallMM() - float64(1000*(float64(wallFall*near)+float64(farFall*(from-near))))
}

func (j job) pipeCover(w *Way, topMM float64) {
	w.DaylightM = w.LengthM
	w.LeastCoverMM, w.LeastCoverAtM = math.Inf(1), 0
	tapers := w.LengthM - bermRun*j.CoverMM/1000
	worst, worstAt := math.Inf(-1), 0.0
	for _, s := range j.stations(w.LengthM, tapers) {
		p := sectionPoint{StationM: s, GroundMM: j.groundMM(s), InvertMM: w.invertMM(s)}
		p.CrownMM = p.InvertMM + topMM
		p.TopMM = j.bermTopMM(*w, topMM, s)
		p.DugMM = math.Min(p.GroundMM, p.InvertMM-j.PipeMM*(outsideShare-1)/2-1000*beddingM)
		w.Section.Points = append(w.Section.Points, p)
		cover := p.TopMM - p.CrownMM
		if s <= tapers && cover < w.LeastCoverMM-1e-9 {
			w.LeastCoverMM, w.LeastCoverAtM = cover, s
		}
		if cover >= j.CoverMM-1e-6 {
			w.DaylightM = s
		}
		if hangs := p.InvertMM - p.GroundMM; s <= j.edgeM() && hangs > worst {
			worst, worstAt = hangs, s
		}
	}
	if math.IsInf(w.LeastCoverMM, 1) { // so short that it comes out all the way
		w.LeastCoverMM = w.Section.Points[0].TopMM - w.Section.Points[0].CrownMM
	}
	w.Section = j.framed(w.Section, w.LengthM)
	w.Section.DaylightM = w.DaylightM
	if worst > 0 {
		w.note(Trouble{Kind: aboveGround, AtM: worstAt, Found: worst, Change: worst, Source: practice})
	}
	if w.LeastCoverMM < j.CoverMM-1e-6 {
		w.note(Trouble{Kind: thinCover, AtM: w.LeastCoverAtM, Found: w.LeastCoverMM, Want: j.CoverMM, Change: w.TrenchBedMM, Source: practice})
	}
	if w.BacksUpM > 0 {
		w.note(Trouble{Kind: drowned, Found: -w.OutletMM, AtM: w.BacksUpM, Change: -w.OutletMM, Source: practice})
	}
}

// framed adds to a section what is alike in every way.
func (j job) framed(s section, outletM float64) section {
	s.BedEdgeM, s.OutletM, s.ReachM = j.edgeM(), outletM, j.reachM()
	s.BottomMM, s.CoverMM, s.DaylightM = j.BottomMM, j.CoverMM, math.NaN()
	return s
}

// pipeM3H gives the capacity of a pipe of this route of any diameter. The head
// runs from the ground at the wall, where a standpipe would spill, to the top
// of the outlet or the full bed, whichever is higher.
func (j job) pipeM3H(w Way, diameterMM float64) capacity {
	m, _ := material(j.Material)
	d := diameterMM / 1000
	c := capacity{DownspoutM3H: j.Downspout.capacityM3H()}
	c.ManningM3H = 3600 * fullM3S(m.N, d, w.Fall)
	c.PeakM3H = 3600 * partFullM3S(m.N, d, w.Fall, 0.938*d)
	c.CodeM3H, c.CodeListed = codeM3H(diameterMM, w.Fall)
	c.HeadM3H = 3600 * headM3S(m.N, d, w.LengthM, (j.wallMM()-math.Max(0, w.OutletMM+diameterMM))/1000)
	return c.decided(j.designM3H, j.recordM3H)
}

func (j job) pipeFlow(w *Way) {
	m, _ := material(j.Material)
	d := j.PipeMM / 1000
	w.Capacity = j.pipeM3H(*w, j.PipeMM)
	w.CapacityM3H = w.Capacity.Safe
	flow := j.shownM3S(w.CapacityM3H)
	depth, _ := roundDepthM(m.N, d, w.Fall, flow)
	area, _, _ := roundSection(d, depth)
	if area > 0 {
		w.VelocityMS = flow / area
	}
	w.DepthMM = 1000 * depth
	w.BearsMS = bareMS(j.BareSoil)
	w.Pad = roundPad(d, flow, w.VelocityMS, depth, w.BearsMS)
	for _, inches := range []float64{3, 4, 5, 6, 8} {
		other := j.pipeLevels(inches * inchMM)
		if other.Possible && j.pipeM3H(other, inches*inchMM).Safe >= j.greatestM3H() {
			w.NextDiameterMM = inches * inchMM
			break
		}
	}
	j.flowTroubles(w, w.NextDiameterMM)
	if !w.Capacity.CodeListed {
		w.note(Trouble{Kind: notInCode, Found: w.Fall, Want: codeFlat, Change: codeFlat, Source: "Uniform Plumbing Code, size of horizontal rainwater piping"})
	}
	if j.PipeMM/1000 < j.Downspout.roundM()*(1-0.02) {
		w.note(Trouble{Kind: narrows, Found: j.PipeMM, Want: 1000 * j.Downspout.roundM(), Change: 1000 * j.Downspout.roundM(), Source: practice})
	}
}

// flowTroubles notes a capacity short of the design rain or the record.
func (j job) flowTroubles(w *Way, change float64) {
	kind := map[string]troubleKind{Pipe: smallPipe, Swale: smallSwale, Surface: smallExtension}[w.Kind]
	if w.Capacity.Limit == "downspout" {
		kind, change = smallDownspout, j.greatestM3H()
	}
	if w.Capacity.DesignKnown && !w.Capacity.DesignOK {
		w.note(Trouble{Kind: kind, Against: "design rain", Found: w.CapacityM3H, Want: j.designM3H, Change: change, Source: "rational method"})
	}
	if w.Capacity.RecordKnown && !w.Capacity.RecordOK {
		w.note(Trouble{Kind: kind, Against: "wettest hour on record", Found: w.CapacityM3H, Want: j.recordM3H, Change: change, Source: "rational method"})
	}
	if !w.Capacity.DesignKnown {
		w.note(Trouble{Kind: noDesignRain, Source: practice})
	}
}

// segmentM2 is how much of a pipe's outside lies below a level, m2.
func segmentM2(outsideM, bottomMM, levelMM float64) float64 {
	area, _, _ := roundSection(outsideM, (levelMM-bottomMM)/1000)
	return area
}

func (j job) pipeEarth(w *Way, topMM float64) {
	outM := j.PipeMM * outsideShare / 1000
	widthM := math.Max(trenchLeastM, outM+trenchMoreM)
	bottom := func(s float64) float64 { return w.invertMM(s) + topMM - float64(1000*outM) }
	bed := func(s float64) float64 { // height of the gravel under the pipe that lies in the trench
		return math.Max(0, math.Min(beddingM, (j.groundMM(s)-bottom(s))/1000+beddingM))
	}
	dug := func(s float64) float64 { return widthM * math.Max(0, (j.groundMM(s)-bottom(s))/1000+beddingM) }
	in := func(s float64) float64 { return segmentM2(outM, bottom(s), j.groundMM(s)) }
	e := earth{BedM3: j.SoilFromBedM3}
	e.CutM3 = along(j.edgeM(), dug)
	e.GravelM3 = along(j.edgeM(), func(s float64) float64 { return widthM * bed(s) })
	e.BackM3 = along(j.edgeM(), func(s float64) float64 { return dug(s) - float64(widthM*bed(s)) - in(s) })
	e.MoundM3 = along(w.LengthM, func(s float64) float64 {
		ground := j.groundMM(s)
		height := (j.bermTopMM(*w, topMM, s) - ground) / 1000
		above := segmentM2(outM, bottom(s), j.bermTopMM(*w, topMM, s)) - in(s)
		return math.Max(0, moundM2(widthM, height)-above)
	})
	w.Earth = e.balanced()
	if w.Earth.ImportM3 > 0 {
		w.note(Trouble{Kind: shortOfSoil, Found: w.Earth.FillM3 - w.Earth.ImportM3, Want: w.Earth.FillM3, Change: w.Earth.ImportM3, Source: practice})
	}
}
