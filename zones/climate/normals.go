// Package climate makes years of weather from what is known of a place by the
// month. It has the months of 2,649 stations of the United States built in,
// reads twelve lines of any climate page, and takes months off a record; it
// makes days and their hours, and knows nothing of gardens.
//
// Years are made as a weather generator of Richardson's kind makes them
// (Richardson 1981, Water Resources Research 17:182; Richardson and Wright
// 1984, WGEN, USDA ARS-8): a chain of wet and dry days, a skewed amount for
// each wet day, and temperatures that remember yesterday and know wet from dry.
// Such generators are known to make years too much alike (Katz and Parlange
// 1998, Journal of Climate 11:591; Wilks 1999, Agricultural and Forest
// Meteorology 96:85). Here the amounts remember, too: see memory.
package climate

import "math"

// Month is what is known of a month of a climate.
type Month struct {
	WetAfterDry, WetAfterWet float64 // chance of a wet day after a dry one, after a wet one
	WetMM, WetSDMM, WetSkew  float64 // rain of a wet day: mean, standard deviation, skew
	TMaxC, TMinC             float64 // mean highest and lowest temperature of the day
	TMaxSD, TMinSD           float64 // standard deviation of single days
	HalfHourMMH              float64 // month's greatest half-hour rate, mean of the years; NaN if not known
}

// Normals are a climate by month, January first.
type Normals struct {
	Months   [12]Month
	WetDayMM float64 // from how much on a day counts as wet
}

// WetShare returns the share of days that are wet: p / (1 + p - q), p and q the
// chances of a wet day after a dry one and after a wet one.
func (m Month) WetShare() float64 { return m.WetAfterDry / (1 + m.WetAfterDry - m.WetAfterWet) }

// RainMM returns the mean rain of a month of that many days.
func (m Month) RainMM(days float64) float64 {
	if m.WetAfterDry == 0 {
		return 0
	}
	return float64(days*m.WetShare()) * m.WetMM
}

// YearRainMM returns the mean rain of a year.
func (n Normals) YearRainMM() float64 {
	sum := 0.0
	for i, days := range monthDays() {
		sum += n.Months[i].RainMM(float64(days))
	}
	return sum - n.Months[1].RainMM(0.75) // of the 29 days of February
}

// Raised returns the climate of a place that is higher by so many metres: 0.0065
// deg C colder for each, the lapse of the standard atmosphere (ISO 2533). Rain is
// left as it is. Single days and nights may lapse otherwise; valleys do.
func (n Normals) Raised(byM float64) Normals {
	if math.IsNaN(byM) {
		return n
	}
	for i := range n.Months {
		n.Months[i].TMaxC -= float64(0.0065 * byM)
		n.Months[i].TMinC -= float64(0.0065 * byM)
	}
	return n
}
