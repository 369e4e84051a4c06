package season

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/fit"
)

// troubled is a case with doses of too deep and too dry, and what was noted.
func troubled(deep, dry float64, vigour int, signs ...Sign) Case {
	c := Case{Garden: "g", Species: "s", Plant: "P", SunShortH: -1, SunOverH: -1, Months: 30,
		Notes: []Note{{Date: time.Date(2024, 8, 1, 0, 0, 0, 0, time.UTC), Vigour: vigour, Seen: signs}}}
	for l := range c.Dose {
		c.Dose[l].Severity = math.NaN()
	}
	c.Dose[atDeepLimit].Severity, c.Dose[2].Severity = deep, dry
	return c
}

func learnedFactor(t *testing.T, m Model, of fit.Limit, cases ...Case) float64 {
	x, ok := m.Learn(demoTable(t), cases).Limit("s", of)
	require.True(t, ok)
	return x.Factor
}

// Mud in spring and crisp edges over dry soil in August are of two troubles, and
// lower both limits; signs of one do not, whatever the plant met. Bayes over pairs
// by hand: with signs that each show under one cause alone, two are told where the odds
// of the second times the gain by its sign are over one.
func TestTwoTroublesAtOnce(t *testing.T) {
	m, table := Witnesses(), demoTable(t)
	both := troubled(1.3, 1.3, 1, "mud on the leaves", "rotten", "scorched", "soil dry", "wilted")
	dry := troubled(1.3, 1.3, 1, "scorched", "soil dry", "wilted")
	d := m.Diagnose(table, both, m.Unlearned(both))
	assert.ElementsMatch(t, []Cause{TooDeep, TooDry}, []Cause{d.Top, d.Also})
	assert.Empty(t, m.Diagnose(table, dry, m.Unlearned(dry)).Also)
	for _, limit := range []fit.Limit{fit.TooDeep, fit.TooDry} {
		assert.Less(t, learnedFactor(t, m, limit, both), 1.0, limit)
	}
	assert.Less(t, learnedFactor(t, m, fit.TooDeep, both), learnedFactor(t, m, fit.TooDeep, dry))
	one := m
	one.Witness = 0 // one cause for each season, as without
	assert.Less(t, learnedFactor(t, m, fit.TooDeep, both)*learnedFactor(t, m, fit.TooDry, both),
		learnedFactor(t, one, fit.TooDeep, both)*learnedFactor(t, one, fit.TooDry, both))
}

// A death lowers the limit at least as far as a struggle does; with signs within a
// hundredth, since what a dead plant no longer shows rules no other cause out.
func TestADeathTeachesAsAStruggle(t *testing.T) {
	for _, m := range []Model{Default(), Witnesses()} {
		for _, dry := range []float64{0.6, 0.9, 1.3} {
			for _, signs := range [][]Sign{nil, {"wilted"}, {"wilted", "soil dry"}} {
				dead := learnedFactor(t, m, fit.TooDry, troubled(math.NaN(), dry, 0, signs...))
				poor := learnedFactor(t, m, fit.TooDry, troubled(math.NaN(), dry, 1, signs...))
				off := 1 + 1e-9
				if len(signs) > 0 {
					off = 1.01
				}
				assert.LessOrEqual(t, dead, off*poor, "%v %v", dry, signs)
				assert.Less(t, dead, learnedFactor(t, m, fit.TooDry, troubled(math.NaN(), dry, 4))-0.02)
			}
		}
	}
}

// What is likely under two causes is what a table says in which each sign shows if
// either makes it show, written out cause by cause.
func TestUnderBothAgainstATableOfBoth(t *testing.T) {
	table, m := demoTable(t), Witnesses()
	for _, n := range []Note{
		{Vigour: 2, Seen: []Sign{"wilted", "soil soggy"}}, {Vigour: 0, Seen: []Sign{"scorched"}, Absent: []Sign{"soil dry"}},
		{Vigour: Unstated, Seen: []Sign{"yellow", "soil dry", "leggy"}, Absent: []Sign{"roots brown"}},
	} {
		for a := range table.Rows[0].Chance {
			for b := range table.Rows[0].Chance {
				both := &Table{Rows: slices.Clone(table.Rows), Vigour: table.Vigour}
				for i := range both.Rows {
					r := &both.Rows[i]
					r.Chance[b] = 1 - (1-r.Chance[a])*(1-r.Chance[b])
				}
				for v := range both.Vigour {
					both.Vigour[v][b] = (both.Vigour[v][a] + both.Vigour[v][b]) / 2
				}
				want := math.Exp(m.logLikelihood(both.chances(), n, -1)[b] - m.logLikelihood(table.chances(), n, -1)[a])
				assert.InEpsilon(t, want, m.underBoth(table.chances(), n, a, b), 1e-9, "%v and %v: %v", Causes()[a], Causes()[b], n)
			}
		}
	}
}
