package report

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones"
)

// Days are told by the month, and the year where it turns.
func TestVisitDays(t *testing.T) {
	days := func(dates ...string) string {
		var visits []time.Time
		for _, d := range dates {
			day, err := time.Parse(time.DateOnly, d)
			require.NoError(t, err)
			visits = append(visits, day)
		}
		return visitDays(2026, visits)
	}
	assert.Equal(t, "May 3", days("2026-05-03"))
	assert.Equal(t, "2027 Apr 9, May 1", days("2027-04-09", "2027-05-01"), "planted in the autumn before")
	assert.Equal(t, "May 3 10, Oct 1, 2027 Apr 2 30, May 1", days("2026-05-03", "2026-05-10", "2026-10-01", "2027-04-02", "2027-04-30", "2027-05-01"))
	assert.Equal(t, "May 3, 2027 May 3", days("2026-05-03", "2027-05-03"), "the same month of another year")
}

// A span of risks: unknown ones are no zero, and a little is not told finer
// than the record can.
func TestRiskSpan(t *testing.T) {
	span := func(v ...float64) string {
		var r riskSpan
		for _, x := range v {
			r.add(x)
		}
		return r.String()
	}
	assert.Equal(t, "not known", span())
	assert.Equal(t, "not known", span(math.NaN()))
	assert.Equal(t, "30 %", span(0.3, math.NaN()))
	assert.Equal(t, "10 % to 30 %", span(0.3, 0.1, 0.2))
	assert.Equal(t, "up to 8 %", span(0.001, 0.08))
	assert.Equal(t, "under 2 %", span(0.001, 0.01))
}

// The advice on the roof water follows the weeks: clash before best, never a
// week that there is not.
func TestLetInAdvice(t *testing.T) {
	in := CareIn{FirstYear: plants.FirstYear{Planted: time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC), Setting: care.Setting{RiskMax: 0.1}}}
	advice := func(earliest, best, latest int, clash bool) string {
		in.LetIn = &care.LetIn{Weeks: []care.LetInWeek{{Week: 0, Drowned: 0.3}, {Week: 1}, {Week: 2}, {Week: 3}}, Earliest: earliest, Best: best, Latest: latest, Clash: clash}
		return letInAdvice(zones.UnitsMetric, in)
	}
	assert.Contains(t, advice(0, 0, 3, false), "from the day of planting: 30 % would drown")
	assert.Equal(t, "from the day of planting. Of 100 young plants 30 are then lost, watered, at most 5 more than if you wait for week 1 (2026-05-08); waiting takes 0 L more by hose. From week 3 on, too many would parch without a hose.", advice(0, 1, 2, false))
	assert.NotContains(t, advice(0, 1, 3, false), "parch")
	assert.Contains(t, advice(1, 1, 2, false), "best in week 1 (2026-05-08): before, more young plants drown; from week 3 on")
	assert.Contains(t, advice(1, 1, 3, false), "waiting costs hardly any")
	assert.Contains(t, advice(2, 3, 1, true), "not before week 2 (2026-05-15), and water by hand until then")
	assert.Contains(t, advice(-1, 2, 1, true), "in no week of the first year do fewer than 10 % drown; week 2")
	assert.Contains(t, advice(-1, -1, -1, true), "not known")
	assert.Contains(t, advice(1, 1, -1, false), "best in week 1", "no latest week")
}

// typical is a bed of one zone by a typical year, watered on 9 May.
func typical(t *testing.T, today string) CareIn {
	t.Helper()
	day := func(s string) time.Time {
		d, err := time.Parse(time.DateOnly, s)
		require.NoError(t, err)
		return d
	}
	plan := &care.Plan{Zone: "rim", Years: []care.Season{{Year: 2012, From: day("2012-05-01"), To: day("2013-05-02")}}}
	in := CareIn{FirstYear: plants.FirstYear{Exposure: &zones.Exposure{}, Planted: day("2026-05-01"), Plans: []*care.Plan{plan}, Stands: []care.Stand{{Zone: "rim"}}, HeavyMM: 40, Today: care.Today{Date: day(today)}}}
	in.Today.Water = []care.ZoneToday{{Zone: "rim", Now: true, Litres: 30, Minutes: 2, RootCM: 15, Watched: true, Forecast: in.RootedOn()}}
	return in
}

