package placement

import (
	"fmt"
	"slices"
	"time"

	"hollowbed/zones/basin"
	"hollowbed/zones/table"
)

const (
	farOutM     = 2   // common practice, no source; so are the others
	oldestYears = 100 // that a plant of a bed is likely to have stood
	aheadDays   = 366 // that a planting is likely to be noted ahead
	mostOfAKind = 3   // warnings; the rest are counted
)

// Unlikely warns of rows that can be read and are hardly meant: a place more
// than 2 m outside the bed, or a day of planting more than 100
// years ago or a year ahead of today.
func Unlikely(name string, plants []Planted, bed basin.Outline, today time.Time) (warnings []table.Fault) {
	minX, minY, maxX, maxY := bed.Bounds() // to show
	var far, when []table.Fault
	for _, p := range plants {
		f := table.Fault{File: name, Line: p.Line}
		if out := -bed.DistanceM(p.X, p.Y); out > farOutM {
			f.Name, f.Value = "x_m,y_m", metres(p.X)+","+metres(p.Y)
			f.Want = fmt.Sprintf("%s is %.3g m outside the bed, which lies within %.4g,%.4g and %.4g,%.4g: are these metres in the frame of its outline?", p.Stake, out, minX, minY, maxX, maxY)
			far = append(far, f)
		}
		day, err := time.Parse(time.DateOnly, p.Planted)
		f.Name, f.Value = "planted", p.Planted
		switch {
		case err != nil: // none stated
		case day.Before(today.AddDate(-oldestYears, 0, 0)):
			f.Want = fmt.Sprintf("%s was planted more than %d years ago: is the year right?", p.Stake, oldestYears)
			when = append(when, f)
		case day.After(today.AddDate(0, 0, aheadDays)):
			f.Want = p.Stake + " is planted more than a year ahead: is the year right?"
			when = append(when, f)
		}
	}
	return slices.Concat(few(far), few(when))
}

func few(fs []table.Fault) []table.Fault {
	if n := len(fs) - mostOfAKind; n > 0 {
		fs = fs[:mostOfAKind]
		fs[mostOfAKind-1].Want += fmt.Sprintf(" So in %d more rows.", n)
	}
	return fs
}
