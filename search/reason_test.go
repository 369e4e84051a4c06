package search

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants/catalogue"
)

func TestReasonsShowLimitsAgainstWhatWasAsked(t *testing.T) {
	p := samplePlant()
	p.Assumed = []string{"wet_h"}
	x := newIndex(t, []catalogue.Plant{p}, nil)
	r := find(t, x, `wet:48 sun:6 height<3ft cold:-15 bloom:jan colour:yellow zone:bottom toxic:pets -spreads:runs price<=7 dry>=10 pond:100..200 evergreen:semi native:elan-valley`)
	require.Equal(t, 1, r.Total)
	var got []string
	for _, w := range r.Hits[0].Why {
		got = append(got, w.String())
	}
	assert.Equal(t, []string{
		"tolerates 72 h wet, you asked 48 h (assumed)",
		"takes 4 to 8 h of sun, you asked 6 h",
		"90 cm high, you asked under 91.44 cm",
		"survives -20 °C, you asked -15 °C",
		"flowers from november to february, you asked january",
		"flowers Yellow, orange, you asked yellow",
		"growers plant it at the bottom, slope, you asked bottom",
		"harms pets, skin, you asked pets",
		"spreads: slowly, you asked not runs",
		"costs 6.5, you asked at most 7",
		"tolerates 14 d without water, you asked 10 d",
		"tolerates water 150 mm deep, you asked 100 to 200 mm",
		"semi-evergreen",
		"native to Élan valley",
	}, got)
	assert.Equal(t, 72.0, *r.Hits[0].Why[0].Found)
}

// What the plant has is told alone where it already says what was asked.
func TestReasonsRepeatNothing(t *testing.T) {
	p := samplePlant()
	p.Evergreen, p.Toxic, p.Spreads, p.FlowerColour = "yes", []string{"none"}, "no", []string{"Blue"}
	p.FlowerFrom, p.FlowerTo = 7, 7
	x := newIndex(t, []catalogue.Plant{p}, nil)
	for line, want := range map[string]string{
		"evergreen":          "evergreen",
		"evergreen:yes":      "evergreen",
		"evergreen:yes,semi": "evergreen, you asked yes or semi",
		"-evergreen:no":      "evergreen, you asked not no",
		"-toxic":             "known to harm nobody",
		"-spreads":           "stays where it is",
		"colour:blue":        "flowers Blue",
		"colour:blue,red":    "flowers Blue, you asked blue or red",
		"bloom:july":         "flowers in july",
	} {
		r := find(t, x, line)
		require.Equal(t, 1, r.Total, line)
		assert.Equal(t, want, r.Hits[0].Why[0].Text, line)
	}
	r := find(t, x, "toxic evergreen:semi")
	require.NotNil(t, r.NoHit.Nearest)
	assert.Equal(t, "known to harm nobody, you asked toxic", r.NoHit.Nearest.Missed[0].Text, "what is missed is named")
	assert.Equal(t, "evergreen, you asked semi", r.NoHit.Nearest.Missed[1].Text)
}

// Every number of a reason reaches the caller as a number.
func TestReasonsInOtherUnits(t *testing.T) {
	p := samplePlant()
	p.Assumed = []string{"height_cm"}
	x := newIndex(t, []catalogue.Plant{p}, nil)
	bracketed := func(q Quantity) string {
		if q.Difference {
			return fmt.Sprintf("[by %g %s]", q.Value, q.Unit)
		}
		return fmt.Sprintf("[%g %s]", q.Value, q.Unit)
	}
	said := func(reasons []Reason) []string {
		var out []string
		for _, r := range reasons {
			out = append(out, r.Say(bracketed))
		}
		return out
	}
	r := find(t, x, "height:50..100 cold:-10 sun:5..6 pond>=10 colour:yellow")
	require.Equal(t, 1, r.Total)
	assert.Equal(t, []string{
		"[90 cm] high, you asked [50 to [100 cm] (assumed)",
		"survives [-20 c], you asked [-10 c]",
		"takes [4 to [8 h] of sun, you asked [5 to [6 h]",
		"tolerates water [150 mm] deep, you asked [10 mm]",
		"flowers Yellow, orange, you asked yellow",
	}, said(r.Hits[0].Why))
	r = find(t, x, "height>1m cold:-25 wet:73 sun:9")
	assert.Equal(t, []string{
		"[90 cm] high, you asked over [100 cm]: [by 10 cm] off (assumed)",
		"survives [-20 c], you asked [-25 c]: [by 5 c] off",
		"tolerates [72 h] wet, you asked [73 h]: [by 1 h] off",
		"takes [4 to [8 h] of sun, you asked [9 h]: [by 1 h] off",
	}, said(r.NoHit.Nearest.Missed))
}

