package zones

import (
	"math"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // time zones also on machines that have no table of them

	"hollowbed/zones/site"
)

// Garden is one garden file, read and checked. Figures are SI: m, mm for depths, m2,
// mm/h, fractions for percents. What may be left out, and is, is NaN (counts and months:
// 0); what has a default holds it and is named in Assumed.
type Garden struct {
	Source    string          // file name as shown to people
	Name      string          // what the gardener calls the place
	Units     Units           // how figures are shown
	Plants    string          // the plant table: PlantsUS, PlantsDemo or a file beside the garden file; "" if not said
	Site      Site            // where it lies and what is near
	Roof      Roof            // what sends water
	Soil      Soil            // the ground below the mix
	Mix       Mix             // what the bed is filled with
	Bed       Bed             // shape and depth
	Inlet     Inlet           // how the water comes from the downspout to the bed
	Target    Target          // what the bed shall achieve
	Sun       Sun             // direct sun by zone, where stated
	Obstacles []site.Obstacle // what keeps the sun off; see Lot.Sun
	Weather   Weather         // where the record is and how to read it
	Wishes    Wishes          // what the planting list shall keep to
	Layout    Layout          // where water comes and goes, and how plants are set out
	Assumed   []string        // keys left out that got a default: "roof.coefficient: 0.95"

	at    map[string][2]int // line and column of each key's value
	cells []Cell            // of the table that the garden was made by, see Base
}

// Plant tables that the program carries.
const (
	PlantsUS   = "us"   // real plants of the United States
	PlantsDemo = "demo" // invented ones
)

// Site is the place and what stands or lies near the bed.
type Site struct {
	LatitudeDeg         float64        // north positive
	LongitudeDeg        float64        // east positive; NaN if not given
	TimeZone            string         // IANA name, as written
	Location            *time.Location // the same, loaded
	NorthDeg            float64        // true north, degrees clockwise from the y axis of the outline
	Open                bool           // nothing shades the bed
	GroundSlope         float64        // fraction, fall per run
	Foundation          string         // "slab", "crawl space", "basement", "none" or ""
	FoundationDistanceM float64        // edge of the bed to the nearest building
	GroundwaterDepthM   float64        // below the ground, in the wettest season
	RockDepthM          float64        // below the ground
	WellDistanceM       float64        // nearest drinking-water well; +Inf: none near
	SepticDistanceM     float64        // nearest septic tank or field; +Inf: none near
	BoundaryDistanceM   float64        // nearest edge of the lot
}

// Roof is the catchment: the roof and any other ground that drains to the bed.
type Roof struct {
	AreaM2        float64   // plan area of the whole roof
	Share         float64   // fraction that reaches this bed
	Coefficient   float64   // fraction of the rain, after the loss, that runs off
	InitialLossMM float64   // rain taken up before a dry roof runs
	Also          []Surface // other ground that drains to the bed
}

// Surface is ground other than the roof that drains to the bed. Its runoff is
// that of its curve number, USDA 1986. Source: SOURCES.md [S5].
type Surface struct {
	Kind        string // one of surfaceKinds
	AreaM2      float64
	CurveNumber float64 // NaN: by kind and soil group, site.CurveNumber
}

// Soil is the ground below the mix, known by one way at least: the soak test counts before
// the rate, the rate before the texture. SafetyFactor divides the first two, because one
// hole is not the whole bed and beds clog; not the class, which is low already.
type Soil struct {
	Texture      string         // one of Textures, or ""
	RateMMH      float64        // measured steady infiltration, side flow already taken out
	SoakTest     *site.SoakTest // nil if none; its SafetyFactor is the one below
	SafetyFactor float64        // at least 1
	PH           float64        // acidity; NaN if not given
	KnownSD      float64        // how far ln of the rate may be off by ponds that were watched (plants.ByNotes); 0 if none were
}

// Mix is the planting soil. Water contents are fractions by volume, all three or none.
type Mix struct {
	Texture         string  // one of Textures
	FieldCapacity   float64 // fraction by volume
	WiltingPoint    float64 // fraction by volume
	Saturation      float64 // fraction by volume
	ConductivityMMH float64 // saturated
	DepthMM         float64
	OrganicMatter   float64 // fraction by weight
}

// Bed is the outline, which is the outer edge of the rim, and the depths.
type Bed struct {
	Shape          string       // "rectangle", "oval" or "polygon"
	LengthM        float64      // outer; NaN for a polygon
	WidthM         float64      // outer; NaN for a polygon
	PointsM        [][2]float64 // polygon corners in order, x and y
	PondingDepthMM float64      // spill level down to the bottom
	SideSlope      float64      // run per rise: 3 is 3:1
	RimWidthM      float64      // level-to-outline distance inward
	FreeboardMM    float64      // outline above the spill level
	Kc             float64      // crop coefficient of the planting
}

