package zones

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestFiguresShown(t *testing.T) {
	const us, metric = UnitsUS, UnitsMetric
	for _, c := range []struct{ got, want string }{
		{us.Length(0), "0 in"},
		{us.Length(0.0254), "1 in"},
		{us.Length(0.4572), "18 in"},
		{us.Length(0.603), "23.5 in"},
		{us.Length(0.604), "2 ft"},
		{us.Length(3.81), "12 ft 6 in"},
		{us.Length(5.4864), "18 ft"},
		{us.Length(3.657), "12 ft"},
		{us.Length(30.48), "100 ft"},
		{us.Length(-3.81), "-12 ft 6 in"},
		{us.Length(math.NaN()), "unknown"},
		{us.Length(math.Inf(1)), "without limit"},
		{metric.Length(0.0254), "25 mm"},
		{metric.Length(0.4572), "46 cm"},
		{metric.Length(3.81), "3.81 m"},
		{metric.Length(12.34), "12.3 m"},
		{metric.Length(123.4), "123 m"},
		{metric.Length(0.9999), "1 m"},
		{us.Depth(152.4), "6 in"},
		{us.Depth(150), "5.9 in"},
		{us.Depth(-152.4), "-6 in"},
		{us.Depth(1), "0.04 in"},
		{us.Depth(-0.01), "0 in"},
		{us.Depth(400), "16 in"},
		{us.Depth(2438.4), "8 ft"},
		{metric.Depth(152.4), "152 mm"},
		{metric.Depth(8.44), "8.4 mm"},
		{metric.Depth(2438.4), "2.44 m"},
		{us.Area(57.6), "620 sq ft"},
		{us.Area(0.5), "5.4 sq ft"},
		{metric.Area(57.6), "57.6 m2"},
		{metric.Area(576), "576 m2"},
		{us.Volume(2.6618), "94 cu ft (703 gal)"},
		{us.Volume(0.01), "2.6 gal"},
		{us.Volume(0), "0 gal"},
		{metric.Volume(2.6618), "2.66 m3"},
		{us.Soil(7.645549), "270 cu ft (10 cu yd)"}, // ten cubic yards: a yard is 0.9144 m by definition
		{us.Soil(0.2), "7.1 cu ft (0.26 cu yd)"},
		{us.Soil(math.NaN()), us.Volume(math.NaN())},
		{metric.Soil(2.6618), "2.66 m3"},
		{metric.Volume(0.53), "530 L"},
		{us.Rate(8.84), "0.35 in/h"},
		{us.Rate(25.4), "1 in/h"},
		{metric.Rate(8.84), "8.8 mm/h"},
		{metric.Rate(24), "24 mm/h"},
		{us.Temp(-20), "-4 F"},
		{metric.Temp(-0.2), "0 C"},
		{metric.Temp(-20), "-20 C"},
		{us.Duration(0), "0 h"},
		{us.Duration(0.5), "30 min"},
		{us.Duration(6.49), "6.5 h"},
		{us.Duration(17.3), "17 h"},
		{us.Duration(72), "72 h"},
		{us.Duration(124.8), "5.2 d"},
		{us.Duration(24 * 28.3), "28 d"},
		{us.Duration(math.Inf(1)), "never"},
		{us.Percent(0.82), "82 %"},
		{us.Percent(0.052), "5.2 %"},
		{us.Percent(0), "0 %"},
		{us.Percent(1), "100 %"},
		{us.Percent(0.0001), "under 0.1 %"},
		{us.Percent(0.995), "99.5 %"},
		{us.Percent(0.99999), "over 99.9 %"},
	} {
		assert.Equal(t, c.want, c.got)
	}
}

// One inch of rain on 1,000 sq ft is 623 US gallons: Texas Water Development
// Board, Texas Manual on Rainwater Harvesting ("approximately 0.62 gallon per
// square foot"), the four-digit figure second-hand. US gallon 3.785411784 L
// exact: NIST Special Publication 811, Appendix B.8 (from memory).
// 1 lb is 0.45359237 kg (from memory).
func TestWeight(t *testing.T) {
	assert.Equal(t, "11 kg", UnitsMetric.Weight(11.2))
	assert.Equal(t, "2.5 kg", UnitsMetric.Weight(2.51))
	assert.Equal(t, "22 lb", UnitsUS.Weight(10))
	assert.Equal(t, "2.2 lb", UnitsUS.Weight(1))
	assert.Equal(t, "1 lb", UnitsUS.Weight(0.45359237))
}

