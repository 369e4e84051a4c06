package draw

import "sort"

// Drift is a group of plants of one species that stand together.
type Drift struct {
	Species int
	Letter  string   // "" if it has none
	Members []int    // numbers of plants, ascending
	Links   [][2]int // shortest tree through them
}

// Drifts joins plants of a species and a letter at most 1.6 spreads apart, shortest links
// first (Kruskal 1956, Proc. American Mathematical Society 7:48).
func Drifts(species []Species, plants []Plant) []Drift {
	bySpecies := make([][]int, len(species))
	for i, p := range plants {
		bySpecies[p.Species] = append(bySpecies[p.Species], i)
	}
	var out []Drift
	for sp, members := range bySpecies {
		out = append(out, groups(sp, members, 1.6*max(species[sp].SpreadM, 0), plants)...)
	}
	return out
}

func groups(sp int, members []int, reach float64, plants []Plant) []Drift {
	type link struct {
		d    float64
		a, b int
	}
	// Of those on one spot the first is linked to the others, and alone to the rest.
	first := map[Point]int{}
	for _, m := range members {
		if _, ok := first[plants[m].At]; !ok {
			first[plants[m].At] = m
		}
	}
	var links []link
	for i, a := range members {
		if first[plants[a].At] != a {
			continue
		}
		for _, b := range members[i+1:] {
			if d := dist(plants[a].At, plants[b].At); d <= reach && plants[a].Drift == plants[b].Drift && (d == 0 || first[plants[b].At] == b) {
				links = append(links, link{d, a, b})
			}
		}
	}
	sort.SliceStable(links, func(i, j int) bool { return links[i].d < links[j].d })
	root := map[int]int{}
	for _, m := range members {
		root[m] = m
	}
	find := func(m int) int {
		for root[m] != m {
			root[m] = root[root[m]]
			m = root[m]
		}
		return m
	}
	var tree [][2]int
	for _, l := range links {
		if a, b := find(l.a), find(l.b); a != b {
			root[max(a, b)] = min(a, b)
			tree = append(tree, [2]int{l.a, l.b})
		}
	}
	kept := map[int][][2]int{}
	for _, l := range tree {
		r := find(l[0])
		kept[r] = append(kept[r], l)
	}
	at := map[int]int{}
	var out []Drift
	for _, m := range members {
		r := find(m)
		n, ok := at[r]
		if !ok {
			n = len(out)
			at[r] = n
			out = append(out, Drift{Species: sp, Letter: plants[m].Drift, Links: kept[r]})
		}
		out[n].Members = append(out[n].Members, m)
	}
	return out
}
