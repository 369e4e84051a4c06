package site

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const rad = math.Pi / 180

// angles gives altitude and azimuth, degrees clockwise from north.
func angles(d direction) (altitude, azimuth float64) {
	azimuth = math.Mod(math.Atan2(d.east, d.north)/rad+360, 360)
	return math.Asin(d.up) / rad, azimuth
}

// apart is the angle between two directions given by altitude and azimuth,
// degrees. Close to the zenith azimuths alone mean little.
func apart(alt1, az1, alt2, az2 float64) float64 {
	h := math.Pow(math.Sin((alt1-alt2)/2*rad), 2) +
		math.Cos(alt1*rad)*math.Cos(alt2*rad)*math.Pow(math.Sin((az1-az2)/2*rad), 2)
	return 2 * math.Asin(math.Sqrt(h)) / rad
}

// Duffie and Beckman, Solar engineering of thermal processes, Example 1.6.1:
// 43 deg N, 13 February, 10:30 solar time, a surface sloped 45 deg and facing
// 15 deg west of south: cosine of the angle of incidence 0.817, found there
// with a declination of -14 deg.
func TestDuffieBeckmanExample161(t *testing.T) {
	incidence := func(s direction) float64 {
		normal := direction{east: -math.Sin(45*rad) * math.Sin(15*rad), north: -math.Sin(45*rad) * math.Cos(15*rad), up: math.Cos(45 * rad)}
		return s.east*normal.east + s.north*normal.north + s.up*normal.up
	}
	assert.InDelta(t, 0.817, incidence(sunAt(43*rad, -14*rad, -22.5*rad)), 0.0005)
	// The declination of the day itself is -13.4 deg, which makes 0.003.
	assert.InDelta(t, 0.817, incidence(sunAt(43*rad, solarDeclination(44), -22.5*rad)), 0.004)
}

// Worked examples in print, each with the declination it uses.
func TestPrintedSunPositions(t *testing.T) {
	for _, c := range []struct {
		source                     string
		lat, declination, solarH   float64
		altitude, azimuth          float64
		altitudeWithin, azimuthTol float64
	}{
		// A textbook of solar engineering (Kalogirou 2009, Eq. 2.5 to 2.15 by its
		// numbers): 40 deg N, 15 June, two hours after noon, altitude 59.75. It
		// prints sin(z) = sin(30) cos(23.35) / cos(59.75) = 0.911: z 65.67 deg.
		{"40 N, day 167", 40, 23.35, 14, 59.75, 180 + 65.67, 0.01, 0.05},
		// University of Illinois, ECE 333, homework 6, spring 2010, solutions.
		{"30 N, 1 March 10:00", 30, -8.3, 10, 42.1, 180 - 41.8, 0.05, 0.05},
		// Here the arcsine alone gives 79.6 deg; the sun is past west, to the north.
		{"38 N, 1 July 17:00", 38, 23.1, 17, 25.4, 180 + 100.4, 0.05, 0.1},
		{"68 N, 21 December 11:00", 68, -23.45, 11, -2.12, 180 - 13.75, 0.01, 0.05},
		// Reda and Andreas 2008, NREL/TP-560-34302, Table A5.1 (from memory, and
		// confirmed by the documentation of libraries made after it): 39.742476 N,
		// declination -9.316179, hour angle 11.10629 deg, zenith 50.11162 with
		// 0.0167 of refraction, azimuth 194.34024.
		{"39.74 N, 17 October 2003", 39.742476, -9.316179, 12 + 11.10629/15, 90 - 50.11162 - 0.0167, 194.34024, 0.001, 0.001},
		// Tables of solar position at 40 deg N in handbooks of architecture and
		// air conditioning (from memory), 21 June, 21 March and 21 December.
		{"40 N, 21 June 6:00", 40, 23.45, 6, 14.8, 180 - 108.4, 0.06, 0.06},
		{"40 N, 21 June 8:00", 40, 23.45, 8, 37.4, 180 - 90.7, 0.06, 0.06},
		{"40 N, 21 June 11:00", 40, 23.45, 11, 69.2, 180 - 41.9, 0.06, 0.06},
		{"40 N, 21 June 12:00", 40, 23.45, 12, 73.5, 180, 0.06, 0.06},
		{"40 N, 21 March 8:00", 40, 0, 8, 22.5, 180 - 69.6, 0.06, 0.06},
		{"40 N, 21 March 16:00", 40, 0, 16, 22.5, 180 + 69.6, 0.06, 0.06},
		{"40 N, 21 December 9:00", 40, -23.45, 9, 14.0, 180 - 41.9, 0.06, 0.06},
		{"40 N, 21 December 12:00", 40, -23.45, 12, 26.6, 180, 0.06, 0.06},
	} {
		altitude, azimuth := angles(sunAt(c.lat*rad, c.declination*rad, (c.solarH-12)*15*rad))
		assert.InDelta(t, c.altitude, altitude, c.altitudeWithin, c.source)
		assert.InDelta(t, c.azimuth, azimuth, c.azimuthTol, c.source)
	}
	// The textbook's day, with our declination: 23.31 for its 23.35 deg.
	altitude, _ := sunPosition(40, 167, 14)
	assert.InDelta(t, 59.75, altitude, 0.06)
	// Its day length, 14.83 h.
	assert.InDelta(t, 14.83, 24/math.Pi*hourAngleAbove(40*rad, 23.35*rad, 0), 0.005)
	assert.InDelta(t, 14.83, 24/math.Pi*hourAngleAbove(40*rad, solarDeclination(167), 0), 0.01)
}

