package site

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// figure reads one figure; NaN for a missing one or a column that is not there (at < 0).
func (wr *weatherReader) figure(t *walk, at int, u unit, least, most float64, isRain bool) float64 {
	if at < 0 {
		return math.NaN()
	}
	cell := t.Cells[at]
	v, ok := parseNumber(cell)
	if !ok {
		cell = strings.TrimSpace(cell)
		v, ok = parseNumber(cell)
	}
	if !ok && t.Separator != ',' {
		v, ok = wr.withComma(t, at, cell)
	} else if ok && wr.commas.point.line == 0 && t.Separator != ',' && strings.Contains(cell, ".") {
		wr.commas.point = cellPlace{cell, t.Line, t.col(at)}
	}
	if isRain && isMarker(wr.trace, cell, v) {
		wr.traces++
		return 0
	}
	if len(cell) == 0 || isMarker(wr.missing, cell, v) {
		return math.NaN()
	}
	bad := slip{
		Fault:  table.Fault{Line: t.Line, Column: t.col(at), Name: wr.header[at], Value: strings.TrimSpace(cell), Want: "want a number of " + u.name},
		marker: true, rain: isRain, tail: ", or this marker listed under missing",
		cure: "is this the right column? say which under weather.columns in garden.yaml",
	}
	if isRain {
		bad.tail += " or trace"
	}
	if !ok {
		if point, comma := decimalComma(cell); comma {
			bad.kind, bad.once, bad.marker, bad.tail, bad.cure = "decimal comma", true, false, "", ""
			bad.Want = "decimals must have a point, such as " + point
			if t.Separator != ',' {
				bad.Want = "a decimal comma, or thousands? no other figure of the file tells: write " + point + ", or " + strings.Replace(cell, ",", "", 1)
			}
		}
		wr.slip(bad)
		return math.NaN()
	}
	converted := u.convert(v)
	if converted >= least && converted <= most {
		return converted
	}
	bad.Want = "want rain of 0 or more"
	if !isRain {
		bad.tail = ""
		bad.Want = fmt.Sprintf("want a figure of %g to %g when turned from %s", least, most, u.name)
	}
	if u.name == "deg C" && v > most && v < 150 {
		bad.cure = "if it is in deg F, let the header say so, or set weather.temp_unit: F in garden.yaml if it names no unit"
	}
	wr.slip(bad)
	return math.NaN()
}

// markers prepares a list of markers.
func markers(texts []string) []marker {
	var list []marker
	for _, text := range table.Trimmed(texts) {
		number, _ := parseNumber(text)
		list = append(list, marker{text, number})
	}
	return list
}

// isMarker reports whether a cell is one of the markers, by its letters or its number.
func isMarker(list []marker, cell string, v float64) bool {
	for i := range list {
		if list[i].number == v || list[i].text == cell {
			return true
		}
	}
	return false
}

// parseNumber reads a plain decimal number, with sign and exponent; else NaN.
func parseNumber(cell string) (v float64, ok bool) {
	whole, digits, after, point, i := int64(0), 0, 0, false, 0
	if len(cell) > 0 && (cell[0] == '-' || cell[0] == '+') {
		i = 1
	}
	for ; i < len(cell); i++ {
		switch c := cell[i]; {
		case c >= '0' && c <= '9':
			whole = whole*10 + int64(c-'0')
			digits++
			if point {
				after++
			}
			if digits > 15 {
				return parseLongNumber(cell)
			}
		case c == '.' && !point:
			point = true
		default:
			return parseLongNumber(cell)
		}
	}
	if digits == 0 {
		return math.NaN(), false
	}
	// Both are whole numbers below 2^53, so one division rounds correctly.
	v = float64(whole) / math.Pow10(after)
	if cell[0] == '-' {
		v = -v
	}
	return v, true
}

// parseLongNumber reads numbers with an exponent or many digits.
func parseLongNumber(cell string) (float64, bool) {
	if len(cell) > 400 || strings.Trim(cell, "0123456789+-.eE") != "" {
		return math.NaN(), false
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return math.NaN(), false
	}
	return v, true
}
