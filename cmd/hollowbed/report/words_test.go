package report

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones"
)

// Figures in other units are by 25.4 mm to the inch, F = 1.8 C + 32, 24 h to
// the day.
func TestReason(t *testing.T) {
	at := time.Date(2012, 6, 3, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		r          fit.Reason
		us, metric string
	}{
		{fit.Reason{Limit: fit.TooWet, Found: 40, Allowed: 36, When: at, Year: 2012}, "wettest spell 40 h (Jun 2012), bears 36 h", ""},
		{fit.Reason{Limit: fit.TooWet, Found: 240, Allowed: 0.5, Year: 2012}, "wettest spell 10 d (2012), bears 30 min", ""},
		{fit.Reason{Limit: fit.TooDeep, Found: 152.4, Allowed: 76.2, When: at, Year: 2011},
			"standing water like 6 in all that time (Jun 2012), bears 3 in", "standing water like 152 mm all that time (Jun 2012), bears 76 mm"},
		{fit.Reason{Limit: fit.TooDry, Found: 30.4, Allowed: 20, When: at, Year: 2012}, "driest spell like 30 days without rain (Jun 2012), bears 20", ""},
		{fit.Reason{Limit: fit.TooDry, Found: 0.9, Allowed: 0.5, Year: 2012}, "driest spell like 1 day without rain (2012), bears 0.5", ""},
		{fit.Reason{Limit: fit.TooCold, Found: -30, Allowed: -20, When: at, Year: 2013}, "coldest -22 F (2013), bears -4 F", "coldest -30 C (2013), bears -20 C"},
		{fit.Reason{Limit: fit.TooDim, Found: 3.5, Allowed: 4}, "3.5 h of sun, wants at least 4 h", ""},
		{fit.Reason{Limit: fit.TooSun, Found: 9, Allowed: 6.25}, "9 h of sun, bears at most 6.25 h", ""},
	} {
		if c.metric == "" {
			c.metric = c.us // times and sun are alike
		}
		assert.Equal(t, c.us, Reason(c.r, zones.UnitsUS))
		assert.Equal(t, c.metric, Reason(c.r, zones.UnitsMetric))
		c.r.Assumed = true
		assert.Equal(t, c.us+" (assumed)", Reason(c.r, zones.UnitsUS))
		assert.Equal(t, c.metric+" (assumed)", Reason(c.r, zones.UnitsMetric))
	}
	assert.Equal(t, "nothing known that limits it", Reason(fit.Reason{}, zones.UnitsUS))
	assert.Equal(t, "nothing known that limits it", Reason(fit.Reason{Assumed: true}, zones.UnitsUS))
	for _, l := range fit.Limits() {
		assert.NotContains(t, Reason(fit.Reason{Limit: l}, zones.UnitsUS), "nothing known", "%s has words of its own", l)
	}
}

func TestRiskWords(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0, "under 2 %"}, {0.0199, "under 2 %"}, {0.02, "2 %"}, {0.025, "2 %"}, {0.0251, "3 %"}, {0.149, "15 %"}, {0.5, "50 %"},
		{0.9949, "99 %"}, {0.995, "over 99 %"}, {0.9951, "over 99 %"}, {1, "over 99 %"},
	} {
		assert.Equal(t, c.want, risk(c.v, false), "%g", c.v)
		assert.Equal(t, "about "+c.want, risk(c.v, true), "%g", c.v)
	}
	assert.Equal(t, "not known", risk(math.NaN(), false))
	assert.Equal(t, "not known", risk(math.NaN(), true), "what is not known is not about anything")
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 1).Draw(t, "risk")
		if s := risk(v, false); s == "0 %" || s == "1 %" || s == "100 %" {
			t.Fatalf("%g is printed as %s", v, s)
		}
	})
}

