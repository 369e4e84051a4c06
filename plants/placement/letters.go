package placement

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// driftLeast is how many plants of a kind make a drift; fewer go by their stakes.
// Common practice, no source: groups of three and more.
const driftLeast = 3

// driftReach is how far apart neighbours of one drift stand at most, in spreads; it
// is that of the plan (draw.Drifts).
const driftReach = 1.6

// driftLetters leaves out what the plan calls otherwise, the fixed points A and B and
// the ends S and T of the section, and what reads as a figure.
const driftLetters = "CDEFGHJKLMNPQRUVWXYZ"

// WrongDrift tells what is wrong with the letter of a drift, or "".
func WrongDrift(s string) string {
	if len(s) > 3 || strings.ContainsFunc(s, func(r rune) bool { return r < 'A' || r > 'Z' }) {
		return "expected the letter of a drift, such as C, or nothing"
	}
	return ""
}

// letter gives the plants that have none the letter of their drift: that of the
// nearest of their kind within reach that has one, or where three or more without
// stand together a new one. Letters that are or were in use are not given again.
func letter(plants []Standing, taken []string) {
	used := map[string]bool{}
	for _, t := range taken {
		used[strings.ToUpper(t)] = true
	}
	root, drift, size := make([]int, len(plants)), make([]string, len(plants)), make([]int, len(plants))
	for i, p := range plants {
		root[i], drift[i], size[i] = i, p.Drift, 1
		used[p.Drift], used[strings.ToUpper(p.Stake)] = true, true
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, l := range links(plants) { // shortest first
		a, b := find(l.a), find(l.b)
		if a == b || drift[a] != "" && drift[b] != "" {
			continue
		}
		root[b], drift[a], size[a] = a, cmp.Or(drift[a], drift[b]), size[a]+size[b]
	}
	n := 0
	for i := range plants {
		r := find(i)
		if drift[r] == "" && size[r] >= driftLeast {
			for ; drift[r] == "" || used[drift[r]]; n++ {
				drift[r] = nthLetter(n)
			}
		}
		plants[i].Drift = drift[r]
	}
}

// nthLetter counts C, D, ... Z, CC, DC, ...
func nthLetter(n int) string {
	const count = len(driftLetters)
	out := driftLetters[n%count : n%count+1]
	if n >= count {
		out += nthLetter(n/count - 1)
	}
	return out
}

// link joins two plants of a kind that stand within reach of each other.
type link struct {
	d    float64
	a, b int
}

func links(plants []Standing) (out []link) {
	order := make([]int, len(plants))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(strings.Compare(plants[a].ID, plants[b].ID), cmp.Compare(plants[a].X, plants[b].X))
	})
	for i, a := range order {
		p := plants[a]
		reach := driftReach * p.SpreadCM / 100
		for _, b := range order[i+1:] {
			q := plants[b]
			if q.ID != p.ID || q.X-p.X > reach {
				break
			}
			if d := math.Hypot(q.X-p.X, q.Y-p.Y); d <= reach {
				out = append(out, link{d, min(a, b), max(a, b)})
			}
		}
	}
	slices.SortFunc(out, func(k, l link) int {
		return cmp.Or(cmp.Compare(k.d, l.d), cmp.Compare(k.a, l.a), cmp.Compare(k.b, l.b))
	})
	return out
}
