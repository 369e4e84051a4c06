package site

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"hollowbed/zones/table"
)

// Format declares how a weather file is written; zero means: what the header says. What
// was recognised stands in Record.Notes, what cannot be told is a fault that asks.
type Format struct {
	Columns   map[string]string // ours (time, date; year with month and day, or with yday, the day of the year; rain, tmin, tmax, temp, et0) -> header in the file
	RainUnit  string            // "mm", "0.1 mm", "in", "0.01 in" or "cm"
	TempUnit  string            // "C", "F" or "0.1 C"
	Missing   []string          // markers of a missing value, beside the empty cell: "-9999", "NA", "M"
	Trace     []string          // markers of a trace of rain: "T", "-1"; 0 mm, counted
	AbsentRow string            // what a time without a row means: "missing" (default) or "dry"
	Zeros     string            // of zeros that are all but impossible there: "checked" (default: taken as missing) or "real"
	Clock     string            // "utc", "local" (wall clock of Zone) or "standard" (default: local standard time)
	Zone      *time.Location    // of the garden; nil for standard time of unnamed offset
	Step      string            // "hourly", "daily" or "" to recognise
	Pattern   string            // how daily rain is spread: see Patterns; "" is the first
	DateOrder string            // of dates such as 1/5/2013: "mdy", "dmy" or "" to recognise
	Where     map[string]string // only rows whose column has this value, in a file of several stations
}

// A RecordColumn is one of the columns of a record, with the headers that stand
// for it in lower case, blanks, hyphens and points being underscores and the unit
// left off.
type RecordColumn struct {
	Name, Meaning string
	Headers       []string
	Part          bool // of a date in several columns, beside one for the year
}

// RecordColumns are the columns that Format.Columns may name, in the order of messages.
func RecordColumns() []RecordColumn {
	return []RecordColumn{
		{"time", "date and time of day, where a row is no day", []string{"time", "datetime", "date_time", "date/time", "timestamp", "hour_beginning", "hour", "valid"}, false},
		{"date", "the day", []string{"date", "day", "datum", "fecha"}, false},
		{"year", "the year, where a date has a column for each part", []string{"year", "yyyy", "yr"}, true},
		{"month", "the month, where a date has a column for each part", []string{"month", "mo", "mon", "mm"}, true},
		{"day", "the day, where a date has a column for each part", []string{"day", "dd", "dy", "mday"}, true},
		{"yday", "day of the year, beside the year", []string{"yday", "doy", "day_of_year", "jday", "julian_day"}, true},
		{"rain", "rain and melted snow", []string{"rain", "rainfall", "precip", "precipitation", "prcp", "prec", "rr", "rain_sum", "total_rain", "daily_rainfall", "rainfall_amount", "rain_total", "rainfall_total",
			"total_precip", "total_precipitation", "precipitation_sum", "precipitation_total", "precip_total", "daily_precipitation", "precipitation_amount",
			"niederschlag", "regen", "neerslag", "pluie", "pr\u00e9cipitations", "lluvia", "precipitaci\u00f3n", "precipita\u00e7\u00e3o", "pioggia"}, false},
		{"tmin", "lowest temperature of the day", []string{"tmin", "t_min", "temp_min", "min_temp", "temperature_min", "min_temperature", "minimum_temperature", "temperature_2m_min", "tn"}, false},
		{"tmax", "highest temperature of the day", []string{"tmax", "t_max", "temp_max", "max_temp", "temperature_max", "max_temperature", "maximum_temperature", "temperature_2m_max", "tx"}, false},
		{"temp", "temperature", []string{"temp", "temperature", "air_temp", "air_temperature", "tair", "tmean", "temp_mean", "tavg", "mean_temp", "temperature_2m", "temperature_2m_mean"}, false},
		{"et0", "water that a lawn would use", []string{"et0", "eto", "et_0", "et_o", "reference_et", "ref_et", "et0_fao_evapotranspiration"}, false},
	}
}

func ourColumns() []string {
	var names []string
	for _, c := range RecordColumns() {
		names = append(names, c.Name)
	}
	return names
}

