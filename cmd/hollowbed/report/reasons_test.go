package report

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"hollowbed/plants"
	"hollowbed/plants/fit"
	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/climate"
)

// Each reason that is worded here, said where it is so and not where it is not.
func TestReasonsAreTrue(t *testing.T) {
	metric := Garden{Units: zones.UnitsMetric}
	refused := func(ruled ...plants.RuledOut) string {
		return strings.Join(refusal(metric, &plants.Refusal{Ruled: ruled}), "; ")
	}
	advice := func(refused ...string) string {
		return strings.Join(Choose{Garden: metric, Lines: []Line{{ID: "a", Count: 3}}, Zones: []fill{{Zone: "rim", Refused: refused}}}.Advice(), " ")
	}
	in := MoveIn{On: time.Date(2024, 9, 1, 0, 0, 0, 0, time.UTC), Signs: &season.Table{}}
	stays := func(change func(*season.Diagnosis)) string {
		c := season.Diagnosis{Case: season.Case{Plant: "A1"}, Top: season.TooDry, Vigour: 2, LookOn: in.On.AddDate(0, 0, 10)}
		change(&c)
		return (&Move{Garden: metric, in: in}).meanwhile(c)
	}
	nothing := func(*season.Diagnosis) {}
	limited := func(l fit.Limit) string {
		return Reason(fit.Reason{Limit: l, Found: 5, Allowed: 6, Year: 2020}, zones.UnitsMetric)
	}
	for said, c := range map[string]struct{ yes, no string }{
		"2 plants: too dry":             {refused(plants.RuledOut{Bar: plants.BarRisk, Limit: fit.TooDry, Count: 2}), refused(plants.RuledOut{Bar: plants.BarToxic, Count: 2})},
		"2 plants: toxic":               {refused(plants.RuledOut{Bar: plants.BarToxic, Count: 2}), refused(plants.RuledOut{Bar: plants.BarHarm, Count: 2})},
		"left out before its water was": {refused(), refused(plants.RuledOut{Bar: plants.BarToxic, Count: 2})},
		"Leave rim empty for now: nothing in the catalogue is known to live there and keeps to your wishes": {advice("2 plants: toxic"), advice()},
		"5 h of sun, wants at least 6 h":               {limited(fit.TooDim), limited(fit.TooSun)},
		"5 h of sun, tolerates at most 6 h":            {limited(fit.TooSun), limited(fit.TooDim)},
		"nothing known that limits it":                 {limited(""), limited(fit.TooWet)},
		"No place here is better by more than the":     {stays(nothing), stays(func(c *season.Diagnosis) { c.Accident = "eaten" })},
		"Fence or net it":                              {stays(func(c *season.Diagnosis) { c.Accident = "eaten" }), stays(func(c *season.Diagnosis) { c.Accident = "heaved" })},
		"Water it in dry spells":                       {stays(nothing), stays(func(c *season.Diagnosis) { c.Top = season.TooWet })},
		"See whether the bed drains":                   {stays(func(c *season.Diagnosis) { c.Top = season.TooWet }), stays(nothing)},
		"Cut back what shades it":                      {stays(func(c *season.Diagnosis) { c.Top = season.TooShaded }), stays(nothing)},
		"Moving would not help":                        {stays(func(c *season.Diagnosis) { c.Top = season.Other }), stays(nothing)},
		"Do not water it for its looks while it is at": {stays(func(c *season.Diagnosis) { c.Rests = true }), stays(nothing)},
		"Look again on 2024-09-11":                     {stays(func(c *season.Diagnosis) { c.Wait = true }), stays(nothing)},
		"Look again now":                               {stays(func(c *season.Diagnosis) { c.Wait, c.LookOn = true, in.On }), stays(func(c *season.Diagnosis) { c.Wait = true })},
	} {
		assert.Contains(t, c.yes, said)
		assert.NotContains(t, c.no, said)
	}
}

// A year that is made has no name on any paper: nobody can look it up.
func TestMadeYearsHaveNoName(t *testing.T) {
	june := func(year int) time.Time { return time.Date(year, 6, 3, 0, 0, 0, 0, time.UTC) }
	assert.Equal(t, " (Jun 2013)", when(june(2013), 2013))
	assert.Equal(t, " (June)", when(june(1827), 1827))
	assert.Equal(t, " (2013)", when(time.Time{}, 2013))
	assert.Empty(t, when(time.Time{}, 1827))
	rec := climate.Stations()[0].Record(climate.Years, 1, "type-ii")
	assert.True(t, climate.MadeYear(rec.Start.Year()))
	assert.True(t, climate.MadeYear(rec.Start.AddDate(0, 0, len(rec.Days)-1).Year()))
}
