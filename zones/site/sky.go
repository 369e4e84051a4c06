package site

import (
	"fmt"
	"math"
	"sort"
)

// leastAltitudeDeg is the height below which the sun does not count as direct: there its
// light is weak (120 W/m2, sunshine of the World Meteorological Organization, 2003, from
// about 3 degrees; from memory) and things on the horizon keep it off. A choice of this
// project; one degree is 10 to 16 minutes a day between 40 and 52 degrees of latitude.
const leastAltitudeDeg = 5.0

// stepMinutes is the longest time that one beam stands for.
const stepMinutes = 10.0

// Sky is the sun's way over a place on some days of the year, cut into beams.
// It is made once and asked for many places; asking does not change it.
type Sky struct {
	beams  []beam
	angles []float64 // direction of each beam in plan, radians from the x axis; sorted
}

// beam is where the sun is for a short time: a unit vector to it, and hours a day.
type beam struct {
	dx, dy, dz float64
	hours      float64
	month      int
}

// NewSky cuts the sun's way on the given days (1 to 366) into equal steps of at most 10
// minutes of solar time, a beam for the middle of each. northDeg is true north, degrees
// clockwise from the y axis of the outline. Clouds are left out. It panics without days,
// and on figures that are no latitude or day.
func NewSky(latDeg, northDeg float64, days []int) *Sky {
	phi := mustLatitude(latDeg)
	if len(days) == 0 || math.IsNaN(northDeg) || math.IsInf(northDeg, 0) {
		panic(fmt.Sprintf("site: sky of %d days, north at %v", len(days), northDeg))
	}
	s := &Sky{}
	for _, day := range days {
		mustDay(day)
		s.addDay(phi, solarDeclination(day), northDeg*math.Pi/180, monthOf(day), 1/float64(len(days)))
	}
	s.sort()
	return s
}

// addDay adds the beams of one day, whose hours count by weight.
func (s *Sky) addDay(phi, delta, north float64, month int, weight float64) {
	half := hourAngleAbove(phi, delta, leastAltitudeDeg*math.Pi/180)
	hours := half * 24 / math.Pi
	n := math.Ceil(hours * 60 / stepMinutes)
	sn, cn := math.Sincos(north)
	for i := 0.0; i < n; i++ {
		sun := sunAt(phi, delta, half*((2*i+1)/n-1))
		s.beams = append(s.beams, beam{
			dx: sun.east*cn + sun.north*sn, dy: sun.north*cn - sun.east*sn, dz: sun.up,
			hours: weight * hours / n, month: month,
		})
	}
}

func (s *Sky) sort() {
	angle := func(b beam) float64 { return math.Atan2(b.dy, b.dx) }
	sort.SliceStable(s.beams, func(i, j int) bool { return angle(s.beams[i]) < angle(s.beams[j]) })
	s.angles = make([]float64, len(s.beams))
	for i, b := range s.beams {
		s.angles[i] = angle(b)
	}
}

// Hours returns the mean hours of direct sun a day at a place: x and y, metres as in the
// outline, heightM above the spill level. It panics on an obstacle that Check refuses.
func (s *Sky) Hours(obstacles []Obstacle, x, y, heightM float64) float64 {
	mustCheck(obstacles)
	return s.newPlace().hours(obstacles, x, y, heightM)
}

func mustCheck(obstacles []Obstacle) {
	for _, o := range obstacles {
		if err := o.Check(); err != nil {
			panic("site: " + err.Error())
		}
	}
}

// newPlace makes a place that can be moved about.
func (s *Sky) newPlace() *place {
	return &place{sky: s, light: make([]float64, len(s.beams)), by: make([]int, len(s.beams))}
}

func (p *place) hours(obstacles []Obstacle, x, y, z float64) float64 {
	p.x, p.y, p.z = x, y, z
	for i := range p.light {
		p.light[i], p.by[i] = p.sky.beams[i].hours, -1
	}
	for k, o := range obstacles {
		p.shade(k, o)
	}
	sum := 0.0
	for _, hours := range p.light {
		sum += hours
	}
	return sum
}

// SeasonDays returns every seventh day of the year (1 to 365) that grows in at least half
// of the years; none if no day does.
func (r *Record) SeasonDays() []int {
	var growing, all [367]int
	for i, g := range r.Growing() {
		day := r.dayTime(i).YearDay()
		all[day]++
		if g {
			growing[day]++
		}
	}
	var season []int
	for day := 1; day <= 365; day++ {
		if all[day] > 0 && 2*growing[day] >= all[day] {
			season = append(season, day)
		}
	}
	return weekly(season)
}

// SummerDays returns every seventh day from the spring to the autumn equinox.
func SummerDays(latDeg float64) []int {
	const spring, autumn = 79, 265 // 20 March, 22 September
	mustLatitude(latDeg)
	var summer []int
	for day := 1; day <= 365; day++ {
		if (day >= spring && day <= autumn) == (latDeg >= 0) {
			summer = append(summer, day)
		}
	}
	return weekly(summer)
}

// weekly takes the middle of each week; the last one if there is no whole week.
func weekly(days []int) []int {
	var out []int
	for i := 3; i < len(days); i += 7 {
		out = append(out, days[i])
	}
	if len(out) == 0 && len(days) > 0 {
		out = days[len(days)-1:]
	}
	return out
}