// RainUnits are the units of rain that Format may name.
func RainUnits() []string { return []string{"mm", "0.1 mm", "cm", "in", "0.01 in"} }

// TempUnits are those of temperatures.
func TempUnits() []string { return []string{"C", "F", "0.1 C"} }

// Check returns what is wrong with a format itself, before any file is read.
// Name is the field as garden.yaml writes it; File and Line are left empty.
func (f Format) Check() table.Faults {
	var faults table.Faults
	oneOf := func(name, value string, allowed ...string) {
		if value != "" && !slices.Contains(allowed, value) {
			faults = append(faults, table.Fault{Name: name, Value: value, Want: "want one of " + strings.Join(allowed, ", ")})
		}
	}
	oneOf("rain_unit", f.RainUnit, RainUnits()...)
	oneOf("temp_unit", f.TempUnit, TempUnits()...)
	oneOf("absent_row", f.AbsentRow, "missing", "dry")
	oneOf("zeros", f.Zeros, "checked", "real")
	oneOf("clock", f.Clock, "utc", "local", "standard")
	oneOf("step", f.Step, "hourly", "daily")
	oneOf("pattern", f.Pattern, Patterns()...)
	oneOf("date_order", f.DateOrder, "mdy", "dmy")
	for _, ours := range slices.Sorted(maps.Keys(f.Columns)) {
		oneOf("columns", ours, ourColumns()...)
		if ours == "" {
			faults = append(faults, table.Fault{Name: "columns", Want: "want one of " + strings.Join(ourColumns(), ", ")})
		}
	}
	for _, m := range f.Trace {
		if slices.Contains(f.Missing, m) {
			faults = append(faults, table.Fault{Name: "trace", Value: m, Want: "this marker is listed under missing as well"})
		}
	}
	if (f.Clock == "utc" || f.Clock == "local") && f.Zone == nil {
		faults = append(faults, table.Fault{Name: "clock", Value: f.Clock, Want: "want the time zone of the garden as well"})
	}
	return faults
}

// Section is the section weather of a garden file for a record, line by line.
func (f Format) Section(file string) []string {
	lines := []string{"weather:", "  file: " + yamlWord(file)}
	add := func(key, value string) {
		if value != "" {
			lines = append(lines, "  "+key+": "+value)
		}
	}
	pairs := func(m map[string]string) string {
		var words []string
		for _, k := range slices.Sorted(maps.Keys(m)) {
			words = append(words, yamlWord(k)+": "+yamlWord(m[k]))
		}
		return strings.Join(words, ", ")
	}
	in := func(brackets, inside string) string {
		if inside == "" {
			return ""
		}
		return brackets[:1] + inside + brackets[1:]
	}
	add("step", f.Step)
	add("columns", in("{}", pairs(f.Columns)))
	add("rain_unit", f.RainUnit)
	add("temp_unit", f.TempUnit)
	add("missing", in("[]", yamlWords(f.Missing)))
	add("trace", in("[]", yamlWords(f.Trace)))
	add("absent_row", f.AbsentRow)
	add("zeros", f.Zeros)
	add("clock", f.Clock)
	add("date_order", f.DateOrder)
	add("where", in("{}", pairs(f.Where)))
	return lines
}

// unit is a measure that a column is written in: (value + shift) x scale is mm or deg C.
type unit struct {
	name         string // as people write it
	scale, shift float64
	divide       float64 // set instead of scale where dividing is the exact way
}

func (u unit) convert(v float64) float64 {
	if u.divide != 0 {
		return (v + u.shift) / u.divide
	}
	return (v + u.shift) * u.scale
}

// unitNamed returns the unit of that name. 1 in = 25.4 mm and t/C = (t/F - 32) / 1.8,
// both exact (NIST Special Publication 811, from memory).
func unitNamed(name string) unit {
	return map[string]unit{
		"mm":      {name: "mm", divide: 1},
		"0.1 mm":  {name: "tenths of mm", divide: 10},
		"cm":      {name: "cm", scale: 10},
		"in":      {name: "inches", scale: 25.4},
		"0.01 in": {name: "hundredths of an inch", scale: 0.254},
		"C":       {name: "deg C", divide: 1},
		"0.1 C":   {name: "tenths of deg C", divide: 10},
		"F":       {name: "deg F", shift: -32, divide: 1.8},
	}[name]
}

