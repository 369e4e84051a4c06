package inlet

import (
	"fmt"
	"math"
	"slices"
)

const practice = "common practice, no source"

// troubleKind names what is wrong with a way. The comment of each says what
// Found, Want and Change of a Trouble are.
type troubleKind string

// The kinds, those that refuse a way first.
const (
	tooLow         troubleKind = "outlet below the bed"          // mm: outlet level, bottom level, how much deeper the bed must be
	wallLow        troubleKind = "wall no higher than the water" // mm: ground at the wall, wanted, how much lower the bed must spill
	edgeLow        troubleKind = "edge below the water"          // mm: ground at the edge, -, how much lower the bed must spill
	wallFlat       troubleKind = "flat at the wall"              // fall per run: found, wanted; Change: mm to raise at the wall
	groundRises    troubleKind = "ground does not fall"          // fall per run: found, wanted, wanted
	narrowLiner    troubleKind = "liner too narrow"              // m
	aboveGround    troubleKind = "above the ground"              // mm: how far above, -, fill
	thinCover      troubleKind = "thin cover"                    // mm: cover, wanted, bed depth that gives it in a trench
	drowned        troubleKind = "outlet under water"            // mm: how far under, -, how much lower the bed must spill; AtM: length that stays wet
	backsToWall    troubleKind = "water backs to the wall"       // mm: distance from the wall, wanted, how much lower the bed must spill
	smallPipe      troubleKind = "pipe too small"                // m3/h: carries, arrives; Change: diameter that does, mm, NaN if none
	smallSwale     troubleKind = "swale too small"               // m3/h: carries, arrives; Change: liner width that does, m, NaN if none
	smallExtension troubleKind = "extension too small"           // m3/h: carries, arrives, arrives
	smallDownspout troubleKind = "downspout too small"           // m3/h: carries, arrives, arrives
	notInCode      troubleKind = "not in the code's table"       // fall per run: found, flattest of the table
	narrows        troubleKind = "narrower than downspout"       // mm: pipe, round downspout of the same area
	fastSwale      troubleKind = "swale too fast"                // m/s
	fastLawn       troubleKind = "lawn too fast"                 // m/s
	flatLawn       troubleKind = "lawn too flat"                 // fall per run
	shortOfSoil    troubleKind = "short of soil"                 // m3: at hand, wanted, to bring in
	noDesignRain   troubleKind = "design rain not given"         // -
)

// Trouble is one thing that refuses a way, fails on it, or should be known.
type Trouble struct {
	Kind    troubleKind
	Refuses bool
	Fails   bool    // to be put right before the way is built
	Against string  // for capacities: what it was held against
	AtM     float64 // station, where there is one
	Found   float64
	Want    float64
	Change  float64
	Source  string
}

// Show writes figures in the units that people want to see.
type Show struct {
	Depth  func(mm float64) string
	Length func(m float64) string
	Flow   func(m3h float64) string
	Speed  func(ms float64) string
	Volume func(m3 float64) string
}

func blank(kind string) Way {
	n := math.NaN()
	return Way{Kind: kind, Possible: true, Fall: n, LeastCoverMM: n, DaylightM: n, BedDepthMM: n, TrenchBedMM: n, CapacityM3H: n,
		NextDiameterMM: n, SwaleDepthMM: n, NeedLinerWidthM: n}
}

// refuse notes what makes a way impossible; nothing flows on it.
func (w *Way) refuse(t Trouble) {
	t.Refuses, w.Possible, w.CapacityM3H = true, false, math.NaN()
	w.Troubles = append(w.Troubles, t)
}

func (w *Way) note(t Trouble) { w.Troubles = append(w.Troubles, t) }

// judge says what has to be put right before a way is built, and puts that first.
func (j job) judge(w *Way) {
	if fall, runM := j.wallFall(); w.Possible && fall < wallFall*(1-levelSlack) {
		w.note(Trouble{Kind: wallFlat, Found: fall, Want: wallFall, AtM: runM, Change: 1000 * runM * (wallFall - fall), Source: "International Residential Code R401.3"})
	}
	w.Sound = w.Possible
	for i, t := range w.Troubles {
		switch t.Kind {
		case wallFlat, thinCover, aboveGround, backsToWall, narrows, smallPipe, smallSwale, smallExtension, smallDownspout, fastSwale, fastLawn:
			w.Troubles[i].Fails, w.Sound = true, false
		}
	}
	slices.SortStableFunc(w.Troubles, func(a, b Trouble) int { return a.rank() - b.rank() })
}

func (t Trouble) rank() int {
	switch {
	case t.Refuses:
		return 0
	case t.Kind == wallFlat:
		return 1
	case t.Fails:
		return 2
	}
	return 3
}

