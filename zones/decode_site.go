package zones

import (
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/goccy/go-yaml/ast"

	"hollowbed/zones/site"
)

// Bounds that more than one key goes by, in SI: beyond them a figure is a
// slip of the pen, not a garden.
const (
	maxDistanceM = 10_000
	maxBedM      = 100
)

// garden asks for every section and key there is.
func (d *decoder) garden(body *ast.MappingNode) *Garden {
	top := d.open("", body)
	if v := top.number("hollowbed", "the version of the file format", required, 1, 1); !(v == 1) {
		return nil
	}
	g := &Garden{Source: d.file, at: d.at}
	g.Name = top.text("name", optional, "want a name for the place", 80)
	g.Units = Units(top.choice("units", string(UnitsUS), []string{string(UnitsUS), string(UnitsMetric)}))
	if g.Units != "" {
		d.units = g.Units
	}
	g.Site = readSite(top.sub("site"))
	g.Roof = readRoof(top.sub("roof"))
	g.Soil = readSoil(top.sub("soil"))
	g.Mix = readMix(top.sub("mix"))
	g.Bed = readBed(top.sub("bed"))
	g.Inlet = readInlet(top)
	g.Target = readTarget(top.sub("target"))
	g.Sun = readSun(top)
	g.Obstacles = readObstacles(top, g.Site.LatitudeDeg)
	d.checkSun(top, g)
	g.Weather = readWeather(top.sub("weather"), g.Site.Location)
	g.Wishes = readWishes(top.sub("wishes"))
	g.Layout = readLayout(top.sub("layout"))
	top.done()
	g.Assumed = d.assumed
	return g
}

// checkSun holds the keys about obstacles against one another.
func (d *decoder) checkSun(top *section, g *Garden) {
	if !top.has("obstacles") {
		return
	}
	if g.Site.Open {
		at := d.at["site.open"]
		d.fault(at[0], at[1], "site.open", "yes", "yes says that nothing shades the bed: want either this or obstacles")
	}
	if _, given := d.at["site.north"]; !given {
		at := d.at["obstacles"]
		d.fault(at[0], at[1], "site.north", "", "missing: want degrees from the y axis of the outline (across the bed) "+
			"round to true north, clockwise, such as north: 20; obstacles need it")
	}
}

// distanceOrNone reads how far away a thing is, +Inf for "none": there is no
// such thing near.
func (s *section) distanceOrNone(key string) float64 {
	if n, ok := s.entries[key]; ok && strings.EqualFold(raw(n), "none") {
		s.asked = append(s.asked, key)
		return math.Inf(1)
	}
	return s.quantity(key, lengthM(), optional, 0, maxDistanceM)
}

func readSite(s *section) Site {
	defer s.done()
	distance := func(key string) float64 { return s.quantity(key, lengthM(), optional, 0, maxDistanceM) }
	p := Site{
		LatitudeDeg:         s.number("latitude", "degrees north of the equator, south below zero,", required, -90, 90),
		NorthDeg:            s.number("north", "degrees from the y axis of the outline round to true north, clockwise,", optional, -360, 360),
		Open:                s.yes("open"),
		GroundSlope:         s.quantity("ground_slope", fraction(), optional, 0, 1),
		Foundation:          s.choice("foundation", optional, []string{"slab", "crawl space", "basement", "none"}),
		FoundationDistanceM: distance("foundation_distance"),
		GroundwaterDepthM:   s.quantity("groundwater_depth", lengthM(), optional, 0, 500),
		RockDepthM:          s.quantity("rock_depth", lengthM(), optional, 0, 500),
		WellDistanceM:       s.distanceOrNone("well_distance"),
		SepticDistanceM:     s.distanceOrNone("septic_distance"),
		BoundaryDistanceM:   distance("boundary_distance"),
	}
	const want = "want a time zone by region and town, such as America/Chicago"
	p.TimeZone = s.text("time_zone", required, want, 60)
	if p.TimeZone == "" {
		return p
	}
	zone, err := time.LoadLocation(p.TimeZone)
	if err != nil || p.TimeZone == "Local" {
		s.bad("time_zone", p.TimeZone, want)
		return p
	}
	p.Location = zone
	return p
}

func readRoof(s *section) Roof {
	defer s.done()
	r := Roof{
		AreaM2:        s.quantity("area", areaM2(), required, 1, 10_000),
		Share:         s.quantity("share", fraction(), "100 %", 0.001, 1),
		Coefficient:   s.number("coefficient", "the fraction of the rain that runs off,", "0.95", 0.1, 1),
		InitialLossMM: s.quantity("initial_loss", depthMM(), "1 mm", 0, 25),
	}
	const want = "want a list of other ground that drains to the bed, each with surface and area"
	for _, e := range s.sections("also", want) {
		r.Also = append(r.Also, Surface{
			Kind:        e.choice("surface", required, SurfaceKinds()),
			AreaM2:      e.quantity("area", areaM2(), required, 0.1, 10_000),
			CurveNumber: e.number("curve_number", "a curve number", optional, 30, 100),
		})
		e.done()
	}
	return r
}

