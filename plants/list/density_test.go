package list

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Plants per 100 square feet at s inches. Square: 14,400/s^2, as printed in
// nursery spacing charts; triangular: square/0.866.
func TestAreaPerPlantAgainstNurseryCharts(t *testing.T) {
	const inchCM, squareFootM2 = 2.54, 0.3048 * 0.3048
	for _, c := range []struct{ inches, square, triangular float64 }{
		{12, 100.0, 115.5}, {18, 44.4, 51.3}, {24, 25.0, 28.9},
	} {
		cm := c.inches * inchCM
		assert.InDelta(t, c.triangular, 100*squareFootM2/AreaPerPlantM2(cm), 0.05, "triangular at %v in", c.inches)
		assert.InDelta(t, c.square, 100*squareFootM2/math.Pow(cm/100, 2), 0.05, "square at %v in", c.inches)
	}
}

// A triangular pattern of unit spacing holds 2/sqrt(3) = 1.1547 points per unit
// of area: the densest packing of equal circles covers pi/sqrt(12) = 0.9069 of
// the plane (Lagrange 1773). Circles of diameter s on our area must do so.
func TestAreaPerPlantIsTheDensestPacking(t *testing.T) {
	assert.InDelta(t, math.Pi/math.Sqrt(12), math.Pi/4*0.45*0.45/AreaPerPlantM2(45), 1e-12)
}
