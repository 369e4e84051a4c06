// Package site holds what is given about a place: the weather record, the
// soil, the soak test and the sun. It reads and converts; it decides nothing.
package site

import "time"

// Record is a weather record on a gapless hourly time line in local standard
// time: hour i begins at Start + i hours, and day j is hours 24j to 24j+23.
// RainMM and Missing have 24 entries for every entry of Days.
type Record struct {
	Source  string    // file name as shown to people
	Start   time.Time // 00:00 of the first day, in a zone of fixed offset
	Step    string    // step of the source: "hourly" or "daily"
	Climate string    // the climate that made it, wholly or in part, and that it is no record; "" for a record
	Pattern string    // 24-hour pattern that daily rain was spread by; "" if hourly
	RainMM  []float64 // mm in the hour; 0 where Missing
	Missing []bool    // the source has no rain value for this hour
	Days    []Day     // one per 24 hours
	Notes   []string  // what the reader found and did, for people to read
	Doubts  []string  // how far made years are known to be off, for people to read
	melted  bool      // RainMM is what reaches the ground, not what fell
}

// Day is the part of a record that is kept by the day; NaN where not known.
type Day struct {
	TMinC float64 // lowest air temperature, deg C
	TMaxC float64 // highest air temperature, deg C
	ET0MM float64 // reference evapotranspiration, mm/d
}
