package climate

import (
	"math"

	"hollowbed/zones/site"
)

// Fit takes the months off a record, less days that touch a gap. ok is false if some
// month has fewer than so many wet days that its figures would mean nothing. Half-hour
// rates are not known.
func Fit(rec *site.Record, wetDayMM float64) (n Normals, ok bool) {
	n, ok = Normals{WetDayMM: wetDayMM}, true
	var after [12][2][2]float64 // wet or not: yesterday, today
	var rain, high, low [12]moments
	before := math.NaN()
	for i, d := range rec.Days {
		m := rec.Start.AddDate(0, 0, i).Month() - 1
		mm, whole := rec.DayRainMM(i)
		if !whole {
			mm = math.NaN()
		}
		if !math.IsNaN(mm) && !math.IsNaN(before) {
			after[m][isWet(before, wetDayMM)][isWet(mm, wetDayMM)]++
		}
		if mm >= wetDayMM {
			rain[m].add(mm)
		}
		if !math.IsNaN(d.TMaxC) && !math.IsNaN(d.TMinC) {
			high[m].add(d.TMaxC)
			low[m].add(d.TMinC)
		}
		before = mm
	}
	for m := range n.Months {
		a := after[m]
		ok = ok && len(high[m]) > 20 && a[0][0]+a[0][1] > 0
		month := Month{
			WetAfterDry: a[0][1] / max(a[0][0]+a[0][1], 1), WetAfterWet: a[1][1] / max(a[1][0]+a[1][1], 1),
			WetMM: wetDayMM, HalfHourMMH: math.NaN(),
		}
		if len(rain[m]) > 0 {
			month.WetMM, month.WetSDMM, month.WetSkew = rain[m].law()
		}
		month.TMaxC, month.TMaxSD, _ = high[m].law()
		month.TMinC, month.TMinSD, _ = low[m].law()
		n.Months[m] = month
	}
	return n, ok
}

func isWet(mm, least float64) int {
	if mm >= least {
		return 1
	}
	return 0
}

// moments are values of which mean, standard deviation and skew are asked.
type moments []float64

func (m *moments) add(v float64) { *m = append(*m, v) }

// law returns mean, standard deviation and skew; 0 where there are too few.
func (m moments) law() (mean, sd, skew float64) {
	n := float64(len(m))
	for _, v := range m {
		mean += v / n
	}
	for _, v := range m {
		sd += float64((v-mean)*(v-mean)) / n
		skew += float64((v-mean)*(v-mean)*(v-mean)) / n
	}
	if sd = math.Sqrt(sd); sd > 0 {
		skew /= sd * sd * sd
	}
	return mean, sd, skew
}
