package season

import (
	"slices"
	"time"

	"hollowbed/plants/placement"
)

// ParseDay reads a day, such as 2024-05-31; want says what would be right, "" if it is.
func ParseDay(text string) (day time.Time, want string) {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil || day.Year() < 1900 || day.Year() > 2200 {
		return day, wantDate(text)
	}
	return day, ""
}

// LiesAhead is said of a day that nobody can have seen yet.
const LiesAhead = "lies ahead: want the day on which it was seen"

// Ahead says whether a day is still to come, wherever on earth it is asked.
func Ahead(day, now time.Time) bool { return day.After(now.AddDate(0, 0, 1)) }

// Grows finds the plant of a stake.
func Grows(rows []placement.Planted, stake string) (placement.Planted, bool) {
	if at := slices.IndexFunc(rows, func(r placement.Planted) bool { return SameStake(r.Stake, stake) }); at >= 0 {
		return rows[at], true
	}
	return placement.Planted{}, false
}

// Strike is the entry that takes another one back; ok is false if that is not there.
func (r *Notes) Strike(number int, on time.Time) (e Entry, ok bool) {
	of, ok := r.Of(number)
	e = NewEntry(on, of.Stake, Struck)
	e.Corrects = number
	return e, ok
}

// Replaced finds the entry that corrects another one, or takes it back, already.
func (r *Notes) Replaced(number int) (by Entry, found bool) { return r.Of(r.corrected[number]) }

// Early says whether a plant was noted before planting: such a note teaches nothing.
func (e Entry) Early(rows []placement.Planted) (planted string, early bool) {
	row, _ := Grows(rows, e.Stake)
	day, err := time.Parse(time.DateOnly, row.Planted)
	return row.Planted, err == nil && e.Kind == Seen && e.Date.Before(day)
}
