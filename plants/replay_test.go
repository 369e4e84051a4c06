package plants

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

func noted(t *testing.T, entries ...season.Entry) *season.Notes {
	t.Helper()
	text, _, err := season.Append("season.csv", nil, entries)
	require.NoError(t, err)
	rec, err := season.Read("season.csv", bytes.NewReader(text))
	require.NoError(t, err)
	return rec
}

func note(year, month, day int, stake string, vigour int) season.Entry {
	e := season.NewEntry(time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC), stake, season.Seen)
	e.Vigour = vigour
	return e
}

func poured(year, month, day int, stake string, litres float64) season.Entry {
	e := season.NewEntry(time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC), stake, season.Watered)
	e.WaterL = litres
	return e
}

// tender is a plant whose limits the small lots reach.
func tender() catalogue.Plant {
	return with(hardy("tender"), func(p *catalogue.Plant) { p.WetH, p.PondMM, p.DryD, p.LowestC = 20, 100, 15, -12 })
}

// middle is the middle of the small garden's bed.
func middle(stake, planted string) placement.Planted {
	return placement.Planted{Stake: stake, ID: "tender", X: 2, Y: 1.5, Planted: planted}
}

// A plant that has long rooted meets in whole calendar years just what fit finds
// for these years. For the first year of the record drought is left out: there
// the roots' own store is started anew.
func TestReplayOfWholeYearsIsFit(t *testing.T) {
	e := expose(t, nil, someYears(4))
	e.Lot.Garden.Soil.KnownSD = 0.1 // as ponds taught
	c := tableOf(tender())
	rec := noted(t, note(2002, 12, 31, "TEN1", 3), note(2003, 12, 31, "TEN1", 3), note(2004, 12, 30, "TEN1", 3))
	r, err := Replay("g", e, nil, c, []placement.Planted{middle("TEN1", "1990-05-01")}, rec)
	require.NoError(t, err)
	require.Len(t, r.Cases, 3)
	assert.Empty(t, r.Notes)
	bed := fitBed(e)
	for i, x := range r.Cases[:2] { // the last one ends a day before its year
		require.Equal(t, 365, int(x.To.Sub(x.From).Hours()/24)+1)
		want := bed.At(tender(), x.Band, i+1)
		assert.Equal(t, want.Wet, x.Dose[0].Severity)
		assert.Equal(t, want.Deep, x.Dose[1].Severity)
		assert.InDelta(t, want.Dry, x.Dose[2].Severity, 1e-9)
		assert.Equal(t, want.Cold, x.Dose[3].Severity)
		assert.Equal(t, want.WetH, x.Dose[0].Found)
		assert.Equal(t, 20.0, x.Dose[0].Allowed)
		assert.InDelta(t, want.DryD, x.Dose[2].Found, 1e-9)
		assert.Equal(t, want.WetFrom, x.Dose[0].When)
		assert.False(t, x.Ordinary)
		assert.Equal(t, 0.1, x.GroundSD)
		assert.Greater(t, want.Wet, 0.2)
		assert.Greater(t, want.Dry, 0.2)
	}
}

// storm is a record of frost-free weather without rain but for one day a week
// in the year before, and for a cloudburst on the given day of the year after.
func storm(day int) *site.Record {
	rec := &site.Record{Source: "rain.csv", Start: time.Date(2001, 1, 1, 0, 0, 0, 0, time.FixedZone("", -6*3600)), Step: "daily"}
	for d := range 730 {
		for h := range 24 {
			mm := 0.0
			if d < 365 && d%7 == 0 && h == 9 {
				mm = 10
			}
			if d == day && h == 9 {
				mm = 60
			}
			rec.RainMM = append(rec.RainMM, mm)
		}
		rec.Days = append(rec.Days, site.Day{TMinC: 9, TMaxC: 19, ET0MM: 4})
	}
	rec.Missing = make([]bool, len(rec.RainMM))
	return rec
}

