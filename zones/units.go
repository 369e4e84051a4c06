package zones

import (
	"math"
	"strconv"
	"strings"
)

// Units is the system that figures are shown in, with the digits that a person would use
// on the spot. The Parse functions read back all but volumes within that rounding. NaN
// prints as "unknown".
type Units string

// The two systems.
const (
	UnitsUS     Units = "us"
	UnitsMetric Units = "metric"
)

// Exact by definition: a US gallon is 231 cubic inches. Source: SOURCES.md
// [S12].
const (
	m3PerFt3 = mPerFt * mPerFt * mPerFt
	m3PerGal = 231 * mPerIn * mPerIn * mPerIn

	ft3PerYd3 = 27
)

// Length prints a distance over the ground, given in metres.
func (u Units) Length(m float64) string {
	if s, odd := oddNumber(m); odd {
		return s
	}
	if u == UnitsMetric {
		switch size := math.Abs(m); {
		case size < 0.0995:
			return round(m*1000, 0) + " mm"
		case size < 0.995:
			return round(m*100, 0) + " cm"
		case size < 9.995:
			return trim(round(m, 2)) + " m"
		case size < 99.95:
			return trim(round(m, 1)) + " m"
		}
		return round(m, 0) + " m"
	}
	switch in := m / mPerIn; {
	case math.Abs(in) < 23.75:
		return inches(in)
	case math.Abs(in) >= 1200:
		return round(in/12, 0) + " ft"
	default:
		return feetInches(in)
	}
}

// Depth prints a depth, height or depth of water, given in millimetres.
func (u Units) Depth(mm float64) string {
	if s, odd := oddNumber(mm); odd {
		return s
	}
	if u == UnitsMetric {
		if math.Abs(mm) < 999.5 {
			return about(mm, 2) + " mm"
		}
		return trim(round(mm/1000, 2)) + " m"
	}
	in := mm / mmPerIn
	if math.Abs(in) < 35.5 {
		return trim(round(in, depthDigits(in))) + " in"
	}
	return feetInches(in)
}

// pick takes the words of the system.
func (u Units) pick(us, metric string) string {
	if u == UnitsMetric {
		return metric
	}
	return us
}

// show prints a figure in the words of the system, unless it is no number.
func (u Units) show(v float64, us, metric string) string {
	if s, odd := oddNumber(v); odd {
		return s
	}
	return u.pick(us, metric)
}

// Rain prints a depth of rain, given in mm: whole mm or tenths of an inch.
func (u Units) Rain(mm float64) string {
	return u.show(mm, round(mm/mmPerIn, 1)+" in", round(mm, 0)+" mm")
}

// Area prints an area, given in square metres.
func (u Units) Area(m2 float64) string {
	return u.show(m2, about(m2/m2PerFt2, 2)+" sq ft", about(m2, 3)+" m2")
}

// Volume prints a volume, given in cubic metres; in US units also in gallons.
func (u Units) Volume(m3 float64) string {
	if s, odd := oddNumber(m3); odd {
		return s
	}
	ft3 := m3 / m3PerFt3
	switch metric := u == UnitsMetric; {
	case metric && math.Abs(m3) < 0.9995, !metric && math.Abs(ft3) < 0.95:
		return u.Water(m3)
	case metric:
		return about(m3, 3) + " m3"
	}
	return about(ft3, 2) + " cu ft (" + u.Water(m3) + ")"
}

// Soil prints a volume of soil, given in cubic metres; in US units in cubic yards
// too, by which it is sold and carted.
func (u Units) Soil(m3 float64) string {
	if _, odd := oddNumber(m3); odd || u == UnitsMetric {
		return u.Volume(m3)
	}
	ft3 := m3 / m3PerFt3
	return about(ft3, 2) + " cu ft (" + about(ft3/ft3PerYd3, 2) + " cu yd)"
}