func TestRefusalWords(t *testing.T) {
	us, metric := Garden{Units: zones.UnitsUS}, Garden{Units: zones.UnitsMetric}
	change := func(g Garden, c plants.Change) string {
		lines := refusal(g, &plants.Refusal{Changes: []plants.Change{c}})
		require.Len(t, lines, 1)
		return lines[0]
	}
	for _, c := range []struct {
		change     plants.Change
		us, metric string
	}{
		{plants.Change{Kind: plants.ChangeWater, Offered: 1}, "deep watering once a week in dry spells, every year, would let 1 species live here", ""},
		{plants.Change{Kind: plants.ChangePond, PondMM: 76.2, Offered: 3}, "a pond of 3 in would let 3 species live here", "a pond of 76 mm would let 3 species live here"},
		{plants.Change{Kind: plants.ChangeSun, SunH: 1.5, Offered: 2}, "1.5 h more sun would let 2 species live here", ""},
		{plants.Change{Kind: plants.ChangeMix, Texture: "silt loam", Offered: 2}, "a mix of silt loam would let 2 species live here", ""},
		{plants.Change{Kind: plants.ChangeDeep, MixMM: 609.6, Offered: 2}, "a mix 24 in deep would let 2 species live here", "a mix 610 mm deep would let 2 species live here"},
	} {
		if c.metric == "" {
			c.metric = c.us
		}
		assert.Equal(t, c.us, change(us, c.change))
		assert.Equal(t, c.metric, change(metric, c.change))
		c.change.Offered = 0
		assert.Regexp(t, ` would not help by itself$`, change(us, c.change))
	}
	for _, kind := range plants.ChangeKinds() {
		assert.False(t, strings.HasPrefix(change(us, plants.Change{Kind: kind, Offered: 1}), " "), "%s has no words", kind)
	}
	assert.Equal(t, []string{}, refusal(us, nil))
	near := plants.Verdict{Plant: catalogue.Plant{VernacularName: "Low Brindlewisp"}}
	near.Fit = fit.Fit{YearlyRisk: 0.4, Reason: fit.Reason{Limit: fit.TooCold, Found: -30, Allowed: -20, Year: 2013}}
	lines := refusal(us, &plants.Refusal{Nearest: &near, Ruled: []plants.RuledOut{
		{Bar: plants.BarRisk, Limit: fit.TooWet, Count: 12}, {Bar: plants.BarToxic, Count: 1},
	}})
	assert.Equal(t, []string{"12 plants: too wet", "1 plant: toxic", "nearest: Low Brindlewisp, 40 % a year: coldest -22 F (2013), bears -4 F"}, lines)
}

func TestMonths(t *testing.T) {
	for want, months := range map[string][]int{
		"none": nil, "Jan": {1}, "Dec": {12}, "Apr to Jun, Sep": {4, 5, 6, 9}, "Mar, May, Jul": {3, 5, 7}, "Jan to Dec": {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12},
		"Nov to Feb": {1, 2, 11, 12}, "Jul to Aug": {7, 8}, "Sep, Nov to Jan": {1, 9, 11, 12}, "Jul to Jun": {7, 8, 9, 10, 11, 12, 1, 2, 3, 4, 5, 6},
	} {
		assert.Equal(t, want, Months(months))
	}
	// Whatever the order, as of a southern year, each month is named once.
	rapid.Check(t, func(t *rapid.T) {
		first := rapid.IntRange(1, 12).Draw(t, "first")
		var months []int
		for i := range 12 {
			if rapid.Bool().Draw(t, "has") {
				months = append(months, (first+i-1)%12+1)
			}
		}
		if got := monthsNamed(Months(months)); !assert.ElementsMatch(t, months, got) {
			t.Fatalf("%v is printed as %s", months, Months(months))
		}
	})
}

// monthsNamed reads a list of months back.
func monthsNamed(s string) []int {
	number := map[string]int{}
	for i, name := range strings.Fields("Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec") {
		number[name] = i + 1
	}
	var out []int
	for part := range strings.SplitSeq(s, ", ") {
		from, to, span := strings.Cut(part, " to ")
		if part == "none" {
			continue
		}
		m := number[from]
		out = append(out, m)
		for span && m != number[to] {
			m = m%12 + 1
			out = append(out, m)
		}
	}
	return out
}

// No line is wider than the paper unless one word is, and no word is lost.
func TestWrap(t *testing.T) {
	word := rapid.OneOf(rapid.StringMatching(`[a-z0-9(%,;«]{1,14}`), rapid.StringMatching(`[a-z]{1,120}`), rapid.StringMatching(`[水草庭雨]{1,20}`))
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(word, 0, 60).Draw(t, "words")
		first := rapid.SampledFrom([]string{"", "Size: ", "  - "}).Draw(t, "first")
		indent := strings.Repeat(" ", rapid.IntRange(0, 8).Draw(t, "indent"))
		columns := rapid.IntRange(0, 200).Draw(t, "columns")
		width := 92
		if columns >= 20 {
			width = min(columns, 100)
		}
		var b bytes.Buffer
		wrap(Paper{Writer: &b, Columns: columns}, first, indent, strings.Join(words, "  "))
		lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
		var got []string
		for i, line := range lines {
			begin := indent
			if i == 0 {
				begin = first
			}
			rest, ok := strings.CutPrefix(line, begin)
			if !ok {
				t.Fatalf("line %d begins otherwise: %q", i, line)
			}
			got = append(got, strings.Fields(rest)...)
			if wide := twoCells(line); wide > width && len(strings.Fields(rest)) > 1 {
				t.Fatalf("%d cells on paper of %d: %q", wide, width, line)
			}
		}
		if strings.Join(got, " ") != strings.Join(words, " ") {
			t.Fatalf("%q became %q", words, got)
		}
	})
	var b bytes.Buffer
	wrap(&b, "a: ", "  ", strings.Repeat("word ", 40))
	assert.Equal(t, 3, strings.Count(b.String(), "\n"), "lines are filled: 3 of 92 for 202 letters")
}

