package list

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Clash says which wishes cannot all be granted.
type Clash struct {
	Wanted []string // species that clash
	Reason string
}

func (c *Clash) Error() string {
	quoted := make([]string, len(c.Wanted))
	for i, id := range c.Wanted {
		quoted[i] = fmt.Sprintf("%q", id)
	}
	return fmt.Sprintf("wanted species %s: %s", strings.Join(quoted, ", "), c.Reason)
}

// BadInput reports that the wishes, not the program, are at fault.
func (c *Clash) BadInput() bool { return true }

// placeTrials bounds the search for a first place of the wanted species.
const placeTrials = 200_000

// placeWanted chooses, for every wanted species, one item to stand with its
// smallest group, so that all fit beside each other and in the budget.
func placeWanted(p Problem, m *model) ([]int, error) {
	var want []int
	for s, w := range m.wanted {
		if w {
			want = append(want, s)
		}
	}
	for _, s := range want {
		if len(m.ofSpecies[s]) == 0 {
			n := max(1, p.SmallestGroup)
			switch p.Species[s].Layer {
			case Structure:
				n = 1
			case Bulb:
				n = max(n, bulbGroup)
			}
			return nil, &Clash{ids(p, []int{s}), fmt.Sprintf(
				"a smallest group (%d plants, %.3g m2) is more than one species may take in any of its zones",
				n, float64(n)*p.Species[s].AreaM2)}
		}
	}
	if len(want) > m.mostKinds {
		return nil, &Clash{ids(p, want), fmt.Sprintf("%d are wanted, but the bed may hold %d species", len(want), m.mostKinds)}
	}
	slices.SortStableFunc(want, func(a, b int) int { return cmp.Compare(len(m.ofSpecies[a]), len(m.ofSpecies[b])) })
	if cheapest := m.cheapest(want); cheapest > ceiling(m.budget) {
		return nil, &Clash{ids(p, want), fmt.Sprintf("one smallest group of each costs at least %.2f, the budget is %.2f", cheapest, m.budget)}
	}
	items, sure := m.place(want, m.budget)
	if items != nil || len(want) == 0 {
		return items, nil
	}
	if !sure {
		return nil, &Clash{ids(p, want), fmt.Sprintf("no way to place them all was found in %d trials", placeTrials)}
	}
	if fit, _ := m.place(want, math.Inf(1)); fit != nil {
		return nil, &Clash{ids(p, want), fmt.Sprintf("the groups that fit beside each other cost more than the budget of %.2f", m.budget)}
	}
	return nil, &Clash{ids(p, m.core(want)), "their smallest groups do not fit beside each other in the zones that suit them"}
}

func ids(p Problem, species []int) []string {
	var out []string
	for _, s := range species {
		out = append(out, p.Species[s].ID)
	}
	return out
}

func (m *model) groupCost(i int) float64 {
	return float64(float64(m.items[i].least) * m.items[i].price)
}

// coveredFirst puts a bulb's items first in whose zones most can stand above it.
func (m *model) coveredFirst(items []int) []int {
	if len(items) == 0 || m.items[items[0]].layer != Bulb {
		return items
	}
	cover := func(i int) float64 {
		var able byLayer
		for _, j := range m.inZone[m.items[i].zone] {
			able[m.items[j].layer] += float64(float64(m.items[j].most) * m.items[j].area)
		}
		return min(m.zoneArea[m.items[i].zone], able.cover())
	}
	items = slices.Clone(items)
	slices.SortStableFunc(items, func(a, b int) int { return cmp.Compare(cover(b), cover(a)) })
	return items
}

// cheapest returns the least cost of one group of each species.
func (m *model) cheapest(species []int) float64 {
	total := 0.0
	for _, s := range species {
		least := math.Inf(1)
		for _, i := range m.ofSpecies[s] {
			least = math.Min(least, m.groupCost(i))
		}
		total += least
	}
	return total
}

// core drops species from a clash as long as the rest still clash.
func (m *model) core(want []int) []int {
	for j := 0; j < len(want); {
		rest := slices.Delete(slices.Clone(want), j, j+1)
		if fit, sure := m.place(rest, math.Inf(1)); len(rest) > 0 && fit == nil && sure {
			want = rest
		} else {
			j++
		}
	}
	return want
}

// place searches depth first. It returns nil if there is no way, and whether
// that is certain.
func (m *model) place(want []int, budget float64) (items []int, sure bool) {
	stands := make([]byLayer, len(m.zoneArea))
	chosen := make([]int, 0, len(want))
	trials := 0
	var try func(money float64) bool
	try = func(money float64) bool {
		if trials++; trials > placeTrials {
			return false
		}
		if m.cheapest(want[len(chosen):]) > money {
			return false
		}
		if len(chosen) == len(want) {
			return true
		}
		for _, i := range m.coveredFirst(m.ofSpecies[want[len(chosen)]]) {
			it := &m.items[i]
			need := float64(float64(it.least) * it.area)
			if it.layer != Bulb && need > m.kept[it.zone].left(it.layer, &stands[it.zone]) {
				continue
			}
			before := stands[it.zone]
			stands[it.zone][it.layer] += need
			chosen = append(chosen, i)
			if try(money - m.groupCost(i)) {
				return true
			}
			chosen = chosen[:len(chosen)-1]
			stands[it.zone] = before
		}
		return false
	}
	if try(ceiling(budget)) {
		return chosen, true
	}
	return nil, trials <= placeTrials
}
