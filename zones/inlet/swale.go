package inlet

import "math"

// Common practice, no source: the swale is 8 in wide at the bottom with sides
// of 2:1, the liner lies under 2 in of gravel and the dug section is as deep as
// the liner is wide enough for.
const (
	swaleBottomM = 8 * 0.0254
	swaleRun     = 2.0
	gravelM      = 2 * 0.0254
	linerTuckM   = 1 * footM // turned up at the wall and buried at the end
	bankTopM     = 6 * 0.0254
)

// nearFall is the least fall of a swale within 10 ft of a foundation, 2 %, and
// farFall that of others, 1 %. Source: International Residential Code R401.3
// (read); 1 % is the lower figure of municipal codes (read).
const (
	nearFall = 0.02
	farFall  = 0.01
)

func (in Input) swaleFall() float64 {
	if in.Foundation == "none" {
		return farFall
	}
	return nearFall
}

// swaleDugM is the depth of the section that a liner of a width covers:
// h = (W - b) / (2 sqrt(1 + z^2)).
func swaleDugM(linerM float64) float64 {
	return math.Max(0, linerM-swaleBottomM) / (2 * math.Hypot(1, swaleRun))
}

// swale works out the lined swale. Its shoulders begin level with the ground
// at the wall; the top of the gravel ends at the spill level if that gives the
// least fall, else as much lower as it takes, at most at the bottom of the bed.
func (j job) swale() Way {
	w := j.swaleLevels(j.LinerWidthM)
	if !w.Possible {
		return w
	}
	w.BacksUpM = math.Min(w.LengthM, math.Max(0, -w.OutletMM)/1000/w.Fall)
	if j.needReachM() > 0 {
		w.LinerLengthM = math.Min(w.LengthM, j.reachM()) + linerTuckM
	}
	dugM := w.SwaleDepthMM / 1000
	j.swaleFlow(&w, dugM-gravelM)
	j.swaleEarth(&w, dugM)
	if from := j.wallDistanceM(w.LengthM - w.BacksUpM); w.BacksUpM > 0 && from < j.needReachM() {
		w.note(Trouble{Kind: backsToWall, Found: 1000 * from, Want: 1000 * j.needReachM(), Change: -w.OutletMM, Source: practice})
	}
	j.swaleItems(&w)
	return w
}

// swaleLevels lays a swale with a liner of a width, or refuses it.
func (j job) swaleLevels(linerM float64) Way {
	w := blank(Swale)
	dugM := swaleDugM(linerM)
	w.SwaleDepthMM = 1000 * dugM
	w.StartMM = j.wallMM() - float64(1000*(dugM-gravelM))
	least := j.swaleFall()
	arrives := j.arrives(w.StartMM, least)
	w.OutletMM = math.Min(0, arrives)
	w.BedDepthMM = math.Max(0, j.edgeMM()-arrives)
	switch {
	case dugM <= gravelM:
		w.refuse(Trouble{Kind: narrowLiner, Found: linerM, Want: usualLinerM, Change: usualLinerM, Source: practice})
		return w
	case w.OutletMM < j.BottomMM*(1+levelSlack):
		w.refuse(Trouble{Kind: tooLow, Found: w.OutletMM, Want: j.BottomMM, Change: j.BottomMM - w.OutletMM, Source: "International Residential Code R401.3"})
		return w
	}
	if j.wallLow(&w) {
		return w
	}
	w.LengthM = j.outletM(w.OutletMM)
	w.Fall = (w.StartMM - w.OutletMM) / 1000 / w.LengthM
	return w
}

// swaleM3H is what a swale carries brim-full over the gravel.
func swaleM3H(fall, depthM float64) float64 {
	return 3600 * trapezoid{swaleBottomM, swaleRun}.flowM3S(rockN, fall, depthM)
}

// linerFor looks in steps of 50 mm up to 2 m for the narrowest liner whose
// swale, laid anew, carries a flow; NaN if none does. A wider one is deeper,
// and so falls less: more width does not always help.
func (j job) linerFor(m3h float64) float64 {
	for mm := 300.0; mm <= 2000; mm += 50 {
		w := j.swaleLevels(mm / 1000)
		if w.Possible && swaleM3H(w.Fall, w.SwaleDepthMM/1000-gravelM) >= m3h {
			return mm / 1000
		}
	}
	return math.NaN()
}

