package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/care"
	"hollowbed/testdata/testenv"
)

// careAt runs the command care at an hour.
func careAt(t testing.TB, now time.Time, args ...string) (status int, out, errs string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	status = run(append([]string{"care"}, args...), world{
		in: strings.NewReader(""), out: &stdout, err: &stderr, getenv: func(string) string { return "" }, now: func() time.Time { return now },
	})
	return status, stdout.String(), stderr.String()
}

func march() time.Time { return time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC) }

// careDoc is what the tests read of the JSON.
type careDoc struct {
	Planted        string   `json:"planted"`
	PlantedAssumed bool     `json:"planted_assumed"`
	RootedOn       string   `json:"rooted_on"`
	HeavyMM        float64  `json:"heavy_rain_mm"`
	Notes          []string `json:"notes"`
	Zones          []struct {
		Zone     string      `json:"zone"`
		AreaM2   float64     `json:"area_m2"`
		Plants   int         `json:"plants"`
		Typical  []careVisit `json:"typical"`
		Dry      []careVisit `json:"dry"`
		ThisYear []careVisit `json:"this_year"`
		Rules    []careRule  `json:"rules"`
	} `json:"zones"`
	Plants []struct {
		ID    string `json:"id"`
		Zone  string `json:"zone"`
		Count int    `json:"count"`
	} `json:"plants"`
	Tasks []struct {
		ID     string `json:"id"`
		Months []int  `json:"months"`
	} `json:"tasks"`
	Today struct {
		Date  string   `json:"date"`
		Lines []string `json:"lines"`
		Water []struct {
			Zone   string  `json:"zone"`
			Now    bool    `json:"now"`
			Litres float64 `json:"litres"`
			Next   string  `json:"next"`
		} `json:"water"`
	} `json:"today"`
}

type careRule struct {
	Rule    string  `json:"rule"`
	Litres  float64 `json:"typical_litres"`
	DryYear float64 `json:"dry_litres"`
	Saved   float64 `json:"saved_litres"`
	Visits  float64 `json:"visits"`
	Lost    float64 `json:"lost_to_drought"`
}

type careVisit struct {
	Date    string  `json:"date"`
	Litres  float64 `json:"litres"`
	Minutes float64 `json:"minutes"`
}

func careJSON(t testing.TB, now time.Time, args ...string) careDoc {
	t.Helper()
	status, out, errs := careAt(t, now, append(args, "--json")...)
	require.Zero(t, status, errs)
	require.NoError(t, validate("care", []byte(out)))
	var doc careDoc
	require.NoError(t, json.Unmarshal([]byte(out), &doc))
	return doc
}

// The figures of the rules, against a handbook: 1 in of rain on 1,000 sq ft is
// 623 US gal, so the inch a week takes that much on each visit; and the hose's
// minutes against its rate (1 US gal = 3.785411784 L, NIST, from memory).
func TestCareAgainstHandbook(t *testing.T) {
	t.Parallel()
	const lPerGal, m2PerFt2 = 3.785411784, 0.09290304
	doc := careJSON(t, march(), "--planted", "2026-05-01", "--hose", "4 gal/min")
	require.Len(t, doc.Zones, 3)
	for _, z := range doc.Zones {
		inch := z.Rules[slices.IndexFunc(z.Rules, func(r careRule) bool { return r.Rule == string(care.InchAWeek) })]
		perVisit := inch.Litres / lPerGal / inch.Visits / (z.AreaM2 / m2PerFt2) * 1000
		assert.InDelta(t, 623, perVisit, 1, z.Zone)
		assert.InDelta(t, inch.Litres-z.Rules[0].Litres, inch.Saved, 1e-6, z.Zone)
		assert.Less(t, z.Rules[0].Lost, z.Rules[3].Lost, "watering spares plants in the %s", z.Zone)
		assert.GreaterOrEqual(t, z.Rules[0].DryYear, z.Rules[0].Litres, "a dry year takes more")
		require.NotEmpty(t, z.Typical)
		for _, v := range slices.Concat(z.Typical, z.Dry) {
			assert.InDelta(t, v.Litres, v.Minutes*4*lPerGal, 1e-6)
			assert.GreaterOrEqual(t, v.Date, doc.Planted)
			assert.Less(t, v.Date, doc.RootedOn)
		}
	}
}