// A plant that went into the ground just before a cloudburst bears half of what
// its catalogue says, one planted half a growing year before three quarters, one
// long rooted all of it: so the same water is twice, 4/3 and once as hard. It
// grows all year here, so the middle of the window is what decides: with the
// month's first and the note as cuts, that is day 8 of 16 after 1 July 2002.
func TestYoungPlantsBearLess(t *testing.T) {
	e := expose(t, nil, storm(365+181+5)) // 6 July 2002
	c := tableOf(tender())
	severity := func(planted string) float64 {
		r, err := Replay("g", e, nil, c, []placement.Planted{middle("TEN1", planted)}, noted(t, note(2002, 7, 16, "TEN1", 1)))
		require.NoError(t, err)
		require.Len(t, r.Cases, 1)
		assert.Equal(t, time.July, r.Cases[0].Dose[0].When.Month())
		assert.InDelta(t, r.Cases[0].Dose[0].Found/r.Cases[0].Dose[0].Allowed, r.Cases[0].Dose[0].Severity, 1e-12)
		return r.Cases[0].Dose[0].Severity
	}
	old := severity("1980-01-01")
	require.Greater(t, old, 0.1)
	rooted := func(days float64) float64 { return 0.5 + 0.5*min(1, math.Floor(days)/365.25) }
	assert.InDelta(t, old/rooted(8), severity("2002-07-01"), 0.002*old)
	assert.InDelta(t, old/rooted(182+8), severity("2001-12-31"), 0.002*old) // 182 days to 1 July
	assert.InDelta(t, old, severity(""), 1e-12, "nobody knows when: it counts as established")
}

// Water poured on a plant, or on its zone, shortens its drought, and nobody
// else's; twice as much ground about the plants takes twice as much water.
func TestWateringCounts(t *testing.T) {
	e := expose(t, nil, storm(0))
	c := tableOf(tender())
	dry := func(entries ...season.Entry) []float64 {
		rows := []placement.Planted{middle("TEN1", "2000-01-01"), {Stake: "TEN2", ID: "tender", X: 2.2, Y: 1.5, Planted: "2000-01-01"}}
		entries = append(entries, note(2002, 8, 1, "TEN1", 3), note(2002, 8, 1, "TEN2", 3))
		r, err := Replay("g", e, nil, c, rows, noted(t, entries...))
		require.NoError(t, err)
		require.Len(t, r.Cases, 2)
		return []float64{r.Cases[0].Dose[2].Found, r.Cases[1].Dose[2].Found}
	}
	var own, zone, half []season.Entry
	for week := range 30 {
		day := time.Date(2002, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, 7*week)
		y, m, d := day.Year(), int(day.Month()), day.Day()
		own = append(own, poured(y, m, d, "ten1", 15))
		zone = append(zone, poured(y, m, d, "bottom", 30))
		half = append(half, poured(y, m, d, "all", 15))
	}
	without := dry()
	assert.InDelta(t, without[0], without[1], 1e-9)
	assert.Greater(t, without[0], 60.0)
	mine := dry(own...)
	assert.Less(t, mine[0], 0.5*without[0])
	assert.Equal(t, without[1], mine[1])
	both := dry(zone...)
	assert.InDelta(t, mine[0], both[0], 1e-9, "30 L on two plants are 15 L on each")
	assert.InDelta(t, both[0], both[1], 1e-9)
	less := dry(half...)
	assert.Greater(t, less[0], both[0])
	assert.Less(t, less[0], without[0])
	assert.InDelta(t, without[0], dry(poured(2002, 3, 1, "rim", 500))[0], 1e-9, "they stand in the bottom")
}

// What was noted of a plant before it was moved is about the place that it left: it
// is not said to struggle where it stands until somebody notes that.
func TestMovedIsNotJudgedByBefore(t *testing.T) {
	e := expose(t, nil, someYears(4))
	moved := season.NewEntry(time.Date(2002, 10, 1, 0, 0, 0, 0, time.UTC), "TEN1", season.Moved)
	moved.X, moved.Y = 1.5, 1.5
	for _, c := range []struct {
		entries []season.Entry
		judged  int
	}{
		{[]season.Entry{note(2002, 8, 1, "TEN1", 1)}, 1},
		{[]season.Entry{note(2002, 8, 1, "TEN1", 1), moved}, 0},
		{[]season.Entry{note(2002, 8, 1, "TEN1", 1), moved, note(2003, 6, 1, "TEN1", 2)}, 1},
		{[]season.Entry{note(2002, 8, 1, "TEN1", 1), moved, note(2002, 10, 1, "TEN1", 2)}, 1},
	} {
		r, err := Replay("g", e, nil, tableOf(tender()), []placement.Planted{middle("TEN1", "2001-04-01")}, noted(t, c.entries...))
		require.NoError(t, err)
		assert.Len(t, r.diagnose(season.Default(), shippedSigns(t), nil), c.judged, "%d entries", len(c.entries))
		assert.NotEmpty(t, r.Cases, "it teaches all the same")
	}
}

