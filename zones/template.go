package zones

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"hollowbed/zones/site"
)

// Answers is what a new garden file is written from, each as a person types
// it: "620 sq ft", "clay loam". Keys are those of Questions.
type Answers struct {
	Name         string
	Units        string
	Latitude     string
	TimeZone     string
	RoofArea     string
	RoofShare    string
	Soil         string // a texture class or a measured rate
	Shape        string // "rectangle" or "oval"
	Length       string
	Width        string
	PondingDepth string
	Sun          string // may stay empty
}

// Question is one thing to ask for a new garden.
type Question struct {
	Key     string // also the name of the flag: "roof-area"
	Prompt  string // one line, without the default
	Default string // taken for an empty answer; "" if there is none
	Example string // a good answer
	Empty   bool   // may stay without an answer
}

// Questions lists what to ask for a new garden, in order; defaults and
// examples are in the units given. The first is the units themselves.
func Questions(u Units) []Question {
	in := func(us, metric string) string {
		if u == UnitsMetric {
			return metric
		}
		return us
	}
	return []Question{
		{Key: "units", Prompt: "Show figures in us or metric units?", Default: in("us", "metric"), Example: "us"},
		{Key: "name", Prompt: "What do you call the garden?", Default: "My garden", Example: "My garden"},
		{Key: "latitude", Prompt: "Latitude in degrees (south of the equator below zero)?", Example: "41.5"},
		{Key: "time-zone", Prompt: "Time zone, by region and town?", Example: in("America/Chicago", "Europe/Berlin")},
		{Key: "roof-area", Prompt: "Area of the whole roof, seen from above?", Example: in("1200 sq ft", "110 m2")},
		{Key: "roof-share", Prompt: "How much of that roof drains to the downspout you will use?", Default: "50 %", Example: "50 %"},
		{Key: "soil", Prompt: "Soil: a texture such as clay loam, or a measured rate such as " + in("0.5 in/h", "12 mm/h") + "?", Default: "clay loam", Example: "clay loam"},
		{Key: "shape", Prompt: "Shape of the bed: rectangle or oval?", Default: "oval", Example: "oval"},
		{Key: "length", Prompt: "Length of the bed, outer edge to outer edge?", Default: in("20 ft", "6 m"), Example: in("20 ft", "6 m")},
		{Key: "width", Prompt: "Width of the bed, outer edge to outer edge?", Default: in("14 ft", "4.2 m"), Example: in("14 ft", "4.2 m")},
		{Key: "ponding-depth", Prompt: "How deep may water stand before it spills?", Default: in("6 in", "150 mm"), Example: in("6 in", "150 mm")},
		{Key: "sun", Prompt: "Hours of direct sun a day in the growing season (empty if not known yet)?", Example: "6 h", Empty: true},
	}
}

// field is where the answer to a question is kept; nil for an unknown key.
func (a *Answers) field(key string) *string {
	switch key {
	case "name":
		return &a.Name
	case "units":
		return &a.Units
	case "latitude":
		return &a.Latitude
	case "time-zone":
		return &a.TimeZone
	case "roof-area":
		return &a.RoofArea
	case "roof-share":
		return &a.RoofShare
	case "soil":
		return &a.Soil
	case "shape":
		return &a.Shape
	case "length":
		return &a.Length
	case "width":
		return &a.Width
	case "ponding-depth":
		return &a.PondingDepth
	case "sun":
		return &a.Sun
	}
	return nil
}

// Set checks an answer and keeps it. An empty answer takes the default, and
// is an error where there is none and one is needed. The error says what
// would be right.
func (a *Answers) Set(key, text string) error {
	f := a.field(key)
	if f == nil {
		return fmt.Errorf("no question is called %q", key)
	}
	u := Units(a.Units)
	text = strings.TrimSpace(text)
	for _, q := range Questions(u) {
		if q.Key != key || text != "" {
			continue
		}
		if q.Default == "" && !q.Empty {
			return site.Faults{{Name: key, Want: "want an answer, such as " + q.Example}}
		}
		text = q.Default
	}
	if err := checkAnswer(u, key, text); err != nil {
		return err
	}
	*f = text
	return nil
}

// checkAnswer writes a garden of good answers with this one among them and
// reads it, so that an answer passes here if and only if the file will.
func checkAnswer(u Units, key, text string) error {
	var trial Answers
	for _, q := range Questions(u) {
		*trial.field(q.Key) = q.Example
	}
	*trial.field(key) = text
	if text != printable(text) {
		return site.Faults{{Name: key, Value: text, Want: "want plain text on one line"}}
	}
	if key == "shape" && strings.EqualFold(text, "polygon") {
		return site.Faults{{Name: key, Value: text, Want: "want rectangle or oval; for another shape take oval now, and draw a polygon in the file later"}}
	}
	_, err := ReadGarden("", strings.NewReader(Template(trial)))
	var faults site.Faults
	if !errors.As(err, &faults) {
		return err
	}
	want := faults[0].Want
	if key == "soil" && !strings.ContainsAny(text, "0123456789") {
		want += "; or a measured rate such as 0.5 in/h"
	}
	return site.Faults{{Name: key, Value: text, Want: want}}
}

