package draw

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// climates are the pictures of the golden files: a cold place, a warm one south of the
// equator, and one of which little is known.
func climates() map[string]ClimateIn {
	cold := ClimateIn{Sheet: Sheet{Note: "Pond Street", Units: us()}, Source: "From the climate of Quillmere, 9 miles away; not a record."}
	south := ClimateIn{Sheet: Sheet{Units: metric()}, Source: "From the record rain.csv, 2001 to 2020.", FirstMonth: 7}
	little := ClimateIn{Sheet: Sheet{Units: metric()}, Source: "From twelve months."}
	for m := range 12 {
		swing := math.Cos(2 * math.Pi * (float64(m) - 6.3) / 12)
		cold.Months[m] = ClimateMonth{60 + 40*swing, 9 + 2*swing, 10 + 18*swing, -2 + 17*swing, math.Max(0, 22*(0.3-swing))}
		south.Months[m] = ClimateMonth{math.Max(0, 150-170*swing), math.Max(0, 12-13*swing), 24 - 6*swing, 14 - 6*swing, 0}
		little.Months[m] = ClimateMonth{RainMM: 50, WetDays: math.NaN(), HighC: math.NaN(), LowC: 3, FrostNights: math.NaN()}
	}
	little.Months[3].RainMM = math.NaN()
	return map[string]ClimateIn{"climate-cold": cold, "climate-south": south, "climate-little": little}
}

// Every figure of the picture is in its words too, for those who do not see it.
func TestClimateInWords(t *testing.T) {
	svg := string(ClimateChart(climates()["climate-cold"]).SVG())
	from, to := strings.Index(svg, "<desc"), strings.Index(svg, "</desc>")
	for _, words := range []string{"From the climate of Quillmere", "Jul: 3.9 in of rain on 11 days; days 82 F, nights 59 F, 0 nights of frost.", "Dec: "} {
		assert.Contains(t, svg[from:to], words)
	}
	south := string(ClimateChart(climates()["climate-south"]).SVG())
	assert.Less(t, strings.Index(south, ">Jul<"), strings.Index(south, ">Jan<"), "the year begins in July")
	assert.Contains(t, string(ClimateChart(climates()["climate-little"]).SVG()), "Apr: not known.")
}
