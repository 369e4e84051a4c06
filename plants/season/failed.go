package season

import (
	"math"
	"slices"
	"time"

	"hollowbed/plants/placement"
)

// staysDead says whether a plant counts as dead after a note, before or not: it
// does from the sign on until some vigour is seen of it.
func staysDead(before bool, seen []Sign, vigour int) bool {
	return slices.Contains(seen, Dead) || before && vigour <= 0
}

// Died says whether the plant of a row was seen dead, and not alive again since.
func (r *Notes) Died(row placement.Planted) bool {
	planted, _ := time.Parse(time.DateOnly, row.Planted)
	_, entries := lastGone(r.About(row.Stake))
	return died(entries, planted)
}

func died(entries []Entry, planted time.Time) bool {
	dead := false
	for _, e := range entries { // by date
		if e.Kind == Seen && !e.Date.Before(planted) {
			dead = staysDead(dead, e.Signs, e.Vigour)
		}
	}
	return dead
}

// Alive leaves those rows of planted.csv whose plants were not noted dead, nor taken
// out after they were planted. r may be nil: nothing was noted.
func (r *Notes) Alive(rows []placement.Planted) []placement.Planted {
	if r == nil {
		return rows
	}
	return slices.DeleteFunc(slices.Clone(rows), func(row placement.Planted) bool { return r.Died(row) || r.gone(row) })
}

// gone says whether a plant was taken out since it was planted, and nothing was
// written of another one by its stake.
func (r *Notes) gone(row placement.Planted) bool {
	out, since := lastGone(r.About(row.Stake))
	planted, err := time.Parse(time.DateOnly, row.Planted)
	return err == nil && !out.IsZero() && !planted.After(out) && len(since) == 0
}

// Failed lists where plants died, those in planted.csv and those taken out dead since.
func (r *Notes) Failed(rows []placement.Planted) []placement.Planted {
	var out []placement.Planted
	for _, row := range rows {
		if r.Died(row) {
			out = append(out, row)
		}
	}
	for _, e := range r.Current() {
		if e.Kind != Removed || e.ID == "" || math.IsNaN(e.X+e.Y) {
			continue
		}
		about := r.About(e.Stake)
		until := slices.IndexFunc(about, func(o Entry) bool { return o.Number == e.Number })
		if _, since := lastGone(about[:until]); died(since, time.Time{}) {
			out = append(out, placement.Planted{Stake: e.Stake, ID: e.ID, X: e.X, Y: e.Y})
		}
	}
	return out
}