// splitHeader takes the unit off a header: "Rain (mm)" is "rain" in "mm". The name comes
// back plain, the unit "" if we know none.
func splitHeader(header string) (name, unitName string) {
	h := strings.ToLower(strings.TrimSpace(header))
	if open := strings.LastIndexAny(h, "(["); open > 0 && strings.HasSuffix(h, map[byte]string{'(': ")", '[': "]"}[h[open]]) {
		inside := strings.TrimSpace(h[open+1 : len(h)-1])
		if u := unitOfSuffix(inside); u != "" {
			return plainName(h[:open]), u
		}
		if inside == "lst" || inside == "local" { // of times
			return plainName(h[:open]), ""
		}
	}
	name = plainName(h)
	for _, suffix := range []string{"tenths_mm", "tenths_c", "hundredths_in", "mm", "cm", "inches", "inch", "in", "degc", "deg_c", "c", "degf", "deg_f", "f", "utc"} {
		if base, ok := strings.CutSuffix(name, "_"+suffix); ok && base != "" {
			return base, unitOfSuffix(strings.ReplaceAll(suffix, "_", " "))
		}
	}
	return name, ""
}

// unitOfSuffix returns the unit that the end of a header names, or "".
func unitOfSuffix(s string) string {
	switch s {
	case "mm", "mm/h", "mm/d", "mm/day", "millimetres", "millimeters", "l/m2", "l/m\u00b2":
		return "mm"
	case "0.1 mm", "0.1mm", "tenths mm", "tenths of mm":
		return "0.1 mm"
	case "cm":
		return "cm"
	case "in", "inch", "inches":
		return "in"
	case "0.01 in", "0.01in", "hundredths in", "hundredths of in":
		return "0.01 in"
	case "c", "degc", "deg c", "\u00b0c", "\u00b0 c", "\u00bac", "degree c", "degrees c", "celsius":
		return "C"
	case "0.1 c", "tenths c", "tenths of c":
		return "0.1 C"
	case "f", "degf", "deg f", "\u00b0f", "\u00b0 f", "\u00baf", "degree f", "degrees f", "fahrenheit":
		return "F"
	case "utc":
		return "utc"
	}
	return ""
}

// plainName writes a header in lower case letters with single underscores.
func plainName(h string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(h), func(r rune) bool {
		return r == ' ' || r == '_' || r == '-' || r == '.' || r == '\t'
	}), "_")
}

// columnFor returns which of columns a plain header stands for, "" if none; with
// parts, dates may stand in columns of their own.
func columnFor(columns []RecordColumn, name string, parts bool) string {
	for _, part := range []bool{true, false} {
		for _, c := range columns {
			if c.Part == part && (parts || !part) && slices.Contains(c.Headers, name) {
				return c.Name
			}
		}
	}
	return ""
}

// hasYear reports whether a header names a year.
func hasYear(columns []RecordColumn, header []string) bool {
	return slices.ContainsFunc(header, func(h string) bool { return columnFor(columns, plainName(h), true) == "year" })
}

// rainAlone reports whether a header names rain where another may name snow too.
func rainAlone(header string) bool {
	name, _ := splitHeader(header)
	return name == "rain_sum" || name == "total_rain"
}

// stationName reports whether a plain header commonly tells stations apart.
func stationName(name string) bool {
	switch name {
	case "station", "station_id", "station_name", "stn", "site", "location", "origin", "name", "id", "city", "place", "gauge", "gauge_id", "gage":
		return true
	}
	return false
}

// quoted lists values for a message, at most twenty.
func quoted(values []string) string {
	const most = 20
	parts := make([]string, 0, most+1)
	for i, v := range values {
		if i == most {
			parts = append(parts, fmt.Sprintf("and %d more", len(values)-most))
			break
		}
		parts = append(parts, fmt.Sprintf("%q", v))
	}
	return strings.Join(parts, ", ")
}
