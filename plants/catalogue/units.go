package catalogue

import "strings"

// A scale turns a number of one unit into one of ours: ours = (v - zero) x factor.
type scale struct {
	unit         string
	zero, factor float64
}

// scales are the units that a source column may be in, for each of our own.
// The foot is 0.3048 m and the inch 25.4 mm exactly (international yard and
// pound agreement of 1959); degrees Fahrenheit: C = (F - 32) x 5/9.
func scales(col column) []scale {
	switch col.Unit {
	case "centimetres":
		return []scale{{"cm", 0, 1}, {"mm", 0, 0.1}, {"m", 0, 100}, {"in", 0, 2.54}, {"ft", 0, 30.48}}
	case "millimetres":
		return []scale{{"mm", 0, 1}, {"cm", 0, 10}, {"m", 0, 1000}, {"in", 0, 25.4}, {"ft", 0, 304.8}}
	case "hours":
		return []scale{{"h", 0, 1}, {"d", 0, 24}, {"weeks", 0, 168}, {"min", 0, 1.0 / 60}}
	case "days":
		return []scale{{"d", 0, 1}, {"h", 0, 1.0 / 24}, {"weeks", 0, 7}}
	case "degrees Celsius":
		return []scale{{"C", 0, 1}, {"F", 32, 5.0 / 9}, {"K", 273.15, 1}}
	}
	return nil
}

func convert(v float64, unit string, col column) (float64, bool) {
	for _, s := range scales(col) {
		if s.unit == unit {
			return (v - s.zero) * s.factor, true
		}
	}
	return v, false
}

func unitsFor(col column) []string {
	var units []string
	for _, s := range scales(col) {
		units = append(units, s.unit)
	}
	return units
}

// cutUnit parts a number and its unit by the map's name; an unknown one stays as it is.
func cutUnit(s string) (figure, unit string) {
	s = strings.TrimSpace(s)
	i := strings.LastIndexAny(s, "0123456789") + 1
	if i == 0 {
		return s, ""
	}
	unit = strings.TrimSuffix(strings.ToLower(strings.TrimSpace(s[i:])), ".")
	switch unit {
	case "'", "′", "’", "feet", "foot":
		unit = "ft"
	case `"`, "″", "”", "inch", "inches":
		unit = "in"
	case "centimetre", "centimetres", "centimeter", "centimeters":
		unit = "cm"
	case "millimetre", "millimetres", "millimeter", "millimeters":
		unit = "mm"
	case "metre", "metres", "meter", "meters":
		unit = "m"
	case "hr", "hrs", "hour", "hours":
		unit = "h"
	case "day", "days":
		unit = "d"
	case "week", "wk", "wks":
		unit = "weeks"
	case "minute", "minutes":
		unit = "min"
	case "f", "°f", "deg f", "degrees f":
		unit = "F"
	case "c", "°c", "deg c", "degrees c":
		unit = "C"
	case "k":
		unit = "K"
	}
	return s[:i], unit
}
