// Package catalogue reads, checks and writes the plant table: what each plant
// bears, how large it grows, when it blooms and where it comes from.
//
// Read takes a table in the form of RFC 4180 and gives plants, or all that is
// wrong with the table, each fault with its line and column. Write gives a
// table that reads back the same. Import makes plants of any other table by a
// Map, Join fills one table from another, Schema describes the table to other
// programs. tableColumns is the one table of columns that all of them go by.
//
// The package does not judge where a plant will live; fit does. It opens no
// files: names are only for messages.
package catalogue

// Plant is one row of the plant table. A number that the table leaves empty
// is NaN (months: 0): unknown, never zero. Columns and units are those of the
// table, so that a message can name the column a person sees.
type Plant struct {
	ID             string   // unique; lower case letters, digits and hyphens
	ScientificName string   // Darwin Core
	VernacularName string   // Darwin Core
	Form           string   // one of forms
	Zones          []string // the grower's word: any of "bottom", "slope", "rim"
	SunMinH        float64  // least direct sun, hours a day in the growing season
	SunMaxH        float64  // most direct sun
	WetH           float64  // hours of standing water or saturated soil borne in one go in the growing season
	PondMM         float64  // deepest standing water borne for that long, mm
	DryD           float64  // days without water borne in midsummer on garden loam, once established
	LowestC        float64  // lowest air temperature survived, deg C
	RootCM         float64  // depth that the roots draw water from
	HeightCM       float64
	SpreadCM       float64 // mature spread, diameter
	FlowerFrom     int     // first month of bloom, 1 to 12; 0 if none or unknown
	FlowerTo       int     // last month; may be before FlowerFrom (over the turn of the year)
	FlowerColour   []string
	Evergreen      string   // "yes", "no", "semi" or "" (unknown)
	NativeTo       []string // tags of regions
	Spreads        string   // "no", "slowly", "runs", "seeds" or ""
	Toxic          []string // whom it harms: any of "people", "pets", "livestock", "skin"; "none" alone if known harmless; empty is unknown
	Price          float64  // per plant, in the currency of the catalogue
	SoldAs         string   // the size that the price is for: one of Sizes, or ""
	Tags           []string // other traits
	Notes          string
	Source         string
	Assumed        []string // columns whose value is assumed from a class or a status, not measured
	Line           int      // line of the row in its file
	Wild           *Wild    // of the built-in table alone; not a part of plant tables
}

// SoldFurther is of plants of which no more is known than names, states and wetland
// status, and which stand in a table only where the garden file asks for them.
const SoldFurther = "further"

// Wild is what the built-in table of real plants knows beside the columns of a
// plant table. Numbers are NaN where it is not known.
type Wild struct {
	State        string // that the lot lies in
	Tree, Annual bool
	Sold         string  // "routinely", "listed" (in garden lists), "seldom", SoldFurther or "" (not known)
	Guessed      bool    // height, light, cold and flowers are those of its genus or form
	Weed         string  // why it is kept out unless wanted; "" if it is not
	RainMinMM    float64 // yearly rain where it grows
	RainMaxMM    float64
	FrostFreeD   float64    // fewest days without frost that it needs
	ColdWinters  bool       // known from places with cold winters alone
	Mountains    string     // where high up it grows; "" if not there alone
	Wet          bool       // found mostly in wetlands where the lot lies
	Water        string     // in what water or on what shore it grows; "" if not there alone
	Soils        string     // c, m, f: coarse, medium, fine; "" if not known
	PHMin, PHMax float64    // of the soil
	Also         []string   // other names, scientific and common
	Spread       [4]float64 // by limit (wet, deep, dry, cold): how far it may be off, log units; 0 for as stated
	Grade        grade
	Near, Far    int      // garden lists that name it, of regions like the lot's and of others
	Tried        bool     // how long it bears water was tried
	Evidence     []string // what the limits rest on, a line each
}

// grade says how sure the limits of a plant are.
type grade int

// The grades, surest first.
const (
	Sure     grade = iota // two lists of regions like this, or one and a trial
	Likely                // one list of a region like this, or a trial
	Possible              // lists from far away
	Doubtful              // classes alone
)

func (g grade) String() string { return [...]string{"sure", "likely", "possible", "doubtful"}[g] }