// libraryRow is one row of testdata/sun/positions.csv; its README says how the
// table was made.
type libraryRow struct {
	at                                     time.Time
	day                                    int
	lat, lon, solarH, declination          float64
	altitude, azimuth, altitude2, azimuth2 float64
}

func libraryRows(t *testing.T) []libraryRow {
	f, err := os.Open("testdata/sun/positions.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 289)
	var out []libraryRow
	for _, row := range rows[1:] {
		var v [10]float64
		for i := 1; i < 10; i++ {
			v[i], err = strconv.ParseFloat(row[i], 64)
			require.NoError(t, err)
		}
		at, err := time.Parse("2006-01-02T15:04Z", row[0])
		require.NoError(t, err)
		out = append(out, libraryRow{at, int(v[1]), v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9]})
	}
	return out
}

// Two libraries of general purpose. At the same solar time and with the
// declination of the very moment the geometry agrees to 0.0001 deg. With the
// declination of the day, what is left is how far the declination moves, at
// most 0.40 deg a day, between the moment and the one it is computed for: noon
// in Greenwich, in the middle of the leap cycle. That is 0.3 deg in 2026 at
// any longitude and hour; up to half a day more, or 0.2 deg, in other years.
func TestSunPositionAgainstLibraries(t *testing.T) {
	worstGeometry, worst2026, worstOther, worstSecond := 0.0, 0.0, 0.0, 0.0
	for _, r := range libraryRows(t) {
		altitude, azimuth := angles(sunAt(r.lat*rad, r.declination*rad, (r.solarH-12)*15*rad))
		worstGeometry = max(worstGeometry, apart(altitude, azimuth, r.altitude, r.azimuth))
		altitude, azimuth = sunPosition(r.lat, r.day, r.solarH)
		off := apart(altitude, azimuth, r.altitude, r.azimuth)
		gap := r.at.Sub(time.Date(2026, 1, r.day, 12, 0, 0, 0, time.UTC)).Hours()/24 - 365.2422*float64(r.at.Year()-2026)
		assert.LessOrEqual(t, off, 0.01+0.40*math.Abs(gap), "%v at %g deg", r.at, r.lat)
		if r.at.Year() != 2026 {
			worstOther = max(worstOther, off)
			continue
		}
		worst2026 = max(worst2026, off)
		if r.altitude > 20 { // the second adds refraction, less than 0.05 deg up there
			worstSecond = max(worstSecond, apart(altitude, azimuth, r.altitude2, r.azimuth2))
		}
	}
	t.Logf("geometry %.4f, 2026 %.3f, other years %.3f, second library %.3f deg", worstGeometry, worst2026, worstOther, worstSecond)
	assert.Less(t, worstGeometry, 0.0005)
	assert.Less(t, worst2026, 0.3)
	assert.Less(t, worstOther, 0.5)
	assert.Less(t, worstSecond, 0.3)
}

// At noon in Greenwich in 2026 the declination is that of astronomy-engine to
// 0.01 deg; elsewhere in the table it has moved by no more than the moment is
// away from that noon.
func TestSolarDeclinationAgainstLibrary(t *testing.T) {
	worst := 0.0
	for _, r := range libraryRows(t) {
		if r.at.Year() != 2026 {
			continue
		}
		away := r.at.Sub(time.Date(2026, 1, r.day, 12, 0, 0, 0, time.UTC)).Hours() / 24
		step := solarDeclination(r.day%365+1) - solarDeclination(r.day)
		off := math.Abs((solarDeclination(r.day)+step*away)/rad - r.declination)
		worst = max(worst, off)
	}
	t.Logf("declination: worst %.4f deg", worst)
	assert.Less(t, worst, 0.01)
	// What the comment says of the two other formulas.
	spencer := func(day int) float64 {
		g := 2 * math.Pi * float64(day-1) / 365
		return 0.006918 - 0.399912*math.Cos(g) + 0.070257*math.Sin(g) - 0.006758*math.Cos(2*g) +
			0.000907*math.Sin(2*g) - 0.002697*math.Cos(3*g) + 0.00148*math.Sin(3*g)
	}
	worstFAO, worstSpencer := 0.0, 0.0
	for day := 1; day <= 365; day++ {
		worstFAO = max(worstFAO, math.Abs(declination(day)-solarDeclination(day))/rad)
		worstSpencer = max(worstSpencer, math.Abs(spencer(day)-solarDeclination(day))/rad)
	}
	t.Logf("FAO-56 Eq. 24 off by %.2f, Spencer by %.2f deg", worstFAO, worstSpencer)
	assert.InDelta(t, 1.1, worstFAO, 0.1)
	assert.InDelta(t, 0.4, worstSpencer, 0.05)
}

