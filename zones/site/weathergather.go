package site

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// Faults alike are listed up to keptAlike of a value and keptValues values of a kind;
// past that the first stands for all.
const (
	keptAlike  = 3
	keptValues = 5
)

// slip is a fault of a weather file before those alike are gathered.
type slip struct {
	table.Fault
	kind   string // what makes faults alike; "" for the name and what is wanted
	once   bool   // always gathered, whatever the values and however few
	marker bool   // the cell may stand for a missing value
	rain   bool   // ... or for a trace
	tail   string // follows what is wanted where no cure is known
	cure   string // follows it once slips are gathered
	ahead  bool   // stands before all others
	seq    int
}

// slips gathers what is wrong with a weather file.
type slips struct {
	n     int // found in all
	kinds []*slipKind
	byKey map[string]*slipKind
}

// slipKind is the slips of one kind; values holds the first few of them.
type slipKind struct {
	n, last int // how many, and the line of the last
	values  []*slipValue
}

// slipValue is the slips of one kind with the same value.
type slipValue struct {
	n, last int
	first   []slip
}

// add keeps or counts a slip.
func (s *slips) add(one slip) {
	one.seq = s.n
	if one.ahead {
		one.seq = -1
	}
	s.n++
	key := cmp.Or(one.kind, one.Name+"\x00"+one.Want)
	if one.marker && markerClass(one.Value, one.rain) != "" {
		key += "\x00" + one.Value
	}
	kind := s.byKey[key]
	if kind == nil {
		if s.byKey == nil {
			s.byKey = map[string]*slipKind{}
		}
		kind = &slipKind{}
		s.byKey[key], s.kinds = kind, append(s.kinds, kind)
	}
	if one.once && kind.n > 0 && kind.last == one.Line {
		return // rows are counted
	}
	kind.n++
	kind.last = one.Line
	at := slices.IndexFunc(kind.values, func(v *slipValue) bool { return v.first[0].Value == one.Value })
	if at < 0 {
		if len(kind.values) > keptValues {
			return
		}
		at = len(kind.values)
		kind.values = append(kind.values, &slipValue{})
	}
	value := kind.values[at]
	value.n++
	value.last = one.Line
	if len(value.first) < keptAlike {
		value.first = append(value.first, one)
	}
}

// list returns the faults in the order they were found in, those alike as one.
func (s *slips) list(f Format) table.Faults {
	missing, trace := s.markersFound(f)
	var all []slip
	for _, kind := range s.kinds {
		first := kind.values[0].first[0]
		if len(kind.values) > keptValues || (first.once && kind.n > 1) {
			same := "the like"
			if first.once {
				same = "the same"
			}
			all = append(all, first.worded(kind.n, kind.last, same, missing, trace))
			continue
		}
		for _, value := range kind.values {
			if value.n > keptAlike {
				all = append(all, value.first[0].worded(value.n, value.last, "the same", missing, trace))
				continue
			}
			for _, one := range value.first {
				all = append(all, one.worded(1, 0, "", missing, trace))
			}
		}
	}
	slices.SortFunc(all, func(a, b slip) int { return a.seq - b.seq })
	faults := make(table.Faults, 0, len(all))
	for _, one := range all {
		faults = append(faults, one.Fault)
	}
	return faults
}

// worded returns a slip whose text speaks for all n alike and says the cure.
func (one slip) worded(n, last int, same string, missing, trace []string) slip {
	more := ""
	if n > 1 {
		more = fmt.Sprintf("; %s in %s, up to line %d", same, count(n-1, "more row"), last)
	}
	class := ""
	if one.marker {
		class = markerClass(one.Value, one.rain)
	}
	switch {
	case class == "missing":
		one.Want += more + "; if it means no value, " + setList("missing", missing)
	case class == "trace":
		one.Want += more + "; if it means a trace of rain, " + setList("trace", trace)
	case one.marker && n > 1 && same == "the same" && mayBeMarker(one.Value) && len(with(trace, one.Value)) > len(trace):
		one.Want += more + "; if it means no value, " + setList("missing", with(missing, one.Value))
		if one.rain {
			one.Want += ", or under trace if it means a trace of rain"
		}
	case n > 1 && one.cure != "":
		one.Want += more + "; " + one.cure
	default:
		one.Want += one.tail + more
	}
	return one
}

// markersFound returns the markers of the format with those that stand in the
// file without being declared, so that one line of garden.yaml cures them all.
func (s *slips) markersFound(f Format) (missing, trace []string) {
	missing, trace = slices.Clone(f.Missing), slices.Clone(f.Trace)
	for _, kind := range s.kinds {
		one := kind.values[0].first[0]
		if !one.marker {
			continue
		}
		switch markerClass(one.Value, one.rain) {
		case "missing":
			missing = with(missing, one.Value)
		case "trace":
			trace = with(trace, one.Value)
		}
	}
	return missing, trace
}

// with returns a list of markers with one more, if it is not covered yet.
func with(list []string, value string) []string {
	v, _ := parseNumber(value)
	if isMarker(markers(list), value, v) {
		return list
	}
	return append(slices.Clone(list), value)
}

// setList says what to write in the garden file.
func setList(key string, values []string) string {
	return fmt.Sprintf("set weather.%s: [%s] in garden.yaml", key, yamlWords(values))
}

// yamlWords writes the inside of a list.
func yamlWords(values []string) string {
	var words []string
	for _, v := range values {
		words = append(words, yamlWord(v))
	}
	return strings.Join(words, ", ")
}

// yamlWord quotes what YAML may take for something else than a word.
func yamlWord(v string) string {
	switch lower := strings.ToLower(v); lower {
	case "", "null", "true", "false", "yes", "no", "on", "off", "y", "n":
	default:
		if strings.Trim(lower, "abcdefghijklmnopqrstuvwxyz_") == "" {
			return v
		}
	}
	return fmt.Sprintf("%q", v)
}

// markerClass tells cells that commonly stand for a missing value ("missing")
// or a trace of rain ("trace") from others ("").
func markerClass(cell string, rain bool) string {
	switch strings.ToLower(cell) {
	case "t", "tr", "trace":
		if rain {
			return "trace"
		}
	case "na", "n/a", "#n/a", "nan", "m", "null", "nil", "none", "missing", "-", "--", "---", ".", "*", "?":
		return "missing"
	}
	// 99.9 may be a temperature in deg F, in a column that is not.
	if v, _ := parseNumber(cell); nines(cell) >= 2 && (v < 0 || v > 150) {
		return "missing"
	}
	return ""
}

// nines returns how many digits a number has if all before trailing decimal
// zeros are nines, as in -9999, 99.99 or -999.0, and 0 otherwise.
func nines(number string) int {
	digits := strings.TrimLeft(number, "+-")
	if whole, decimals, found := strings.Cut(digits, "."); found {
		digits = whole + strings.TrimRight(decimals, "0")
	}
	if strings.Trim(digits, "9") != "" {
		return 0
	}
	return len(digits)
}

// mayBeMarker reports whether a value is short enough for a marker that we do not know.
func mayBeMarker(cell string) bool {
	_, number := parseNumber(cell)
	return number && len(cell) <= 12 || len(cell) <= 3
}

// decimalComma returns a number written with a decimal comma with a point.
func decimalComma(cell string) (string, bool) {
	if strings.Count(cell, ",") != 1 || strings.Contains(cell, ".") {
		return "", false
	}
	point := strings.Replace(cell, ",", ".", 1)
	_, ok := parseNumber(point)
	return point, ok
}
