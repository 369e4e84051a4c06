package site

import (
	"fmt"
	"math"
	"time"
)

// solarDeclination returns the sun's declination at noon in Greenwich on a day
// of the year (1 to 366), radians:
// delta = asin(sin(e) sin(l)), l = L + 1.915 sin(g) + 0.020 sin(2g),
// L = 280.460 + 0.9856474 n, g = 357.528 + 0.9856003 n, e = 23.439 - 4e-7 n,
// all in degrees, n the days since noon of 1 January 2000. The day is taken in
// 2026, midway between two leap days: other years of the leap cycle differ by
// up to 0.75 day, at the equinoxes 0.3 degrees, and the calendar drifts by
// another 0.1 degrees in 30 years. Good to 0.01 degrees for that moment.
//
// declination, FAO-56 Eq. 24, stays with evapotranspiration, whose tables rest
// on it: it is up to 1.1 degrees off in autumn. The Fourier series of Spencer
// 1971, fitted to 1950, is by now up to 0.4 degrees off.
// Source: the low-precision formula of the Astronomical Almanac, in Michalsky
// 1988, Solar Energy 40:227-235.
func solarDeclination(dayOfYear int) float64 {
	const noon2026 = 26*365 + 7 - 1 // days from noon of 1 January 2000 to that of the day before 1 January 2026
	const deg = math.Pi / 180
	n := noon2026 + float64(dayOfYear)
	g := (357.528 + 0.9856003*n) * deg
	l := (280.460 + 0.9856474*n + 1.915*math.Sin(g) + 0.020*math.Sin(2*g)) * deg
	return math.Asin(math.Sin((23.439-4e-7*n)*deg) * math.Sin(l))
}

// direction is a unit vector to the sun, as it looks from the ground.
type direction struct{ east, north, up float64 }

// sunAt returns the direction of the sun:
// up = sin(phi) sin(delta) + cos(phi) cos(delta) cos(w),
// north = cos(phi) sin(delta) - sin(phi) cos(delta) cos(w),
// east = -cos(delta) sin(w), with phi the latitude, delta the declination and
// w the hour angle, all in radians, w 0 at noon and positive in the afternoon.
// Three components instead of two angles: no quadrant is lost, and poles and
// zenith need no special care. The sun is taken as a point and the air does
// not bend its light (0.5 degrees at the horizon, 0.2 at 5 degrees up).
// Source: the altitude is Eq. 1.6.5 of Duffie and Beckman, Solar engineering
// of thermal processes; the rest is the same turn of axes.
func sunAt(phi, delta, w float64) direction {
	sp, cp := math.Sincos(phi)
	sd, cd := math.Sincos(delta)
	sw, cw := math.Sincos(w)
	return direction{east: -cd * sw, north: cp*sd - sp*cd*cw, up: sp*sd + cp*cd*cw}
}

// hourAngleAbove returns the hour angle, radians, up to which the sun is higher than an
// altitude: cos(w) = (sin(a) - sin(phi) sin(delta)) / (cos(phi) cos(delta)); 0 if never,
// pi if always. Source: sunAt solved for w.
func hourAngleAbove(phi, delta, altitude float64) float64 {
	over := math.Sin(altitude) - math.Sin(phi)*math.Sin(delta)
	most := math.Cos(phi) * math.Cos(delta)
	if over >= most {
		return 0
	}
	if over <= -most {
		return math.Pi
	}
	return math.Acos(over / most)
}

func mustDay(dayOfYear int) {
	if dayOfYear < 1 || dayOfYear > 366 {
		panic(fmt.Sprintf("site: day %d of the year", dayOfYear))
	}
}

// monthOf returns the month of a day in a year without leap day; 366 is in December.
func monthOf(dayOfYear int) int {
	return int(time.Date(2001, 1, min(dayOfYear, 365), 0, 0, 0, 0, time.UTC).Month())
}
