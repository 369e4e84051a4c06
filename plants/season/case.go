package season

import (
	"math"
	"slices"
	"time"
)

// Note is what was seen of a plant on one day.
type Note struct {
	Date   time.Time
	Vigour int // 0 to 5; Unstated if nobody wrote it down
	Seen   []Sign
	Absent []Sign // looked for, and not there
}

// Unstated is a vigour that nobody wrote down.
const Unstated = -1

// Dose is the most that a plant met of one limit, against what it bears.
type Dose struct {
	Severity       float64 // found over borne at that age; NaN if not known
	Found, Allowed float64 // in the units of the catalogue; Allowed for the plant's age
	When           time.Time
}

// Case is one plant in one season: what it met and what was seen of it.
type Case struct {
	Garden, Species, Plant string // Plant is unique in its garden
	From, To               time.Time
	Dose                   [LimitCount]Dose // by Limits
	Assumed                [LimitCount]bool // the catalogue only assumes this limit
	SunShortH, SunOverH    float64          // hours of sun a day too few, too many; 0 or less within the range, NaN not known
	Months                 float64          // since planting, or the last move, on the day of the last note
	Notes                  []Note
	Band                   int                 // where, index in the bands of the bed
	Ordinary               bool                // the weather is not known: an ordinary year stands in
	Doubt                  [LimitCount]float64 // then: how far years differ, log units

	stay int // of the plant, by its place in Stays
}

// joined puts all notes of a season together: the lowest vigour, every sign
// that was ever seen, and those looked for and never seen.
func joined(notes []Note) (n Note) {
	n.Vigour = Unstated
	for _, o := range notes {
		if o.Vigour != Unstated && (n.Vigour == Unstated || o.Vigour < n.Vigour) {
			n.Vigour = o.Vigour
		}
		if slices.Contains(o.Seen, Dead) {
			n.Vigour = 0
		}
		if o.Date.After(n.Date) {
			n.Date = o.Date
		}
		n.Seen = append(n.Seen, o.Seen...)
		n.Absent = append(n.Absent, o.Absent...)
	}
	slices.Sort(n.Seen)
	n.Seen = slices.Compact(n.Seen)
	slices.Sort(n.Absent)
	n.Absent = slices.Compact(n.Absent)
	n.Absent = slices.DeleteFunc(n.Absent, func(s Sign) bool { return slices.Contains(n.Seen, s) })
	return n
}

// likelihood returns the chance of a joined note under every cause.
func (m Model) likelihood(t *Table, n Note) [CauseCount]float64 {
	var out [CauseCount]float64
	for c := range out {
		out[c] = math.Exp(m.logLikelihood(t, n, c, -1))
	}
	return out
}

// logLikelihood leaves one row of the table out, unless it is -1.
func (m Model) logLikelihood(t *Table, n Note, cause, without int) float64 {
	sum := 0.0
	if n.Vigour != Unstated {
		sum += math.Log(t.Vigour[n.Vigour][cause])
	}
	unseen := m.Unseen
	if n.Vigour == 0 {
		unseen = 0 // a dead plant shows little
	}
	for i, r := range t.Rows {
		switch {
		case i == without:
		case slices.Contains(n.Seen, r.Sign):
			sum += math.Log(r.Chance[cause])
		case slices.Contains(n.Absent, r.Sign):
			sum += math.Log1p(-r.Chance[cause])
		case unseen > 0:
			sum += unseen * math.Log1p(-r.Chance[cause])
		}
	}
	return sum
}
