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

// dose is the most that a plant met of one limit, against what it bears.
type dose struct {
	Severity       float64 // found over borne at that age; NaN if not known
	Found, Allowed float64 // in the units of the catalogue; Allowed for the plant's age
	When           time.Time
	ByWet          float64 // too deep: how much of what it bears of too wet counts for this as well, see fit.Year
}

// Case is one plant in one season: what it met and what was seen of it.
type Case struct {
	Garden, Species, Plant string // Plant is unique in its garden
	From, To               time.Time
	Dose                   [LimitCount]dose // by Limits
	Assumed                [LimitCount]bool // the catalogue only assumes this limit
	SunShortH, SunOverH    float64          // hours of sun a day too few, too many; 0 or less within the range, NaN not known
	Months                 float64          // since planting, or the last move, on the day of the last note
	Notes                  []Note
	Band                   int                 // where, index in the bands of the bed
	Ordinary               bool                // the weather is not known: an ordinary year stands in
	GroundSD               float64             // standard deviation of ln of the rate that the bed drains at, as its ponds have shown; 0 if none taught it
	Doubt                  [LimitCount]float64 // then: how far years differ, log units
	AirPoorH               float64             // longest spell short of air; 0 where the weather is not known
	NoPond                 bool                // no water stood over it in all that time
	Rests                  bool                // nothing grows on the day of the last note

	stay int // of the plant, by its place in Stays
}

// Dead says whether the plant was seen dead, and not alive again since.
func (c Case) Dead() bool {
	dead := false
	for _, n := range c.Notes { // by date
		dead = staysDead(dead, n.Seen, n.Vigour)
	}
	return dead
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
	for _, list := range []*[]Sign{&n.Seen, &n.Absent} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	n.Absent = slices.DeleteFunc(n.Absent, func(s Sign) bool { return slices.Contains(n.Seen, s) })
	return n
}

// chances is a table of signs with its logarithms, by row and cause.
type chances struct {
	row       map[Sign]int
	seen, not [][CauseCount]float64
	none      [CauseCount]float64 // the sum of not
	vigour    [6][CauseCount]float64
}

func (t *Table) chances() *chances {
	l := &chances{row: map[Sign]int{}, seen: make([][CauseCount]float64, len(t.Rows)), not: make([][CauseCount]float64, len(t.Rows))}
	for i, r := range t.Rows {
		l.row[r.Sign] = i
		for c, p := range r.Chance {
			l.seen[i][c], l.not[i][c] = math.Log(p), math.Log1p(-p)
			l.none[c] += l.not[i][c]
		}
	}
	for v := range t.Vigour {
		for c, p := range t.Vigour[v] {
			l.vigour[v][c] = math.Log(p)
		}
	}
	return l
}

// unseen is how much a sign counts that a note does not name.
func (m Model) unseen(n Note) float64 {
	if n.Vigour == 0 {
		return 0 // a dead plant shows little
	}
	return m.Unseen
}

// logLikelihood returns the logarithm of the chance of a joined note under every
// cause. One row of the table is left out, unless it is -1.
func (m Model) logLikelihood(l *chances, n Note, without int) (sum [CauseCount]float64) {
	unseen := m.unseen(n)
	if without >= 0 {
		for c := range sum {
			sum[c] = -unseen * l.not[without][c]
		}
	}
	for c := range sum {
		sum[c] += unseen * l.none[c]
		if n.Vigour != Unstated {
			sum[c] += l.vigour[n.Vigour][c]
		}
	}
	for _, s := range n.Seen {
		if i, ok := l.row[s]; ok && i != without {
			for c := range sum {
				sum[c] += l.seen[i][c] - unseen*l.not[i][c]
			}
		}
	}
	for _, s := range n.Absent {
		if i, ok := l.row[s]; ok && i != without {
			for c := range sum {
				sum[c] += (1 - unseen) * l.not[i][c]
			}
		}
	}
	return sum
}
