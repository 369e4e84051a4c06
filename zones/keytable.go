package zones

import (
	"hollowbed/zones/inlet"
	"hollowbed/zones/site"
)

// Bounds that more than one key goes by, in SI: beyond them a figure is a
// slip of the pen, not a garden.
const (
	maxDistanceM = 10_000
	maxBedM      = 100
	maxAwayM     = 500 // of a corner from the bed
	maxHighM     = 150
	highestMM    = 20_000
)

const (
	wantOnePlace = "want how far along and how far across, such as [0 ft, 7 ft]"
	wantAlong    = ": how far along and how far across from the same spot as the outline of the bed"
	wantIDs      = "want a list of plant ids from the plant table"
	wantWord     = "want one word"
	wantMarks    = "want a list of the cells that mean this, such as [NA, M]"
	wantMonth    = "want a month, such as April or 4"
)

// Keys is every key of the garden file, in the order of a new one. A key of
// each entry of a list follows the list.
func Keys() []Key {
	var all []Key
	for _, part := range [][]Key{topKeys(), siteKeys(), roofKeys(), soilKeys(), mixKeys(), bedKeys(), inletKeys(), targetKeys(), sunKeys(), obstacleKeys(), weatherKeys(), wishKeys(), layoutKeys()} {
		all = append(all, part...)
	}
	return all
}

// group is a key with keys below it.
func group(path, note string) Key { return Key{Path: path, kind: kindGroup, note: note} }

func topKeys() []Key {
	return []Key{
		number("hollowbed", "the version of the file format", 1, 1).must().line("1", "version of this file format"),
		text("name", 80, "want a name for the place").field("What you call the garden", "any words").line("{name}", ""),
		choice("units", string(UnitsUS), string(UnitsMetric)).or(string(UnitsUS)).line("{units}", "how figures are shown: us or metric"),
		text("plants", 200, "expected us, demo, or the name of a plant table beside this file").field("Plants", "us: real plants of the United States; demo: invented; or a file beside this one").
			line(plantsSample, "us: real plants of the United States; or a table of your own beside this file; left out: plants.csv, else us"),
	}
}

func siteKeys() []Key {
	distance := func(path string) Key { return figure(path, lengthM(), 0, maxDistanceM) }
	return []Key{
		group("site", ""),
		number("site.latitude", "degrees north of the equator, south below zero,", -90, 90).must().field("Latitude", "degrees north, south below zero: 46.78").line("{latitude}", "degrees; south of the equator below zero"),
		number("site.longitude", "degrees east of Greenwich, west below zero,", -180, 180).field("Longitude", "degrees, west below zero: -92.11; a climate needs it to find the nearest station").line(longitudeSample, "degrees; west of Greenwich below zero"),
		text("site.time_zone", 60, "want a time zone by region and town, such as America/Chicago").must().line("{time_zone}", ""),
		number("site.north", "degrees from the y axis of the outline round to true north, clockwise,", -360, 360).line("20", "degrees from the bed's y axis (across it) round to true north, clockwise"),
		other("site.open", kindYes, "").line("no", "yes: nothing shades the bed"),
		figure("site.ground_slope", fraction(), 0, 1).line("3 %", "fall of the ground; above 12 % look for another place"),
		choice("site.foundation", "slab", "crawl space", "basement", "none").line("basement", "nearest building: slab, crawl space, basement, none"),
		distance("site.foundation_distance").line("15 ft", "keep at least 10 ft; local code may ask for more"),
		figure("site.groundwater_depth", lengthM(), 0, 500).line("8 ft", "in the wettest season, below the ground"),
		figure("site.rock_depth", lengthM(), 0, 500).line("8 ft", ""),
		distance("site.well_distance").line("100 ft", "drinking water; or none; ask the health office"),
		distance("site.septic_distance").line("50 ft", "never above a tank or its field; or none"),
		distance("site.boundary_distance").line("8 ft", "do not send water to the neighbours"),
	}
}

