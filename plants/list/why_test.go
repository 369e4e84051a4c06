package list

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever is said of ground that stays bare is true: what one more plant of each
// candidate, or its smallest group, would break is worked out here anew.
func TestWhyIsTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		switch rapid.IntRange(0, 3).Draw(t, "tight") {
		case 0:
			p.Budget = rapid.Float64Range(5, 300).Draw(t, "budget")
		case 1:
			p.MostSpecies = rapid.IntRange(1, 5).Draw(t, "most")
		}
		res := solveOrSkip(t, p)
		count, kinds := make([]int, len(p.Candidates)), map[int]bool{}
		money, room := p.Budget*(1+areaSlack/2), make([]float64, len(p.Zones))
		for z := range p.Zones {
			room[z] = p.Zones[z].AreaM2 * (1 + areaSlack/2)
		}
		layers, stands := p.kept(p.limits()), make([]byLayer, len(p.Zones))
		for _, l := range res.Lines {
			c := p.Candidates[l.Candidate]
			count[l.Candidate], kinds[c.Species] = l.Count, true
			money -= float64(l.Count) * p.Species[c.Species].Price
			s := p.Species[c.Species]
			stands[c.Zone][s.Layer] += float64(l.Count) * s.AreaM2
			if s.Layer != Bulb {
				room[c.Zone] -= float64(l.Count) * s.AreaM2
			}
		}
		for z, why := range res.WhyEmpty {
			said := func(is bool, words string) { require.True(t, is, "zone %d, %s: %s", z, why, words) }
			stand, held, dear, open, wide, kept := 0, 0, 0, 0, 0, 0
			for k, lim := range p.limits() {
				c := p.Candidates[k]
				s, more := p.Species[c.Species], 1
				if c.Zone != z || lim.most == 0 || s.Layer == Bulb {
					continue
				}
				stand++
				switch {
				case count[k] == 0:
					more = lim.least
				case count[k] == 1 && s.Layer == Structure:
					more = 2 // no pairs
				}
				fits := float64(more)*s.AreaM2 <= room[z]
				newKind := !kinds[c.Species] && p.MostSpecies > 0 && len(kinds) >= p.MostSpecies
				switch {
				case !fits:
					wide++
				case count[k] == lim.most:
					held++
				case float64(more)*s.AreaM2 > layers[z].left(s.Layer, &stands[z]): // kept for another layer
					kept++
				case newKind:
				case float64(more)*s.Price > money:
					dear++
				default:
					open++
				}
			}
			said(why == WhyFull || (open > 0) == (why == WhySearch), "whether something could still be planted")
			switch why {
			case WhyNone:
				said(stand == 0, "some can stand here")
			case WhyShare:
				said(stand > 0 && held == stand, "not all are at the limit")
			case WhyBudget:
				said(dear > 0, "nothing is too dear")
			case WhyMost:
				said(len(kinds) == p.MostSpecies && dear == 0, "more species may come")
			case WhyLayer:
				said(kept > 0 && dear == 0, "none would fit but for the layers")
			case WhyCapped:
				said(held > 0 && held+wide == stand, "not all that would fit are at the limit")
			case WhyGroup, WhySmallPlant:
				said(wide > 0 && wide == stand, "something would fit")
			}
		}
	})
}

// Each reason by a zone of which it is true, and no other.
func TestEveryWhy(t *testing.T) {
	for want, p := range map[Why]Problem{
		WhyFull:       {ShareCap: 1, Species: []Species{{AreaM2: 0.1}}},
		WhyNone:       {ShareCap: 1, Species: []Species{{AreaM2: 11}}},
		WhyShare:      {ShareCap: 0.4, Species: []Species{{AreaM2: 0.1}, {AreaM2: 0.2}}},
		WhyCapped:     {ShareCap: 0.4, Species: []Species{{AreaM2: 0.1}, {AreaM2: 3.5}}},
		WhyBudget:     {ShareCap: 1, Species: []Species{{AreaM2: 0.1, Price: 3}}},
		WhyMost:       {ShareCap: 0.4, MostSpecies: 1, Species: []Species{{AreaM2: 4}, {AreaM2: 0.1}}},
		WhyGroup:      {ShareCap: 0.8, SmallestGroup: 2, Species: []Species{{AreaM2: 4}, {AreaM2: 1.1}}},
		WhySmallPlant: {ShareCap: 1, Species: []Species{{AreaM2: 4}}},
	} {
		p.Zones, p.Budget, p.SmallestGroup = []Zone{{"z", 10}}, 100, max(p.SmallestGroup, 1)
		for i := range p.Species {
			p.Species[i].ID = string(rune('a' + i))
			p.Candidates = append(p.Candidates, Candidate{i, 0, 1})
		}
		res, err := Solve(p)
		require.NoError(t, err, want)
		assert.Equal(t, []Why{want}, res.WhyEmpty, "%s: %v", want, res.Lines)
	}
}