// Day lengths of FAO-56 Annex 2, Table 2.7, at 40 deg N on the 15th of each
// month (a copy of the table), and DaylightHours, which follows FAO-56. Its
// declination is plainer, which shows most at high latitude.
func TestDayLengthAgainstFAO56(t *testing.T) {
	table := [12]float64{9.5, 10.5, 11.7, 13.1, 14.2, 14.8, 14.6, 13.6, 12.2, 10.9, 9.7, 9.2}
	for m, printed := range table {
		j := time.Date(2015, time.Month(m+1), 15, 0, 0, 0, 0, time.UTC).YearDay()
		assert.InDelta(t, printed, 24/math.Pi*hourAngleAbove(40*rad, solarDeclination(j), 0), 0.15, "month %d", m+1)
	}
	for _, lat := range []float64{-60, -40, -20, 0, 20, 40, 60} {
		for j := 1; j <= 365; j++ {
			// With FAO-56's declination: the same to rounding.
			require.InDelta(t, DaylightHours(lat, j), 24/math.Pi*hourAngleAbove(lat*rad, declination(j), 0), 1e-9)
			// With ours: 1.1 deg of declination are 2/15 x 1.1 x tan(lat) h and a little.
			require.InDelta(t, DaylightHours(lat, j), 24/math.Pi*hourAngleAbove(lat*rad, solarDeclination(j), 0),
				0.01+0.18*math.Abs(math.Tan(lat*rad)), "%v deg, day %d", lat, j)
		}
	}
}

func TestSunPositionProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.OneOf(rapid.Float64Range(-90, 90), rapid.SampledFrom([]float64{-90, 90, 0})).Draw(t, "lat")
		day := rapid.IntRange(1, 366).Draw(t, "day")
		h := rapid.Float64Range(0, 24).Draw(t, "hour")
		altitude, azimuth := sunPosition(lat, day, h)
		if !(altitude >= -90 && altitude <= 90) || !(azimuth >= 0 && azimuth <= 360) {
			t.Fatalf("altitude %v, azimuth %v", altitude, azimuth)
		}
		// Up when the day length says so; east before noon.
		half := 12 / math.Pi * hourAngleAbove(lat*rad, solarDeclination(day), 0)
		if d := math.Abs(h - 12); math.Abs(d-half) > 1e-6 && (d < half) != (altitude > 0) {
			t.Fatalf("altitude %v at %v h, half a day %v h", altitude, h, half)
		}
		if math.Abs(h-12) > 1e-6 && h > 1e-6 && h < 24-1e-6 && (h < 12) != (azimuth < 180) {
			t.Fatalf("azimuth %v at %v h", azimuth, h)
		}
	})
}

func TestSunPositionRefusals(t *testing.T) {
	assert.Panics(t, func() { sunPosition(91, 1, 12) })
	assert.Panics(t, func() { sunPosition(math.NaN(), 1, 12) })
	assert.Panics(t, func() { sunPosition(40, 0, 12) })
	assert.Panics(t, func() { sunPosition(40, 367, 12) })
	for day, month := range map[int]int{1: 1, 31: 1, 32: 2, 59: 2, 60: 3, 181: 6, 182: 7, 334: 11, 335: 12, 366: 12} {
		assert.Equal(t, month, monthOf(day), day)
	}
}

// sunPosition returns where the sun stands: its height over the level horizon
// and its direction clockwise from true north (east 90, south 180), degrees.
// solarH is solar time in hours, 12 when the sun crosses the meridian. Solar
// time runs ahead of or behind the clock with longitude, daylight saving and
// the equation of time (up to 16 minutes); none of these changes how many
// hours of a day a place is in the sun, so they are left out.
// It panics outside -90 to 90 degrees of latitude and days 1 to 366.
func sunPosition(latDeg float64, dayOfYear int, solarH float64) (altitudeDeg, azimuthDeg float64) {
	phi := mustLatitude(latDeg)
	mustDay(dayOfYear)
	s := sunAt(phi, solarDeclination(dayOfYear), (solarH-12)*math.Pi/12)
	altitudeDeg = math.Atan2(s.up, math.Hypot(s.east, s.north)) * 180 / math.Pi
	azimuthDeg = math.Atan2(s.east, s.north) * 180 / math.Pi
	if azimuthDeg < 0 {
		azimuthDeg += 360
	}
	return altitudeDeg, azimuthDeg
}
