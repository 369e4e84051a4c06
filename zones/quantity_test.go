package zones

import (
	"math"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Factors: NIST Special Publication 811, Appendix B.8 (from memory): foot
// 3.048 E-01 m and inch 2.54 E-02 m exact, square foot 9.290304 E-02 m2 exact,
// t/C = (t/F - 32)/1.8 exact.
func TestQuantitiesRead(t *testing.T) {
	cases := []struct {
		read func(string) (float64, error)
		text string
		want float64
	}{
		{ParseLengthM, "12 ft", 3.6576},
		{ParseLengthM, "12ft", 3.6576},
		{ParseLengthM, " 12  FT ", 3.6576},
		{ParseLengthM, "1 foot", 0.3048},
		{ParseLengthM, "3.5 m", 3.5},
		{ParseLengthM, ".5 m", 0.5},
		{ParseLengthM, "350 cm", 3.5},
		{ParseLengthM, "3500 mm", 3.5},
		{ParseLengthM, "0 ft", 0},
		{ParseLengthM, "2 ft 6 in", 0.762},
		{ParseLengthM, `2' 6"`, 0.762},
		{ParseLengthM, `2'6"`, 0.762},
		{ParseLengthM, "2′ 6″", 0.762},
		{ParseLengthM, "2 ft 6.5 in", 0.7747},
		{ParseLengthM, "2 ft 6 1/2 in", 0.7747},
		{ParseLengthM, "6 1/2 in", 0.1651},
		{ParseLengthM, "1/2 in", 0.0127},
		{parseDepthMM, "6 in", 152.4},
		{parseDepthMM, "15 cm", 150},
		{parseAreaM2, "620 sq ft", 57.5998848},
		{parseAreaM2, "620 ft2", 57.5998848},
		{parseAreaM2, "620 square feet", 57.5998848},
		{parseAreaM2, "58 m2", 58},
		{parseAreaM2, "58 m²", 58},
		{parseAreaM2, "58 sq m", 58},
		{parseRateMMH, "0.5 in/h", 12.7},
		{parseRateMMH, "0.5 in/hr", 12.7},
		{parseRateMMH, "0.5 inches per hour", 12.7},
		{parseRateMMH, "12 mm/h", 12},
		{parseRateMMH, "1.2 cm/h", 12},
		{parseTempC, "-20 C", -20},
		{parseTempC, "−20 °C", -20},
		{parseTempC, "-4 F", -20},
		{parseTempC, "deg F", math.NaN()},
		{parseTempC, "212 deg F", 100},
		{parseTempC, "0 F", -160.0 / 9},
		{ParsePercent, "5 %", 0.05},
		{ParsePercent, "12.5%", 0.125},
		{ParsePercent, "5 percent", 0.05},
		{parseHours, "24 h", 24},
		{parseHours, "3 d", 72},
		{parseHours, "10 min", 1.0 / 6},
		{parseHours, "1 h 30 min", 1.5},
		{parseHours, "2 days 3 hours", 51},
		{slopeOf, "3:1", 3},
		{slopeOf, "2.5 : 1", 2.5},
		{slopeOf, "6:2", 3},
	}
	for _, c := range cases {
		got, err := c.read(c.text)
		if math.IsNaN(c.want) {
			assert.Error(t, err, c.text)
			continue
		}
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.want, got, 1e-12*math.Max(1, math.Abs(c.want)), c.text)
	}
}

