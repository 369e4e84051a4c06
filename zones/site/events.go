package site

// leastEventMM is 0.1 in: a day with no more than this counts as dry.
const leastEventMM = 2.54

// Event95MM returns the 95th percentile, mm, of daily depths above 0.1 in, days with a
// missing hour left out, and how many days it rests on; 0 and 0 for none. Source: US EPA
// 2009, technical guidance on Section 438, method from memory: a spreadsheet's
// PERCENTILE, Hyndman and Fan's definition 7, place 1 + (n - 1) p.
func Event95MM(r *Record) (mm float64, days int) {
	var depths []float64
	for day := range r.Days {
		if depth, ok := r.DayRainMM(day); ok && depth > leastEventMM {
			depths = append(depths, depth)
		}
	}
	if len(depths) == 0 {
		return 0, 0
	}
	return quantile(depths, 1+float64(len(depths)-1)*0.95), len(depths)
}

// DayRainMM returns the rain of a day, mm, and whether all its hours have a value.
func (r *Record) DayRainMM(day int) (mm float64, whole bool) {
	whole = true
	for h := 24 * day; h < 24*day+24; h++ {
		mm += r.RainMM[h]
		whole = whole && !r.Missing[h]
	}
	return mm, whole
}

// WettestHour returns the deepest hourly rain, mm, and its hour, the first of equals; 0
// and -1 for none. In a daily record it comes from the pattern, not from a measurement.
func WettestHour(r *Record) (mm float64, hour int) {
	hour = -1
	for h, depth := range r.RainMM {
		if depth > mm {
			mm, hour = depth, h
		}
	}
	return mm, hour
}
