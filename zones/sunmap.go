package zones

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
)

// sunMap is the direct sun over a bed, worked out from its latitude, the
// growing season and what stands around it: hours a day on clear days.
type sunMap struct {
	Grid  *site.SunGrid
	Zones []site.ZoneSun // mean, least and most by zone, as worked out; in the order of their names
	Days  []int          // days of the year it rests on, one a week
	// FromRecord says that the days are the growing season of the record; else
	// they are those from the spring to the autumn equinox.
	FromRecord bool

	lot *Lot
	sky *site.Sky
}

const (
	fewCells  = 2000
	manyCells = 20_000
)

// sunMap works out the sun. It is nil without an error if the garden file has
// neither obstacles nor open: yes, because then nothing is known of the shade.
func (l *Lot) sunMap() (*sunMap, error) {
	g := l.Garden
	if len(g.Obstacles) == 0 && !g.Site.Open {
		return nil, nil
	}
	m := &sunMap{lot: l}
	if l.Record != nil {
		m.Days = l.Record.SeasonDays()
	}
	m.FromRecord = len(m.Days) > 0
	if !m.FromRecord {
		m.Days = site.SummerDays(g.Site.LatitudeDeg)
	}
	north := g.Site.NorthDeg
	if math.IsNaN(north) { // the sky is open: any will do
		north = 0
	}
	m.sky = site.NewSky(g.Site.LatitudeDeg, north, m.Days)
	for i, o := range g.Obstacles {
		if err := m.checkHouse(o); err != nil {
			return nil, g.misfit(fmt.Sprintf("obstacles[%d].%s", i+1, o.Kind), err)
		}
	}
	m.lay()
	return m, nil
}

// lay lays the grid, two cells across the rim if that is not too many. A zone too narrow
// for any cell gets finer grids of its own.
func (m *sunMap) lay() {
	minX, minY, maxX, maxY := m.lot.Bed.Spec().Outline.Bounds()
	area := (maxX - minX) * (maxY - minY)
	step := math.Sqrt(area / fewCells)
	if rim := m.lot.Bed.Spec().RimWidthM; rim > 0 {
		step = min(step, rim/2)
	}
	step = max(step, math.Sqrt(area/manyCells))
	over := func(step float64, height func(x, y float64) (float64, bool)) *site.SunGrid {
		return m.sky.Grid(m.lot.Garden.Obstacles, minX, minY, maxX, maxY, step, height)
	}
	m.Grid = over(step, m.height)
	m.Zones = m.Grid.ByZone(m.lot.Bed.ZoneAt)
	for i := 0; i < 3 && len(m.Zones) < len(m.lot.Bed.Zones()); i++ {
		step /= 2
		m.Zones = append(m.Zones, over(step, m.missed).ByZone(m.lot.Bed.ZoneAt)...)
	}
	sort.Slice(m.Zones, func(i, j int) bool { return m.Zones[i].Zone < m.Zones[j].Zone })
}

// missed is height for spots in zones that have no cells yet.
func (m *sunMap) missed(x, y float64) (float64, bool) {
	if !math.IsNaN(m.meanH(m.lot.Bed.ZoneAt(x, y))) {
		return 0, false
	}
	return m.height(x, y)
}

// meanH is the sun of a zone as worked out; NaN if it has none.
func (m *sunMap) meanH(zone string) float64 {
	for _, z := range m.Zones {
		if z.Zone == zone {
			return z.MeanH
		}
	}
	return math.NaN()
}

// height is the height of the ground, metres above the spill level.
func (m *sunMap) height(x, y float64) (float64, bool) {
	mm, ok := m.lot.Bed.HeightMM(x, y)
	return mm / 1000, ok
}

// checkHouse refuses a house that stands in the bed: its corners are then in
// other coordinates than the outline.
func (m *sunMap) checkHouse(o site.Obstacle) error {
	if o.Kind != site.House {
		return nil
	}
	minX, minY, maxX, maxY := m.lot.Bed.Spec().Outline.Bounds()
	const n = 40
	for i := range n * n {
		x := minX + (maxX-minX)*(float64(i%n)+0.5)/n
		y := minY + (maxY-minY)*(float64(i/n)+0.5)/n
		if _, in := m.lot.Bed.HeightMM(x, y); in && o.Covers(x, y) {
			return errors.New("the house stands in the bed: want its corners from the same spot as the outline, below zero before it")
		}
	}
	return nil
}

// sun gives the hours of direct sun by zone: as stated, else as worked out.
func (m *sunMap) sun() Sun {
	of := func(zone string) float64 {
		if h := m.lot.Garden.Sun.Of(zone); h >= 0 {
			return h
		}
		return m.meanH(zone)
	}
	return Sun{BottomH: of(basin.Bottom), SlopeH: of(basin.Slope), RimH: of(basin.Rim)}
}

// hoursAt gives the hours of direct sun at a spot, m as in the outline: as stated for its
// zone, else as worked out there; NaN outside the bed.
func (m *sunMap) hoursAt(x, y float64) float64 {
	z, ok := m.height(x, y)
	if !ok {
		return math.NaN()
	}
	if h := m.lot.Garden.Sun.Of(m.lot.Bed.ZoneAt(x, y)); h >= 0 {
		return h
	}
	return m.sky.Hours(m.lot.Garden.Obstacles, x, y, z)
}