// The unit is written once where both ends of a range have the same.
func TestRangesInWords(t *testing.T) {
	for want, ends := range map[string][2]string{
		"20 to 60 cm":            {"20 cm", "60 cm"},
		"8 in to 2 ft":           {"8 in", "2 ft"},
		"2 ft 6 in to 3 ft 6 in": {"2 ft 6 in", "3 ft 6 in"},
		"5 to 7":                 {"5", "7"},
	} {
		write := func(q Quantity) string { return ends[int(q.Value)] }
		assert.Equal(t, want, wording{}.span("", 0, 1, "", "").say(write))
	}
}

func TestNoHitSaysWhatStoodInTheWay(t *testing.T) {
	plants := named("blue a", "blue b", "red c", "red d")
	for i, wet := range []float64{36, 10, 60, math.NaN()} {
		plants[i].WetH = wet
		plants[i].HeightCM = 50
	}
	plants[1].HeightCM = 500
	r := find(t, newIndex(t, plants, nil), "blue wet>=48 height<=100")
	require.Equal(t, 0, r.Total)
	assert.Equal(t, []Excluded{
		{Asked: "wet>=48", Misses: 2, Unknown: 1, Without: 1},
		{Asked: "height<=100", Misses: 1, Without: 0},
		{Asked: "the words blue", Misses: 2, Without: 1, words: 1},
	}, r.NoHit.Excluded)
	assert.Equal(t, "wet>=48 shuts out 2 and 1 of which it is not known; without it: 1", r.NoHit.Excluded[0].String())
	require.NotNil(t, r.NoHit.Nearest)
	assert.Equal(t, "p0", r.NoHit.Nearest.ID)
	require.Len(t, r.NoHit.Nearest.Missed, 1)
	assert.Equal(t, "tolerates 36 h wet, you asked 48 h: 12 h off", r.NoHit.Nearest.Missed[0].Text)
	assert.Equal(t, 12.0, *r.NoHit.Nearest.Missed[0].By)
}

// Without is what Find itself answers when the condition is dropped.
func TestWithoutIsTrue(t *testing.T) {
	plants := synthetic(200, 11)
	x := newIndex(t, plants, nil)
	rapid.Check(t, func(t *rapid.T) {
		parts := []string{
			fmt.Sprintf("wet>=%d", rapid.IntRange(100, 168).Draw(t, "wet")),
			fmt.Sprintf("dry>=%d", rapid.IntRange(20, 42).Draw(t, "dry")),
			fmt.Sprintf("height<%d", rapid.IntRange(10, 60).Draw(t, "height")),
			"-" + rapid.SampledFrom([]string{"toxic", "evergreen", "spreads"}).Draw(t, "not"),
		}
		r := find(t, x, strings.Join(parts, " "))
		if r.Total > 0 {
			assert.Nil(t, r.NoHit)
			return
		}
		for i := range parts {
			rest := append(slices.Clone(parts[:i]), parts[i+1:]...)
			assert.Equal(t, find(t, x, strings.Join(rest, " ")).Total, r.NoHit.Excluded[i].Without, parts[i])
		}
		p := plants[r.NoHit.Nearest.Row]
		for i, part := range parts {
			q, _ := Parse(part)
			if q.Conditions[0].ready(q.Conditions[0].field())(&p) != yes {
				assert.True(t, slices.ContainsFunc(r.NoHit.Nearest.Missed, func(m Reason) bool { return m.Asked == part }), parts[i])
			}
		}
	})
}

func TestExcerptKeepsTheMarksOnTheWords(t *testing.T) {
	l := testLanguage(t)
	long := strings.Repeat("ä long way off ", 20) + "the Blaue blüte flowers here " + strings.Repeat("and on ", 30)
	for _, w := range l.waysOf("blute", 1, false) {
		if w.field.name != "notes" {
			continue
		}
		text, marks := excerpt(long, l.phraseSpots(w, long))
		require.Len(t, marks, 1)
		assert.Equal(t, "blüte", text[marks[0][0]:marks[0][1]])
		assert.Less(t, len(text), 160)
		assert.Equal(t, "«blüte»", Reason{Quote: "blüte", Marks: [][2]int{{0, 6}}}.Marked("«", "»"))
	}
}
