package climate

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/site"
)

// Dry seasons of the climates of the United States, made into ten years each and
// read like a record: California's summers, the Sonoran and Mojave deserts,
// Alaska's winters. No run of their zeros is a hole; three months of zeros laid
// into a winter of a wet coast are.
func TestDrySeasonsOfManyClimatesAreNoHoles(t *testing.T) {
	const years = 10
	every := testenv.Of(270, 27)
	for i, s := range Stations() {
		dry := s.State == "CA" || s.State == "AZ" || s.State == "NV"
		if i%every > 0 && !(dry && i%(every/3) == 0) {
			continue
		}
		rec := s.Record(years, uint64(i), "even")
		r, err := site.ReadRecord(s.ID, strings.NewReader(daysOf(rec, -1, 0)), site.Format{}, s.LatDeg)
		require.NoError(t, err)
		assert.Zero(t, r.MissingHours(), "%s %s", s.Name, s.State)
	}
	s, ok := StationByID("OR356032") // Newport, Oregon
	require.True(t, ok)
	rec := s.Record(years, 1, "even")
	r, err := site.ReadRecord(s.ID, strings.NewReader(daysOf(rec, 365*4, 90)), site.Format{}, s.LatDeg)
	require.NoError(t, err)
	assert.GreaterOrEqual(t, r.MissingHours(), 90*24)
}

// daysOf writes a record, with so many days of zeros from one on.
func daysOf(rec *site.Record, from, days int) string {
	var b strings.Builder
	b.WriteString("date,rain_mm\n")
	for d := range rec.Days {
		mm, _ := rec.DayRainMM(d)
		if d >= from && d < from+days {
			mm = 0
		}
		fmt.Fprintf(&b, "%s,%.1f\n", rec.Start.AddDate(200, 0, d).Format("2006-01-02"), mm)
	}
	return b.String()
}
