package site

import (
	"fmt"
	"math"
	"strings"

	"hollowbed/zones/table"
)

// Soil is what the water balance needs to know of a soil. Published sets differ
// severalfold and must not be mixed, so it says its sources.
type Soil struct {
	Texture           string  // USDA texture class, as listed by SoilClasses
	FC                float64 // field capacity (33 kPa), volume fraction
	WP                float64 // wilting point (1500 kPa), volume fraction
	Sat               float64 // saturation, volume fraction
	KMMH              float64 // saturated conductivity or steady infiltration, mm/h
	SuctionMM         float64 // wetting front suction, mm; 0 where the source gives none
	EffectivePorosity float64 // porosity that fills with water, volume fraction; 0 where the source gives none
	WaterSource       string  // where FC, WP and Sat come from
	RateSource        string  // where KMMH, SuctionMM and EffectivePorosity come from
}

const (
	saxtonRawls2006 = "Saxton and Rawls 2006, Soil Sci. Soc. Am. J. 70:1569"
	rawls1983       = "Rawls, Brakensiek and Miller 1983, J. Hydraulic Eng. 109(1):62, Table 2"

	// nativeOrganicPercent is the organic matter that Saxton and Rawls print
	// their class table for; taken for native soil, where nobody has measured.
	nativeOrganicPercent = 2.5
)

// soilClass is one row of the class table: the texture at the middle of the
// class, and the infiltration values of Rawls, Brakensiek and Miller.
type soilClass struct {
	name                      string
	sandPercent, clayPercent  float64 // Saxton and Rawls 2006, Table 3
	effectivePorosity         float64 // Rawls and others 1983, Table 2; 0: not given
	suctionCM, conductivityCM float64 // the same table; cm and cm/h
}

// soilClasses lists the twelve USDA classes from coarse to fine. Silt is in
// Saxton and Rawls only: Rawls and others 1983 had no samples of it.
func soilClasses() []soilClass {
	return []soilClass{
		{"sand", 88, 5, 0.417, 4.95, 11.78},
		{"loamy sand", 80, 5, 0.401, 6.13, 2.99},
		{"sandy loam", 65, 10, 0.412, 11.01, 1.09},
		{"loam", 40, 20, 0.434, 8.89, 0.34},
		{"silt loam", 20, 15, 0.486, 16.68, 0.65},
		{"silt", 10, 5, 0, 0, 0},
		{"sandy clay loam", 60, 25, 0.330, 21.85, 0.15},
		{"clay loam", 30, 35, 0.309, 20.88, 0.10},
		{"silty clay loam", 10, 35, 0.432, 27.30, 0.10},
		{"sandy clay", 50, 40, 0.321, 23.90, 0.06},
		{"silty clay", 10, 45, 0.423, 29.22, 0.05},
		{"clay", 25, 50, 0.385, 31.63, 0.03},
	}
}

// SoilClasses returns the names of the USDA texture classes, coarse to fine.
func SoilClasses() []string {
	var names []string
	for _, c := range soilClasses() {
		names = append(names, c.name)
	}
	return names
}

// NativeSoil returns the soil of the place by texture class: water contents by Saxton and
// Rawls 2006 at 2.5 % organic matter, the rest by Rawls and others 1983, whose rate is
// several times lower and the safe one for undisturbed ground.
func NativeSoil(class string) (Soil, error) {
	c, err := findSoilClass(class)
	if err != nil {
		return Soil{}, err
	}
	if c.conductivityCM == 0 {
		return Soil{}, fmt.Errorf("soil class %q: no infiltration rate is published for %s: "+
			"give a measured rate, or take silt loam", class, c.name)
	}
	s, err := saxtonRawls(c.sandPercent, c.clayPercent, nativeOrganicPercent)
	if err != nil {
		panic(err) // the class table is ours
	}
	const mmPerCM = 10
	s.Texture = c.name
	s.KMMH = c.conductivityCM * mmPerCM
	s.SuctionMM = c.suctionCM * mmPerCM
	s.EffectivePorosity = c.effectivePorosity
	s.RateSource = rawls1983
	return s, nil
}

// MixSoil returns a loose bed mix by texture class and organic matter (percent by weight,
// 0 to 8) by Saxton and Rawls 2006; they give no suction, so it is 0, which errs on the
// slow side.
func MixSoil(class string, organicPercent float64) (Soil, error) {
	c, err := findSoilClass(class)
	if err != nil {
		return Soil{}, err
	}
	s, err := saxtonRawls(c.sandPercent, c.clayPercent, organicPercent)
	if err != nil {
		return Soil{}, err
	}
	s.Texture = c.name
	return s, nil
}

