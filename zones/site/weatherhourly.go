package site

import (
	"cmp"
	"fmt"
	"math"
	"time"
)

// Limits past any rain measured; see ReadRecord.
const (
	maxHourMM = 500
	maxDayMM  = 2000
)

// leastTempHours is how many hours of a day must have a temperature for its
// lowest and highest to count. Common practice, no source.
const leastTempHours = 18

// emptyRecord returns a record of whole days without figures.
func (wr *weatherReader) emptyRecord(step string, firstDay, days int64, offset int) *Record {
	zone := time.FixedZone("local standard time", offset)
	if wr.f.Zone != nil {
		zone = time.FixedZone(offsetName(int64(offset)), offset)
	}
	r := &Record{
		Source:  wr.name,
		Start:   time.Unix(firstDay*daySeconds-int64(offset), 0).In(zone),
		Step:    step,
		RainMM:  make([]float64, 24*days),
		Missing: make([]bool, 24*days),
		Days:    make([]Day, days),
		Notes:   wr.notes,
	}
	for i := range r.Days {
		r.Days[i] = Day{TMinC: math.NaN(), TMaxC: math.NaN(), ET0MM: math.NaN()}
	}
	if wr.f.AbsentRow != "dry" {
		for h := range r.Missing {
			r.Missing[h] = true
		}
	}
	return r
}

// hourly makes a record of rows that are an hour or less apart.
func (wr *weatherReader) hourly(offset int) *Record {
	firstHour := floorDiv(wr.rows[0].wall, 3600)
	lastHour := floorDiv(wr.rows[len(wr.rows)-1].wall, 3600)
	firstDay, endDay := floorDiv(firstHour+23, 24), floorDiv(lastHour+1, 24)
	if endDay <= firstDay {
		wr.fault(0, 0, "", "", "less than one whole day, midnight to midnight in local standard time: want at least a day")
		return nil
	}
	r := wr.emptyRecord("hourly", firstDay, endDay-firstDay, offset)
	shared, sameHour := 0, int64(math.MinInt64)
	for i := range wr.rows {
		row := &wr.rows[i]
		hour := floorDiv(row.wall, 3600)
		again := hour == sameHour
		sameHour = hour
		h := hour - 24*firstDay
		if h < 0 || h >= int64(len(r.RainMM)) {
			wr.checkDepth(row, row.rain, maxHourMM, "hour")
			continue
		}
		if again {
			shared++
			r.Missing[h] = r.Missing[h] || math.IsNaN(row.rain)
			r.RainMM[h] += row.rain
		} else {
			r.Missing[h], r.RainMM[h] = math.IsNaN(row.rain), row.rain
		}
		if r.Missing[h] {
			r.RainMM[h] = 0
		}
		wr.checkDepth(row, r.RainMM[h], maxHourMM, "hour")
	}
	wr.dailyFromHourly(r, firstDay)
	if before, after := 24*firstDay-firstHour, lastHour+1-24*endDay; before > 0 || after > 0 {
		r.note("cut to whole days: %s at the beginning and %s at the end left out", count(int(before), "hour"), count(int(after), "hour"))
	}
	if shared > 0 {
		r.note("%s in an hour that already had one: their rain is added up", count(shared, "reading"))
	}
	wr.summary(r)
	return r
}

// checkDepth refuses rain deeper than any that was measured in such a time.
func (wr *weatherReader) checkDepth(row *reading, mm, most float64, per string) {
	if !(mm > most) {
		return
	}
	cure := ": is the unit right?"
	if value := wr.asWritten(row.rain); nines(value) >= 3 {
		cure = fmt.Sprintf("; if %s means no value, %s", value, setList("missing", with(wr.f.Missing, value)))
	}
	wr.fault(int(row.line), 0, wr.header[wr.columns["rain"]], fmt.Sprintf("%.0f mm", mm),
		fmt.Sprintf("want no more than %.0f mm of rain in one %s", most, per)+cure)
}

