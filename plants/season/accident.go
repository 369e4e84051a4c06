package season

import "slices"

// accidents are the signs of what happened to a plant: each is a cause of itself (Other).
func accidents() []Sign {
	return []Sign{"washed out", "silted", "heaved", "trampled", "eaten", "spotted", "herbicide", "planted too deep", "pot-bound", "spread too far"}
}

// accident is the first accident among signs; "" for none.
func accident(seen []Sign) Sign {
	for _, s := range accidents() {
		if slices.Contains(seen, s) {
			return s
		}
	}
	return ""
}

// Chance of the sign of an accident that has no row, under Other. Assumption.
const rowlessSeen = 0.3

// witnessed is a table by which an accident that was seen counts: its sign is
// Model.Witness times less likely under any cause but Other. t itself where none was.
func (m Model) witnessed(t *Table, n Note) *Table {
	if m.Witness <= 1 || accident(n.Seen) == "" {
		return t
	}
	out := &Table{Rows: slices.Clone(t.Rows), Vigour: t.Vigour}
	for _, r := range rowless() {
		if slices.Contains(n.Seen, r.Sign) {
			for c := range r.Chance {
				r.Chance[c] = rowlessSeen
			}
			out.Rows = append(out.Rows, r)
		}
	}
	for i, r := range out.Rows {
		if !slices.Contains(accidents(), r.Sign) || !slices.Contains(n.Seen, r.Sign) {
			continue
		}
		for c := range r.Chance {
			if c != atOther {
				out.Rows[i].Chance[c] = min(r.Chance[c], r.Chance[atOther]/m.Witness)
			}
		}
	}
	return out
}

// lookOnly are the signs that a plant at rest shows in good health too.
func lookOnly() []Sign {
	return []Sign{"wilted", "yellow", "scorched", FewFlowers, "small but green", "soil dry"}
}

// atRest leaves out what the look of a plant says while it is at rest.
func atRest(n Note) Note {
	look := func(s Sign) bool { return slices.Contains(lookOnly(), s) }
	n.Seen, n.Absent = slices.DeleteFunc(slices.Clone(n.Seen), look), slices.DeleteFunc(slices.Clone(n.Absent), look)
	if n.Vigour > 0 {
		n.Vigour = Unstated
	}
	return n
}

// moistBleached is by how much bleached leaves over soil that is not dry make
// drought less likely: what dries out does so in dry soil. Assumption, no source.
const moistBleached = 0.05

// seenOdds are the odds of every cause once what rules one out has been seen.
func (m Model) seenOdds(c Case, n Note, odds [CauseCount]float64) [CauseCount]float64 {
	if m.Witness <= 1 {
		return odds
	}
	if c.NoPond {
		odds[atDeep] = 0
	}
	if slices.Contains(n.Seen, "bleached") && (slices.Contains(n.Absent, "soil dry") || slices.Contains(n.Seen, "soil soggy")) {
		odds[atDry] *= moistBleached
	}
	return odds
}
