package water

import (
	"fmt"
	"slices"

	"hollowbed/zones/site"
)

// Windows cuts the days of a record before each of the given days into windows
// that follow one another: with the cuts 31 and 59 of a year's record they are
// January, February and the rest. Cuts outside the record, and those given
// twice, make no difference. Name is the calendar year of a window's first day;
// Whole says that at least nine tenths of its hours have rain values.
func Windows(rec *site.Record, cuts []int) []site.Year {
	n := len(rec.Days)
	cuts = slices.Clone(cuts)
	cuts = slices.DeleteFunc(append(cuts, n), func(d int) bool { return d <= 0 || d > n })
	slices.Sort(cuts)
	var out []site.Year
	from := 0
	for _, to := range slices.Compact(cuts) {
		w := site.Year{Name: rec.Start.AddDate(0, 0, from).Year(), FromDay: from, ToDay: to}
		for _, missing := range rec.Missing[24*from : 24*to] {
			if missing {
				w.MissingHours++
			}
		}
		w.Whole = w.MissingHours*10 <= 24*(to-from)
		out = append(out, w)
		from = to
	}
	return out
}

// RunWindows is Run with windows in place of years: Years of the result are the
// windows, and all figures by year are by window. A spell counts in each
// window that it touches with the length it has reached there, so that the most
// met from the beginning of one window to the end of another is the largest
// over those between. The windows follow one another from the first day of the
// record to its last.
func RunWindows(s Setup, rec *site.Record, windows []site.Year) (*Result, error) {
	if err := check(s, rec); err != nil {
		return nil, err
	}
	day := 0
	for i, w := range windows {
		if w.FromDay != day || w.ToDay <= day {
			return nil, fmt.Errorf("water balance: window %d goes from day %d to %d: want it to follow day %d", i+1, w.FromDay, w.ToDay, day)
		}
		day = w.ToDay
	}
	if day != len(rec.Days) {
		return nil, fmt.Errorf("water balance: the windows end at day %d of %d", day, len(rec.Days))
	}
	return run(s, rec, windows), nil
}
