package season

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants/fit"
)

// calm is a case in which nothing was met, of a plant long established.
func calm() Case {
	c := Case{Garden: "g", Species: "s", Plant: "P1", Months: 1e9, SunShortH: -1, SunOverH: -1}
	for l := range c.Dose {
		c.Dose[l].Severity = 0
	}
	return c
}

// Two signs and one vigour, reckoned by hand. The model here has round odds:
// floors of 0.1, no sulking (the months are many), other 0.1, sun 0.1/0.9.
//
// The plant met its wet limit exactly: x = 1, so its odds are 1 + 0.1 = 1.1.
// The rest: fine 1, deep 0.1, dry 0.1, shaded 0.1111, exposed 0.1 + 0.1111,
// slow 0, other 0.1.
//
// Seen vigour 1 and yellow; soggy not written down, which counts nothing here
// (Unseen 0). The table: vigour 1 has 0.1 when fine and 0.5 otherwise; yellow
// has 0.1 when fine, 0.8 when too wet and 0.2 otherwise. So
//
//	fine     1      x 0.1 x 0.1 = 0.01
//	wet      1.1    x 0.5 x 0.8 = 0.44
//	deep     0.1    x 0.5 x 0.2 = 0.01
//	dry      0.1    x 0.5 x 0.2 = 0.01
//	shaded   0.1111 x 0.5 x 0.2 = 0.01111
//	exposed  0.2111 x 0.5 x 0.2 = 0.02111
//	other    0.1    x 0.5 x 0.2 = 0.01
//
// together 0.51222: too wet has 0.8590.
func TestBayesByHand(t *testing.T) {
	table, m := twoSigns(), Default()
	m.FloorOdds, m.OtherOdds, m.SunBase, m.Unseen = 0.1, 0.1, 0.1, 0
	c := calm()
	c.Dose[0].Severity = 1
	c.Notes = []Note{{Vigour: 1, Seen: []Sign{"yellow"}}}
	d := m.Diagnose(table, c, Bearing{})
	total := 0.01*4 + 0.44 + 0.1/0.9*0.1 + (0.1+0.1/0.9)*0.1
	assert.InDelta(t, 0.44/total, d.Of(TooWet), 1e-12)
	assert.InDelta(t, 0.8590, d.Of(TooWet), 5e-5)
	assert.InDelta(t, 0.01/total, d.Of(Fine), 1e-12)
	assert.InDelta(t, (0.1+0.1/0.9)*0.1/total, d.Of(TooExposed), 1e-12)
	assert.Equal(t, TooWet, d.Top)
	assert.True(t, d.Struggles())
	assert.False(t, d.Wait)

	// Evidence. yellow: 0.8 against its mean under the rest, weighed by their
	// odds: (1 x 0.1 + 0.6222 x 0.2) / 1.6222 = 0.13836; ln(0.8 / 0.13836) =
	// 1.7548. Vigour: 0.5 against (1 x 0.1 + 0.6222 x 0.5) / 1.6222 = 0.25342; ln
	// = 0.6795. The dose: odds 1.1 against the usual 1/9: ln 9.9 = 2.2925.
	require.Len(t, d.Evidence, 3)
	assert.Equal(t, Met, d.Evidence[0].Kind)
	assert.Equal(t, fit.TooWet, d.Evidence[0].Limit)
	assert.InDelta(t, math.Log(9.9), d.Evidence[0].LogRatio, 1e-12)
	assert.Equal(t, Sign("yellow"), d.Evidence[1].Sign)
	assert.InDelta(t, 1.7548, d.Evidence[1].LogRatio, 5e-5)
	assert.Equal(t, VigourSeen, d.Evidence[2].Kind)
	assert.InDelta(t, 0.6795, d.Evidence[2].LogRatio, 5e-5)
}