// sections opens each entry of a list of mappings.
func (s *section) sections(key, want string) []*section {
	nodes, _ := s.items(key, want)
	var out []*section
	for i, n := range nodes {
		name := s.name(key) + "[" + strconv.Itoa(i+1) + "]"
		if _, ok := n.(*ast.MappingNode); !ok {
			line, col := position(n)
			s.d.fault(line, col, name, raw(n), want)
			continue
		}
		out = append(out, s.d.open(name, n))
	}
	return out
}

func readSoil(s *section) Soil {
	defer s.done()
	soil := Soil{
		Texture:      s.choice("texture", optional, Textures()),
		RateMMH:      s.quantity("rate", rateMMH(), optional, 0, 2000),
		SafetyFactor: s.number("safety_factor", "a number", "2", 1, 10),
	}
	if s.has("soak_test") {
		soil.SoakTest = readSoakTest(s.sub("soak_test"), soil.SafetyFactor)
		if soil.SoakTest != nil {
			if _, err := soil.SoakTest.Result(); err != nil {
				s.bad("soak_test", "", err.Error())
			}
		}
	}
	s.asked = append(s.asked, "soak_test")
	if !s.has("texture") && !s.has("rate") && !s.has("soak_test") {
		s.d.fault(s.line, s.col, "soil", "", "missing: want at least one of texture, rate, soak_test; "+
			"a soak test on the spot is the best of them")
	}
	if soil.Texture == "silt" && !s.has("rate") && !s.has("soak_test") {
		s.bad("texture", "silt", "no infiltration rate is published for silt: want a rate or a soak_test as well")
	}
	return soil
}

// readSoakTest returns nil if a reading could not be read.
func readSoakTest(s *section, factor float64) *site.SoakTest {
	defer s.done()
	before := len(s.d.faults)
	t := &site.SoakTest{
		HoleDiameterMM: s.quantity("hole_diameter", depthMM(), required, 25, 1000),
		HoleDepthMM:    s.quantity("hole_depth", depthMM(), required, 100, 3000),
		SafetyFactor:   factor,
	}
	const want = "want a list of readings, such as - {at: 10 min, water: 11 in}"
	if !s.has("readings") {
		s.missing("readings", want)
	}
	last := math.Inf(-1)
	for _, e := range s.sections("readings", want) {
		r := site.SoakReading{
			Minutes:      e.quantity("at", timeMin(), required, 0, 7*24*60),
			WaterDepthMM: e.quantity("water", depthMM(), required, 0, 3000),
		}
		e.done()
		if r.Minutes <= last {
			e.bad("at", s.d.units.Duration(r.Minutes/60), "want readings in order of time, each later than the one before")
		}
		if r.WaterDepthMM > t.HoleDepthMM*(1+1e-9) {
			e.bad("water", s.d.units.Depth(r.WaterDepthMM), "want the depth of water over the bottom of the hole, at most "+
				"the depth of the hole")
		}
		last = r.Minutes
		t.Readings = append(t.Readings, r)
	}
	if len(s.d.faults) > before {
		return nil
	}
	return t
}

func readMix(s *section) Mix {
	defer s.done()
	water := func(key string) float64 { return s.quantity(key, fraction(), optional, 0.005, 0.9) }
	m := Mix{
		Texture:         s.choice("texture", "sandy loam", Textures()),
		FieldCapacity:   water("field_capacity"),
		WiltingPoint:    water("wilting_point"),
		Saturation:      water("saturation"),
		ConductivityMMH: s.quantity("conductivity", rateMMH(), optional, 1, 5000),
		DepthMM:         s.quantity("depth", depthMM(), "12 in", 50, 1500),
		OrganicMatter:   s.quantity("organic_matter", fraction(), "2.5 %", 0, 0.08),
	}
	given := 0
	keys := []string{"field_capacity", "wilting_point", "saturation"}
	for _, key := range keys {
		if s.has(key) {
			given++
		}
	}
	for _, key := range keys {
		if given > 0 && !s.has(key) {
			s.missing(key, "want all three of wilting_point, field_capacity and saturation, or none; "+fraction().wanted())
		}
	}
	if m.WiltingPoint >= m.FieldCapacity {
		s.bad("wilting_point", s.d.units.Percent(m.WiltingPoint), "want less than field_capacity")
	}
	if m.FieldCapacity >= m.Saturation {
		s.bad("field_capacity", s.d.units.Percent(m.FieldCapacity), "want less than saturation")
	}
	return m
}