// A day on which to look for flowers is in the months of bloom, over the turn of
// the year too; where these are not known it stays.
func TestInBloom(t *testing.T) {
	for _, c := range []struct {
		from, to  int
		day, want string
	}{
		{2, 3, "2024-11-02", "2025-02-15"}, {2, 3, "2024-03-31", "2024-03-31"}, {11, 2, "2024-01-31", "2024-01-31"},
		{11, 2, "2024-03-31", "2024-11-15"}, {6, 6, "2024-12-31", "2025-06-15"}, {0, 0, "2024-11-02", "2024-11-02"},
	} {
		p := hardy("some")
		p.FlowerFrom, p.FlowerTo = c.from, c.to
		day, err := time.Parse(time.DateOnly, c.day)
		require.NoError(t, err)
		assert.Equal(t, c.want, inBloom(p, day).Format(time.DateOnly), "%+v", c)
	}
}

// Where nobody wrote down when a plant was planted, that is told: it counts as
// grown. So are days without rain values, where they hide a season.
func TestTellsWhatIsNotKnown(t *testing.T) {
	e := expose(t, nil, someYears(3))
	for h := 400 * 24; h < 600*24; h++ {
		e.Lot.Record.Missing[h] = true
	}
	r, err := Replay("g", e, nil, tableOf(tender()), []placement.Planted{middle("TEN1", "")}, noted(t, note(2002, 8, 1, "TEN1", 1)))
	require.NoError(t, err)
	require.Len(t, r.Notes, 2)
	assert.Contains(t, r.Notes[0], "(the record is of 1 Jan 2001 to 31 Dec 2003 and lacks the rain of 200 days)")
	assert.Contains(t, r.Notes[1], "the planting day of 1 of the plants noted is not known")
}

// Where the weather at hand does not reach, the ordinary year of the record
// stands in, with a word to the reader, and nothing is learned from it.
func TestNoWeather(t *testing.T) {
	e := expose(t, nil, someYears(7))
	c := tableOf(tender())
	rows := []placement.Planted{middle("TEN1", "2000-01-01"), middle("TEN2", "2009-06-01")}
	r, err := Replay("g", e, nil, c, rows, noted(t, note(2011, 8, 1, "TEN1", 1), note(2010, 6, 1, "TEN2", 1)))
	require.NoError(t, err)
	require.Len(t, r.Cases, 2)
	x := r.Cases[0]
	assert.True(t, x.Ordinary)
	require.Len(t, r.Notes, 1)
	assert.Equal(t, "no weather for 2 of 2 plants and seasons (the record is of 1 Jan 2001 to 31 Dec 2007): judged by an ordinary year, and nothing is learned from them", r.Notes[0])
	var wet []float64
	bed := fitBed(e)
	for _, y := range e.Whole {
		wet = append(wet, bed.At(tender(), x.Band, y).Wet)
	}
	slices.Sort(wet)
	assert.Equal(t, wet[3], x.Dose[0].Severity, "the fourth of seven years")
	assert.Greater(t, x.Doubt[0], 0.0)
	for l, d := range x.Dose {
		assert.Contains(t, []int{2001, 2002, 2003, 2004, 2005, 2006, 2007}, d.When.Year(), "a year of the record: %s", season.Limits()[l])
	}
	assert.InDelta(t, wet[3]/0.75, r.Cases[1].Dose[0].Severity, 0.01, "a year after planting, on average half rooted")

	signs := shippedSigns(t)
	m := season.Default()
	assert.Empty(t, m.Learn(signs, r.Cases).Species)
	sure := x
	sure.Doubt = [season.LimitCount]float64{}
	for l := range sure.Dose {
		x.Dose[l].Severity, sure.Dose[l].Severity = math.NaN(), math.NaN()
	}
	x.Dose[0].Severity, sure.Dose[0].Severity = 2, 2
	assert.Less(t, m.Diagnose(signs, x, season.Bearing{}).Of(season.TooWet), m.Diagnose(signs, sure, season.Bearing{}).Of(season.TooWet))
}

