package climate

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An invented mild place.
const twelve = `month,rain_mm,rain_days,tmax_c,tmin_c
1,110,15,15,8
2,85,14,16,9
3,60,11,19,10
4,65,12,20,12
5,50,9,22,13
6,15,4,26,16
7,0,0,28,18
8,8,2,29,18
9,30,5,27,17
10,90,12,23,15
11,120,13,18,11
12,105,14,15,9
`

func TestReadMonthly(t *testing.T) {
	n, err := ReadMonthly("m.csv", strings.NewReader(twelve), MonthlyFormat{WetDayMM: math.NaN()})
	require.NoError(t, err)
	assert.Equal(t, 1.0, n.WetDayMM)
	assert.InDelta(t, 738, n.YearRainMM(), 3)
	// Geng and others 1986: 0.75 f, 0.25 + 0.75 f, scale -2.16 + 1.83 m (equations from the paper's abstract).
	f := 15.0 / 31
	assert.InDelta(t, 0.75*f, n.Months[0].WetAfterDry, 1e-12)
	assert.InDelta(t, 0.25+0.75*f, n.Months[0].WetAfterWet, 1e-12)
	assert.InDelta(t, f, n.Months[0].WetShare(), 1e-12)
	m := 110.0 / 15
	assert.InDelta(t, math.Sqrt(m*(1.83*m-2.16)), n.Months[0].WetSDMM, 1e-9)

	rain, _, high, _ := byMonth(n, 60, 1)
	assert.Zero(t, rain[6])
	assert.InDelta(t, 110.0/31, rain[0], 1e-9)
	assert.InDelta(t, 15, high[0], 0.1)

	inches := strings.NewReplacer("rain_mm", "Rain (in)", "tmax_c", "tmax", "tmin_c", "tmin").Replace(twelve)
	n, err = ReadMonthly("m.csv", strings.NewReader(inches), MonthlyFormat{TempUnit: "F", WetDayMM: 0.254})
	require.NoError(t, err)
	assert.InDelta(t, 110*25.4/15, n.Months[0].WetMM, 1e-9)
	assert.InDelta(t, (15.0-32)/1.8, n.Months[0].TMaxC, 1e-9)
}

func TestReadMonthlyFaults(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"rain_mm", "rain", "m.csv:1:1: rain: no unit"},
		{"rain_days", "wet", "rain_days: no such column"},
		{"12,105,14,15,9\n", "", `month: "12": not there`},
		{"2,85,14,16,9", "1,85,14,16,9", "m.csv:3:1: month: \"1\": the month is there before"},
		{"2,85,14,16,9", "2,85,34,16,9", `m.csv:3:6: rain_days: "34": expected a number from 0 to 29`},
		{"2,85,14,16,9", "2,85,0,16,9", "expected both or neither"},
		{"2,85,14,16,9", "2,85,14,6,9", "more than tmax"},
		{"2,85,14,16,9", "second,85,14,16,9", `m.csv:3:1: month: "second"`},
	} {
		_, err := ReadMonthly("m.csv", strings.NewReader(strings.Replace(twelve, c.from, c.to, 1)), MonthlyFormat{WetDayMM: math.NaN()})
		assert.ErrorContains(t, err, c.want)
	}
}