func TestQuantitiesRefused(t *testing.T) {
	const length = "want a length with its unit, such as 12 ft or 3.5 m (accepted: mm, cm, m, in, ft)"
	for _, c := range []struct {
		read       func(string) (float64, error)
		text, want string
	}{
		{ParseLengthM, "12", `"12": ` + length},
		{ParseLengthM, "ft", `"ft": ` + length},
		{ParseLengthM, "12 yd", `"12 yd": ` + length},
		{ParseLengthM, "12 ftx", `"12 ftx": ` + length},
		{ParseLengthM, "12 ft/h", `"12 ft/h": ` + length},
		{ParseLengthM, "twelve ft", `"twelve ft": ` + length},
		{ParseLengthM, "1e3 ft", `"1e3 ft": ` + length},
		{ParseLengthM, "NaN ft", `"NaN ft": ` + length},
		{ParseLengthM, "inf ft", `"inf ft": ` + length},
		{ParseLengthM, "", `" ": ` + length},
		{ParseLengthM, "6 in 2 ft", `"6 in 2 ft": ` + length},
		{ParseLengthM, "2 ft 14 in", `"2 ft 14 in": ` + length},
		{ParseLengthM, "2 ft 12 in", `"2 ft 12 in": ` + length},
		{ParseLengthM, "2.5 ft 6 in", `"2.5 ft 6 in": ` + length},
		{ParseLengthM, "2 m 10 cm", `"2 m 10 cm": ` + length},
		{ParseLengthM, "1/0 in", `"1/0 in": ` + length},
		{ParseLengthM, "-3 ft", `"-3 ft": ` + length + ", not below zero"},
		{ParseLengthM, "3,5 m", `"3,5 m": ` + length + ", without commas: a point for decimals, nothing between thousands"},
		{parseAreaM2, "1,240 sq ft", `"1,240 sq ft": want an area with its unit, such as 620 sq ft or 58 m2 (accepted: m2, sq ft)` +
			", without commas: a point for decimals, nothing between thousands"},
		{parseAreaM2, "620 ft", `"620 ft": want an area with its unit, such as 620 sq ft or 58 m2 (accepted: m2, sq ft)`},
		{parseRateMMH, "0.5 in", `"0.5 in": want a rate with its unit, such as 0.5 in/h or 12 mm/h (accepted: mm/h, cm/h, in/h)`},
		{parseTempC, "-20", `"-20": want a temperature with its unit, such as -20 C or -4 F (accepted: C, F)`},
		{ParsePercent, "0.8", `"0.8": want a share in percent, such as 5 % (accepted: %); did you mean 80 % or 0.8 %?`},
		{parseHours, "24", `"24": want a time with its unit, such as 24 h or 10 min (accepted: min, h, d)`},
		{parseHours, "1 h 60 min", `"1 h 60 min": want a time with its unit, such as 24 h or 10 min (accepted: min, h, d)`},
		{slopeOf, "3", `"3": want the slope of the sides, run to rise, such as 3:1`},
		{slopeOf, "3:0", `"3:0": want the slope of the sides, run to rise, such as 3:1`},
		{slopeOf, "-3:1", `"-3:1": want the slope of the sides, run to rise, such as 3:1`},
	} {
		v, err := c.read(c.text)
		require.Error(t, err, c.text)
		assert.Equal(t, c.want, err.Error())
		assert.True(t, math.IsNaN(v), "%q gives %v beside its error", c.text, v)
		var bad interface{ BadInput() bool }
		require.ErrorAs(t, err, &bad)
		assert.True(t, bad.BadInput())
	}
}

// What the garden file's own readers do, one value at a time.
func parseDepthMM(text string) (float64, error) { return parseWith(depthMM(), text) }
func parseAreaM2(text string) (float64, error)  { return parseWith(areaM2(), text) }
func parseRateMMH(text string) (float64, error) { return parseWith(rateMMH(), text) }
func parseTempC(text string) (float64, error)   { return parseWith(temperatureC(), text) }
func parseHours(text string) (float64, error)   { return parseWith(timeH(), text) }

func slopeOf(text string) (float64, error) {
	v, wrong := parseSlope(text)
	if wrong != "" {
		return math.NaN(), table.Faults{{Value: text, Want: wrong}}
	}
	return v, nil
}

// temperatureC reads what is printed of temperatures; the garden file has none.
func temperatureC() quantity {
	return quantity{
		want: "a temperature with its unit, such as -20 C or -4 F",
		units: []unit{
			{names: []string{"c", "deg c", "°c", "degc"}, shown: "C", factor: 1},
			{names: []string{"f", "deg f", "°f", "degf"}, shown: "F", factor: 5.0 / 9, offset: -160.0 / 9},
		},
		signed: true,
		show:   Units.Temp,
	}
}