func (j job) swaleFlow(w *Way, depthM float64) {
	t := trapezoid{swaleBottomM, swaleRun}
	c := capacity{PeakM3H: math.NaN(), CodeM3H: math.NaN(), HeadM3H: math.NaN(), DownspoutM3H: j.Downspout.capacityM3H()}
	c.ManningM3H = swaleM3H(w.Fall, depthM)
	w.Capacity = c.decided(j.designM3H, j.recordM3H)
	w.CapacityM3H = w.Capacity.Safe
	flow := j.shownM3S(w.CapacityM3H)
	y := t.depthM(rockN, w.Fall, flow)
	w.DepthMM = 1000 * y
	if y > 0 {
		w.VelocityMS = flow / t.areaM2(y)
	}
	w.BearsMS = bareMS(j.BareSoil)
	w.Pad = channelPad(t.BottomM+2*t.SideRun*depthM, w.VelocityMS, w.BearsMS)
	w.NeedLinerWidthM = j.linerFor(j.greatestM3H())
	j.flowTroubles(w, w.NeedLinerWidthM)
	if w.VelocityMS > rockMS {
		w.note(Trouble{Kind: fastSwale, Found: w.VelocityMS, Want: rockMS, Change: rockMS, Source: "Fortier and Scobey 1926, coarse gravel"})
	}
}

// swaleEarth digs the section, and banks it up where the ground is below its shoulders.
func (j job) swaleEarth(w *Way, dugM float64) {
	bottom := func(s float64) float64 { return (w.invertMM(s) - 1000*gravelM) / 1000 }
	e := earth{BedM3: j.SoilFromBedM3}
	e.CutM3 = along(j.edgeM(), func(s float64) float64 {
		c := math.Max(0, j.groundMM(s)/1000-bottom(s))
		return trapezoid{swaleBottomM, swaleRun}.areaM2(c)
	})
	e.MoundM3 = along(j.edgeM(), func(s float64) float64 {
		return bankM2(dugM, bottom(s)-j.groundMM(s)/1000)
	})
	e.GravelM3 = w.LengthM * gravelM * trapezoid{swaleBottomM, swaleRun}.perimeterM(dugM)
	w.Earth = e.balanced()
	worst, at := math.Inf(-1), 0.0
	for _, s := range j.stations(w.LengthM) {
		p := sectionPoint{StationM: s, GroundMM: j.groundMM(s), InvertMM: w.invertMM(s), CrownMM: math.NaN(), DugMM: 1000 * bottom(s)}
		p.TopMM = math.Max(p.GroundMM, p.DugMM+float64(1000*dugM))
		w.Section.Points = append(w.Section.Points, p)
		if over := p.DugMM - p.GroundMM; s <= j.edgeM() && over > worst {
			worst, at = over, s
		}
	}
	w.Section = j.framed(w.Section, w.LengthM)
	if worst > 0 {
		w.note(Trouble{Kind: aboveGround, AtM: at, Found: worst, Change: worst, Source: practice})
	}
	if w.Earth.ImportM3 > 0 {
		w.note(Trouble{Kind: shortOfSoil, Found: w.Earth.FillM3 - w.Earth.ImportM3, Want: w.Earth.FillM3, Change: w.Earth.ImportM3, Source: practice})
	}
}

// bankM2 is the section of what stands above the ground on both sides of a
// swale, and below it where its dug bottom lies overM above the ground: banks
// with flat tops, 2:1 to the water and 3:1 outward, on a base as wide as all of
// it.
func bankM2(dugM, overM float64) float64 {
	bank := math.Min(dugM, math.Max(0, dugM+overM))
	banks := 2 * (bankTopM*bank + (bermRun+swaleRun)/2*bank*bank)
	wide := swaleBottomM + 2*(swaleRun*dugM+bankTopM+bermRun*dugM)
	return banks + moundM2(wide, overM)
}