// saxtonRawls returns the water contents and saturated conductivity of a soil
// of normal density, with S and C the weight fractions of sand and clay and OM
// the organic matter in percent by weight:
//
//	t1500 = -0.024 S + 0.487 C + 0.006 OM + 0.005 S OM - 0.013 C OM + 0.068 S C + 0.031
//	WP    = t1500 + (0.14 t1500 - 0.02)
//	t33   = -0.251 S + 0.195 C + 0.011 OM + 0.006 S OM - 0.027 C OM + 0.452 S C + 0.299
//	FC    = t33 + (1.283 t33^2 - 0.374 t33 - 0.015)
//	tS33  = 0.278 S + 0.034 C + 0.022 OM - 0.018 S OM - 0.027 C OM - 0.584 S C + 0.078
//	S33   = tS33 + (0.636 tS33 - 0.107)
//	Sat   = FC + S33 - 0.097 S + 0.043
//	lambda = (ln FC - ln WP) / (ln 1500 - ln 33)
//	K     = 1930 (Sat - FC)^(3 - lambda), mm/h
//
// No gravel, no salt, no compaction. Fitted to soils of up to 8 % organic
// matter and 60 % clay; near pure sand or pure silt it can leave the possible,
// which is an error here. Source: Saxton and Rawls 2006, Soil Sci. Soc. Am. J.
// 70:1569, Table 1.
func saxtonRawls(sandPercent, clayPercent, organicPercent float64) (Soil, error) {
	if _, err := siltPercent(sandPercent, clayPercent); err != nil {
		return Soil{}, err
	}
	if !(organicPercent >= 0 && organicPercent <= 8) {
		return Soil{}, fmt.Errorf("organic matter \"%g\": want 0 to 8 percent by weight, the range the soil equations were fitted to", organicPercent)
	}
	if clayPercent > 60 {
		return Soil{}, fmt.Errorf("clay \"%g\": want at most 60 percent, the range the soil equations were fitted to", clayPercent)
	}
	s, c, om := sandPercent/100, clayPercent/100, organicPercent

	t1500 := -0.024*s + 0.487*c + 0.006*om + 0.005*s*om - 0.013*c*om + 0.068*s*c + 0.031
	wp := t1500 + (0.14*t1500 - 0.02)
	t33 := -0.251*s + 0.195*c + 0.011*om + 0.006*s*om - 0.027*c*om + 0.452*s*c + 0.299
	fc := t33 + (1.283*t33*t33 - 0.374*t33 - 0.015)
	tS33 := 0.278*s + 0.034*c + 0.022*om - 0.018*s*om - 0.027*c*om - 0.584*s*c + 0.078
	s33 := tS33 + (0.636*tS33 - 0.107)
	sat := fc + s33 - 0.097*s + 0.043
	if !(wp > 0 && wp < fc && fc < sat && sat < 1) {
		return Soil{}, fmt.Errorf("sand %g, clay %g, organic matter %g percent: the soil equations give no possible soil so near the corner of the texture triangle: take a less pure mix",
			sandPercent, clayPercent, organicPercent)
	}
	lambda := (math.Log(fc) - math.Log(wp)) / (math.Log(1500) - math.Log(33))

	texture, err := textureClass(sandPercent, clayPercent)
	if err != nil {
		return Soil{}, err
	}
	return Soil{
		Texture: texture, FC: fc, WP: wp, Sat: sat,
		KMMH:        1930 * math.Pow(sat-fc, 3-lambda),
		WaterSource: saxtonRawls2006, RateSource: saxtonRawls2006,
	}, nil
}

// deficit returns how much more water a soil at theta can take, volume fraction: Sat -
// theta, 0 to the effective porosity.
func (s Soil) deficit(theta float64) float64 {
	d := max(s.Sat-theta, 0)
	if s.EffectivePorosity > 0 {
		d = min(d, s.EffectivePorosity)
	}
	return d
}

// findSoilClass finds a class by its name in any case and with any spacing,
// hyphens or underscores; "silty loam" and "silt loam" are the same, and so on.
func findSoilClass(name string) (soilClass, error) {
	key := soilKey(name)
	best, bestDistance := "", math.MaxInt
	for _, c := range soilClasses() {
		d := table.Edits(key, soilKey(c.name))
		if d == 0 {
			return c, nil
		}
		if d < bestDistance {
			best, bestDistance = c.name, d
		}
	}
	hint := ""
	if key != "" && bestDistance <= max(2, len(key)/3) {
		hint = fmt.Sprintf("; nearest is %q", best)
	}
	return soilClass{}, fmt.Errorf("soil class %q: want one of %s%s",
		name, strings.Join(SoilClasses(), ", "), hint)
}

// soilKey reduces a name to lower-case words, adjectives made alike.
func soilKey(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" -_\t/", r) })
	for i, w := range words[:max(0, len(words)-1)] { // the noun stays as it is
		if w == "sandy" || w == "loamy" || w == "silty" {
			words[i] = strings.TrimSuffix(w, "y")
		}
	}
	return strings.Join(words, " ")
}

// siltPercent returns the rest to 100 %, rounded so that decimal input meets the borders.
func siltPercent(sandPercent, clayPercent float64) (float64, error) {
	if !(sandPercent >= 0 && sandPercent <= 100) {
		return 0, fmt.Errorf("sand \"%g\": want 0 to 100 percent", sandPercent)
	}
	if !(clayPercent >= 0 && clayPercent <= 100) {
		return 0, fmt.Errorf("clay \"%g\": want 0 to 100 percent", clayPercent)
	}
	silt := math.Round((100-sandPercent-clayPercent)*1e9) / 1e9
	if silt < 0 {
		return 0, fmt.Errorf("sand %g and clay %g: want together at most 100 percent", sandPercent, clayPercent)
	}
	return silt, nil
}