// Target is what the bed shall achieve.
type Target struct {
	Capture      float64 // fraction of the record's runoff kept
	EventMM      float64 // rain of the event to swallow; NaN: from the record
	DrainWithinH float64 // hours
}

// Sun is hours of direct sun a day in the growing season; NaN where not given.
type Sun struct {
	BottomH float64
	SlopeH  float64
	RimH    float64
}

// Weather says where the record is and how to read it; what is empty the header says.
type Weather struct {
	File     string  // beside the garden file; "" if the weather is made from a climate alone
	Station  string  // id of a built-in climate, or "nearest"; "" for none
	Monthly  string  // file with a climate of twelve months, beside the garden file; "" for none
	WetDayMM float64 // from how much on a day of Monthly counts as wet; NaN: 1 mm
	site.Format
	Snow         string    // "pack": snow lies until it melts; "rain": all that falls is water on its day
	ET0ByMonthMM []float64 // 12 values, mm/d, January first, or nil
}

// Wishes bound and steer the planting list.
type Wishes struct {
	ShareCap      float64   // most of the ground of a zone for one species, fraction
	SmallestGroup int       // least plants of a species in a zone
	MostSpecies   int       // 0: no limit
	Budget        float64   // in the currency of the catalogue; NaN: no limit
	HourWorth     float64   // what an hour of work is worth, in that currency; NaN: as usual
	Size          string    // to buy, one of Sizes but bulb; "": not said
	Prices        []float64 // of one plant, by Sizes; NaN: not said
	HeightMaxCM   byZone    // NaN: no limit
	NoToxicTo     []string  // any of "people", "pets", "livestock", "skin"
	NoRunners     bool      // leave out plants that run
	HarmUnknown   string    // "allow": plants of which it is not known whether they harm may stand in the list
	Watering      string    // one of WaterNever, waterAtFirst, WaterWeekly; "" for waterAtFirst
	Sold          string    // of real plants: "routinely" or "any"
	Trees         bool      // of real plants: trees too
	FurtherNames  bool      // of real plants: those too whose traits are taken from their genus
	Wanted        []string  // plant ids
	Unwanted      []string  // plant ids
	NativeTo      []string  // tags of regions that count as native
	BloomFrom     int       // month 1 to 12; 0: not given
	BloomTo       int       // month; may be before BloomFrom
	YearlyRiskMax float64   // plants above this yearly risk are left out, fraction
	Weights       weights
	Layers        Layers
	Seed          int64
}

// Sizes are the sizes in which plants are sold, as plant tables name them.
func Sizes() []string { return []string{"plug", "small pot", "gallon pot", "bare root", "bulb"} }

// PriceOf is what a plant of a size costs; NaN where that is not said.
func (w Wishes) PriceOf(size string) float64 {
	if i := slices.Index(Sizes(), size); i >= 0 && i < len(w.Prices) {
		return w.Prices[i]
	}
	return math.NaN()
}

// What wishes.watering may say.
const (
	WaterNever   = "none"
	waterAtFirst = "first-year"
	WaterWeekly  = "weekly-in-drought"
)

// weights say how much each aim counts beside survival, which counts 1; NaN: left out.
type weights struct {
	Bloom   float64
	Variety float64
	Native  float64
}

// Layers are the least shares of a zone's ground for each layer; NaN: left out.
type Layers struct{ Matrix, Structure, Seasonal float64 }

// byZone is one figure for each zone.
type byZone struct {
	Bottom float64
	Slope  float64
	Rim    float64
}

// Of returns the figure of the zone named, and NaN for any other name.
func (b byZone) Of(zone string) float64 {
	switch zone {
	case "bottom":
		return b.Bottom
	case "slope":
		return b.Slope
	case "rim":
		return b.Rim
	}
	return math.NaN()
}

// Of returns the hours of direct sun of the zone named, NaN if not given.
func (s Sun) Of(zone string) float64 {
	return byZone{Bottom: s.BottomH, Slope: s.SlopeH, Rim: s.RimH}.Of(zone)
}

// Textures lists the classes of the USDA soil triangle, coarse to fine.
func Textures() []string { return site.SoilClasses() }

// surfaceKinds lists the ground other than roof that may drain to the bed.
func surfaceKinds() []string {
	return []string{"pavement", "gravel", "dirt", "good lawn", "fair lawn", "poor lawn"}
}

// runoffSurface is the name of the kind in the curve number table.
func (s Surface) runoffSurface() string {
	if quality, ok := strings.CutSuffix(s.Kind, " lawn"); ok {
		return "lawn, " + quality
	}
	return s.Kind
}

// With is the sun with other hours in the zone named.
func (s Sun) With(zone string, hours float64) Sun {
	switch zone {
	case "bottom":
		s.BottomH = hours
	case "slope":
		s.SlopeH = hours
	case "rim":
		s.RimH = hours
	}
	return s
}