// dailyFromHourly takes lowest and highest temperature and the sum of ET0 of each day.
func (wr *weatherReader) dailyFromHourly(r *Record, firstDay int64) {
	temps, et0s := make([]int, len(r.Days)), make([]int, len(r.Days))
	lastTemp, lastET0 := int64(math.MinInt64), int64(math.MinInt64)
	for i := range wr.rows {
		row := &wr.rows[i]
		hour := floorDiv(row.wall, 3600)
		day := floorDiv(hour, 24) - firstDay
		if day < 0 || day >= int64(len(r.Days)) {
			continue
		}
		d := &r.Days[day]
		low, high := lesser(row.temp, row.tmin), greater(row.temp, row.tmax)
		if d.TMinC, d.TMaxC = lesser(d.TMinC, low), greater(d.TMaxC, high); !math.IsNaN(low) && !math.IsNaN(high) && hour != lastTemp {
			temps[day]++
			lastTemp = hour
		}
		if !math.IsNaN(row.et0) {
			if hour != lastET0 {
				et0s[day]++
				lastET0 = hour
			}
			if math.IsNaN(d.ET0MM) {
				d.ET0MM = 0
			}
			d.ET0MM += row.et0
		}
	}
	thin := 0
	for day := range r.Days {
		d := &r.Days[day]
		if temps[day] < leastTempHours {
			if temps[day] > 0 {
				thin++
			}
			d.TMinC, d.TMaxC = math.NaN(), math.NaN()
		}
		if et0s[day] < 24 {
			d.ET0MM = math.NaN()
		}
		d.ET0MM = math.Max(0, d.ET0MM) // night hours may be slightly negative
	}
	if thin > 0 {
		r.note("%s with fewer than %d hours of temperature: left without", count(thin, "day"), leastTempHours)
	}
}

// lesser returns the smaller of two, or the one that is not NaN.
func lesser(a, b float64) float64 {
	if a < b || math.IsNaN(b) {
		return a
	}
	return b
}

// greater returns the larger of two, or the one that is not NaN.
func greater(a, b float64) float64 {
	if a > b || math.IsNaN(b) {
		return a
	}
	return b
}

// daily makes a record of rows that are whole days.
func (wr *weatherReader) daily(offset int) *Record {
	pattern := cmp.Or(wr.f.Pattern, Patterns()[0])
	share, _ := PatternShares(pattern) // Check has seen the name
	firstDay := floorDiv(wr.rows[0].wall, daySeconds)
	endDay := floorDiv(wr.rows[len(wr.rows)-1].wall, daySeconds) + 1
	r := wr.emptyRecord("daily", firstDay, endDay-firstDay, offset)
	r.Pattern = pattern
	for i := range wr.rows {
		row := &wr.rows[i]
		day := floorDiv(row.wall, daySeconds) - firstDay
		wr.checkDepth(row, row.rain, maxDayMM, "day")
		if row.et0 < 0 {
			wr.fault(int(row.line), 0, wr.header[wr.columns["et0"]], fmt.Sprint(row.et0), "want 0 or more")
		}
		missing := math.IsNaN(row.rain)
		for h := 24 * day; h < 24*day+24; h++ {
			r.Missing[h] = missing
		}
		if !missing {
			spreadDay(r.RainMM[24*day:24*day+24], row.rain, &share)
		}
		r.Days[day] = Day{TMinC: row.tmin, TMaxC: row.tmax, ET0MM: row.et0}
	}
	r.note("daily rain is spread over 24 hours by the pattern %s", pattern)
	_, hasMean := wr.columns["temp"]
	_, hasLow := wr.columns["tmin"]
	if hasMean && !hasLow {
		r.note("a daily mean temperature alone gives no evapotranspiration: add tmin and tmax")
	}
	wr.summary(r)
	return r
}

// summary notes what was counted.
func (wr *weatherReader) summary(r *Record) {
	if wr.f.Zeros != "real" {
		r.markHoles()
	}
	if wr.traces > 0 {
		r.note("%s of rain, taken as 0 mm", count(wr.traces, "trace"))
	}
	if n := r.MissingHours(); n > 0 {
		r.note("%s of %d without a rain value, the longest run %d", count(n, "hour"), len(r.Missing), r.LongestGapHours())
	}
	if wr.f.AbsentRow == "dry" {
		r.note("times without a row are taken as dry")
	}
}
