package inlet

import "math"

// lawnRun is how flat water spreads on a lawn, run per rise. Common practice, no source.
const lawnRun = 10.0

// surface works out an extension of the downspout on the ground that ends as
// far from the wall as the foundation asks, from where the water runs over the
// lawn to the bed. The lawn must fall all the way, and end no lower than the
// spill level, where a gap in the rim lets the water in. What soaks into the
// lawn on the way is not counted.
func (j job) surface() Way {
	w := blank(Surface)
	endM := j.reachM()
	w.ExtensionM = endM
	w.StartMM = j.wallMM() + extensionRiseMM
	w.OutletMM, w.LengthM = j.edgeMM(), j.edgeM()
	w.BedDepthMM = 0 // the water arrives on the ground
	if j.edgeMM() < 0 {
		w.refuse(Trouble{Kind: edgeLow, Found: j.edgeMM(), Change: -j.edgeMM(), Source: practice})
	}
	lawn, at := j.flattestM(endM)
	extension := math.Inf(1)
	if endM > 0 {
		extension = (w.StartMM - j.groundMM(endM)) / 1000 / endM
	}
	if lawn <= 0 {
		w.refuse(Trouble{Kind: groundRises, AtM: at, Found: lawn, Want: farFall, Change: farFall, Source: practice})
	}
	if extension < j.LeastPipeFall {
		w.refuse(Trouble{Kind: groundRises, AtM: endM, Found: extension, Want: j.LeastPipeFall, Change: j.LeastPipeFall, Source: practice})
	}
	if !w.Possible {
		return w
	}
	w.Fall = (j.wallMM() - j.edgeMM()) / 1000 / j.edgeM()
	if lawn < farFall {
		w.note(Trouble{Kind: flatLawn, AtM: at, Found: lawn, Want: farFall, Change: farFall, Source: "lot grading, municipal codes: 1 % at least, 2 % better"})
	}
	j.surfaceFlow(&w, extension)
	for _, s := range j.stations(w.LengthM) {
		p := sectionPoint{StationM: s, GroundMM: j.groundMM(s), InvertMM: math.NaN(), CrownMM: math.NaN(), DugMM: math.NaN(), TopMM: j.groundMM(s)}
		if s <= endM && endM > 0 {
			p.InvertMM = w.StartMM - float64(1000*extension*s)
		}
		w.Section.Points = append(w.Section.Points, p)
	}
	w.Section = j.framed(w.Section, w.LengthM)
	w.Earth = earth{BedM3: j.SoilFromBedM3}.balanced()
	j.surfaceItems(&w)
	return w
}

// flattestM returns the least fall of the ground between a station and the
// bed's edge, and the station at which that stretch begins; +Inf if the
// station is the edge.
func (in Input) flattestM(fromM float64) (fall, atM float64) {
	fall = math.Inf(1)
	last, level := fromM, in.groundMM(fromM)
	for _, p := range in.Ground {
		if p.StationM <= fromM+1e-9 {
			continue
		}
		if f := (level - p.LevelMM) / 1000 / (p.StationM - last); f < fall {
			fall, atM = f, last
		}
		last, level = p.StationM, p.LevelMM
	}
	return fall, atM
}

func (j job) surfaceFlow(w *Way, extension float64) {
	area, girth := j.Downspout.areaM2(), j.Downspout.perimeterM()
	c := capacity{ManningM3H: math.NaN(), PeakM3H: math.NaN(), CodeM3H: math.NaN(), HeadM3H: math.NaN(), DownspoutM3H: j.Downspout.capacityM3H()}
	if w.ExtensionM > 0 {
		c.ManningM3H = 3600 * area * velocityMS(sheetN, area/girth, extension)
	}
	w.Capacity = c.decided(j.designM3H, j.recordM3H)
	w.CapacityM3H = w.Capacity.Safe
	flow := j.shownM3S(w.CapacityM3H)
	steepest := 0.0
	last, level := w.ExtensionM, j.groundMM(w.ExtensionM)
	for _, p := range j.Ground {
		if p.StationM > w.ExtensionM+1e-9 {
			steepest = math.Max(steepest, (level-p.LevelMM)/1000/(p.StationM-last))
			last, level = p.StationM, p.LevelMM
		}
	}
	w.BearsMS = grassMS
	t := trapezoid{0, lawnRun}
	if y := t.depthM(grassN, steepest, flow); y > 0 && !math.IsInf(y, 1) {
		w.DepthMM, w.VelocityMS = 1000*y, flow/t.areaM2(y)
	} else { // the extension ends at the bed
		w.DepthMM, w.VelocityMS = 1000*area/girth, flow/area
		w.BearsMS = bareMS(j.BareSoil)
	}
	w.Pad = roundPad(j.Downspout.roundM(), flow, flow/area, j.Downspout.roundM(), bareMS(j.BareSoil))
	j.flowTroubles(w, j.greatestM3H())
	if w.VelocityMS > w.BearsMS {
		w.note(Trouble{Kind: fastLawn, Found: w.VelocityMS, Want: w.BearsMS, Change: w.BearsMS, Source: "US Soil Conservation Service 1954, SCS-TP-61"})
	}
}