func roofKeys() []Key {
	return []Key{
		group("roof", ""),
		figure("roof.area", areaM2(), 1, 10_000).must().field("Area of the whole roof", "seen from above: 1200 sq ft, 110 m2").line("{area}", "of the whole roof, seen from above"),
		figure("roof.share", fraction(), 0.001, 1).or("100 %").field("Share of it that reaches this bed", "50 %").line("{share}", "of that area, what reaches this bed"),
		number("roof.coefficient", "the fraction of the rain that runs off,", 0.1, 1).or("0.95").field("Part of the rain that runs off", "0.95 for a usual roof").line("0.95", "of the rain on the roof, what runs off"),
		figure("roof.initial_loss", depthMM(), 0, 25).or("1 mm").field("Rain that only wets the roof", "1 mm").line("1 mm", "wets a dry roof before any runs off"),
		other("roof.also", kindList, "want a list of other ground that drains to the bed, each with surface and area").
			line("\n- {surface: pavement, area: 100 sq ft}", "other ground that drains to the bed"),
		choice("roof.also[].surface", surfaceKinds()...).must(),
		figure("roof.also[].area", areaM2(), 0.1, 10_000).must(),
		number("roof.also[].curve_number", "a curve number", 30, 100),
	}
}

func soilKeys() []Key {
	return []Key{
		group("soil", ""),
		choice("soil.texture", Textures()...).said(soilMeant).field("Soil below, by feel", "a soak test in the file counts before it").after("  # The best figure is a soak test at the bottom of the bed to be. Before any\n  # digging, even for a test, have buried pipes and cables marked: call first.").line("{soil}", ""),
		figure("soil.rate", rateMMH(), 0, 2000).field("Soil below, measured", "0.5 in/h, 12 mm/h; a soak test in the file counts before it"),
		number("soil.ph", "the acidity of the soil, pH,", 3, 10).field("Acidity of the soil, pH", "from a soil test: 6.5").line("6.5", "acidity, from a soil test; plants that cannot take it are left out"),
		number("soil.safety_factor", "a number", 1, 10).or("2").field("Divide the measured rate by", "for size, drain time and overflow; plants go by the rate itself").line("2", "divides a rate or soak test for size, drain time, overflow"),
		group("soil.soak_test", "").line("\nhole_diameter: 8 in    # soak the hole beforehand, then fill and read\nhole_depth: 12 in\nreadings:              # depth of water over the bottom of the hole\n  - {at: 0 min, water: 10 in}\n  - {at: 30 min, water: 8 in}\n  - {at: 60 min, water: 6 1/2 in}", ""),
		figure("soil.soak_test.hole_diameter", depthMM(), 25, 1000).must(),
		figure("soil.soak_test.hole_depth", depthMM(), 100, 3000).must(),
		other("soil.soak_test.readings", kindList, "want a list of readings, such as - {at: 10 min, water: 11 in}").must(),
		figure("soil.soak_test.readings[].at", timeMin(), 0, 7*24*60).must(),
		figure("soil.soak_test.readings[].water", depthMM(), 0, 3000).must(),
	}
}

func mixKeys() []Key {
	water := func(path string) Key { return figure(path, fraction(), 0.005, 0.9) }
	return []Key{
		group("mix", "what the bed is filled with"),
		choice("mix.texture", Textures()...).said(soilMeant).or("sandy loam").field("Soil in the bed", "what the bed is filled with").line("sandy loam", ""),
		figure("mix.depth", depthMM(), 50, 1500).or("12 in").field("Depth of that soil", "18 in, 450 mm").line("12 in", ""),
		figure("mix.organic_matter", fraction(), 0, 0.08).or("2.5 %").field("Compost in it, by weight", "4 %").line("2.5 %", ""),
		figure("mix.conductivity", rateMMH(), 1, 5000).line("1 in/h", "these four only if measured"),
		water("mix.wilting_point").line("8 %", ""),
		water("mix.field_capacity").line("18 %", ""),
		water("mix.saturation").line("45 %", ""),
	}
}

