package site

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Middles: mean texture by class, Cosby and others 1984, Water Resources Research
// 20:682, Table 2 (second-hand copy) for eleven classes; clay from Saxton and
// Rawls 2006; silt from memory.
func TestTextureClassMiddles(t *testing.T) {
	for _, c := range []struct {
		sand, clay float64
		want       string
	}{
		{92, 3, "sand"}, {82, 6, "loamy sand"}, {58, 10, "sandy loam"},
		{17, 13, "silt loam"}, {43, 18, "loam"}, {58, 27, "sandy clay loam"},
		{10, 34, "silty clay loam"}, {32, 34, "clay loam"}, {52, 42, "sandy clay"},
		{6, 47, "silty clay"}, {22, 58, "clay"}, {25, 50, "clay"}, {5, 5, "silt"},
	} {
		got, err := textureClass(c.sand, c.clay)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "sand %g clay %g", c.sand, c.clay)
	}
}

// Borders: USDA Soil Survey Manual, chapter 3. Those of clay, clay loam, loam,
// loamy sand and sand were compared with a second-hand copy of the definitions;
// the rest from memory.
func TestTextureClassBorders(t *testing.T) {
	for _, c := range []struct {
		sand, clay float64
		want       string
	}{
		{100, 0, "sand"}, {0, 0, "silt"}, {0, 100, "clay"}, // corners
		{85, 0, "loamy sand"}, {85.1, 0, "sand"}, // silt + 1.5 clay = 15
		{90, 10, "loamy sand"}, {90.1, 9.9, "sand"}, // the same on the clay side
		{70, 0, "sandy loam"}, {70.1, 0, "loamy sand"}, // silt + 2 clay = 30
		{85, 15, "sandy loam"}, {85.1, 14.9, "loamy sand"}, // the same on the clay side
		{52, 7, "loam"}, {52.1, 7, "sandy loam"}, // 52 sand
		{43, 6.9, "silt loam"}, {43.2, 6.9, "sandy loam"}, // 50 silt, little clay
		{60, 20, "sandy clay loam"}, {60, 19.9, "sandy loam"}, // 20 clay
		{50, 22, "loam"}, {50.1, 22, "sandy clay loam"}, // 28 silt
		{40, 26.9, "loam"}, {40, 27, "clay loam"}, // 27 clay
		{45, 30, "clay loam"}, {45.1, 30, "sandy clay loam"}, // 45 sand
		{20, 30, "silty clay loam"}, {20.1, 30, "clay loam"}, // 20 sand
		{10, 26.9, "silt loam"}, {10, 27, "silty clay loam"},
		{50, 34.9, "sandy clay loam"}, {50, 35, "sandy clay"},
		{45, 40, "clay"}, {45.1, 40, "sandy clay"}, {30, 39.9, "clay loam"}, {30, 40, "clay"},
		{20, 40, "silty clay"}, {20.1, 40, "clay"}, // 40 silt
		{10, 40, "silty clay"}, {10, 39.9, "silty clay loam"},
		{20, 0, "silt"}, {20.1, 0, "silt loam"}, // 80 silt
		{8, 12, "silt loam"}, {8, 11.9, "silt"}, // 12 clay
		{37, 13, "silt loam"}, {37.1, 13, "loam"}, // 50 silt
		{60.1, 39.9, "sandy clay"}, {23.4, 26.6, "silt loam"}, // not exact in binary
	} {
		got, err := textureClass(c.sand, c.clay)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "sand %g clay %g", c.sand, c.clay)
	}
}

// Every half percent hits all the borders, a little beside them the inside.
func TestTextureClassesTileTheTriangle(t *testing.T) {
	for sand := 0.0; sand <= 100; sand += 0.5 {
		for clay := 0.0; sand+clay <= 100; clay += 0.5 {
			for _, off := range []float64{0, 0.123} {
				c := math.Min(clay+off, 100-sand)
				silt, err := siltPercent(sand, c)
				require.NoError(t, err)
				var held []string
				for _, r := range textureRules() {
					if r.holds(sand, silt, c) {
						held = append(held, r.class)
					}
				}
				require.Len(t, held, 1, "sand %g silt %g clay %g belongs to %q", sand, silt, c, held)
			}
		}
	}
}

func TestTextureRulesAndSoilClassesAreTheSameSet(t *testing.T) {
	var names []string
	for _, r := range textureRules() {
		names = append(names, r.class)
	}
	assert.ElementsMatch(t, SoilClasses(), names)
}

func TestTextureClassBadInput(t *testing.T) {
	for _, bad := range [][2]float64{{-1, 5}, {5, -1}, {101, 0}, {70, 31}, {math.NaN(), 5}, {5, math.NaN()}} {
		_, err := textureClass(bad[0], bad[1])
		assert.Error(t, err, "%v", bad)
	}
}