// The plants are those of the planting list, each of them once.
func TestCareHasTheList(t *testing.T) {
	t.Parallel()
	status, out, errs := ask(t, "", "choose", "--json")
	require.Zero(t, status, errs)
	var list struct {
		Lines []struct {
			ID    string `json:"id"`
			Zone  string `json:"zone"`
			Count int    `json:"count"`
		} `json:"lines"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &list))
	require.NotEmpty(t, list.Lines)
	doc := careJSON(t, march(), "--planted", "2026-05-01")
	byZone := map[string]int{}
	require.Len(t, doc.Plants, len(list.Lines))
	for i, l := range list.Lines {
		assert.Equal(t, fmt.Sprint(l.ID, l.Zone, l.Count), fmt.Sprint(doc.Plants[i].ID, doc.Plants[i].Zone, doc.Plants[i].Count))
		byZone[l.Zone] += l.Count
	}
	for _, z := range doc.Zones {
		assert.Equal(t, byZone[z.Zone], z.Plants, z.Zone)
	}
}

// Where plants stand already, their first year is told, not that of the list;
// what the table does not know, or stands outside the bed, is named.
func TestCareGoesByWhatStands(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, map[string]string{"planted.csv": "stake,id,x_m,y_m,planted,zone\n" +
		"A1,low-brindlewisp,3.0,2.1,2026-05-01,bottom\nA2,low-brindlewisp,3.4,2.1,2026-05-01,bottom\nA3,low-brindlewisp,0.2,2.1,2026-05-01,rim\n" +
		"B1,never-heard-of,3.2,2.4,2026-05-01,bottom\nA4,low-brindlewisp,30,2.1,2026-05-01,\n"})
	doc := careJSON(t, march(), "--garden", dir)
	require.Len(t, doc.Plants, 2)
	for i, want := range []struct {
		zone  string
		count int
	}{{"bottom", 2}, {"rim", 1}} {
		assert.Equal(t, "low-brindlewisp", doc.Plants[i].ID)
		assert.Equal(t, want.zone, doc.Plants[i].Zone)
		assert.Equal(t, want.count, doc.Plants[i].Count)
		assert.Equal(t, want.zone, doc.Zones[i].Zone)
	}
	assert.Contains(t, doc.Notes, `B1: the plant table has no "never-heard-of", so its needs are not known`)
	assert.Contains(t, doc.Notes, "A4 stands outside the bed and is not counted")

	none := gardenWith(t, map[string]string{"planted.csv": "stake,id,x_m,y_m\nB1,never-heard-of,3.2,2.4\n"})
	status, _, errs := careAt(t, march(), "--garden", none)
	assert.Equal(t, exitBad, status)
	assert.Contains(t, errs, "none of its plants is both in the plant table and in the bed")
}

// The day of planting that is taken where none is given lies ahead, and comes
// from the climate: the same weather half a year later plants half a year later.
func TestCareSeasonOfTheSouth(t *testing.T) {
	t.Parallel()
	north := careJSON(t, march())
	assert.True(t, north.PlantedAssumed)
	assert.Equal(t, "2026-04-01", north.Planted)
	hot := careJSON(t, march(), "--planted", "2026-07-15")
	assert.Contains(t, hot.Notes, "warning: 2026-07-15 is no good time to plant here (July: too hot for young roots, with less rain than they use); the next is from 2026-09-01")

	text, err := os.ReadFile(filepath.Join(repo, "data/rain.csv"))
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	require.NoError(t, err)
	var moved bytes.Buffer
	out := csv.NewWriter(&moved)
	require.NoError(t, out.Write(rows[0]))
	for _, row := range rows[1:] {
		day, err := time.Parse(time.DateOnly, row[0])
		require.NoError(t, err)
		row[0] = day.AddDate(0, 0, 184).Format(time.DateOnly) // 1 January to 4 July
		require.NoError(t, out.Write(row))
	}
	out.Flush()
	files := spoilt(t, "garden.yaml", "latitude: 41.5", "latitude: -41.5")
	files["rain.csv"] = moved.String()
	south := careJSON(t, march(), "--garden", gardenWith(t, files))
	for i, task := range north.Tasks {
		for _, m := range task.Months { // half a year away, or next to it: months are whole, the weather moved by days
			near := []int{(m+4)%12 + 1, (m+5)%12 + 1, (m+6)%12 + 1}
			assert.True(t, slices.ContainsFunc(south.Tasks[i].Months, func(have int) bool { return slices.Contains(near, have) }), "%s: %d in the north, %v in the south", task.ID, m, south.Tasks[i].Months)
		}
	}
	assert.True(t, south.PlantedAssumed)
	assert.Equal(t, "2026-03-01", south.Planted, "today: autumn, south of the equator")
}

// weatherOf writes a record of days from a first one: rain in mm, mild, by day.
func weatherOf(t testing.TB, first string, rainMM ...float64) string {
	t.Helper()
	day, err := time.Parse(time.DateOnly, first)
	require.NoError(t, err)
	text := "date,rain_mm,tmin_c,tmax_c\n"
	for i, mm := range rainMM {
		text += fmt.Sprintf("%s,%.1f,12,26\n", day.AddDate(0, 0, i).Format(time.DateOnly), mm)
	}
	file := filepath.Join(t.TempDir(), "weather.csv")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	return file
}

// This year counts, not the past ones: weeks without rain call for the hose,
// daily rain for none; a downpour calls for a look.
func TestCareThisYear(t *testing.T) {
	t.Parallel()
	dry := weatherOf(t, "2026-04-01", make([]float64, 50)...) // to 20 May
	wet := weatherOf(t, "2026-04-01", slices.Repeat([]float64{12}, 50)...)
	ahead := weatherOf(t, "2026-05-21", make([]float64, 7)...)
	now := time.Date(2026, 5, 20, 15, 0, 0, 0, time.UTC)

	dir := gardenWith(t, nil)
	doc := careJSON(t, now, "--garden", dir, "--planted", "2026-04-20", "--so-far", dry, "--forecast", ahead)
	assert.Equal(t, "2026-05-20", doc.Today.Date)
	for i, z := range doc.Zones {
		require.NotEmpty(t, z.ThisYear, z.Zone)
		last := z.ThisYear[len(z.ThisYear)-1]
		assert.LessOrEqual(t, last.Date, "2026-05-27", "no further than the forecast")
		due, next := false, ""
		for _, v := range z.ThisYear {
			due = due || v.Date == doc.Today.Date
			if v.Date > doc.Today.Date && next == "" {
				next = v.Date
			}
		}
		assert.Equal(t, due, doc.Today.Water[i].Now, z.Zone)
		assert.Equal(t, next, doc.Today.Water[i].Next, z.Zone)
	}
	assert.Equal(t, "Look: no heavy rain lately.", doc.Today.Lines[1])

	doc = careJSON(t, now, "--garden", dir, "--planted", "2026-04-20", "--so-far", wet, "--forecast", ahead)
	for _, z := range doc.Zones {
		for _, v := range z.ThisYear {
			assert.Greater(t, v.Date, "2026-05-20", "half an inch a day and the %s is watered", z.Zone)
		}
	}

	rain := make([]float64, 50)
	rain[48] = 70 // 19 May
	pour := weatherOf(t, "2026-04-01", rain...)
	doc = careJSON(t, now, "--garden", dir, "--planted", "2026-04-20", "--so-far", pour)
	require.Less(t, doc.HeavyMM, 70.0)
	assert.Contains(t, doc.Today.Lines[1], "70 mm fell on 19 May")
	_, out, _ := careAt(t, now, "--garden", dir, "--planted", "2026-04-20", "--so-far", pour, "--csv")
	assert.Contains(t, out, `2026-05-20,,heavy-rain,,,"Look at the bed after heavy rain: `)
}

// Today is today where the garden lies: at three in the morning of Greenwich
// it is still the day before in Chicago.
func TestCareTodayIsLocal(t *testing.T) {
	t.Parallel()
	doc := careJSON(t, time.Date(2026, 6, 10, 3, 0, 0, 0, time.UTC), "--planted", "2026-05-01")
	assert.Equal(t, "2026-06-09", doc.Today.Date)
}

// Three lines, every day of a year and beyond: water on the days of the
// typical year and on no others.
func TestCareTodayFollowsThePlan(t *testing.T) {
	t.Parallel()
	dir := gardenWith(t, nil)
	doc := careJSON(t, march(), "--garden", dir, "--planted", "2026-05-01")
	due := map[string]bool{}
	for _, z := range doc.Zones {
		for _, v := range z.Typical {
			due[v.Date] = true
		}
	}
	seen := 0
	days := []time.Time{dayOf(t, doc.Zones[0].Typical[2].Date), dayOf(t, doc.Zones[2].Typical[0].Date)} // of watering, for sure
	for day := time.Date(2026, 4, 28, 17, 0, 0, 0, time.UTC); day.Before(time.Date(2027, 6, 1, 0, 0, 0, 0, time.UTC)); day = day.AddDate(0, 0, testenv.Of(100, 25)) {
		days = append(days, day)
	}
	for _, day := range days {
		status, out, errs := careAt(t, day, "--garden", dir, "--planted", "2026-05-01", "--today")
		require.Zero(t, status, errs)
		lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		require.Len(t, lines, 3)
		for i, head := range []string{"Water: ", "Look: ", "Hands: "} {
			assert.True(t, strings.HasPrefix(lines[i], head), lines[i])
		}
		watered := regexp.MustCompile(`\d gal \(\d+ min\), to `).MatchString(lines[0])
		assert.Equal(t, due[day.Format(time.DateOnly)], watered, "%s: %s", day.Format(time.DateOnly), lines[0])
		if watered {
			seen++
		}
		switch date := day.Format(time.DateOnly); {
		case date < "2026-05-01":
			assert.Equal(t, "Water: not yet, planting is on 2026-05-01.", lines[0])
		case date >= doc.RootedOn:
			assert.Equal(t, "Water: none, the plants have rooted.", lines[0])
		}
	}
	assert.NotZero(t, seen, "no day of watering was looked at")
}

func dayOf(t testing.TB, day string) time.Time {
	t.Helper()
	d, err := time.Parse(time.DateOnly, day)
	require.NoError(t, err)
	return d.Add(17 * time.Hour)
}

// The text of the demo stays within what somebody reads.
func TestCareTextIsShort(t *testing.T) {
	t.Parallel()
	status, out, errs := careAt(t, march())
	require.Zero(t, status, errs)
	lines := strings.Split(out, "\n")
	assert.Less(t, len(lines), 70)
	for _, line := range lines {
		assert.LessOrEqual(t, len([]rune(line)), 100, line)
	}
}
