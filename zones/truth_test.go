package zones

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/climates/records"
	"hollowbed/testdata/testenv"
	"hollowbed/zones/climate"
	"hollowbed/zones/site"
)

// spells are the figures of one year in ten that a planting hangs on, and the share
// that is captured: the bottom's wet and dry spell, the rim's dry spell.
type spells struct{ of, captured [3]float64 }

func spellsOf(e *Exposure) (s spells) {
	for _, z := range e.Zones {
		switch z.Zone {
		case "bottom":
			s.of[0], s.of[1] = e.Bands[z.Wettest].WetOneInTenH, e.Bands[z.Driest].DryOneInTenD
		case "rim":
			s.of[2] = e.Bands[z.Driest].DryOneInTenD
		}
	}
	s.captured[0] = e.Run.Balance.CapturedFraction()
	return s
}

func exposed(t *testing.T, p records.Place, rec *site.Record) *Exposure {
	t.Helper()
	g, err := lotOf(t, fmt.Sprintf("latitude: %v", p.LatDeg), "file: rain.csv")
	require.NoError(t, err)
	l, err := Prepare(g, rec)
	require.NoError(t, err)
	e, err := l.Expose()
	require.NoError(t, err)
	return e
}

// logs gathers how far figures are from those of the record, in logarithms.
type logs struct{ sum, square, n [3]float64 }

func (l *logs) add(made, record [3]float64) {
	for i := range made {
		d := math.Log(made[i] / record[i])
		l.sum[i] += d
		l.square[i] += d * d
		l.n[i]++
	}
}

func (l *logs) of(i int) (bias, rms float64) {
	return l.sum[i] / l.n[i], math.Sqrt(l.square[i] / l.n[i])
}

// twelveLines are the months of a record as a climate page states them, read back: rain,
// days with 1 mm or more, mean highest and lowest temperature.
func twelveLines(t *testing.T, rec *site.Record, months climate.Normals) climate.Normals {
	t.Helper()
	days, ok := climate.Fit(rec, 1)
	require.True(t, ok)
	text := "month,rain_mm,rain_days,tmax_c,tmin_c\n"
	for m, n := range []float64{31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31} {
		month := months.Months[m]
		text += fmt.Sprintf("%d,%.1f,%.1f,%.1f,%.1f\n", m+1, month.RainMM(n), n*days.Months[m].WetShare(), month.TMaxC, month.TMinC)
	}
	out, err := climate.ReadMonthly("months.csv", strings.NewReader(text), climate.MonthlyFormat{WetDayMM: math.NaN()})
	require.NoError(t, err)
	return out
}

// Are made years true? On one lot (450 mm of sandy loam, 6 mm/h below) under seven
// records of 40 to 46 years: years made from the record's own months, and from the
// nearest station's, against the record itself; beside it the record's odd years against
// its even ones, and four years of it against all. Rain of the record is spread by
// type-ii, as a daily record is; so is that of its own months, and a station's falls in
// storms. Wanted: from its own months no farther than the halves are apart, bias under
// 5 %; from the station under 0.30, bias under 10 %: held over 20 seeds, but for the rim
// from its own months, whose halves are nearer to one another, and for what a station
// captures (wanted within 0.03). See data/MEASURED.md.
func TestMadeYearsAreTrue(t *testing.T) {
	testenv.Sweep(t)
	var halves, four, own, station, twelve logs
	names := []string{"bottom wet", "bottom dry", "rim dry"}
	for _, p := range records.Places() {
		rec, err := records.Read("..", p)
		require.NoError(t, err)
		months, ok := climate.Fit(rec, 0.3)
		require.True(t, ok)
		e := exposed(t, p, rec)
		whole := spellsOf(e)
		part := func(pick func(i int) bool) [3]float64 {
			some := *e
			some.Whole = nil
			for i, y := range e.Whole {
				if pick(i) {
					some.Whole = append(some.Whole, y)
				}
			}
			some.sumUp()
			return spellsOf(&some).of
		}
		halves.add(part(func(i int) bool { return i%2 == 0 }), part(func(i int) bool { return i%2 == 1 }))
		for from := 0; from+4 <= len(e.Whole); from += 4 {
			four.add(part(func(i int) bool { return i >= from && i < from+4 }), whole.of)
		}
		near := climate.NearestTo(climate.Spot{LatDeg: p.LatDeg, LonDeg: p.LonDeg, ElevationM: p.ElevationM}, 1)[0]
		seeds := 20
		captured := 0.0 // from the station, mean of all seeds
		for seed := range seeds {
			made := spellsOf(exposed(t, p, months.Record(climate.Years, uint64(seed+1), "type-ii")))
			own.add(made.of, whole.of)
			assert.InDelta(t, whole.captured[0], made.captured[0], 0.04, "%s: captured, own months", p.File)
			there := spellsOf(exposed(t, p, near.Here().Record(climate.Years, uint64(seed+1), "type-ii")))
			station.add(there.of, whole.of)
			captured += there.captured[0] / float64(seeds)
			if seed < 5 {
				lines := spellsOf(exposed(t, p, twelveLines(t, rec, months).Record(climate.Years, uint64(seed+1), "type-ii")))
				twelve.add(lines.of, whole.of)
				t.Logf("%s: twelve lines %.0f %.0f %.0f %.3f", p.File, lines.of[0], lines.of[1], lines.of[2], lines.captured[0])
			}
			if seed == 0 {
				t.Logf("%s: record %.0f h %.0f d %.0f d %.3f; own months %.0f %.0f %.0f %.3f; %s %.0f %.0f %.0f %.3f", p.File, whole.of[0], whole.of[1], whole.of[2], whole.captured[0],
					made.of[0], made.of[1], made.of[2], made.captured[0], near.ID, there.of[0], there.of[1], there.of[2], there.captured[0])
			}
		}
		t.Logf("captured, station: %.3f, %.3f", whole.captured[0], captured)
		assert.InDelta(t, whole.captured[0], captured, 0.09, "%s: captured, station", p.File)
	}
	for i, name := range names {
		for _, c := range []struct {
			what      string
			l         *logs
			bias, rms float64
		}{{"halves", &halves, 1, 1}, {"four years", &four, 1, 1}, {"own months", &own, 0.05, 0.24}, {"nearest station", &station, 0.10, 0.30}, {"twelve lines", &twelve, 0.28, 0.36}} {
			bias, rms := c.l.of(i)
			t.Logf("%s, %s: bias %+.3f, root mean square %.3f", name, c.what, bias, rms)
			assert.Less(t, math.Abs(bias), c.bias, "%s, %s", name, c.what)
			assert.Less(t, rms, c.rms, "%s, %s", name, c.what)
		}
		_, fourRMS := four.of(i)
		_, ownRMS := own.of(i)
		assert.Less(t, ownRMS, fourRMS, "%s: better than four years of record", name)
	}
}
