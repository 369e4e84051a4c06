package plants

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// History gives the entries of season.csv that go with Rows: where each plant
// stood that was moved, when those that are gone were planted and taken out, and
// the new plants. before are the rows as they stood, rec the record so far.
func (r *Relocation) History(before []placement.Planted, rec *season.Notes, on time.Time, groups ...int) []season.Entry {
	var out []season.Entry
	for _, m := range r.Moves {
		i := slices.IndexFunc(before, func(p placement.Planted) bool { return strings.EqualFold(p.Stake, m.Stake) })
		if i < 0 || !slices.Contains(groups, m.Group) {
			continue
		}
		row := before[i]
		switch m.Action {
		case ActMove, ActSwap:
			out = append(out, season.Moving(row, on, fmt.Sprintf("to the %s", m.To.Zone)))
		case ActTakeOut:
			out = append(out, season.Leaving(row, rec, on, "taken out")...)
		case ActReplace:
			out = append(out, season.Leaving(row, rec, on, "replaced")...)
			k := slices.IndexFunc(r.New, func(n NewPlant) bool { return n.Instead == m.Stake })
			e := season.NewEntry(on, r.New[k].Stake, season.Planted)
			e.ID, e.X, e.Y = r.New[k].Plant.ID, row.X, row.Y
			e.Remark = "in the place of " + m.Stake
			out = append(out, e)
		}
	}
	return out
}
