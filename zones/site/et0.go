package site

import (
	"fmt"
	"math"

	"hollowbed/zones/table"
)

// mmPerMJ turns energy in MJ/m2 into the depth of water, mm, that it
// evaporates: 1 / 2.45. Source: FAO-56 Eq. 20 and Table 3.
const mmPerMJ = 0.408

// checkLatitude returns an error for a latitude that is no latitude.
func checkLatitude(latDeg float64) error {
	if !(latDeg >= -90 && latDeg <= 90) {
		return table.Faults{{Name: "latitude", Value: fmt.Sprint(latDeg), Want: "want degrees from -90 (south) to 90 (north)"}}
	}
	return nil
}

// mustLatitude is in radians; it panics on what its caller should have refused.
func mustLatitude(latDeg float64) float64 {
	if err := checkLatitude(latDeg); err != nil {
		panic("site: " + err.Error())
	}
	return latDeg * math.Pi / 180
}

// inverseDistance returns the relative inverse distance of earth and sun:
// dr = 1 + 0.033 cos(2 pi J / 365), J the day of the year, 1 to 366.
// Source: FAO-56 (Allen and others 1998) Eq. 23.
func inverseDistance(dayOfYear int) float64 {
	return 1 + 0.033*math.Cos(2*math.Pi*float64(dayOfYear)/365)
}

// declination returns the height of the sun over the equator, radians:
// delta = 0.409 sin(2 pi J / 365 - 1.39), J the day of the year, 1 to 366.
// Source: FAO-56 Eq. 24.
func declination(dayOfYear int) float64 {
	return 0.409 * math.Sin(2*math.Pi*float64(dayOfYear)/365-1.39)
}

// sunsetAngle returns the hour angle of sunset, radians:
// ws = arccos(-tan(phi) tan(delta)), phi the latitude, delta the declination.
// Where the sun does not set the argument falls below -1 and ws is pi; where it
// does not rise the argument exceeds 1 and ws is 0. It panics outside -90 to
// 90 degrees. Source: FAO-56 Eq. 25; the two limits are arithmetic.
func sunsetAngle(latDeg float64, dayOfYear int) float64 {
	phi := mustLatitude(latDeg)
	x := -math.Tan(phi) * math.Tan(declination(dayOfYear))
	return math.Acos(math.Max(-1, math.Min(1, x)))
}

// DaylightHours returns the hours from sunrise to sunset, N = 24 ws / pi, with
// a flat horizon and no twilight: 0 to 24. Source: FAO-56 Eq. 34.
func DaylightHours(latDeg float64, dayOfYear int) float64 {
	return 24 / math.Pi * sunsetAngle(latDeg, dayOfYear)
}

// extraterrestrial returns the sun's energy on a level surface above the air,
// MJ/m2 a day: Ra = 24 x 60 / pi Gsc dr (ws sin(phi) sin(delta) +
// cos(phi) cos(delta) sin(ws)), with Gsc 0.0820 MJ/m2 a minute. It is never
// below 0 nor NaN. It panics outside -90 to 90 degrees.
// Source: FAO-56 Eq. 21 to 25.
func extraterrestrial(latDeg float64, dayOfYear int) float64 {
	const gsc = 0.0820
	phi := mustLatitude(latDeg)
	delta := declination(dayOfYear)
	ws := sunsetAngle(latDeg, dayOfYear)
	ra := 24 * 60 / math.Pi * gsc * inverseDistance(dayOfYear) *
		(ws*math.Sin(phi)*math.Sin(delta) + math.Cos(phi)*math.Cos(delta)*math.Sin(ws))
	return math.Max(0, ra)
}

// hargreaves returns reference evapotranspiration, mm/d:
// ET0 = 0.0023 (Tmean + 17.8) sqrt(Tmax - Tmin) Ra, temperatures in deg C,
// Tmean = (Tmax + Tmin) / 2, Ra = 0.408 times raMJ (MJ/m2 a day). Held at 0
// when Tmean is below -17.8, where the formula turns negative; NaN if a
// temperature is NaN or tmin exceeds tmax. It does not know wind or humidity
// and is best over five days or more. Source: FAO-56 Eq. 52.
func hargreaves(tminC, tmaxC, raMJ float64) float64 {
	et0 := 0.0023 * ((tminC+tmaxC)/2 + 17.8) * math.Sqrt(tmaxC-tminC) * mmPerMJ * raMJ
	if et0 < 0 {
		return 0
	}
	return et0
}

// FillET0 gives every day without reference evapotranspiration one by hargreaves, after
// FillTemperature; without any temperature gaps are filled as those of temperature. A
// record with neither is refused with what to add.
func (r *Record) FillET0(latDeg float64) error {
	if err := checkLatitude(latDeg); err != nil {
		return err
	}
	empty := r.countDays(func(d Day) bool { return math.IsNaN(d.ET0MM) })
	if empty == 0 {
		return nil
	}
	r.FillTemperature()
	if r.DaysWithoutTemperature() == 0 {
		for i := range r.Days {
			d := &r.Days[i]
			if math.IsNaN(d.ET0MM) {
				d.ET0MM = hargreaves(d.TMinC, d.TMaxC, extraterrestrial(latDeg, r.dayTime(i).YearDay()))
			}
		}
		r.note("evapotranspiration of %s from temperature (Hargreaves, FAO-56 Eq. 52)%s", count(empty, "day"), r.hargreavesBias())
		return nil
	}
	if empty == len(r.Days) {
		return table.Faults{{File: r.Source, Name: "et0", Want: "no evapotranspiration and no daily temperatures: add an et0 column, " +
			"or tmin and tmax columns (or hourly temp), or et0_by_month in garden.yaml"}}
	}
	short, long := r.fillDays(func(d *Day) *float64 { return &d.ET0MM })
	r.note("evapotranspiration: %s filled between neighbours, %s from the mean of the calendar day", count(short, "day"), count(long, "day"))
	return nil
}

// hargreavesBias says how far ET0 by hargreaves is off at places as humid as this one: 25
// % too high on the mean of humid places and 9 % too low on that of arid ones (Jensen,
// Burman and Allen 1990, ASCE Manual 70, from memory). Humid and arid by rain over ET0,
// 0.65 and 0.2 (UNEP 1992, World Atlas of Desertification, from memory). "" without whole
// months.
func (r *Record) hargreavesBias() string {
	rain, et0 := r.meanYearMM(), 0.0
	for _, d := range r.Days {
		et0 += d.ET0MM / float64(len(r.Days)) * 365.2425
	}
	switch wet := rain / et0; {
	case wet >= 0.65:
		return ": too high by a quarter on the mean of humid places such as this, by less where it is windy"
	case wet < 0.2:
		return ": too low by a tenth on the mean of arid places such as this, by more where it is windy"
	case wet >= 0.2:
		return ": neither humid nor arid, so up to a quarter too high or a tenth too low"
	}
	return ""
}

// FillET0Monthly gives every day without ET0 the figure of its month, mm/d, January
// first. It panics on a figure below 0 or NaN.
func (r *Record) FillET0Monthly(mmPerDay [12]float64) {
	for _, v := range mmPerDay {
		if !(v >= 0) || math.IsInf(v, 0) {
			panic(fmt.Sprintf("site: monthly evapotranspiration %v", v))
		}
	}
	filled := 0
	for i := range r.Days {
		if math.IsNaN(r.Days[i].ET0MM) {
			r.Days[i].ET0MM = mmPerDay[r.dayTime(i).Month()-1]
			filled++
		}
	}
	if filled > 0 {
		r.note("evapotranspiration of %s from the monthly figures", count(filled, "day"))
	}
}
