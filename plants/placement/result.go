package placement

// Standing is a plant in its place.
type Standing struct {
	Stake    string
	Line     int // -1: stands already and belongs to no line
	ID       string
	X, Y     float64
	SpreadCM float64
	HeightMM float64 // of the ground, relative to the spill level
	Zone     string
	Drift    string  // letter; "" for one that stands alone or in twos
	Risk     float64 // yearly; NaN if it belongs to no line or stands where its line may not
	Stayed   bool    // stood here already
}

// Why says why a plant found no place.
type Why int

const (
	WhyFull   Why = iota // the zone is full at the overlap allowed
	WhyNarrow            // no place in the zone is far enough from edge and keep-outs
)

func (w Why) String() string {
	switch w {
	case WhyFull:
		return "no room is left at this overlap"
	case WhyNarrow:
		return "no place is far enough from the edge and from what is kept free"
	}
	panic("placement: unknown Why")
}

// Left is the plants of a line that found no place.
type Left struct {
	Line, Count int
	Why         Why
}

// Result is a placement.
type Result struct {
	Plants []Standing // by line, then by stake; those that belong to no line last
	Left   []Left
	// NeededOverlap is a share at which a place was found for every plant that
	// the zone can hold at all; Problem.Overlap if that sufficed. NaN if none up
	// to 0.5 was found. Less may be enough: it comes from a search.
	NeededOverlap float64

	// The yearly loss expected, as ground: the sum over plants of the ground a
	// plant takes (triangular pattern) times its risk. A plant without a place
	// counts as lost.
	LossM2       float64
	RandomLossM2 []float64 // the same when chance places the plants that have places here, under the same rules
	RandomMeanM2 float64
	BoundM2      float64 // no placement loses less; see bound.go
	Gap          float64 // (LossM2 - BoundM2) / LossM2; 0 if nothing is lost

	Drifts  []int   // groups per line: parts that stand within 1.5 spreads of each other
	Hidden  float64 // plants hidden by taller ones, in whole plants
	Stopped string
	Notes   []string
}
