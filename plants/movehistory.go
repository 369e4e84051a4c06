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
			out = append(out, r.New[k].entry(row, on))
		}
	}
	for _, row := range before {
		if n := r.refilled(row.Stake, groups); n != nil {
			out = append(append(out, season.Leaving(row, rec, on, "died")...), n.entry(row, on))
		}
	}
	return out
}

// entry is the one to write when a new plant is set where that of a row stood.
func (n *NewPlant) entry(row placement.Planted, on time.Time) season.Entry {
	e := season.NewEntry(on, n.Stake, season.Planted)
	e.ID, e.X, e.Y = n.Plant.ID, row.X, row.Y
	e.Remark = "in the place of " + row.Stake
	if n.Mother != "" {
		e.Remark = "a piece of " + n.Mother + ", " + e.Remark
	}
	return e
}

// in is the row of a new plant in the place of another, whose drift it joins if it is
// of its kind.
func (n *NewPlant) in(row placement.Planted, date string) placement.Planted {
	out := placement.Planted{Stake: n.Stake, ID: n.Plant.ID, X: row.X, Y: row.Y, Planted: date, Zone: row.Zone}
	if out.ID == row.ID {
		out.Drift = row.Drift
	}
	return out
}

// Rows gives planted.csv after some groups of a plan were carried out on a day,
// in the order before: those that were moved at their new places and out of their
// drifts (placing letters them anew), those given up gone, and new plants in the place of those that were replaced or had died.
func (r *Relocation) Rows(before []placement.Planted, date string, groups ...int) []placement.Planted {
	done := map[string]PlantMove{}
	for _, m := range r.Moves {
		if slices.Contains(groups, m.Group) {
			done[m.Stake] = m
		}
	}
	var out []placement.Planted
	for _, row := range before {
		if n := r.refilled(row.Stake, groups); n != nil {
			out = append(out, n.in(row, date))
			continue
		}
		m, ok := done[row.Stake]
		if ok && m.Action == ActTakeOut {
			continue
		}
		if ok && m.Action == ActReplace {
			k := slices.IndexFunc(r.New, func(n NewPlant) bool { return n.Instead == row.Stake })
			row = r.New[k].in(row, date)
		} else if ok {
			row.X, row.Y, row.Zone, row.Drift = m.To.X, m.To.Y, m.To.Zone, ""
		}
		out = append(out, row)
	}
	return out
}

// refilled is the new plant where one died, if that step is among some; nil if
// it is not.
func (r *Relocation) refilled(stake string, steps []int) *NewPlant {
	for _, l := range r.Lost {
		if season.SameStake(l.Stake, stake) && l.Step >= 0 && slices.Contains(steps, l.Step) {
			return &r.New[l.New]
		}
	}
	return nil
}

// Steps is how many steps the plan has: its groups, then the places of plants
// that died.
func (r *Relocation) Steps() int {
	n := len(r.Groups)
	for _, l := range r.Lost {
		n = max(n, l.Step+1)
	}
	return n
}
