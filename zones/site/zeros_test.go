package site

import (
	"compress/gzip"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cityWith is the real record of a city, New York or Seattle 2012 to 2015, with
// zeros in the months that are named, such as "2013-12".
func cityWith(t *testing.T, city string, zeros ...string) string {
	t.Helper()
	in, err := os.Open(records + "seattle-newyork-daily-2012-2015.csv")
	require.NoError(t, err)
	defer in.Close()
	rows, err := csv.NewReader(in).ReadAll()
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("date,rain_mm\n")
	for _, row := range rows {
		if row[0] != city {
			continue
		}
		mm := row[2]
		for _, month := range zeros {
			if strings.HasPrefix(row[1], month) {
				mm = "0.0"
			}
		}
		fmt.Fprintf(&b, "%s,%s\n", row[1], mm)
	}
	return b.String()
}

func TestZerosThatAreHoles(t *testing.T) {
	for city, dates := range map[string]string{
		"New York": "no rain at all from 2013-11-28 to 2014-03-02, 95 days, where 39 %", "Seattle": "no rain at all from 2013-12-01 to 2014-02-28, 90 days, where 62 %",
	} {
		text := cityWith(t, city, "2013-12", "2014-01", "2014-02")
		r := mustRead(t, text, Format{})
		require.Len(t, r.Warnings(), 1, city)
		assert.Contains(t, r.Warnings()[0], dates)
		assert.Contains(t, r.Warnings()[0], "under one chance in 10,000, so these zeros are taken as missing values; if they are real, set weather.zeros: real")
		assert.GreaterOrEqual(t, r.MissingHours(), 90*24)
		assert.False(t, r.Years(40)[2].Whole && r.Years(40)[1].Whole, city)
		real := mustRead(t, text, Format{Zeros: "real"})
		assert.Empty(t, real.Warnings(), city)
		assert.Zero(t, real.MissingHours(), city)
		assert.Empty(t, mustRead(t, cityWith(t, city), Format{}).Warnings(), city)
	}
	assert.Contains(t, Format{Zeros: "no"}.Check()[0].Error(), "want one of checked, real")
}

// Made years with rain on every day; by hand, what other years say of each.
func TestHolesOfMadeYears(t *testing.T) {
	holes := func(depth func(year, month int) float64) int {
		return len(mustRead(t, wetYears(6, depth), Format{}).Warnings())
	}
	zeroIf := func(zero func(year, month int) bool) func(int, int) float64 {
		return func(year, month int) float64 { return map[bool]float64{true: 0, false: 2}[zero(year, month)] }
	}
	assert.Equal(t, 1, holes(zeroIf(func(year, month int) bool { return year == 2 && month <= 2 })))
	assert.Equal(t, 2, holes(zeroIf(func(year, month int) bool { return (year == 2 || year == 4) && month <= 3 })), "two of six winters")
	assert.Zero(t, holes(zeroIf(func(_, month int) bool { return month >= 6 && month <= 9 })), "every summer")
	assert.Zero(t, holes(zeroIf(func(year, month int) bool { return year != 2 || month > 3 })), "a desert with one wet winter")
	assert.Zero(t, len(mustRead(t, wetYears(1, zeroIf(func(_, month int) bool { return month <= 3 })), Format{}).Warnings()), "no other year")
	// Months without values are missing already.
	var rows []string
	for _, row := range strings.Split(wetYears(5, func(int, int) float64 { return 2 }), "\n") {
		if !strings.HasPrefix(row, "2003-2") {
			rows = append(rows, row)
		}
	}
	r := mustRead(t, strings.Join(rows, "\n"), Format{})
	assert.Equal(t, 28*24, r.MissingHours())
	assert.Empty(t, r.Warnings())
	// A log of rainy days alone: what it leaves out all winter is no dry winter.
	r = mustRead(t, strings.Join(rows, "\n"), Format{AbsentRow: "dry"})
	assert.Equal(t, 28*24, r.MissingHours())
}

// Dry seasons of seven real records (SOURCES.md beside them: desert, gulf coast,
// dry mountain summers, subtropics, a cold winter), whole and by every two to
// five years: none is a hole. The least chance among them is 1 in 150.
func TestDrySeasonsAreNoHoles(t *testing.T) {
	files, err := filepath.Glob("../../testdata/climates/daily-*.csv.gz")
	require.NoError(t, err)
	require.Len(t, files, 7)
	for _, file := range files {
		rows := zipped(t, file)
		from, last := yearOf(rows[0]), yearOf(rows[len(rows)-1])
		assert.Empty(t, holesOf(t, rows), file)
		for _, years := range []int{2, 3, 5} {
			for first := from; first+years <= last; first += years {
				part := rowsOf(rows, first, first+years)
				if len(part) > 365 {
					assert.Empty(t, holesOf(t, part), "%s, %d years from %d", file, years, first)
				}
			}
		}
	}
}

func zipped(t *testing.T, file string) []string {
	t.Helper()
	in, err := os.Open(file)
	require.NoError(t, err)
	defer in.Close()
	zip, err := gzip.NewReader(in)
	require.NoError(t, err)
	table, err := csv.NewReader(zip).ReadAll()
	require.NoError(t, err)
	var rows []string
	for _, row := range table[1:] {
		rows = append(rows, row[0]+","+row[1])
	}
	return rows
}

func yearOf(row string) int {
	year, _ := strconv.Atoi(row[:4])
	return year
}

func rowsOf(rows []string, from, to int) (part []string) {
	for _, row := range rows {
		if y := yearOf(row); y >= from && y < to {
			part = append(part, row)
		}
	}
	return part
}

// holesOf are the warnings of a record that speak of zeros.
func holesOf(t *testing.T, rows []string) (holes []string) {
	t.Helper()
	for _, w := range mustRead(t, "date,rain_mm\n"+strings.Join(rows, "\n")+"\n", Format{}).Warnings() {
		if strings.Contains(w, "no rain at all") {
			holes = append(holes, w)
		}
	}
	return holes
}
