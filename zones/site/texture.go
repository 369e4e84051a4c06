package site

import "fmt"

// textureRule says which soils belong to a class; sand, silt, clay in percent.
type textureRule struct {
	class string
	holds func(sand, silt, clay float64) bool
}

// textureClass returns the USDA texture class of a soil by its sand and clay
// (percent by weight of the part below 2 mm; the rest is silt). The classes
// cover the triangle without overlap: where two classes meet, the rules say
// which has the border. Source: USDA Soil Survey Manual, chapter 3, texture
// classes; clay, clay loam, loam, loamy sand and sand compared with a
// second-hand copy, the others from memory.
func textureClass(sandPercent, clayPercent float64) (string, error) {
	silt, err := siltPercent(sandPercent, clayPercent)
	if err != nil {
		return "", err
	}
	for _, r := range textureRules() {
		if r.holds(sandPercent, silt, clayPercent) {
			return r.class, nil
		}
	}
	panic(fmt.Sprintf("texture triangle has a hole at sand %g, clay %g", sandPercent, clayPercent))
}

// textureRules lists the rules of the twelve classes, each complete in itself,
// so that a test can show that exactly one holds anywhere.
func textureRules() []textureRule {
	return []textureRule{
		{"sand", func(sand, silt, clay float64) bool { return silt+1.5*clay < 15 }},
		{"loamy sand", func(sand, silt, clay float64) bool { return silt+1.5*clay >= 15 && silt+2*clay < 30 }},
		{"sandy loam", func(sand, silt, clay float64) bool {
			return silt+2*clay >= 30 &&
				(clay >= 7 && clay < 20 && sand > 52 || clay < 7 && silt < 50)
		}},
		{"loam", func(sand, silt, clay float64) bool {
			return clay >= 7 && clay < 27 && silt >= 28 && silt < 50 && sand <= 52
		}},
		{"silt loam", func(sand, silt, clay float64) bool {
			return silt >= 50 && clay >= 12 && clay < 27 || silt >= 50 && silt < 80 && clay < 12
		}},
		{"silt", func(sand, silt, clay float64) bool { return silt >= 80 && clay < 12 }},
		{"sandy clay loam", func(sand, silt, clay float64) bool {
			return clay >= 20 && clay < 35 && silt < 28 && sand > 45
		}},
		{"clay loam", func(sand, silt, clay float64) bool {
			return clay >= 27 && clay < 40 && sand > 20 && sand <= 45
		}},
		{"silty clay loam", func(sand, silt, clay float64) bool { return clay >= 27 && clay < 40 && sand <= 20 }},
		{"sandy clay", func(sand, silt, clay float64) bool { return clay >= 35 && sand > 45 }},
		{"silty clay", func(sand, silt, clay float64) bool { return clay >= 40 && silt >= 40 }},
		{"clay", func(sand, silt, clay float64) bool { return clay >= 40 && sand <= 45 && silt < 40 }},
	}
}