// Text says what is wrong and which change would do.
func (t Trouble) Text(s Show) (what, change string) {
	percent := func(share float64) string { return fmt.Sprintf("%.2g %%", 100*share) }
	switch t.Kind {
	case tooLow:
		return fmt.Sprintf("the water would arrive %s below the bottom of the bed", s.Depth(t.Change)),
			fmt.Sprintf("make the bed %s deeper, or set it further down the slope, or take another way", s.Depth(t.Change))
	case wallLow:
		return fmt.Sprintf("the ground at the wall stands %s from the level at which the bed spills: a full bed would back up to the wall", s.Depth(t.Found)),
			fmt.Sprintf("let the bed spill %s lower, or set it further down the slope", s.Depth(t.Change))
	case wallFlat:
		return fmt.Sprintf("the ground falls %s in the first %s from the wall, which is too flat to keep surface water away from it", percent(math.Max(0, t.Found)), s.Length(t.AtM)),
			fmt.Sprintf("shape it first to fall at least %s (%s higher at the wall, if the soil there may stand so high against it)", percent(t.Want), s.Depth(t.Change))
	case edgeLow:
		return fmt.Sprintf("the ground at the bed lies %s below the level at which it spills", s.Depth(t.Change)),
			fmt.Sprintf("let the bed spill %s lower, or take a pipe through the rim", s.Depth(t.Change))
	case groundRises:
		return fmt.Sprintf("the ground does not fall enough from %s on (%s)", s.Length(t.AtM), percent(t.Found)),
			fmt.Sprintf("shape it to fall at least %s towards the bed, or take a pipe", percent(t.Want))
	case narrowLiner:
		return fmt.Sprintf("a liner of %s does not hold a swale", s.Length(t.Found)), fmt.Sprintf("take one of %s or more", s.Length(t.Change))
	case aboveGround:
		return fmt.Sprintf("at %s the bottom lies %s above the ground", s.Length(t.AtM), s.Depth(t.Found)),
			"fill and tamp the low place first, in layers, or lead the route round it"
	case thinCover:
		what = fmt.Sprintf("at %s only %s of soil cover the pipe; %s are wanted", s.Length(t.AtM), s.Depth(t.Found), s.Depth(t.Want))
		if t.Found <= 0 {
			what = fmt.Sprintf("at %s the pipe would lie bare; %s of soil over it are wanted", s.Length(t.AtM), s.Depth(t.Want))
		}
		return what, fmt.Sprintf("full cover in a trench asks for a bed %s below the ground at its edge; take a swale, or pipe that is made to lie shallow, with its maker's cover as inlet.cover. A higher bank would turn rain towards the building", s.Depth(t.Change))
	case drowned:
		return fmt.Sprintf("the outlet lies %s under the water of a full bed, which then stands in %s of the pipe", s.Depth(t.Found), s.Length(t.AtM)),
			fmt.Sprintf("let the bed spill %s lower, or clear silt and ice from the pipe every year", s.Depth(t.Change))
	case backsToWall:
		return fmt.Sprintf("the water of a full bed stands up the swale to %s from the wall", s.Depth(t.Found)),
			fmt.Sprintf("let the bed spill %s lower, or set it further away", s.Depth(t.Change))
	case shortOfSoil:
		return fmt.Sprintf("%s of soil are at hand for %s of fill", s.Volume(t.Found), s.Volume(t.Want)),
			fmt.Sprintf("bring in %s, or make the bed deeper in the middle", s.Volume(t.Change))
	case noDesignRain:
		return "no design rain is given", "ask the building office for the rain that downspouts are sized for, and give it as design_rain"
	}
	return t.flowText(s, percent)
}

func (t Trouble) flowText(s Show, percent func(float64) string) (what, change string) {
	short := fmt.Sprintf("it carries %s and the %s brings %s", s.Flow(t.Found), t.Against, s.Flow(t.Want))
	switch t.Kind {
	case smallPipe:
		if math.IsNaN(t.Change) {
			return short, "share the roof between two downspouts and two pipes, or give the pipe more fall"
		}
		return short, fmt.Sprintf("take a pipe of %s", s.Depth(t.Change))
	case smallSwale:
		if math.IsNaN(t.Change) {
			return short, "share the roof between two downspouts, or take a pipe"
		}
		return short, fmt.Sprintf("take a liner %s wide and dig the swale deeper to match", s.Length(t.Change))
	case smallExtension:
		return short, "take a wider extension, or give it more fall"
	case smallDownspout:
		return "the downspout: " + short, "take a wider downspout, or add a second"
	case notInCode:
		return fmt.Sprintf("size or fall (%s) are not in the code's table, so its figure here is ours by the same rule", percent(t.Found)),
			fmt.Sprintf("take a pipe of %s or more on a fall of %s or more, or ask the building office", s.Depth(3*inchMM), percent(t.Want))
	case narrows:
		return fmt.Sprintf("the pipe (%s) is narrower than the downspout (%s round)", s.Depth(t.Found), s.Depth(t.Want)),
			fmt.Sprintf("take a pipe of at least %s, so that what passes the downspout does not stick", s.Depth(t.Change))
	case fastSwale:
		return fmt.Sprintf("the water runs at %s; gravel withstands %s", s.Speed(t.Found), s.Speed(t.Want)), "set low sills of rock across the swale, or take larger rock"
	case fastLawn:
		return fmt.Sprintf("the water runs at %s; this ground withstands %s", s.Speed(t.Found), s.Speed(t.Want)), "spread it over rock at the end, or take a lined swale or a pipe"
	case flatLawn:
		return fmt.Sprintf("from %s on the ground falls only %s", s.Length(t.AtM), percent(t.Found)),
			fmt.Sprintf("shape it to fall at least %s, or the lawn stays wet", percent(t.Want))
	}
	panic("no words for " + string(t.Kind))
}