// Template writes a garden file from answers, with a short line above each
// key. ReadGarden reads it back to the values of the answers. Keys that were
// not asked stand in it as comments with their defaults.
func Template(a Answers) string {
	soil := "texture: " + yamlText(a.Soil)
	if strings.ContainsAny(a.Soil, "0123456789") {
		soil = "rate: " + yamlText(a.Soil)
	}
	sun := "# sun: 6 h"
	if a.Sun != "" {
		sun = "sun: " + yamlText(a.Sun)
	}
	return strings.NewReplacer(
		"{name}", yamlText(a.Name), "{units}", yamlText(a.Units),
		"{latitude}", yamlText(a.Latitude), "{time_zone}", yamlText(a.TimeZone),
		"{area}", yamlText(a.RoofArea), "{share}", yamlText(a.RoofShare),
		"{soil}", soil, "{shape}", yamlText(a.Shape),
		"{length}", yamlText(a.Length), "{width}", yamlText(a.Width),
		"{ponding_depth}", yamlText(a.PondingDepth), "{sun}", sun,
	).Replace(templateText)
}

// yamlText puts quotes around a text unless it is plain beyond doubt.
func yamlText(s string) string {
	if regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9 ./%_-]*$`).MatchString(s) && !strings.EqualFold(s, "null") || regexp.MustCompile(`^-?[0-9.]+$`).MatchString(s) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", "''") + "'"
}

const templateText = `# A garden file. Quantities carry their unit: 12 ft, 2 ft 6 in, 150 mm,
# 620 sq ft, 0.5 in/h, 24 h, 5 %. Take the # away from a line to use it.

hollowbed: 1                 # version of this file format
name: {name}
units: {units}               # how figures are shown: us or metric

site:
  latitude: {latitude}       # degrees; south of the equator below zero
  time_zone: {time_zone}
  # north: 20                # degrees from the bed's y axis (across it) round to true north, clockwise
  # open: no                 # yes: nothing shades the bed
  # ground_slope: 3 %        # fall of the ground; above 12 % look for another place
  # foundation: basement     # nearest building: slab, crawl space, basement, none
  # foundation_distance: 15 ft  # keep at least 10 ft; local code may ask for more
  # groundwater_depth: 8 ft  # in the wettest season, below the ground
  # rock_depth: 8 ft
  # well_distance: 100 ft    # drinking water; or none; ask the health office
  # septic_distance: 50 ft   # never above a tank or its field; or none
  # boundary_distance: 8 ft  # do not send water to the neighbours

roof:
  area: {area}               # of the whole roof, seen from above
  share: {share}             # of that area, what reaches this bed
  # coefficient: 0.95        # of the rain on the roof, what runs off
  # initial_loss: 1 mm       # wets a dry roof before any runs off
  # also:                    # other ground that drains to the bed
  #   - {surface: pavement, area: 100 sq ft}

soil:
  # The best figure is a soak test at the bottom of the bed to be. Before any
  # digging, even for a test, have buried pipes and cables marked: call first.
  {soil}
  # safety_factor: 2         # divides a rate or soak test, not a texture
  # soak_test:
  #   hole_diameter: 8 in    # soak the hole beforehand, then fill and read
  #   hole_depth: 12 in
  #   readings:              # depth of water over the bottom of the hole
  #     - {at: 0 min, water: 10 in}
  #     - {at: 30 min, water: 8 in}
  #     - {at: 60 min, water: 6 1/2 in}

# mix:                       # what the bed is filled with
#   texture: sandy loam
#   depth: 12 in
#   organic_matter: 2.5 %
#   conductivity: 1 in/h     # these four only if measured
#   wilting_point: 8 %
#   field_capacity: 18 %
#   saturation: 45 %

bed:
  shape: {shape}             # rectangle, oval, or polygon with points
  length: {length}           # outer edge to outer edge, rim included
  width: {width}
  # points: [[0 ft, 0 ft], [18 ft, 0 ft], [12 ft, 14 ft]]  # polygon only
  ponding_depth: {ponding_depth}  # bottom to the level where water spills
  # side_slope: 3:1          # run to rise; steeper sides wash and slip
  # rim_width: 1 ft
  # freeboard: 2 in          # outer edge above the spill level
  # kc: 1.0                  # water use of the planting against lawn

