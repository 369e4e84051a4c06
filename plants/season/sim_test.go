package season

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// tableText is the table of signs that the program ships.
func tableText(t testing.TB) string {
	text, err := os.ReadFile("../../data/signs.csv")
	require.NoError(t, err)
	return string(text)
}

func demoTable(t testing.TB) *Table {
	table, err := ReadTable("signs.csv", strings.NewReader(tableText(t)))
	require.NoError(t, err)
	return table
}

// world draws cases from the model itself.
type world struct {
	*rand.Rand
	m     Model
	table *Table
	theta map[string]*[LimitCount]float64
	gamma map[string][LimitCount]float64
	eta   map[string][LimitCount]float64 // by garden and plant
	sun   map[string][2]float64          // hours a day less and more than stated
}

func newWorld(t testing.TB, seed uint64) *world {
	return &world{
		Rand: rand.New(rand.NewPCG(seed, 1)), m: Default(), table: demoTable(t),
		theta: map[string]*[LimitCount]float64{}, gamma: map[string][LimitCount]float64{},
		eta: map[string][LimitCount]float64{}, sun: map[string][2]float64{},
	}
}

func (w *world) garden(name string) {
	wet, dry := w.m.Gamma*w.NormFloat64(), w.m.Gamma*w.NormFloat64()
	w.gamma[name] = [LimitCount]float64{wet, 0, dry, 0}
}

func (w *world) kind(id string) *[LimitCount]float64 {
	if w.theta[id] == nil {
		th := &[LimitCount]float64{}
		for l := range th {
			th[l] = w.m.TauStated * w.NormFloat64()
		}
		w.theta[id] = th
		w.sun[id] = [2]float64{w.m.SunSpread * w.NormFloat64(), w.m.SunSpread * w.NormFloat64()}
	}
	return w.theta[id]
}

// plant draws the seasons of one plant.
func (w *world) plant(garden, id, name string, seasons, only int) []Case {
	var out []Case
	var eta [LimitCount]float64
	for l := range eta {
		eta[l] = w.m.Eta * w.NormFloat64()
	}
	w.eta[garden+name] = eta
	w.kind(id)
	bears := Bearing{atLeastSun: {Mean: w.sun[id][0]}, atMostSun: {Mean: w.sun[id][1]}}
	short, over := -20.0, -20.0 // hours too few, too many
	if only < 0 {
		short = 7*w.Float64() - 5.5 // a range of four hours, places up to one and a half outside
		over = -4 - short
	}
	for y := range seasons {
		c := Case{Garden: garden, Species: id, Plant: name, Months: float64(12 * (y + 1)), SunShortH: short, SunOverH: over}
		c.Dose[atDeepLimit].ByWet = [3]float64{0, 0.5, 1}[w.IntN(3)]
		if only >= 0 {
			c.Dose[atDeepLimit].ByWet = 0
		}
		truth := c
		for l := range c.Dose {
			c.Dose[l].Severity = math.Exp(-0.9 + 0.6*w.NormFloat64())
			if only >= 0 && l != only {
				c.Dose[l].Severity = math.NaN()
			}
			truth.Dose[l].Severity = c.Dose[l].Severity * math.Exp(-w.kind(id)[l]-eta[l]+w.gamma[garden][l])
		}
		wet := atWetLimit
		truth.Dose[atDeepLimit].Severity *= math.Exp(-c.Dose[atDeepLimit].ByWet * (w.kind(id)[wet] + eta[wet] - w.gamma[garden][wet]))
		odds := w.m.prior(truth, bears)
		c.Notes = []Note{w.note(w.draw(odds[:]))}
		out = append(out, c)
	}
	return out
}

func (w *world) draw(odds []float64) int {
	sum := 0.0
	for _, v := range odds {
		sum += v
	}
	x := w.Float64() * sum
	for k, v := range odds {
		if x -= v; x < 0 {
			return k
		}
	}
	return len(odds) - 1
}

func (w *world) note(cause int) Note {
	var of []float64
	for v := range w.table.Vigour {
		of = append(of, w.table.Vigour[v][cause])
	}
	n := Note{Vigour: w.draw(of)}
	for _, r := range w.table.Rows {
		if w.Float64() < r.Chance[cause] {
			n.Seen = append(n.Seen, r.Sign)
		} else {
			n.Absent = append(n.Absent, r.Sign)
		}
	}
	return n
}

func (w *world) cases(gardens, kinds, each, seasons int) []Case {
	return w.casesOnly(gardens, kinds, each, seasons, -1)
}

func (w *world) casesOnly(gardens, kinds, each, seasons, only int) []Case {
	var out []Case
	for g := range gardens {
		garden := fmt.Sprintf("g%04d", g)
		w.garden(garden)
		for k := range each {
			id := fmt.Sprintf("s%02d", w.IntN(kinds))
			out = append(out, w.plant(garden, id, fmt.Sprintf("P%d", k), seasons, only)...)
		}
	}
	return out
}

// 150,000 plants and seasons of 1,000 gardens.
func BenchmarkLearn(b *testing.B) {
	w := newWorld(b, 3)
	cases := w.cases(1000, 40, 30, 5)
	b.ResetTimer()
	for b.Loop() {
		w.m.Learn(w.table, cases)
	}
}

// shake moves the odds of every sign in the table that notes are drawn by.
func (w *world) shake(spread float64) {
	rows := make([]Row, len(w.table.Rows))
	for i, r := range w.table.Rows {
		for c, p := range r.Chance {
			odds := toOdds(p) * math.Exp(spread*w.NormFloat64())
			r.Chance[c] = odds / (1 + odds)
		}
		rows[i] = r
	}
	w.table = &Table{Rows: rows, Vigour: w.table.Vigour}
}
