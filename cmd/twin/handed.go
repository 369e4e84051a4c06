package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"hollowbed/plants/fit"
	"hollowbed/plants/season"
)

// handed is what of the truth the method is told, to see what it costs that it
// does not know it. Nothing of it for the policies of the experiment.
type handed struct {
	limits [season.LimitCount]bool // true limits of species
	sun    bool                    // true sun needs of species
	ground bool                    // the true ground
	causes bool                    // why each plant struggled, in place of its signs
}

// sureTau is the spread of a limit that is told: none, on the grids of season.
const sureTau = 1e-3

// tell has the method know a part of the truth from here on.
func (w *world) tell(h handed) {
	w.handed = h
	w.told = make([]species, len(w.species))
	for i, s := range w.species {
		is, was := &s.stated, s.real
		for l, value := range []struct{ stated, real *float64 }{{&is.WetH, &was.WetH}, {&is.PondMM, &was.PondMM}, {&is.DryD, &was.DryD}, {&is.LowestC, &was.LowestC}} {
			if h.limits[l] {
				*value.stated = *value.real
			}
		}
		if h.sun {
			is.SunMinH, is.SunMaxH = was.SunMinH, was.SunMaxH
		}
		w.told[i] = s
	}
}

// model is that of season; limits that are told count there as those that are
// assumed, and those are sure here.
func (w *world) model() season.Model {
	m := season.Default()
	m.TauAssumed = sureTau
	if w.handed.ground {
		m.Gamma = sureTau
	}
	if w.handed.sun {
		m.SunSpread = sureTau
	}
	return m
}

// ground is the bed that the method computes with.
func (w *world) ground(r *run, g *garden) *fit.Bed {
	switch {
	case w.handed.ground:
		return g.real
	case r.grounds != nil:
		return r.grounds[g.index]
	}
	return g.believed
}

// signs is the table that the method reads notes by: if causes are told, one in
// which each cause has a sign of its own.
func (w *world) signs() *season.Table {
	if !w.handed.causes {
		return w.table
	}
	t := &season.Table{}
	const sure = 1e-15 // against whatever a dose says
	for i, c := range season.Causes() {
		r := season.Row{Sign: season.Sign(c)}
		for k := range r.Chance {
			r.Chance[k] = sure
		}
		r.Chance[i] = 1 - sure
		t.Rows = append(t.Rows, r)
	}
	return t
}

// noted is the note of a plant as the method reads it.
func (w *world) noted(r *run, turn, i, k int) []season.Note {
	if !w.handed.causes {
		return r.notes[turn][i][k : k+1]
	}
	return []season.Note{{Date: r.notes[turn][i][k].Date, Vigour: season.Unstated, Seen: []season.Sign{season.Sign(r.fates[turn][i][k].cause)}}}
}

// ablation is how much of the oracle's gain the method keeps if it is told a part
// of the truth, or plans otherwise.
type ablation struct {
	Truth madeUp
	Rows  []ablationRow
}

// ablationRow is one change of the method.
type ablationRow struct {
	What     string
	OfOracle interval
	Moves    float64 // per garden
	Needless float64 // share of them
}

// handOver lives a world under ours once for each part of the truth that it is told,
// with the same weather and the same luck.
func handOver(t madeUp, table *season.Table) (*ablation, error) {
	w, err := newWorld(t, table)
	if err != nil {
		return nil, err
	}
	if err := w.livePolicies(byNothing, byKindOracle, byOracle); err != nil {
		return nil, err
	}
	all := map[string][]tally{}
	for _, p := range []string{byNothing, byKindOracle, byOracle} {
		all[p] = w.tallies(p)
	}
	out := &ablation{Truth: t}
	add := func(what string, of []tally) {
		sum := sumOf(of)
		out.Rows = append(out.Rows, ablationRow{
			What: what, OfOracle: shareOf(t, of, all[byNothing], all[byOracle], aliveOf, plantsOf),
			Moves: sum.moves / float64(t.Gardens), Needless: sum.needless / max(1, sum.moves),
		})
	}
	costs := w.stated
	costs.disturb, costs.moved = t.MoveShock, t.MovedShare
	every := [season.LimitCount]bool{true, true, true, true}
	for _, v := range []struct {
		what   string
		handed handed
		stated stated
	}{
		{"ours as it is", handed{}, w.stated},
		{"without caution", handed{}, stated{0, w.stated.disturb, w.stated.young, w.stated.moved, 0}},
		{"told what moves truly cost", handed{}, costs},
		{"told true limits: too wet", handed{limits: [season.LimitCount]bool{0: true}}, w.stated},
		{"too deep", handed{limits: [season.LimitCount]bool{1: true}}, w.stated},
		{"too dry", handed{limits: [season.LimitCount]bool{2: true}}, w.stated},
		{"all limits", handed{limits: every}, w.stated},
		{"told true sun needs", handed{sun: true}, w.stated},
		{"told the true ground", handed{ground: true}, w.stated},
		{"told true causes", handed{causes: true}, w.stated},
		{"told sun and ground", handed{sun: true, ground: true}, w.stated},
		{"told all of these", handed{limits: every, sun: true, ground: true, causes: true}, costs},
	} {
		w.stated = v.stated
		w.tell(v.handed)
		if err := w.live(byOurs, rivals{}); err != nil {
			return nil, err
		}
		add(v.what, w.tallies(byOurs))
	}
	add("who knows species and ground, and needs no notes", all[byKindOracle])
	return out, nil
}

// text prints an ablation as a table.
func (a *ablation) text(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(w, "%d made-up gardens, %d seasons, seed %d.\n\n", a.Truth.Gardens, a.Truth.Seasons, a.Truth.Seed)
	fmt.Fprintln(t, "policy\tof the oracle's gain\tmoves a garden\tneedless\t")
	for _, r := range a.Rows {
		fmt.Fprintf(t, "%s\t%s\t%.2f\t%.0f %%\t\n", r.What, r.OfOracle.percent(), r.Moves, 100*r.Needless)
	}
	return t.Flush()
}