func TestReplayLeavesOutWhatItCannotJudge(t *testing.T) {
	e := expose(t, nil, someYears(2))
	rows := []placement.Planted{
		{Stake: "FAR1", ID: "tender", X: 99, Y: 99}, {Stake: "ODD1", ID: "nobody-knows", X: 2, Y: 1.5}, middle("TEN1", "2000-04-01"),
	}
	r, err := Replay("g", e, nil, tableOf(tender()), rows, noted(t, note(2002, 8, 1, "FAR1", 1), note(2002, 8, 1, "ODD1", 1), note(2002, 8, 1, "TEN1", 1)))
	require.NoError(t, err)
	require.Len(t, r.Cases, 1)
	assert.Equal(t, "TEN1", r.Cases[0].Plant)
	require.Len(t, r.Notes, 2)
	assert.Contains(t, r.Notes[0], `ODD1: its kind "nobody-knows" is not in the plant table`)
	assert.Contains(t, r.Notes[1], "FAR1: stands outside the bed")

	r, err = Replay("g", e, nil, tableOf(tender()), rows, &season.Notes{})
	require.NoError(t, err)
	assert.Empty(t, r.Cases)
	assert.Len(t, r.Kept, 2)
}

// This year's weather from a file of its own counts before the record.
func TestReplayOverOtherWeather(t *testing.T) {
	e := expose(t, nil, someYears(3))
	rows := []placement.Planted{middle("TEN1", "2000-01-01")}
	rec := noted(t, note(2002, 7, 20, "TEN1", 1))
	r, err := Replay("g", e, storm(365+181+5), tableOf(tender()), rows, rec)
	require.NoError(t, err)
	own, err := Replay("g", e, nil, tableOf(tender()), rows, rec)
	require.NoError(t, err)
	assert.Equal(t, time.Date(2002, 7, 6, 0, 0, 0, 0, time.UTC), season.Midnight(r.Cases[0].Dose[0].When))
	assert.NotEqual(t, own.Cases[0].Dose[0].Severity, r.Cases[0].Dose[0].Severity)
}

func TestNotesThatCannotBe(t *testing.T) {
	e := expose(t, nil, someYears(3))
	rec := noted(t, note(2001, 8, 1, "TEN1", 1), note(2002, 8, 1, "TEN1", 1), note(2002, 8, 1, "NEN1", 1), note(2002, 9, 1, "NEN1", 1))
	r, err := Replay("g", e, nil, tableOf(tender()), []placement.Planted{middle("TEN1", "2002-03-01")}, rec)
	require.NoError(t, err)
	require.Len(t, r.Cases, 1)
	assert.Len(t, r.Cases[0].Notes, 1)
	assert.Equal(t, []string{
		"NEN1: noted in entry 3, but no such stake stands in planted.csv, so the note is left out",
		"TEN1: entry 1 of 1 Aug 2001 is from before it was planted, so it is left out",
	}, r.Notes)
}

// Six weeks on, or four weeks after growth begins again: here about 11 March.
func TestLookAgainWhenThingsGrow(t *testing.T) {
	signs, m := shippedSigns(t), season.Default()
	look := func(e *zones.Exposure, year, month, day int) time.Time {
		n := note(year, month, day, "TEN1", 2)
		n.Signs = []season.Sign{"small but green"}
		r, err := Replay("g", e, nil, tableOf(hardy("tender")), []placement.Planted{middle("TEN1", fmt.Sprintf("%d-04-01", year))}, noted(t, n))
		require.NoError(t, err)
		d := r.diagnose(m, signs, nil)[0]
		require.True(t, d.Wait)
		return d.LookOn
	}
	long := expose(t, nil, someYears(8))
	assert.Equal(t, time.Date(2002, 7, 13, 0, 0, 0, 0, time.UTC), look(long, 2002, 6, 1))
	spring := look(long, 2002, 11, 1)
	assert.Equal(t, 2003, spring.Year())
	assert.Equal(t, time.April, spring.Month())
	assert.Equal(t, spring, look(long, 2002, 12, 20))

	noLeap := expose(t, nil, someYears(3)) // a record without any 31 December that is day 366
	for _, month := range []int{11, 12} {
		spring = look(noLeap, 2004, month, 1)
		assert.Equal(t, "April 2005", spring.Format("January 2006"))
	}
}
