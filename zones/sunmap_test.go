package zones

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

func prepared(t *testing.T, text string, rec *site.Record) *Lot {
	g, err := read(text)
	require.NoError(t, err)
	l, err := Prepare(g, rec)
	require.NoError(t, err)
	return l
}

// The little garden is a rectangle of 18 by 12 ft. A wall to its south, with
// north 20 degrees clockwise from across the bed.
const southWall = "{wall: [[-30 ft, -6 ft], [40 ft, -6 ft]], height: 9 ft}"

func TestSunMapIsTheSunOfItsPlaces(t *testing.T) {
	l := prepared(t, around(southWall), nil)
	m, err := l.sunMap()
	require.NoError(t, err)
	assert.False(t, m.FromRecord)
	assert.Equal(t, site.SummerDays(41.5), m.Days)
	assert.False(t, m.FromRecord)
	require.Len(t, m.Zones, 3)
	assert.LessOrEqual(t, m.Grid.StepM, 0.3048/2, "two cells across the rim")
	// A spot of the bottom, by hand: 9 by 6 ft in, 6 in below the spill level.
	x, y := 9*0.3048, 6*0.3048
	want := site.NewSky(41.5, 20, m.Days).Hours(l.Garden.Obstacles, x, y, -0.1524)
	assert.InDelta(t, want, m.hoursAt(x, y), 1e-9)
	assert.True(t, math.IsNaN(m.hoursAt(-1, 0)))
	// Closer to the wall there is less of it, and all below an open sky.
	open := site.NewSky(41.5, 0, m.Days).Hours(nil, 0, 0, 0)
	assert.Less(t, m.hoursAt(x, 0.1), m.hoursAt(x, 3.5)-1)
	assert.Less(t, m.hoursAt(x, 3.5), open+1e-9)
	// The mean of a zone against a plain mean of spots of that zone.
	sum, n := map[string]float64{}, map[string]float64{}
	for x := 0.05; x < 5.4864; x += 0.1 {
		for y := 0.05; y < 3.6576; y += 0.1 {
			zone := l.Bed.ZoneAt(x, y)
			sum[zone] += m.hoursAt(x, y)
			n[zone]++
		}
	}
	sun := m.sun()
	for _, zone := range []string{"bottom", "slope", "rim"} {
		assert.InDelta(t, sum[zone]/n[zone], sun.Of(zone), 0.05, zone)
		assert.Less(t, sun.Of(zone), open-0.3, zone)
	}
}

func TestStatedSunWins(t *testing.T) {
	l := prepared(t, around(southWall)+"sun: {bottom: 2 h}\n", nil)
	m, err := l.sunMap()
	require.NoError(t, err)
	assert.Equal(t, 2.0, m.sun().BottomH)
	assert.Equal(t, 2.0, m.hoursAt(9*0.3048, 6*0.3048))
	assert.Greater(t, m.sun().RimH, 5.0)
	assert.Equal(t, 2.0, l.Garden.Sun.BottomH)
	assert.True(t, math.IsNaN(l.Garden.Sun.RimH), "the garden is left as it was read")
}

func TestNoObstaclesNoMapUnlessOpen(t *testing.T) {
	m, err := prepared(t, little, nil).sunMap()
	require.NoError(t, err)
	assert.Nil(t, m)
	l := prepared(t, strings.Replace(little, "  time_zone", "  open: yes\n  time_zone", 1), nil)
	m, err = l.sunMap()
	require.NoError(t, err)
	for _, zone := range []string{"bottom", "slope", "rim"} {
		assert.InDelta(t, site.NewSky(41.5, 0, m.Days).Hours(nil, 0, 0, 0), m.sun().Of(zone), 1e-9)
	}
}

// A record decides the growing season: warm from June to August, its days are
// longer than those from March to September.
func TestSunMapTakesTheSeasonOfTheRecord(t *testing.T) {
	r := &site.Record{Source: "test.csv", Step: "daily", Start: time.Date(2021, 1, 1, 0, 0, 0, 0, time.FixedZone("test", -6*3600))}
	for day := 0; day < 365; day++ {
		d := site.Day{TMinC: -9, TMaxC: -5, ET0MM: 3}
		if month := r.Start.AddDate(0, 0, day).Month(); month >= time.June && month <= time.August {
			d.TMinC, d.TMaxC = 12, 25
		}
		r.Days = append(r.Days, d)
		r.RainMM = append(r.RainMM, make([]float64, 24)...)
		r.Missing = append(r.Missing, make([]bool, 24)...)
	}
	text := strings.Replace(little, "  time_zone", "  open: yes\n  time_zone", 1)
	m, err := prepared(t, text, r).sunMap()
	require.NoError(t, err)
	assert.True(t, m.FromRecord)
	assert.True(t, m.FromRecord)
	short, err := prepared(t, text, nil).sunMap()
	require.NoError(t, err)
	assert.Greater(t, m.sun().RimH, short.sun().RimH+0.5)
}

// Small zones of a large bed get cells.
func TestEveryZoneHasCells(t *testing.T) {
	text := strings.NewReplacer("18 ft", "60 m", "12 ft", "60 m").Replace(around(southWall)) + "target: {capture: 50 %}\n"
	m, err := prepared(t, strings.Replace(text, "ponding_depth: 6 in", "ponding_depth: 6 in\n  rim_width: 2 in", 1), nil).sunMap()
	require.NoError(t, err)
	require.Len(t, m.Zones, 3)
	for _, z := range m.Zones {
		assert.Positive(t, z.Cells, z.Zone)
	}
}

func TestHouseInTheBedIsRefused(t *testing.T) {
	g, err := read(around(southWall, "{house: [[4 ft, 4 ft], [30 ft, 4 ft], [30 ft, 9 ft]], height: 9 ft}"))
	require.NoError(t, err)
	_, err = Prepare(g, nil)
	assert.EqualError(t, err, "garden.yaml:17:13: obstacles[2].house: the house stands in the bed: want its corners from the same spot as the outline, below zero before it")
	// Wall to wall with the bed is beside it.
	prepared(t, around("{house: [[18 ft, 0 ft], [30 ft, 0 ft], [30 ft, 9 ft]], height: 9 ft}"), nil)
	// In the corner of the box about an oval there is no bed.
	prepared(t, strings.NewReplacer("rectangle", "oval", "ponding_depth: 6 in", "ponding_depth: 4 in").Replace(
		around("{house: [[0 ft, 0 ft], [2 ft, 0 ft], [0 ft, 1 ft]], height: 9 ft}")), nil)
}