func bedKeys() []Key {
	return []Key{
		group("bed", ""),
		choice("bed.shape", "rectangle", "oval", "polygon").said(shapeMeant).must().field("Shape", "a polygon wants its corners, and no length and width").line("{shape}", "rectangle, oval, or polygon with points"),
		figure("bed.length", lengthM(), 0.5, maxBedM).must().field("Length", "outer edge to outer edge: 20 ft, 6 m").line("{length}", "outer edge to outer edge, rim included"),
		figure("bed.width", lengthM(), 0.5, maxBedM).must().field("Width", "14 ft, 4.2 m").line("{width}", ""),
		other("bed.points", kindPlaces, "want the corners in order, each as - [12 ft, 3 ft 6 in]: how far along and how far across from one fixed spot").
			field("Corners", "along and across, in order: 0 ft, 0 ft; 18 ft, 0 ft; 12 ft, 14 ft").line("[[0 ft, 0 ft], [18 ft, 0 ft], [12 ft, 14 ft]]", "polygon only"),
		figure("bed.ponding_depth", depthMM(), 10, 1000).must().field("Depth of water before it spills", "6 in, 150 mm").line("{ponding_depth}", "bottom to the level where water spills"),
		{Path: "bed.side_slope", kind: kindSlope, lo: 0.5, hi: 20, want: "want the slope of the sides, run to rise, such as 3:1", Default: "3:1", Label: "Sides, run to rise", Hint: "3:1; steeper sides wash and slip", sample: "3:1", note: "run to rise; steeper sides wash and slip"},
		figure("bed.rim_width", lengthM(), 0, 5).or("1 ft").field("Width of the rim", "1 ft, 30 cm").line("1 ft", ""),
		figure("bed.freeboard", depthMM(), 0, 500).or("2 in").field("Height of the outer edge over the spill", "2 in, 50 mm").line("2 in", "outer edge above the spill level"),
		number("bed.kc", "the crop coefficient of the planting,", 0.1, 1.5).or("1.0").field("Water that the planting uses", "against a lawn in full growth: 1.0").line("1.0", "water use of the planting against lawn"),
	}
}

func inletKeys() []Key {
	return []Key{
		group("inlet", "from the downspout to the bed: hollowbed basin --inlets"),
		choice("inlet.way", inlet.Kinds()...).line("pipe", "pipe, swale or surface; left out: all water arrives"),
		other("inlet.ground", kindList, "want the ground in order from the downspout to the edge of the bed, such as - {at: 0 ft, level: 6 in}, two places at least").must().
			line("\n- {at: 0 ft, level: 6 in}\n- {at: 16 ft, level: 0 in}", "levels over any one fixed spot, from downspout to edge of bed"),
		figure("inlet.ground[].at", lengthM(), 0, 300).must(),
		figure("inlet.ground[].level", levelMM(), -highestMM, highestMM).must(),
		figure("inlet.spill", levelMM(), -highestMM, highestMM).line("-2 in", "where the bed spills, over the same spot; left out: the rim meets the ground"),
		{Path: "inlet.downspout", kind: kindFigures, of: depthMM(), lo: 20, hi: 16 * mmPerIn, want: "want the inside of the downspout: width and depth as [2 in, 3 in], or the diameter of a round one", Required: true, sample: "[2 in, 3 in]", note: "inside, width and depth; or one diameter"},
		figure("inlet.pipe", depthMM(), 25, 600).or("4 in").line("4 in", "inside diameter; have buried pipes and cables marked before you dig"),
		choice("inlet.material", inlet.MaterialNames()...).or("pvc").line("pvc", "pvc, smooth hdpe, corrugated hdpe, clay, cast iron, concrete"),
		figure("inlet.pipe_fall", fraction(), 0.001, 0.04).line("1.1 %", "at least; left out: 1 in per 10 ft"),
		figure("inlet.cover", depthMM(), 0, 2000).or("12 in").line("12 in", "soil over the pipe"),
		figure("inlet.liner_width", lengthM(), 0.3, 5).or("2 ft").line("2 ft", "of a swale"),
		figure("inlet.design_rain", rateMMH(), 1, 1000).line("4 in/h", "that downspouts are sized for; ask the building office"),
	}
}

func targetKeys() []Key {
	return []Key{
		group("target", ""),
		figure("target.capture", fraction(), 0.01, 1).or("80 %").field("Water to keep, over the years", "80 %").line("80 %", "of the water that arrives over the years"),
		figure("target.event", depthMM(), 1, 1000).field("Storm to swallow", "1.5 in, 38 mm; empty: from the record").line("1.5 in", "storm to swallow; left out: from the record"),
		figure("target.drain_within", timeH(), 1, 14*24).or("24 h").field("Drained within", "24 h; longer standing water harms plants and breeds mosquitoes").line("24 h", "longer standing water harms plants and breeds mosquitoes"),
	}
}

func sunKeys() []Key {
	hours := func(path string) Key { return figure(path, sunH(), 0, 24) }
	all := hours("sun")
	all.kind = kindByZone
	return []Key{
		all.after("# Direct sun in the growing season; or one figure for each of bottom, slope, rim.").line("{sun}", ""),
		hours("sun.bottom").field("Sun in the bottom", "direct sun a day in the growing season: 6 h"),
		hours("sun.slope").field("Sun on the slope", "6.5 h"),
		hours("sun.rim").field("Sun on the rim", "7 h"),
	}
}

