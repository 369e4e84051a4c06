package plants

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// NotedIn is what the notes of a garden tell of its later years. What is noted of some
// of a drift counts as many of its plants; which they are is not asked.
func NotedIn(rec *season.Notes, rows []placement.Planted, table *catalogue.Catalogue) care.Noted {
	n := care.Noted{Drifts: driftsOf(rows, table)}
	if rec == nil {
		return n
	}
	each := rec.Guess(rows)
	alive := each.Alive(rows)
	of := func(is func(e season.Entry) bool) []string {
		return kindsOf(rows, table, func(r placement.Planted) bool { return slices.ContainsFunc(each.About(r.Stake), is) })
	}
	shows := func(s season.Sign) []string {
		return of(func(e season.Entry) bool { return slices.Contains(e.Signs, s) })
	}
	n.Died = kindsOf(rows, table, func(r placement.Planted) bool {
		return !slices.ContainsFunc(alive, func(a placement.Planted) bool { return a.Stake == r.Stake })
	})
	n.Spread, n.Silted, n.Washed = shows("spread too far"), shows("silted"), shows("washed out")
	n.Thrive = kindsOf(alive, table, func(r placement.Planted) bool {
		p, _ := table.ByID(r.ID)
		seen := slices.DeleteFunc(each.About(r.Stake), func(e season.Entry) bool { return e.Vigour == season.Unstated })
		return splits(p) && len(seen) > 0 && seen[len(seen)-1].Vigour >= thriving
	})
	for _, e := range rec.Current() {
		if e.Kind == season.Ponded && e.From != season.Unstated && e.To != season.Unstated {
			if h := float64(e.Minutes()) / 60; h >= n.PondH {
				n.PondH, n.PondLeft, n.PondOn = h, e.LeftMM > 0, e.Date.Format(time.DateOnly)
			}
		}
	}
	return n
}

// kindsOf counts plants by kind: "3 Tough Soddarel", in the order of the table.
func kindsOf(rows []placement.Planted, table *catalogue.Catalogue, is func(placement.Planted) bool) (out []string) {
	for _, p := range table.Plants {
		n := 0
		for _, r := range rows {
			if r.ID == p.ID && is(r) {
				n++
			}
		}
		if n > 0 {
			out = append(out, fmt.Sprintf("%d %s", n, p.VernacularName))
		}
	}
	return out
}

// driftsOf are the drifts of each kind, by its name, where all its plants are in some.
func driftsOf(rows []placement.Planted, table *catalogue.Catalogue) map[string]string {
	out := map[string]string{}
	for _, p := range table.Plants {
		mine := slices.DeleteFunc(slices.Clone(rows), func(r placement.Planted) bool { return r.ID != p.ID })
		letters := season.Drifts(mine)
		if len(letters) == 0 || slices.ContainsFunc(mine, func(r placement.Planted) bool { return r.Drift == "" }) {
			continue
		}
		word := "drift "
		if len(letters) > 1 {
			word = "drifts "
		}
		out[p.VernacularName] = word + strings.Join(letters, ", ")
	}
	return out
}
