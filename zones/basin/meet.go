package basin

import (
	"fmt"
	"math"
	"strings"
)

// MeetError says that the sides of a bed meet before the ponding depth is
// reached, and which single change would leave a bottom. Each figure is the
// limit itself: the bed has to stay under it (over it, for SizeFactor).
type MeetError struct {
	PondingMM, SideRun, RimWidthM float64 // as asked for

	ReachMM    float64 // depth at which the sides meet; below 0: the rim alone fills the bed
	MaxSideRun float64 // below 0: no side slope would do
	MaxRimM    float64 // below 0: no rim width would do
	SizeFactor float64 // the bed's length and width would have to grow by this
}

// meet works out the limits from the largest distance inward r:
//
//	reach = (r - rim)/run,  run = (r - rim)/depth,  rim = r - run depth,
//	factor = (rim + run depth)/r
func (s Spec) meet(r float64) *MeetError {
	depth := s.PondingMM / 1000
	e := &MeetError{PondingMM: s.PondingMM, SideRun: s.SideRun, RimWidthM: s.RimWidthM}
	e.ReachMM = math.Inf(1)
	if s.SideRun > 0 {
		e.ReachMM = 1000 * (r - s.RimWidthM) / s.SideRun
	} else if r <= s.RimWidthM {
		e.ReachMM = -1
	}
	e.MaxSideRun = (r - s.RimWidthM) / depth
	e.MaxRimM = r - s.SideRun*depth
	e.SizeFactor = (s.RimWidthM + s.SideRun*depth) / r
	return e
}

// Error tells the limits in millimetres.
func (e *MeetError) Error() string {
	return e.Text(func(mm float64) string { return fmt.Sprintf("%.0f mm", mm) })
}

// Text tells the limits with lengths as the caller writes them.
func (e *MeetError) Text(length func(mm float64) string) string {
	var w strings.Builder
	switch reach, ponding := length(e.ReachMM), length(e.PondingMM); {
	case e.ReachMM > 0 && reach == ponding:
		fmt.Fprintf(&w, "the sides meet at the ponding depth of %s and leave no bottom: want ", ponding)
	case e.ReachMM > 0:
		fmt.Fprintf(&w, "the sides meet at a depth of %s, before the ponding depth of %s: want ", reach, ponding)
	default:
		fmt.Fprintf(&w, "the rim of %s fills the whole bed and leaves no basin: want ", length(1000*e.RimWidthM))
	}
	var ways []string
	if e.ReachMM > 0 {
		ways = append(ways, "a depth less than "+length(e.ReachMM))
		ways = append(ways, fmt.Sprintf("sides steeper than %.3g:1", e.MaxSideRun))
	}
	if e.MaxRimM > 0.01 && e.RimWidthM > 0 {
		ways = append(ways, "a rim narrower than "+length(1000*e.MaxRimM))
	}
	ways = append(ways, fmt.Sprintf("a bed more than %.3g times as long and wide", e.SizeFactor))
	w.WriteString(strings.Join(ways, ", or "))
	return w.String()
}

// BadInput says that the fault lies in the input and not in the program.
func (e *MeetError) BadInput() bool { return true }