func obstacleKeys() []Key {
	share := func(path string, part float64) Key { return figure(path, fraction(), 0, 1).or(plain(100*part) + " %") }
	high := func(path string, least float64) Key { return figure(path, lengthM(), least, maxHighM).must() }
	const corner = ", each as [12 ft, -3 ft 6 in]" + wantAlong
	return []Key{
		other("obstacles", kindList, "want a list of what shades the bed, such as - {wall: [[0 ft, -6 ft], [20 ft, -6 ft]], height: 9 ft}").
			after(`# What shades the bed, if the sun is to be worked out: places along and across
# as in the outline, below zero before it; heights from the level where water
# spills. A zone with its hours of sun given above keeps them.`).line(`
- {wall: [[0 ft, -6 ft], [20 ft, -6 ft]], height: 9 ft}
- {fence: [[-8 ft, 0 ft], [-8 ft, 30 ft]], height: 6 ft, light: 0 %}  # light between the boards
- {house: [[0 ft, -40 ft], [40 ft, -40 ft], [40 ft, -16 ft], [0 ft, -16 ft]], height: 18 ft}
- {tree: [12 ft, 30 ft], crown: 20 ft, base: 7 ft, top: 30 ft, leaf: {from: April, to: October}, light_in_leaf: 10 %, light_bare: 70 %}`, ""),
		other("obstacles[].wall", kindPlaces, "want its ends, and its corners if it turns"+corner),
		other("obstacles[].fence", kindPlaces, "want its ends, and its corners if it turns"+corner),
		other("obstacles[].house", kindPlaces, "want its corners in order"+corner),
		other("obstacles[].tree", kindPlace, "want where its trunk is, such as [12 ft, -3 ft 6 in]"+wantAlong),
		high("obstacles[].height", 0.05),
		share("obstacles[].light", 0),
		figure("obstacles[].crown", lengthM(), 0.2, 60).must(),
		high("obstacles[].base", 0),
		high("obstacles[].top", 0.1),
		group("obstacles[].leaf", ""),
		other("obstacles[].leaf.from", kindMonth, wantMonth),
		other("obstacles[].leaf.to", kindMonth, wantMonth),
		share("obstacles[].light_in_leaf", site.LightInLeaf),
		share("obstacles[].light_bare", site.LightBare),
	}
}

func weatherKeys() []Key {
	word := func(path string) Key { return text(path, 40, wantWord) }
	return []Key{
		group("weather", "the record beside this file, or a climate"),
		text("weather.file", 200, "want the name of a file beside this one").or("rain.csv").field("Weather record", "a file in the folder of the garden; empty with a climate: weather is made from that alone").line("rain.csv", "left out with station or monthly: weather is made from that climate"),
		word("weather.station").field("Climate", "nearest, or the id of a station; with a record, it lengthens a short one").line("nearest", "or an id: a built-in climate of the United States; elsewhere monthly: months.csv, twelve lines"),
		text("weather.monthly", 200, "expected the name of a file beside this one").line("", "a climate in twelve lines: month, rain_mm, rain_days, tmax_c, tmin_c (or rain_in, tmax_f, tmin_f)"),
		figure("weather.wet_day", depthMM(), 0.01, 25).line("", "of monthly: from how much on a day of rain was counted; left out: 1 mm"),
		word("weather.step").line("daily", "or hourly"),
		word("weather.pattern").line("type-ii", "spread of daily rain over the day: type-ii, even, block-6h"),
		other("weather.columns", kindTable, "want our names and the headers in the file, such as rain: precip_in").line("{date: day, rain: precip}", "ours: header in the file"),
		word("weather.rain_unit").line("mm", "mm, 0.1 mm, cm, in, 0.01 in"),
		word("weather.temp_unit").line("C", "C, F, 0.1 C"),
		other("weather.missing", kindWords, wantMarks).line("[NA, M]", "cells that mean no value"),
		other("weather.trace", kindWords, wantMarks).line("[T]", "cells that mean a trace of rain"),
		word("weather.absent_row").line("missing", "a day without a row is missing, or dry"),
		word("weather.zeros").line("checked", "months of zeros that are all but impossible there are missing; or real"),
		choice("weather.snow", "rain", "pack").line("pack", "snow lies until it melts; left out, or rain: all that falls is water on its day"),
		word("weather.clock").line("standard", "standard, local, utc"),
		word("weather.date_order").line("mdy", "of dates such as 1/5/2013"),
		other("weather.where", kindTable, "want columns and the cell to keep, such as station: Q1").line("{station: Q1}", "rows to keep"),
		{Path: "weather.et0_by_month", kind: kindFigures, of: dailyMM(), hi: 20, want: "want twelve values, January first, such as [0.4 mm/d, 0.7 mm/d, ...]",
			sample: "[0.4 mm/d, 0.7 mm/d, 1.5 mm/d, 2.8 mm/d, 4 mm/d, 5 mm/d, 5.3 mm/d, 4.6 mm/d, 3.3 mm/d, 1.9 mm/d, 0.9 mm/d, 0.4 mm/d]"},
	}
}

