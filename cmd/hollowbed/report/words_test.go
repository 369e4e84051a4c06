package report

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

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
		{fit.Reason{Limit: fit.TooWet, Found: 40, Allowed: 36, When: at, Year: 2012}, "wettest spell 40 h (Jun 2012), tolerates 36 h", ""},
		{fit.Reason{Limit: fit.TooWet, Found: 120 * 24, RestH: 96 * 24, Allowed: 7 * 24, Year: 2012}, "wettest spell 184 d (2012), counts as 120 d since plants rest for 96 d of it, tolerates 7 d", ""},
		{fit.Reason{Limit: fit.TooWet, Found: 240, Allowed: 0.5, Year: 2012}, "wettest spell 10 d (2012), tolerates 30 min", ""},
		{fit.Reason{Limit: fit.TooDeep, Found: 152.4, Allowed: 76.2, When: at, Year: 2011},
			"standing water like 6 in all that time (Jun 2012), tolerates 3 in", "standing water like 152 mm all that time (Jun 2012), tolerates 76 mm"},
		{fit.Reason{Limit: fit.TooDry, Found: 30.4, Allowed: 20, When: at, Year: 2012}, "driest spell like 30 dry days (Jun 2012), tolerates 20", ""},
		{fit.Reason{Limit: fit.TooDry, Found: 0.9, Allowed: 0.5, Year: 2012}, "driest spell like 1 dry day (2012), tolerates 0.5", ""},
		{fit.Reason{Limit: fit.TooCold, Found: -30, Allowed: -20, When: at, Year: 2013}, "coldest -22 F (2013), tolerates -4 F", "coldest -30 C (2013), tolerates -20 C"},
		{fit.Reason{Limit: fit.TooDim, Found: 3.5, Allowed: 4}, "3.5 h of sun, wants at least 4 h", ""},
		{fit.Reason{Limit: fit.TooSun, Found: 9, Allowed: 6.25}, "9 h of sun, tolerates at most 6.25 h", ""},
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
		about := "about " + c.want
		if c.v < leastRisk {
			about = c.want // a bound is not about anything
		}
		assert.Equal(t, about, risk(c.v, true), "%g", c.v)
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
		{plants.Change{Kind: plants.ChangeWater, Offered: 1}, "deep watering once a week in dry spells, every year (wishes.watering: weekly-in-drought), would let 1 species live here", ""},
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
	assert.Equal(t, []string{"12 plants: too wet", "1 plant: toxic", "nearest: Low Brindlewisp, 40 % a year: coldest -22 F (2013), tolerates -4 F"}, lines)
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

// Months without flowers are "wanted" only where the garden file wishes for them.
func TestBloomWords(t *testing.T) {
	d := Choose{BloomMonths: []int{4, 5}, BloomWanted: []int{3, 4, 5}}
	assert.Equal(t, "Apr to May; nothing in Mar, though plants grow then", d.Bloom())
	d.bloomWished = true
	assert.Equal(t, "Apr to May; wanted but nothing in Mar", d.Bloom())
	d.BloomWanted = []int{5}
	assert.Equal(t, "Apr to May", d.Bloom())
}