// twoCells counts cells as East Asian Width (Unicode Standard Annex 11) has
// it: an ideograph takes two.
func twoCells(s string) int {
	n := 0
	for _, r := range s {
		n++
		if unicode.Is(unicode.Han, r) {
			n++
		}
	}
	return n
}

func TestBar(t *testing.T) {
	eighths := func(s string) int { // U+2588 full block down to U+258F one eighth
		n := 0
		for _, r := range s {
			n += 8 - int(r-'█')
		}
		return n
	}
	rapid.Check(t, func(t *rapid.T) {
		cells := rapid.IntRange(1, 20).Draw(t, "cells")
		a, b := rapid.Float64Range(0, 2).Draw(t, "a"), rapid.Float64Range(0, 2).Draw(t, "b")
		small, large := bar(min(a, b), cells), bar(max(a, b), cells)
		if eighths(small) > eighths(large) {
			t.Fatalf("%g is drawn longer than %g", min(a, b), max(a, b))
		}
		if n := len([]rune(large)); n > cells {
			t.Fatalf("%d cells of %d", n, cells)
		}
		if want := math.Round(8 * float64(cells) * min(1, max(a, b))); max(a, b) > 0 && math.Abs(float64(eighths(large))-max(1, want)) > 0.5 {
			t.Fatalf("%g of %d cells is drawn as %d eighths", max(a, b), cells, eighths(large))
		}
	})
	assert.Equal(t, "████", bar(0.5, 8))
	assert.Equal(t, "▏", bar(1e-9, 8), "a little is never nothing")
	assert.Equal(t, "████████", bar(math.Inf(1), 8))
	for _, none := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		assert.Empty(t, bar(none, 8))
	}
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"Low Brindlewisp": "Low Brindlewisp", "a\nb\tc": "a b c", "a\r\nb": "a\ufffd b", "\x1b[31mred\x1b[0m": "\ufffd[31mred\ufffd[0m",
		"\x00\x07\x7f": "\ufffd\ufffd\ufffd", "\u009b2J": "\ufffd2J", "a\u202eb\u2066c\u200fd": "a\ufffdb\ufffdc\ufffdd", "a\u2028b\u2029c": "a b c", "\ufeffa\u00adb": "\ufffda\ufffdb",
		"Ångström naïve": "Ångström naïve", "خلنج البحيرة": "خلنج البحيرة", "שדה": "שדה", "नदी का फूल": "नदी का फूल", "睡蓮の庭": "睡蓮の庭", "จันทร์": "จันทร์", "ẹ̀kọ́": "ẹ̀kọ́",
		"می\u200cخواهم": "می\u200cخواهم", "👩\u200d🌾": "👩\u200d🌾", // Persian and joined pictures need their joiners
	} {
		assert.Equal(t, want, Plain(in))
	}
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.String().Draw(t, "text")
		out := Plain(in)
		if Plain(out) != out {
			t.Fatalf("not settled: %q", out)
		}
		kept := func(s string) string {
			return strings.Map(func(r rune) rune {
				if unicode.In(r, unicode.L, unicode.M, unicode.N, unicode.P) {
					return r
				}
				return -1
			}, s)
		}
		if kept(in) != kept(out) {
			t.Fatalf("letters lost: %q became %q", in, out)
		}
	})
}

func TestNumber(t *testing.T) {
	text, err := json.Marshal([]Number{Number(math.NaN()), Number(math.Inf(1)), Number(math.Inf(-1)), 0, -2.5, 1e21})
	require.NoError(t, err)
	assert.JSONEq(t, `[null,null,null,0,-2.5,1e21]`, string(text))
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		text, err := json.Marshal(struct{ V Number }{Number(v)})
		if err != nil {
			t.Fatal(err)
		}
		var back struct{ V *float64 }
		if err := json.Unmarshal(text, &back); err != nil || back.V == nil || *back.V != v {
			t.Fatalf("%g became %s", v, text)
		}
	})
}