func TestGallons(t *testing.T) {
	assert.Equal(t, "623 gal", UnitsUS.Water(1000*m2PerFt2*mPerIn))
	assert.InDelta(t, 3.785411784e-3, m3PerGal, 1e-15)
	assert.InDelta(t, 28.316846592e-3, m3PerFt3, 1e-15)
}

// What is printed reads back to within the rounding that its place allows:
// half an inch or half a foot on the ground and a twentieth of an inch of
// water in US units, half a mm of water in metric, and two figures of a rate
// or a time.
func TestShownFiguresReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]Units{UnitsUS, UnitsMetric}).Draw(t, "units")
		back := func(shown string, read func(string) (float64, error)) float64 {
			v, err := read(shown)
			if err != nil {
				t.Fatalf("%s: %v", shown, err)
			}
			return v
		}
		within := func(name, shown string, v, got, tolerance float64) {
			if math.Abs(v-got) > tolerance*(1+1e-9) {
				t.Fatalf("%s: %v is shown as %s, which reads %v", name, v, shown, got)
			}
		}
		size := math.Pow(10, rapid.Float64Range(-3, 3.7).Draw(t, "size"))

		s := u.Length(size)
		tolerance := 0.0
		switch in := size / mPerIn; {
		case u == UnitsMetric && size < 0.0995:
			tolerance = 0.0005
		case u == UnitsMetric && size < 9.995:
			tolerance = 0.005
		case u == UnitsMetric && size < 99.95:
			tolerance = 0.05
		case u == UnitsMetric:
			tolerance = 0.5
		case in < 2.95:
			tolerance = 0.05 * mPerIn
		case in < 23.75:
			tolerance = 0.25 * mPerIn
		case in < 1200:
			tolerance = 0.5 * mPerIn
		default:
			tolerance = 0.5 * mPerFt
		}
		within("length", s, size, back(s, ParseLengthM), tolerance)
		s = u.Depth(size)
		tolerance = 0.5 // metric: half a mm, then 5 mm
		switch in := size / mmPerIn; {
		case u == UnitsMetric && size > 999:
			tolerance = 5
		case u == UnitsUS && in < 0.0995:
			tolerance = 0.005 * mmPerIn
		case u == UnitsUS && in < 9.95:
			tolerance = 0.05 * mmPerIn
		case u == UnitsUS:
			tolerance = 0.5 * mmPerIn
		}
		within("depth", s, size, back(s, parseDepthMM), tolerance)
		s = u.Area(size)
		within("area", s, size, back(s, parseAreaM2), max(0.05*size, 1e-5))
		s = u.Rate(size)
		within("rate", s, size, back(s, parseRateMMH), max(0.05*size, 0.00005*mmPerIn))
		s = u.Duration(size)
		within("duration", s, size, back(s, parseHours), max(0.051*size, 0.5/60))
		share := rapid.Float64Range(0.0005, 0.9995).Draw(t, "share")
		s = u.Percent(share)
		within("percent", s, share, back(s, ParsePercent), 0.005)
		c := rapid.Float64Range(-60, 60).Draw(t, "temperature")
		s = u.Temp(c)
		within("temperature", s, c, back(s, parseTempC), 0.5)
	})
}

// A figure that has been shown once is shown the same when read and shown
// again.
func TestShownFiguresStay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]Units{UnitsUS, UnitsMetric}).Draw(t, "units")
		size := math.Pow(10, rapid.Float64Range(-2, 3.7).Draw(t, "size"))
		for _, c := range []struct {
			show func(float64) string
			read func(string) (float64, error)
		}{
			{u.Length, ParseLengthM}, {u.Depth, parseDepthMM}, {u.Area, parseAreaM2},
			{u.Rate, parseRateMMH}, {u.Duration, parseHours},
		} {
			once := c.show(size)
			v, err := c.read(once)
			if err != nil {
				t.Fatal(err)
			}
			if again := c.show(v); again != once {
				t.Fatalf("%v is shown as %s and then as %s", size, once, again)
			}
		}
	})
}