// A severity of 2 with steepness 0.15 has odds 2^(1/0.15) = 101.6; doubt of 0.3
// in the limit widens the edge to hypot(0.15, 0.3 sqrt 3 / pi) = 0.2234, so that
// they are 22.3. A plant that bears e^0.5 more has those of 2 / e^0.5 = 1.213.
func TestOddsByHand(t *testing.T) {
	m := Default()
	m.FloorOdds = 0
	assert.InDelta(t, 101.6, m.odds(2, Belief{}), 0.05)
	assert.InDelta(t, 22.27, m.odds(2, Belief{SD: 0.3}), 0.05)
	assert.InDelta(t, math.Pow(2/math.Exp(0.5), 1/0.15), m.odds(2, Belief{Mean: 0.5}), 1e-9)
	assert.InDelta(t, 1, m.odds(1, Belief{SD: 7}), 1e-12)
	assert.Zero(t, m.odds(math.NaN(), Belief{}))
	assert.Zero(t, m.odds(0, Belief{}))
}

// Sulking falls by e in SlowMonths: 0.3 at once, 0.1104 after ten months.
func TestSlowFallsWithTime(t *testing.T) {
	m := Default()
	assert.InDelta(t, 0.3/0.7, m.slowOdds(0), 1e-12)
	assert.InDelta(t, 0.11036/(1-0.11036), m.slowOdds(10), 1e-4)
	assert.Less(t, m.slowOdds(36), 0.01)
}

// twoSigns is a table with two signs for reckoning by hand.
func twoSigns() *Table {
	t := &Table{}
	even := func(v float64) (c [CauseCount]float64) {
		for k := range c {
			c[k] = v
		}
		return c
	}
	yellow, soggy := even(0.2), even(0.2)
	yellow[atFine], yellow[atWet] = 0.1, 0.8
	soggy[atWet], soggy[atDeep] = 0.5, 0.5
	t.Rows = []Row{{Sign: "yellow", Label: "yellow", Look: "look"}, {Sign: "soil soggy", Label: "soggy", Look: "dig"}}
	t.Rows[0].Chance, t.Rows[1].Chance = yellow, soggy
	for v := range t.Vigour {
		t.Vigour[v] = even(0.1)
	}
	t.Vigour[1] = even(0.5)
	t.Vigour[1][atFine] = 0.1
	t.Vigour[5][atFine] = 0.5
	return t
}

// What is left to look for is the sign that tells more; gone through by every
// outcome. Causes fine and too wet at even odds, soggy with 0.2 and 0.5: yes has
// 0.35 and leaves 0.2857 : 0.7143 (0.8631 bits), no has 0.65 and leaves 0.6154 :
// 0.3846 (0.9612 bits). 1 - 0.35 x 0.8631 - 0.65 x 0.9612 = 0.0731 bits.
func TestGainByHand(t *testing.T) {
	var now, chance [CauseCount]float64
	now[atFine], now[atWet] = 0.5, 0.5
	chance[atFine], chance[atWet] = 0.2, 0.5
	assert.InDelta(t, 0.0731, gain(now, chance), 5e-5)
}

// The sign proposed is the best of all that are left, each gone through by what
// Diagnose itself says if it is there and if it is not, from where the causes
// stand by a table without it.
func TestNextLookIsTheBest(t *testing.T) {
	table, m := demoTable(t), Default()
	rapid.Check(t, func(rt *rapid.T) {
		c, b := drawCase(rt), drawBearing(rt)
		best := math.Inf(-1)
		for i, r := range table.Rows {
			n := c.Notes[0]
			if r.Look == "" || slices.Contains(n.Seen, r.Sign) || slices.Contains(n.Absent, r.Sign) {
				continue
			}
			less := *table
			less.Rows = slices.Delete(slices.Clone(table.Rows), i, i+1)
			now := m.Diagnose(&less, c, b).Chance
			yes, no := c, c
			seen, not := n, n
			seen.Seen = append(slices.Clone(n.Seen), r.Sign)
			not.Absent = append(slices.Clone(n.Absent), r.Sign)
			yes.Notes, no.Notes = []Note{seen}, []Note{not}
			chance := 0.0
			for k, p := range now {
				chance += p * r.Chance[k]
			}
			bits := entropy(now) - chance*entropy(m.Diagnose(table, yes, b).Chance) - (1-chance)*entropy(m.Diagnose(table, no, b).Chance)
			best = max(best, bits)
		}
		if next := m.Diagnose(table, c, b).Next; next != nil {
			require.InDelta(rt, best, next.Bits, 1e-9)
		}
	})
}

