package zones

import (
	"math"

	"hollowbed/zones/table"
)

// ParseLitres reads an amount of water, in litres, above 0: L, gal (US).
func ParseLitres(text string) (float64, error) {
	q := quantity{
		want: "an amount of water with its unit, such as 2 gal or 10 L",
		units: []unit{
			{names: []string{"l", "litre", "litres", "liter", "liters"}, shown: "L", factor: 1},
			{names: []string{"gal", "gallon", "gallons"}, factor: 1000 * m3PerGal},
		},
	}
	v, err := parseWith(q, text)
	if err == nil && !(v > 0 && v <= 1e6) {
		return math.NaN(), table.Faults{{Value: text, Want: q.wanted() + ", more than nothing"}}
	}
	return v, err
}

// ParseDepthMM reads a depth of water, in millimetres: in, mm, cm.
func ParseDepthMM(text string) (float64, error) { return parseWith(depthMM(), text) }
