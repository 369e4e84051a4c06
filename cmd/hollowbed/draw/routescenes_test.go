package draw

import (
	"fmt"
	"math"

	"github.com/stretchr/testify/require"

	"hollowbed/zones/inlet"
)

// wayInput is a house on a slab, 5 m from a bed 150 mm deep; places invented.
func wayInput() inlet.Input {
	return inlet.Input{
		Ground:     []inlet.GroundPoint{{StationM: 0, LevelMM: 200}, {StationM: 2.5, LevelMM: 110}, {StationM: 5, LevelMM: 50}},
		Foundation: "slab", FoundationM: 5, BottomMM: -150, FreeboardMM: 50, RimWidthM: 0.3, SideRun: 3,
		Downspout: inlet.Downspout{DiameterMM: 75}, PipeMM: 100, Material: "pvc",
		LeastPipeFall: math.NaN(), CoverMM: math.NaN(), LinerWidthM: math.NaN(), RoofM2: 60, Coefficient: 0.95, DesignMMH: 100, RecordMMH: 45,
	}
}

// wayOf takes the figures of package inlet.
func wayOf(t require.TestingT, in inlet.Input, kind string, u Units) RouteIn {
	plan, err := inlet.Compare(in)
	require.NoError(t, err)
	w, ok := plan.Way(kind)
	require.True(t, ok)
	require.True(t, w.Possible, "%s: %+v", kind, w.Troubles)
	s := w.Section
	out := RouteIn{
		Sheet: Sheet{Title: "Quillmere, the way in by " + kind, Units: u}, Kind: kind, Foundation: in.Foundation,
		ReachM: s.ReachM, BedEdgeM: s.BedEdgeM, OutletM: s.OutletM, RimMM: in.FreeboardMM, RimWidthM: in.RimWidthM, SideRun: in.SideRun, BottomMM: s.BottomMM,
		Fall: w.Fall, CoverMM: s.CoverMM, LeastCoverMM: w.LeastCoverMM, LeastCoverAtM: w.LeastCoverAtM, DaylightM: s.DaylightM,
	}
	if kind != inlet.Pipe {
		out.CoverMM = math.NaN()
	}
	for _, p := range in.Ground {
		out.MeasuredM = append(out.MeasuredM, p.StationM)
	}
	for _, p := range s.Points {
		out.Stations = append(out.Stations, RouteStation{p.StationM, p.GroundMM, p.InvertMM, p.CrownMM, p.DugMM, p.TopMM})
	}
	return out
}

// routes are the ways in of the golden files: usual, steep, flat and long.
func routes(t require.TestingT) map[string]RouteIn {
	out := map[string]RouteIn{}
	usual := wayInput()
	for _, kind := range inlet.Kinds() {
		out["route-"+kind] = wayOf(t, usual, kind, us())
	}
	deep := wayInput()
	deep.Ground = []inlet.GroundPoint{{StationM: 0, LevelMM: 690}, {StationM: 2.5, LevelMM: 520}, {StationM: 5, LevelMM: 50}}
	out["route-pipe"] = wayOf(t, deep, inlet.Pipe, us())
	steep := wayInput()
	steep.Ground = []inlet.GroundPoint{{StationM: 0, LevelMM: 2600}, {StationM: 1.5, LevelMM: 2300}, {StationM: 6, LevelMM: 400}, {StationM: 8, LevelMM: 50}}
	steep.Foundation, steep.FoundationM = "basement", 8
	for _, kind := range inlet.Kinds() {
		out["route-steep-"+kind] = wayOf(t, steep, kind, metric())
	}
	flat := wayInput() // 130 mm over 9 m: the pipe sinks into the bed and is bermed
	flat.Ground = []inlet.GroundPoint{{StationM: 0, LevelMM: 130}, {StationM: 3, LevelMM: 20}, {StationM: 4.5, LevelMM: 60}, {StationM: 9, LevelMM: 50}}
	flat.Foundation, flat.FoundationM, flat.BottomMM = "crawl space", 9, -300
	out["route-flat-pipe"] = wayOf(t, flat, inlet.Pipe, metric())
	flat.Foundation = ""
	out["route-flat-swale"] = wayOf(t, flat, inlet.Swale, us())
	long := wayInput()
	long.Ground = nil
	for i := range 13 {
		long.Ground = append(long.Ground, inlet.GroundPoint{StationM: 10 * float64(i), LevelMM: 1650 - 140*float64(i) + 90*math.Sin(float64(i*i))})
	}
	long.Foundation, long.FoundationM = "none", 120
	long.Ground[12].LevelMM = 20
	out["route-long-pipe"] = wayOf(t, long, inlet.Pipe, us())
	low := wayInput()
	low.Ground[1].LevelMM = -150 // a dip that swale and pipe hang over
	out["route-dip-swale"] = wayOf(t, low, inlet.Swale, metric())
	low.Foundation = "none" // beside a house no soil would be raised over it
	out["route-dip-pipe"] = wayOf(t, low, inlet.Pipe, metric())
	short := wayInput()
	short.Ground, short.FoundationM = []inlet.GroundPoint{{StationM: 0, LevelMM: 180}, {StationM: 0.8, LevelMM: 120}}, 0.8
	for _, kind := range inlet.Kinds() {
		in := wayOf(t, short, kind, us())
		in.Note = fmt.Sprintf("The %s is short", kind)
		out["route-short-"+kind] = in
	}
	return out
}