func TestNextLook(t *testing.T) {
	table, m := demoTable(t), Default()
	c := calm()
	c.Dose[0].Severity, c.Dose[1].Severity = 1.1, 1.1 // wet or deep?
	c.Notes = []Note{{Vigour: 1, Seen: []Sign{"soil soggy", "yellow"}}}
	d := m.Diagnose(table, c, Bearing{})
	require.NotNil(t, d.Next)
	assert.Equal(t, Sign("mud on the leaves"), d.Next.Sign, "what parts too deep from too wet")
	looked := slices.Clone(c.Notes)
	looked[0].Absent = []Sign{"mud on the leaves"}
	c.Notes = looked
	again := m.Diagnose(table, c, Bearing{})
	assert.NotEqual(t, d.Next.Sign, again.Next.Sign)
	assert.Greater(t, again.Of(TooWet), d.Of(TooWet))

	c.Notes[0].Absent = tableSigns()
	assert.Nil(t, m.Diagnose(table, c, Bearing{}).Next, "nothing is left to look for")
}

// In place of doing something: a young plant that is small but green is waited
// for, and so is one of which no cause has more than half.
func TestWait(t *testing.T) {
	table, m := demoTable(t), Default()
	c := calm()
	c.Months = 7
	day := time.Date(2024, 5, 4, 0, 0, 0, 0, time.UTC)
	c.Notes = []Note{{Date: day, Vigour: 2, Seen: []Sign{"small but green"}}}
	d := m.Diagnose(table, c, Bearing{})
	assert.Equal(t, Slow, d.Top)
	assert.True(t, d.Wait)
	assert.Equal(t, time.Date(2024, 6, 15, 0, 0, 0, 0, time.UTC), d.LookOn)
	found := slices.ContainsFunc(d.Evidence, func(e Evidence) bool { return e.Kind == Age && e.Months == 7 })
	assert.True(t, found)

	c = calm()
	c.Dose[0].Severity, c.Dose[2].Severity, c.Dose[3].Severity = 1, 1, 1
	c.Notes = []Note{{Date: day, Vigour: 1}}
	d = m.Diagnose(table, c, Bearing{})
	assert.LessOrEqual(t, d.TopP, 0.5)
	assert.True(t, d.Wait)
	assert.NotNil(t, d.Next)

	// Too much water, and only whether too long or too deep is not clear: no reason
	// to wait.
	c = calm()
	c.Dose[0].Severity, c.Dose[1].Severity = 1, 1.1
	c.Notes = []Note{{Date: day, Vigour: 1}}
	d = m.Diagnose(table, c, Bearing{})
	assert.LessOrEqual(t, d.TopP, 0.5)
	assert.Greater(t, d.Of(TooWet)+d.Of(TooDeep), 0.5)
	assert.False(t, d.Wait)
}

func drawCase(rt *rapid.T) Case {
	c := calm()
	for l := range c.Dose {
		c.Dose[l].Severity = rapid.Float64Range(0, 5).Draw(rt, "severity")
	}
	c.Months = rapid.Float64Range(0, 60).Draw(rt, "months")
	c.SunShortH = rapid.Float64Range(-6, 6).Draw(rt, "short")
	c.SunOverH = rapid.Float64Range(-6, 6).Draw(rt, "over")
	n := Note{Vigour: rapid.IntRange(-1, 5).Draw(rt, "vigour")}
	for _, s := range tableSigns() {
		switch rapid.IntRange(0, 3).Draw(rt, "look") {
		case 1:
			n.Seen = append(n.Seen, s)
		case 2:
			n.Absent = append(n.Absent, s)
		}
	}
	c.Notes = []Note{n}
	return c
}