func wishKeys() []Key {
	height := func(path string) Key { return figure(path, heightCM(), 1, 5000) }
	heights := height("wishes.height_max")
	heights.kind = kindByZone
	sizes := Sizes()
	money := func(path, label string) Key {
		return number(path, "a sum of money in the currency of the plant table, without its sign,", 0, 100_000).field(label, "where the plant table has none")
	}
	weight := func(path string) Key { return number(path, "a weight beside survival, which counts 1,", 0, 10) }
	layer := func(path string) Key { return figure(path, fraction(), 0, 1) }
	harmed := other("wishes.no_toxic_to", kindWords, "want a list of whom to keep safe, such as [people, pets]")
	harmed.Choices = []string{"people", "pets", "livestock", "skin"}
	return []Key{
		group("wishes", "for the planting list"),
		figure("wishes.yearly_risk_max", fraction(), 0.001, 1).or("15 %").field("Most risk a year", "riskier plants are left out: 15 %").line("15 %", "riskier plants are left out"),
		count("wishes.most_species", "a number of species", 1, 1000).field("Most species", "12").line("12", ""),
		count("wishes.smallest_group", "a number of plants", 1, 1000).or("3").field("Fewest of a species in a zone", "3").line("3", ""),
		figure("wishes.share_cap", fraction(), 0.01, 1).or("25 %").field("Most of a zone for one species", "25 % of its ground, planted or not").line("25 %", "most of the ground of a zone for one species"),
		number("wishes.budget", "a sum of money in the currency of the plant table, without its sign,", 0, 10_000_000).field("Budget", "in the currency of the plant table").line("600", ""),
		choice("wishes.size", sizes[:len(sizes)-1]...).field("Plants bought as", "plug, small pot, gallon pot or bare root, where the plant table does not say").line("plug", "where the plant table does not say; smaller ones cost less and dry out sooner"),
		group("wishes.prices", "").line("{plug: 2.50, small_pot: 6, gallon_pot: 14, bare_root: 4, bulb: 0.80}", "of one plant by size, where the plant table has no price; ask your nursery"),
		money("wishes.prices.plug", "Price of a plug"), money("wishes.prices.small_pot", "Price of a small pot"), money("wishes.prices.gallon_pot", "Price of a gallon pot"),
		money("wishes.prices.bare_root", "Price of a plant with bare roots"), money("wishes.prices.bulb", "Price of a bulb"),
		number("wishes.hour_worth", "what an hour of work is worth, in the currency of the plant table, without its sign,", 0, 1000).field("An hour of work is worth", "20 unless said; a plant is moved only where that pays").line("20", "in the currency of the plant table; a plant is moved only where that pays"),
		heights.line("{rim: 3 ft}", "or one height for all zones"),
		height("wishes.height_max.bottom").field("Tallest in the bottom", "4 ft, 120 cm"),
		height("wishes.height_max.slope").field("Tallest on the slope", "4 ft, 120 cm"),
		height("wishes.height_max.rim").field("Tallest on the rim", "3 ft, 90 cm"),
		harmed.field("Nothing poisonous to", "people, pets, livestock, skin").line("[people, pets]", ""),
		choice("wishes.harm_unknown", "allow", "leave out").field("Plants of which it is not known whether they harm", "allow: they may stand in the list, each marked").line(harmSample, "plants of which it is not known whether they harm; of real ones that is most"),
		choice("wishes.watering", WaterNever, waterAtFirst, WaterWeekly).field("Watering", "weekly-in-drought: the list counts on it, every year; left out: in the first year").line(waterAtFirst, "none, first-year, or weekly-in-drought, every year: then the list counts on it"),
		choice("wishes.sold", "routinely", "any").field("Of real plants, those sold", "routinely, or any").line("routinely", "of real plants; or any: also those hard to find"),
		other("wishes.trees", kindYes, "").or("no").field("Trees too", "of real plants").line("yes", "of real plants, trees too"),
		other("wishes.further_names", kindYes, "").or("no").line("yes", "of real plants, 6,000 more whose height, light and cold are taken from their genus, each marked"),
		other("wishes.no_runners", kindYes, "").field("Leave out plants that run", "").or("no").line("yes", ""),
		group("wishes.bloom", "").line("{from: April, to: October}", ""),
		other("wishes.bloom.from", kindMonth, wantMonth).field("In flower from", ""),
		other("wishes.bloom.to", kindMonth, wantMonth).field("In flower until", ""),
		other("wishes.native_to", kindWords, "want a list of regions as the plant table writes them").field("Native to", "regions as the plant table writes them").line("[]", "regions as the plant table writes them; of plants: us, states, such as [WI, MN]; left out: the lot's"),
		other("wishes.wanted", kindWords, wantIDs).field("Wanted", "ids of plants").line("[]", "ids from the plant table"),
		other("wishes.unwanted", kindWords, wantIDs).field("Not wanted", "ids of plants").line("[]", ""),
		group("wishes.layers", "").line("{matrix: 50 %, structure: 10 %, seasonal: 25 %}", "least share of a zone's ground for low plants that close the soil, for tall or woody ones, for those between"),
		layer("wishes.layers.matrix"), layer("wishes.layers.structure"), layer("wishes.layers.seasonal"),
		group("wishes.weights", "").line("{bloom: 0.2, variety: 0.2, native: 0.2}", "beside survival, which counts 1"),
		weight("wishes.weights.bloom"), weight("wishes.weights.variety"), weight("wishes.weights.native"),
		count("wishes.seed", "a number", 0, 1<<30).or("1").field("Number that the search begins with", "same number, same list").line("1", "same seed, same list"),
	}
}