# inlet:                     # from the downspout to the bed: hollowbed basin --inlets
#   way: pipe                # pipe, swale or surface; left out: all water arrives
#   ground:                  # levels over any one fixed spot, from downspout to edge of bed
#     - {at: 0 ft, level: 6 in}
#     - {at: 16 ft, level: 0 in}
#   spill: -2 in             # where the bed spills, over the same spot; left out: the rim meets the ground
#   downspout: [2 in, 3 in]  # inside, width and depth; or one diameter
#   pipe: 4 in               # inside diameter; have buried pipes and cables marked before you dig
#   material: pvc            # pvc, smooth hdpe, corrugated hdpe, clay, cast iron, concrete
#   pipe_fall: 1.1 %         # at least; left out: 1 in per 10 ft
#   cover: 12 in             # soil over the pipe
#   liner_width: 2 ft        # of a swale
#   design_rain: 4 in/h      # that downspouts are sized for; ask the building office

# target:
#   capture: 80 %            # of the water that arrives over the years
#   event: 1.5 in            # storm to swallow; left out: from the record
#   drain_within: 24 h       # longer standing water harms plants and breeds mosquitoes

# Direct sun in the growing season; or one figure for each of bottom, slope, rim.
{sun}

# What shades the bed, if the sun is to be worked out: places along and across
# as in the outline, below zero before it; heights from the level where water
# spills. A zone with its hours of sun given above keeps them.
# obstacles:
#   - {wall: [[0 ft, -6 ft], [20 ft, -6 ft]], height: 9 ft}
#   - {fence: [[-8 ft, 0 ft], [-8 ft, 30 ft]], height: 6 ft, light: 0 %}  # light between the boards
#   - {house: [[0 ft, -40 ft], [40 ft, -40 ft], [40 ft, -16 ft], [0 ft, -16 ft]], height: 18 ft}
#   - {tree: [12 ft, 30 ft], crown: 20 ft, base: 7 ft, top: 30 ft, leaf: {from: April, to: October}, light_in_leaf: 10 %, light_bare: 70 %}

# weather:                   # the record beside this file
#   file: rain.csv
#   step: daily              # or hourly
#   pattern: type-ii         # spread of daily rain over the day: type-ii, even, block-6h
#   columns: {date: day, rain: precip}  # ours: header in the file
#   rain_unit: mm            # mm, 0.1 mm, cm, in, 0.01 in
#   temp_unit: C             # C, F, 0.1 C
#   missing: [NA, M]         # cells that mean no value
#   trace: [T]               # cells that mean a trace of rain
#   absent_row: missing      # a day without a row is missing, or dry
#   clock: standard          # standard, local, utc
#   date_order: mdy          # of dates such as 1/5/2013
#   where: {station: Q1}     # rows to keep
#   et0_by_month: [0.4 mm/d, 0.7 mm/d, 1.5 mm/d, 2.8 mm/d, 4 mm/d, 5 mm/d, 5.3 mm/d, 4.6 mm/d, 3.3 mm/d, 1.9 mm/d, 0.9 mm/d, 0.4 mm/d]

# wishes:                    # for the planting list
#   share_cap: 25 %          # most of the ground of a zone for one species
#   smallest_group: 3
#   most_species: 12
#   budget: 600
#   height_max: {rim: 3 ft}  # or one height for all zones
#   no_toxic_to: [people, pets]
#   no_runners: yes
#   wanted: []               # ids from the plant table
#   unwanted: []
#   native_to: []
#   bloom: {from: April, to: October}
#   yearly_risk_max: 15 %    # riskier plants are left out
#   weights: {bloom: 0.2, variety: 0.2, native: 0.2}  # beside survival, which counts 1
#   seed: 1                  # same seed, same list

# layout:                    # places along and across, as in the outline
#   inlet: [0 ft, 7 ft]      # where the water comes in
#   splash: 18 in            # radius of the stones round it
#   overflow: [20 ft, 7 ft]  # where it may leave: away from buildings and neighbours
#   overflow_free: 12 in     # kept free of plants round it
#   keep_free:               # ground without plants: bench, boulder, path, other
#     - {boulder: [6 ft, 5 ft], radius: 1 ft}
#     - {bench: [[9 ft, 1 ft], [13 ft, 1 ft], [13 ft, 2 ft 6 in], [9 ft, 2 ft 6 in]]}
#   view_from: front         # all round, left, right, front, back; or a place [10 ft, -12 ft]
#   overlap: 10 %            # by which grown plants may overlap
#   margin: 0 in             # kept free along the outer edge
#   fixed_points: {house corner: [-8 ft, 0 ft], fence post: [-8 ft, 20 ft]}  # to measure from
`