func drawBearing(rt *rapid.T) (b Bearing) {
	for l := range b {
		b[l] = Belief{rapid.Float64Range(-1, 1).Draw(rt, "mean"), rapid.Float64Range(0, 0.6).Draw(rt, "sd")}
	}
	return b
}

func TestDiagnoseProperties(t *testing.T) {
	table, m := demoTable(t), Default()
	rapid.Check(t, func(rt *rapid.T) {
		c, b := drawCase(rt), drawBearing(rt)
		d := m.Diagnose(table, c, b)
		sum := 0.0
		for _, p := range d.Chance {
			require.GreaterOrEqual(rt, p, 0.0)
			sum += p
		}
		require.InDelta(rt, 1, sum, 1e-12)

		// The order of signs, and whether they come in one note or two, does not
		// matter.
		n := c.Notes[0]
		back := slices.Clone(n.Seen)
		slices.Reverse(back)
		half := len(back) / 2
		other := c
		other.Notes = []Note{{Vigour: Unstated, Seen: back[:half]}, {Vigour: n.Vigour, Seen: back[half:], Absent: n.Absent}}
		require.Equal(rt, d.Chance, m.Diagnose(table, other, b).Chance)

		// More of a limit never makes its cause less likely, and a plant that
		// bears more never makes it more likely.
		l := rapid.IntRange(0, LimitCount-1).Draw(rt, "limit")
		cause := Causes()[causeOf(l)]
		more := c
		more.Dose[l].Severity *= rapid.Float64Range(1, 3).Draw(rt, "more")
		require.GreaterOrEqual(rt, m.Diagnose(table, more, b).Of(cause), d.Of(cause)-1e-12)
		bears := b
		bears[l].Mean += rapid.Float64Range(0, 1).Draw(rt, "bears")
		require.LessOrEqual(rt, m.Diagnose(table, c, bears).Of(cause), d.Of(cause)+1e-12)

		// A sign that is likeliest under a cause never makes it less likely when
		// it is seen, nor more likely when it is looked for and not there.
		for _, r := range table.Rows {
			top := r.Chance[causeOf(l)]
			if slices.Max(r.Chance[:]) > top || slices.Contains(n.Seen, r.Sign) || slices.Contains(n.Absent, r.Sign) {
				continue
			}
			seen, not := n, n
			seen.Seen = append(slices.Clone(n.Seen), r.Sign)
			not.Absent = append(slices.Clone(n.Absent), r.Sign)
			yes, no := c, c
			yes.Notes, no.Notes = []Note{seen}, []Note{not}
			require.GreaterOrEqual(rt, m.Diagnose(table, yes, b).Of(cause), d.Of(cause)-1e-12, r.Sign)
			require.LessOrEqual(rt, m.Diagnose(table, no, b).Of(cause), d.Of(cause)+1e-12, r.Sign)
		}

		// What it pays to look for pays something.
		if d.Next != nil {
			require.GreaterOrEqual(rt, d.Next.Bits, -1e-12)
			require.NotContains(rt, n.Seen, d.Next.Sign)
			require.NotContains(rt, n.Absent, d.Next.Sign)
		}
		require.LessOrEqual(rt, len(d.Evidence), 3)
	})
}

// A later note on a plant adds its signs; what the plant met counts once.
func TestLaterNotesAreOneCase(t *testing.T) {
	table, m := demoTable(t), Default()
	c := calm()
	c.Dose[2].Severity = 1.3
	c.Notes = []Note{{Vigour: 2, Seen: []Sign{"wilted"}}}
	one := m.Diagnose(table, c, Bearing{})
	c.Notes = append(c.Notes, c.Notes[0], c.Notes[0])
	assert.Equal(t, one.Chance, m.Diagnose(table, c, Bearing{}).Chance)
}