// A year without a visit says so; zones of one day stand together.
func TestWateringDates(t *testing.T) {
	in := typical(t, "2026-05-09")
	assert.Contains(t, wateringDates(in), doc.Text{Words: "none", In: 2})
	may := func(day int) care.Watering {
		return care.Watering{Date: time.Date(2012, 5, day, 0, 0, 0, 0, time.UTC), Litres: 10, Minutes: 1, RootCM: 15}
	}
	slope := care.Plan{Zone: "slope", Years: []care.Season{in.Plans[0].Years[0]}}
	in.Plans[0].Years[0].Waterings, slope.Years[0].Waterings = []care.Watering{may(9), may(16)}, []care.Watering{may(9)}
	in.Plans, in.Stands = append(in.Plans, &slope), append(in.Stands, care.Stand{Zone: "slope"})
	assert.Contains(t, wateringDates(in), doc.Text{Lead: "the whole bed", Words: "May 9", In: 2, Hang: 4})
	assert.Contains(t, wateringDates(in), doc.Text{Lead: "rim", Words: "May 16", In: 2, Hang: 4})
	both, one := visitsOf(in)[0], visitsOf(in)[1]
	assert.Equal(t, "Water the bed", both.title())
	assert.Equal(t, "rim 10 L, to 15 cm; slope 10 L, to 15 cm", both.how(zones.UnitsMetric))
	assert.Equal(t, "Water the rim", one.title())
	sum, minutes := both.sum()
	assert.Equal(t, []float64{20, 2}, []float64{sum, minutes})
}

// Three lines that never say more than is known: nothing of rain that nobody
// reported, no water before planting or after rooting.
func TestCareTodayLines(t *testing.T) {
	lines := careTodayLines(typical(t, "2026-05-09"), care.Metric())
	assert.Equal(t, "Water: rim 30 L (2 min), to 15 cm deep. So in a typical year; feel the soil first.", lines[0])
	assert.Equal(t, "Look: what fell is not known here (--so-far). After 40 mm in a day: inlet open, water gone, soil in place?", lines[1])
	assert.Equal(t, "Hands: nothing due.", lines[2])
	assert.Contains(t, careTodayLines(typical(t, "2026-05-09"), careShow(zones.UnitsUS))[0], "rim 7.9 gal (2 min), to 6 in deep", "30 L are 7.9 US gal")

	assert.Equal(t, "Water: not yet, planting is on 2026-05-01.", careTodayLines(typical(t, "2026-04-30"), care.Metric())[0])
	assert.Equal(t, "Water: none, the plants have rooted.", careTodayLines(typical(t, "2027-05-02"), care.Metric())[0])
	assert.NotContains(t, careTodayLines(typical(t, "2027-05-01"), care.Metric())[0], "rooted", "the day before")

	unknown := typical(t, "2026-05-09")
	unknown.HeavyMM = 0
	assert.Equal(t, "Look: what fell is not known here (--so-far).", careTodayLines(unknown, care.Metric())[1])

	known := typical(t, "2026-05-09")
	known.This = &plants.ThisYear{}
	lines = careTodayLines(known, care.Metric())
	assert.Equal(t, "Water: rim 30 L (2 min), to 15 cm deep.", lines[0])
	assert.Equal(t, "Look: no heavy rain lately.", lines[1])
}

// A name from a file cannot leave its line or steer a terminal.
func TestCareNamesArePlain(t *testing.T) {
	var b strings.Builder
	doc.Terminal(&b, []doc.Block{doc.List{Items: youngPlants(zones.UnitsMetric, listOf(young("Low\x1b[2JWisp\nand", 3, care.SafeWatered)))}})
	assert.Contains(t, b.String(), "3 Low\ufffd[2JWisp and (rim)")
	assert.NotContains(t, b.String(), "\x1b")
}

