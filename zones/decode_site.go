package zones

import (
	"io/fs"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/goccy/go-yaml/ast"

	"hollowbed/zones/site"
)

// garden asks for every section and key there is.
func (d *decoder) garden(body *ast.MappingNode) *Garden {
	top := d.open("", body)
	if v := top.number("hollowbed"); !(v == 1) {
		return nil
	}
	g := &Garden{Source: d.file, at: d.at}
	g.Name = top.text("name")
	g.Units = Units(top.choice("units"))
	if g.Units != "" {
		d.units = g.Units
	}
	g.Plants = top.text("plants")
	if f := g.Plants; f != "" && f != PlantsUS && f != PlantsDemo && (!fs.ValidPath(f) || strings.Contains(f, `\`)) {
		top.bad("plants", f, top.key("plants").want)
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
	g.Weather = readWeather(top.sub("weather"), g.Site)
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

// distanceOrNone reads how far away a thing is, +Inf for "none".
func (s *section) distanceOrNone(key string) float64 {
	if n, ok := s.entries[key]; ok && strings.EqualFold(raw(n), "none") {
		s.asked = append(s.asked, key)
		return math.Inf(1)
	}
	return s.quantity(key)
}

func readSite(s *section) Site {
	defer s.done()
	p := Site{
		LatitudeDeg:         s.number("latitude"),
		LongitudeDeg:        s.number("longitude"),
		NorthDeg:            s.number("north"),
		Open:                s.yes("open"),
		GroundSlope:         s.quantity("ground_slope"),
		Foundation:          s.choice("foundation"),
		FoundationDistanceM: s.quantity("foundation_distance"),
		GroundwaterDepthM:   s.quantity("groundwater_depth"),
		RockDepthM:          s.quantity("rock_depth"),
		WellDistanceM:       s.distanceOrNone("well_distance"),
		SepticDistanceM:     s.distanceOrNone("septic_distance"),
		BoundaryDistanceM:   s.quantity("boundary_distance"),
	}
	p.TimeZone = s.text("time_zone")
	if p.TimeZone == "" {
		return p
	}
	zone, err := time.LoadLocation(p.TimeZone)
	if err != nil || p.TimeZone == "Local" {
		s.bad("time_zone", p.TimeZone, s.key("time_zone").want)
		return p
	}
	p.Location = zone
	return p
}

func readRoof(s *section) Roof {
	defer s.done()
	r := Roof{
		AreaM2:        s.quantity("area"),
		Share:         s.quantity("share"),
		Coefficient:   s.number("coefficient"),
		InitialLossMM: s.quantity("initial_loss"),
	}
	for _, e := range s.sections("also") {
		r.Also = append(r.Also, Surface{
			Kind:        e.choice("surface"),
			AreaM2:      e.quantity("area"),
			CurveNumber: e.number("curve_number"),
		})
		e.done()
	}
	return r
}

// sections opens each entry of a list of mappings.
func (s *section) sections(key string) []*section {
	want := s.key(key).want
	nodes, _ := s.items(key, want)
	var out []*section
	for i, n := range nodes {
		name := s.name(key) + "[" + strconv.Itoa(i+1) + "]"
		if _, ok := n.(*ast.MappingNode); !ok {
			s.d.faultAt(n, name, raw(n), want)
			continue
		}
		out = append(out, s.d.open(name, n))
	}
	return out
}

func readSoil(s *section) Soil {
	defer s.done()
	soil := Soil{
		Texture:      s.choice("texture"),
		RateMMH:      s.quantity("rate"),
		SafetyFactor: s.number("safety_factor"),
		PH:           s.number("ph"),
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
		HoleDiameterMM: s.quantity("hole_diameter"),
		HoleDepthMM:    s.quantity("hole_depth"),
		SafetyFactor:   factor,
	}
	if !s.has("readings") {
		s.missing("readings", s.key("readings").want)
	}
	last := math.Inf(-1)
	for _, e := range s.sections("readings") {
		r := site.SoakReading{
			Minutes:      e.quantity("at"),
			WaterDepthMM: e.quantity("water"),
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
	if len(s.d.faults) > before || math.IsNaN(factor) { // told already
		return nil
	}
	return t
}

func readMix(s *section) Mix {
	defer s.done()
	m := Mix{
		Texture:         s.choice("texture"),
		FieldCapacity:   s.quantity("field_capacity"),
		WiltingPoint:    s.quantity("wilting_point"),
		Saturation:      s.quantity("saturation"),
		ConductivityMMH: s.quantity("conductivity"),
		DepthMM:         s.quantity("depth"),
		OrganicMatter:   s.quantity("organic_matter"),
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
