package climate

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// MonthlyFormat says how a table of twelve months is written, where its header does not.
type MonthlyFormat struct {
	RainUnit, TempUnit string  // "mm", "cm" or "in"; "C" or "F"; "" for what the header says
	WetDayMM           float64 // from how much on a day of rain was counted; NaN: 1 mm
}

// MonthlyColumns are the columns of a table of months, units left off.
func MonthlyColumns() []string { return []string{"month", "rain", "rain_days", "tmax", "tmin"} }

// ReadMonthly reads a climate from twelve lines: month (1 to 12, or its name), rain
// in the month, days of rain in it, and the mean highest and lowest temperature of
// the day. Units stand in the header (rain_mm, rain_in, tmax_c, tmax_f) or in f.
//
// The chances of a wet day are 0.75 f after a dry one and 0.25 + 0.75 f after a wet
// one, f the share of wet days; amounts are those of a gamma law with the scale
// -2.16 + 1.83 m, m the mean of a wet day in mm, but no less than half of m (Geng,
// Penning de Vries and Supit 1986, Agricultural and Forest Meteorology 36:363). The
// spread of temperatures is 4.0 - 0.094 t + 0.094 r for the highest and
// 3.9 - 0.089 t + 0.071 r for the lowest, t the month's mean and r the difference of
// the warmest and the coldest month, deg C: least squares over the built-in
// stations, within 0.9 deg C.
func ReadMonthly(name string, in io.Reader, f MonthlyFormat) (Normals, error) {
	t, err := table.Read(name, in)
	if err != nil {
		return Normals{}, err
	}
	r := &monthlyReader{name: name, table: t, at: map[string]int{}, f: f}
	r.header()
	if len(r.faults) > 0 {
		return Normals{}, r.faults
	}
	var rain, wet, high, low [12]float64
	seen := [12]bool{}
	for row := range t.Rows {
		m, ok := r.month(row)
		if !ok {
			continue
		}
		if seen[m] {
			r.fault(row, "month", "the month is there before: expected each once")
		}
		seen[m] = true
		days := float64(monthDays()[m])
		rain[m] = r.rain(r.number(row, "rain", 0, 3000))
		wet[m] = r.number(row, "rain_days", 0, days)
		high[m], low[m] = r.celsius(r.number(row, "tmax", -90, 150)), r.celsius(r.number(row, "tmin", -90, 150))
		if low[m] > high[m] {
			r.fault(row, "tmin", "more than tmax: expected the mean lowest temperature of the day")
		}
		if (rain[m] > 0) != (wet[m] > 0) {
			r.fault(row, "rain_days", "rain and no days of it, or days and no rain: expected both or neither")
		}
	}
	for m, ok := range seen {
		if !ok && len(r.faults) == 0 {
			r.missing("month", strconv.Itoa(m+1), "not there: expected twelve months")
		}
	}
	if len(r.faults) > 0 {
		return Normals{}, r.faults
	}
	least := f.WetDayMM
	if math.IsNaN(least) {
		least = 1
	}
	return fromMonths(rain, wet, high, low, least), nil
}

// fromMonths makes normals of rain, mm, days of rain, and temperatures, deg C.
func fromMonths(rain, wet, high, low [12]float64, leastMM float64) Normals {
	n := Normals{WetDayMM: leastMM}
	var mean [12]float64
	for m := range mean {
		mean[m] = (high[m] + low[m]) / 2
	}
	swing := slices.Max(mean[:]) - slices.Min(mean[:])
	for m := range n.Months {
		share := min(wet[m]/float64(monthDays()[m]), 0.98)
		month := Month{
			WetAfterDry: float64(0.75 * share), WetAfterWet: 0.25 + float64(0.75*share), WetMM: leastMM,
			TMaxC: high[m], TMinC: low[m], HalfHourMMH: math.NaN(),
			TMaxSD: max(4.0-float64(0.094*mean[m])+float64(0.094*swing), 1),
			TMinSD: max(3.9-float64(0.089*mean[m])+float64(0.071*swing), 1),
		}
		if wet[m] > 0 {
			month.WetMM = rain[m] / wet[m]
		}
		scale := max(float64(1.83*month.WetMM)-2.16, month.WetMM/2)
		month.WetSDMM = math.Sqrt(month.WetMM * scale)
		month.WetSkew = 2 * math.Sqrt(scale/month.WetMM)
		n.Months[m] = month
	}
	return n
}

// monthlyReader is the state of reading a table of months.
type monthlyReader struct {
	name               string
	table              *table.Table
	at                 map[string]int // our column to its place
	rainUnit, tempUnit string
	f                  MonthlyFormat
	faults             table.Faults
}

func (r *monthlyReader) fault(row int, name, want string) {
	r.faults = append(r.faults, r.table.Fault(row, r.at[name], want))
}

func (r *monthlyReader) missing(name, value, want string) {
	r.faults = append(r.faults, table.Fault{File: r.name, Line: 1, Column: 1, Name: name, Value: value, Want: want})
}

// header finds the columns and their units.
func (r *monthlyReader) header() {
	r.rainUnit, r.tempUnit = r.f.RainUnit, r.f.TempUnit
	for i, h := range r.table.Header {
		name := strings.Join(strings.FieldsFunc(strings.ToLower(h), func(c rune) bool { return strings.ContainsRune(" _-()[]\u00b0", c) }), "_")
		for _, unit := range []string{"mm", "cm", "in", "inches", "c", "f"} {
			base, cut := strings.CutSuffix(name, "_"+unit)
			if !cut || !slices.Contains(MonthlyColumns(), base) {
				continue
			}
			name = base
			if unit == "c" || unit == "f" {
				r.tempUnit = strings.ToUpper(unit)
			} else {
				r.rainUnit = strings.TrimSuffix(unit, "ches")
			}
		}
		if slices.Contains(MonthlyColumns(), name) {
			r.at[name] = i
		}
	}
	for _, name := range MonthlyColumns() {
		if _, ok := r.at[name]; !ok {
			r.missing(name, "", "no such column: expected "+strings.Join(MonthlyColumns(), ", ")+", with units such as rain_mm and tmax_c")
		}
	}
	if r.rainUnit == "" && len(r.faults) == 0 {
		r.missing("rain", "", "no unit: expected a header such as rain_mm or rain_in, or weather.rain_unit in garden.yaml")
	}
	if r.tempUnit == "" && len(r.faults) == 0 {
		r.missing("tmax", "", "no unit: expected a header such as tmax_c or tmax_f, or weather.temp_unit in garden.yaml")
	}
}

func (r *monthlyReader) rain(v float64) float64 {
	switch r.rainUnit {
	case "cm":
		return float64(v * 10)
	case "in":
		return float64(v * 25.4)
	}
	return v
}

func (r *monthlyReader) celsius(v float64) float64 {
	if r.tempUnit == "F" {
		return (v - 32) / 1.8
	}
	return v
}

// month reads the month of a row, from 0.
func (r *monthlyReader) month(row int) (int, bool) {
	text := strings.TrimSpace(r.table.Rows[row][r.at["month"]])
	if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= 12 {
		return n - 1, true
	}
	for i, name := range []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"} {
		if strings.HasPrefix(strings.ToLower(text), name) {
			return i, true
		}
	}
	if text != "" {
		r.fault(row, "month", "expected 1 to 12, or its name")
	}
	return 0, false
}

func (r *monthlyReader) number(row int, name string, low, high float64) float64 {
	text := strings.TrimSpace(r.table.Rows[row][r.at[name]])
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= low && v <= high) {
		r.fault(row, name, fmt.Sprintf("expected a number from %v to %v", low, high))
	}
	return v
}