func layoutKeys() []Key {
	view := choice("layout.view_from", views()...).or("all round")
	ground := func(path string) Key {
		return other(path, kindPlaces, "want its corners in order, each as [4 ft, 2 ft]; or its middle and a radius")
	}
	return []Key{
		group("layout", "places along and across, as in the outline"),
		other("layout.inlet", kindPlace, wantOnePlace).line("[0 ft, 7 ft]", "where the water comes in"),
		figure("layout.splash", lengthM(), 0, 5).or("45 cm").line("18 in", "radius of the stones round it"),
		other("layout.overflow", kindPlace, wantOnePlace).line("[20 ft, 7 ft]", "where it may leave: away from buildings and neighbours"),
		figure("layout.overflow_free", lengthM(), 0, 5).or("30 cm").line("12 in", "kept free of plants round it"),
		other("layout.keep_free", kindList, "want a list, such as - {bench: [[4 ft, 2 ft], [8 ft, 2 ft], [8 ft, 4 ft]]} or - {boulder: [5 ft, 6 ft], radius: 1 ft}").
			line("\n- {boulder: [6 ft, 5 ft], radius: 1 ft}\n- {bench: [[9 ft, 1 ft], [13 ft, 1 ft], [13 ft, 2 ft 6 in], [9 ft, 2 ft 6 in]]}", "ground without plants: bench, boulder, path, other"),
		ground("layout.keep_free[].bench"), ground("layout.keep_free[].boulder"), ground("layout.keep_free[].path"), ground("layout.keep_free[].other"),
		figure("layout.keep_free[].radius", lengthM(), 0.02, 20),
		view.field("Seen from", "").line("front", "all round, left, right, front, back; or a place [10 ft, -12 ft]"),
		figure("layout.overlap", fraction(), 0, 0.5).or("10 %").field("Overlap of grown plants", "10 %").line("10 %", "by which grown plants may overlap"),
		figure("layout.margin", lengthM(), 0, 5).or("0 cm").field("Kept free along the edge", "0 in, 0 cm").line("0 in", "kept free along the outer edge"),
		other("layout.fixed_points", kindTable, "want two things that stay where they are, such as {house corner: [-8 ft, 0 ft], fence post: [-8 ft, 20 ft]}").
			line("{house corner: [-8 ft, 0 ft], fence post: [-8 ft, 20 ft]}", "to measure from"),
	}
}