func listOf(all ...plants.YoungPlant) CareIn {
	return CareIn{FirstYear: plants.FirstYear{Plants: all}}
}

func young(name string, count int, v care.Verdict) plants.YoungPlant {
	return plants.YoungPlant{Count: count, FirstYear: care.FirstYear{
		Plant: catalogue.Plant{VernacularName: name}, Zone: "rim", Verdict: v, Alone: 0.5, Planned: 0.2, KeptDry: 0.3, Left: fit.TooDry, TypicalLitres: 10,
		Established: fit.Fit{YearlyRisk: 0.7}, Remedies: remedied(v),
	}}
}

// remedied are the remedies that care finds by verdict.
func remedied(v care.Verdict) []care.Remedy {
	if v != care.SafeLater {
		return nil
	}
	return []care.Remedy{{SoldAs: "gallon pot", Risk: 0.06}, {Month: time.April, Risk: 0.03}, {Month: time.May, Risk: 0.04}, {Weeks: 53, Risk: 0.08}}
}

// Every verdict of care has its place in the list.
func TestCareVerdicts(t *testing.T) {
	var all []plants.YoungPlant
	for _, v := range careVerdicts() {
		all = append(all, young("Wisp", 2, v))
	}
	flat := strings.Join(youngPlants(zones.UnitsMetric, listOf(all...)), "\n")
	for _, v := range careVerdicts() {
		if v != care.SafeLater && v != care.NotSafe {
			assert.Contains(t, flat, string(v)+": 2 Wisp (rim)")
		}
	}
	later := "2 Wisp (rim): watering alone does not keep it, too dry, 20 % of its first year. Buy it as gallon pot (6 %), or keep the roof water out until it has rooted (8 %), or plant it in Apr to May (3 % to 4 %), or choose another plant for this place."
	assert.Contains(t, flat, later)
	assert.Contains(t, helpedCounts(all).Items, later, "on a first screen too")
	assert.Contains(t, helpedCounts(all).Items, "2 Wisp (rim): no watering keeps it, 70 % of each year once established. Choose another plant for this place.")
	assert.Contains(t, flat, string(care.SafeWatered)+": 2 Wisp (rim). Risk of the year without help 50 %, with it 20 %; they take 20 L of the hose in a typical year.")
	assert.Contains(t, flat, string(care.SafeKeptDry)+": 2 Wisp (rim). Risk of the year without help 50 %, with it 30 %.")
	assert.Contains(t, flat, string(care.SafeFromStart)+": 2 Wisp (rim). Risk of the year without help 50 %.")
	assert.NotContains(t, flat, "only if watered")
	thirsty := young("Wisp", 2, care.SafeWatered)
	thirsty.Weekly = true
	flat = strings.Join(youngPlants(zones.UnitsMetric, listOf(thirsty)), "\n")
	assert.Contains(t, flat, "safe with watering, then only if watered weekly in drought, every year: 2 Wisp (rim).")
	assert.Equal(t, []string{"2 plants of 1 kind: safe with watering, then on its own", "2 plants of 1 kind: safe with watering, then only if watered weekly in drought, every year"},
		helpedCounts([]plants.YoungPlant{thirsty, young("Wisp", 2, care.SafeWatered)}).Items)
}

// Where a fifth of the plants at most needs the hose, these are named; else, or where none
// does, nobody is.
func TestFewThirsty(t *testing.T) {
	of := func(safe, thirsty int) string {
		var in CareIn
		in.Plants = []plants.YoungPlant{young("Wisp", safe, care.SafeFromStart), young("Reed", thirsty, care.SafeWatered)}
		return fewThirsty(in)
	}
	assert.Equal(t, " 8 of 10 plants live without it: once they have taken, water 2 Reed (rim), and the others only if you like.", of(8, 2))
	assert.Empty(t, of(7, 3))
	assert.Empty(t, of(8, 0))
}