// Water prints a volume in gallons or litres, given in cubic metres.
func (u Units) Water(m3 float64) string {
	return u.show(m3, about(m3/m3PerGal, 2)+" gal", about(m3*1000, 2)+" L")
}

// Rate prints a rate of rain or infiltration, given in millimetres an hour.
func (u Units) Rate(mmh float64) string {
	return u.show(mmh, about(mmh/mmPerIn, 2)+" in/h", about(mmh, 2)+" mm/h")
}

// Temp prints a temperature, given in degrees Celsius, to a whole degree.
func (u Units) Temp(c float64) string {
	return u.show(c, round(c*9/5+32, 0)+" F", round(c, 0)+" C")
}

// Duration prints a time, given in hours; "never" for +Inf. It is alike in both systems.
func (u Units) Duration(h float64) string {
	if math.IsInf(h, 1) {
		return "never"
	}
	if s, odd := oddNumber(h); odd {
		return s
	}
	switch size := math.Abs(h); {
	case size == 0:
		return "0 h"
	case size < 59.5/60:
		return about(h*60, 2) + " min"
	case size < 9.95:
		return trim(round(h, 1)) + " h"
	case size < 73.3: // what rounds to 3 days stays in hours
		return round(h, 0) + " h"
	}
	return about(h/24, 2) + " d"
}

// Percent prints a fraction as a percentage. A little is never shown as
// nothing, nor nearly all as all.
func (u Units) Percent(fraction float64) string {
	if s, odd := oddNumber(fraction); odd {
		return s
	}
	switch p := fraction * 100; {
	case p > 0 && p < 0.05:
		return "under 0.1 %"
	case p > 99.95 && p < 100:
		return "over 99.9 %"
	case math.Abs(p) < 9.95, p > 99 && p < 100:
		return trim(round(p, 1)) + " %"
	default:
		return round(p, 0) + " %"
	}
}

func oddNumber(v float64) (string, bool) {
	switch {
	case math.IsNaN(v):
		return "unknown", true
	case math.IsInf(v, 1):
		return "without limit", true
	case math.IsInf(v, -1):
		return "without limit below", true
	}
	return "", false
}

// inches prints a length under 2 ft: to a tenth below 3 in, then to half an inch.
func inches(in float64) string {
	if math.Abs(in) < 2.95 {
		return trim(round(in, 1)) + " in"
	}
	return trim(round(math.Round(in*2)/2, 1)) + " in"
}

// feetInches prints a length to a whole inch: "12 ft 6 in", "12 ft".
func feetInches(in float64) string {
	whole := math.Round(math.Abs(in))
	ft, rest := math.Floor(whole/12), math.Mod(whole, 12)
	s := round(ft, 0) + " ft"
	if rest > 0 {
		s += " " + round(rest, 0) + " in"
	}
	if in < 0 {
		s = "-" + s
	}
	return s
}

// depthDigits keeps a tenth of an inch of water below 10 in, a hundredth below a tenth.
func depthDigits(in float64) int {
	switch size := math.Abs(in); {
	case size < 0.0995:
		return 2
	case size < 9.95:
		return 1
	}
	return 0
}

// digits is how many decimals, 4 at most, show v with n significant figures.
func digits(v float64, n int) int {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	d := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	return max(0, min(d, 4))
}

// about prints v with n significant figures, see digits.
func about(v float64, n int) string { return trim(round(v, digits(v, n))) }

// round prints v and never "-0". A half stays one where a processor fuses a product and a
// sum.
func round(v float64, decimals int) string {
	if math.Abs(v) < 1e7 {
		v = math.Round(v*1e8) / 1e8
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// trim takes the zeros off the end of decimals: "12.50" is "12.5".
func trim(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// Weight prints a weight, given in kilograms.
func (u Units) Weight(kg float64) string {
	return u.show(kg, about(kg/kgPerLb, 2)+" lb", about(kg, 2)+" kg")
}

// kgPerLb is exact (international yard and pound agreement of 1959, from memory).
const kgPerLb = 0.45359237
