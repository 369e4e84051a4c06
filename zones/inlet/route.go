package inlet

import (
	"math"
	"sort"
)

// levelSlack lets a bed that is made just as deep as asked for pass.
const levelSlack = 1e-9

// edgeM is the station of the bed's edge.
func (in Input) edgeM() float64 { return in.Ground[len(in.Ground)-1].StationM }

// edgeMM is the level of the ground there.
func (in Input) edgeMM() float64 { return in.Ground[len(in.Ground)-1].LevelMM }

// wallMM is the level of the ground at the downspout.
func (in Input) wallMM() float64 { return in.Ground[0].LevelMM }

// groundMM is the level of the ground at a station, straight between points;
// beyond the edge of the bed the finished surface of the bed: the rim falls
// from the freeboard to the spill level, then the side goes down to the bottom.
func (in Input) groundMM(stationM float64) float64 {
	if d := stationM - in.edgeM(); d > 0 {
		if d < in.RimWidthM {
			return in.FreeboardMM * (1 - d/in.RimWidthM)
		}
		return math.Max(in.BottomMM, -1000*(d-in.RimWidthM)/in.SideRun)
	}
	i := sort.Search(len(in.Ground), func(i int) bool { return in.Ground[i].StationM >= stationM })
	if i == 0 {
		return in.wallMM()
	}
	a, b := in.Ground[i-1], in.Ground[i]
	return a.LevelMM + (b.LevelMM-a.LevelMM)*(stationM-a.StationM)/(b.StationM-a.StationM)
}

// outletM is the station where the bed's side lies at a level up to the spill level.
func (in Input) outletM(levelMM float64) float64 {
	return in.edgeM() + in.RimWidthM + float64(math.Max(0, -levelMM)/1000*in.SideRun)
}

// arrives returns the level at which a line that starts at startMM and falls
// leastly meets the bed: at the spill level or below on the side of the bed,
// z = (start - 1000 S (L + rim)) / (1 - S run), as the side takes the outlet
// further in the deeper it lies. A level above the spill level is given as that
// over the inner edge of the rim. S run is under 1 by the bounds of both.
func (in Input) arrives(startMM, fall float64) float64 {
	atRim := startMM - float64(1000*fall*(in.edgeM()+in.RimWidthM))
	if atRim >= 0 {
		return atRim
	}
	return atRim / (1 - float64(fall*in.SideRun))
}

// needReachM is how far from the wall the water must be kept from the ground.
// A crawl space, and a foundation not known, count as a basement. Common
// practice, no source.
func (in Input) needReachM() float64 {
	switch in.Foundation {
	case "none":
		return 0
	case "slab":
		return slabReachM
	}
	return basementReachM
}

// reachM is the station of the route that lies that far from the wall, at most
// the edge of the bed. A route that runs along the wall takes longer to get
// there: distance is taken to grow evenly to FoundationM at the bed's edge.
func (in Input) reachM() float64 {
	along := 1.0
	if in.FoundationM < in.edgeM() {
		along = in.edgeM() / math.Max(in.FoundationM, 1e-6)
	}
	return math.Min(in.edgeM(), in.needReachM()*along)
}

// wallDistanceM is how far from the wall a station lies, by the same rule.
func (in Input) wallDistanceM(stationM float64) float64 {
	if in.FoundationM < in.edgeM() {
		return stationM * in.FoundationM / in.edgeM()
	}
	return stationM
}

// wallFall is how the ground shall fall away from a building over its first 10 ft:
// 6 in. Source: International Residential Code R401.3 (read).
const (
	wallFall  = 0.05
	wallFallM = 10 * footM
)

// wallFall is the fall of the ground away from the wall, over the first 10 ft or up to
// the bed; +Inf where there is no building.
func (in Input) wallFall() (fall, runM float64) {
	if in.Foundation == "none" {
		return math.Inf(1), 0
	}
	runM = math.Min(wallFallM, in.wallDistanceM(in.edgeM()))
	station := in.edgeM() * runM / in.wallDistanceM(in.edgeM())
	return (in.wallMM() - in.groundMM(station)) / 1000 / runM, runM
}

// section is the route as a drawing shows it. The spill level is 0.
type section struct {
	Points    []sectionPoint
	BedEdgeM  float64 // station of the edge of the bed
	OutletM   float64 // station at which the water arrives
	ReachM    float64 // up to here liner or extension must reach; 0 if there is no foundation
	BottomMM  float64
	CoverMM   float64 // wanted over a pipe
	DaylightM float64 // NaN if no pipe
}

// sectionPoint is one station; mm above the spill level, NaN where there is none.
type sectionPoint struct {
	StationM float64
	GroundMM float64 // as it is; within the bed its finished surface
	InvertMM float64 // inside bottom of the pipe, top of the gravel of a swale, extension
	CrownMM  float64 // outside top of the pipe
	DugMM    float64 // bottom of the trench or swale
	TopMM    float64 // finished soil over the pipe, or shoulder of the swale
}

// stations are those of a drawing: every ground point, ends, kinks, and enough between.
func (in Input) stations(endM float64, more ...float64) []float64 {
	const between = 40
	all := append([]float64{0, in.edgeM(), math.Min(endM, in.edgeM()+in.RimWidthM), endM, in.reachM()}, more...)
	for _, p := range in.Ground {
		all = append(all, p.StationM)
	}
	for i := range between {
		all = append(all, endM*float64(i)/between)
	}
	sort.Float64s(all)
	var out []float64
	for _, s := range all {
		if s >= 0 && s <= endM && (len(out) == 0 || s-out[len(out)-1] > 1e-9) {
			out = append(out, s)
		}
	}
	return out
}