func TestVigourOfTheLastNoteIsShownTheLowestWeighs(t *testing.T) {
	table, m := demoTable(t), Default()
	day := time.Date(2024, 6, 1, 0, 0, 0, 0, time.UTC)
	c := calm()
	c.Notes = []Note{{Date: day, Vigour: 1}, {Date: day.AddDate(0, 2, 0), Vigour: 4}, {Date: day.AddDate(0, 3, 0), Vigour: Unstated, Seen: []Sign{"yellow"}}}
	d := m.Diagnose(table, c, Bearing{})
	assert.Equal(t, 4, d.Vigour)
	c.Notes[1].Vigour = 5
	assert.Equal(t, d.Chance, m.Diagnose(table, c, Bearing{}).Chance)
	c.Notes = append(c.Notes, Note{Date: day.AddDate(0, 4, 0), Vigour: Unstated, Seen: []Sign{Dead}})
	assert.Equal(t, 0, m.Diagnose(table, c, Bearing{}).Vigour)
}

func TestTroubleLeavesFineOut(t *testing.T) {
	d := Diagnosis{Chance: [CauseCount]float64{0.6, 0.1, 0, 0.3, 0, 0, 0, 0}}
	cause, share := d.trouble()
	assert.Equal(t, TooDry, cause)
	assert.InDelta(t, 0.75, share, 1e-12)
	assert.False(t, d.Struggles())
}

// The shipped table is whole, each sign tells something, and a row that is
// taken away, put twice or misspelt is named.
func TestTableOfSigns(t *testing.T) {
	table := demoTable(t)
	require.Len(t, table.Rows, len(tableSigns()))
	for i, r := range table.Rows {
		assert.Equal(t, tableSigns()[i], r.Sign)
		assert.Greater(t, slices.Max(r.Chance[:]), slices.Min(r.Chance[:]), r.Sign)
		for _, p := range r.Chance {
			assert.Contains(t, []float64{0.05, 0.2, 0.5, 0.8}, p, "coarse, for want of any source")
		}
	}
	text := tableText(t)
	lines := strings.SplitAfter(text, "\n")
	for i := 1; i < len(lines)-1; i++ {
		name, _, _ := strings.Cut(lines[i], ",")
		_, err := ReadTable("signs.csv", strings.NewReader(strings.Join(slices.Delete(slices.Clone(lines), i, i+1), "")))
		want := `want a row for the sign "` + name + `"`
		if v, ok := strings.CutPrefix(name, "vigour "); ok {
			want = "want a row for vigour " + v
		}
		assert.ErrorContains(t, err, want)
	}
	for _, c := range []struct{ from, to, want string }{
		{"wilted,", "wilt,", "want one of: wilted, yellow"},
		{"\nyellow,", "\nwilted,", "signs.csv:3:1: sign: \"wilted\": want each sign once"},
		{"0.05,0.5,0.5,0.8", "0.05,0.5,0.5,1", "signs.csv:2:41: too_dry: \"1\": want a chance from 0.001 to 0.999"},
		{"0.05,0.5,0.5,0.8", "0.05,0.5,0.5,", "signs.csv:2:41: too_dry: want a chance"},
		{"0.35,0.01,", "0.35,0.5,", "add up to"},
		{"vigour 3,vigour 3,,0.2,", "vigour 3,vigour 3,,0.21,", "the vigours of fine add up to 1.01: want 1"},
		{",source", ",from", "source: the header lacks this column"},
		{"vigour 5,vigour 5", "vigour 6,vigour 5", "want vigour 0 to vigour 5"},
		{"common practice, no source", "", "want what the chances rest on"},
	} {
		_, err := ReadTable("signs.csv", strings.NewReader(strings.Replace(text, c.from, c.to, 1)))
		var bad interface{ BadInput() bool }
		if assert.ErrorAs(t, err, &bad, c.to) {
			assert.ErrorContains(t, err, c.want)
		}
	}
}

// trouble returns the likeliest cause other than fine, and its chance among
// those.
func (d Diagnosis) trouble() (Cause, float64) {
	best := atFine + 1
	for c := best; c < CauseCount; c++ {
		if d.Chance[c] > d.Chance[best] {
			best = c
		}
	}
	return Causes()[best], d.Chance[best] / (1 - d.Chance[atFine])
}
