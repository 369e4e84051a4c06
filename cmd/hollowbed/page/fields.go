package page

import (
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
)

// field is one key of the garden file that the page can change.
type field struct {
	Key     string   `json:"key"`
	Group   string   `json:"group"`
	Label   string   `json:"label"`
	Text    string   `json:"text"`
	Kind    string   `json:"kind"`
	Choices []string `json:"choices"`
	Hint    string   `json:"hint"`
	Default string   `json:"default"`
	Set     bool     `json:"set"`
}

// yesNo, months and so on are what some fields can hold.
func yesNo() []string { return []string{"yes", "no"} }

func months() []string {
	return []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}
}

// fieldTable is every key that can be changed, in the order of the page. The
// hints are in both systems, since a garden file may be. What holds when a field
// is left out stands as "US = metric" where that differs.
func fieldTable() []field {
	quantity := func(key, label, hint, otherwise string) field {
		return field{Key: key, Label: label, Kind: "quantity", Hint: hint, Default: otherwise}
	}
	choice := func(key, label string, choices []string, hint, otherwise string) field {
		return field{Key: key, Label: label, Kind: "choice", Choices: choices, Hint: hint, Default: otherwise}
	}
	number := func(key, label, hint, otherwise string) field {
		return field{Key: key, Label: label, Kind: "number", Hint: hint, Default: otherwise}
	}
	ids := func(key, label, hint string) field { return field{Key: key, Label: label, Kind: "ids", Hint: hint} }
	return []field{
		{Key: "name", Label: "What you call the garden", Kind: "text", Hint: "any words"},
		quantity("roof.area", "Area of the whole roof", "seen from above: 1200 sq ft, 110 m2", ""),
		quantity("roof.share", "Share of it that reaches this bed", "50 %", "100 %"),
		number("roof.coefficient", "Part of the rain that runs off", "0.95 for a usual roof", "0.95"),
		quantity("roof.initial_loss", "Rain that only wets the roof", "1 mm", "0.04 in = 1 mm"),
		choice("soil.texture", "Soil below, by feel", zones.Textures(), "a soak test in the file counts before it", ""),
		quantity("soil.rate", "Soil below, measured", "0.5 in/h, 12 mm/h; a soak test in the file counts before it", ""),
		number("soil.safety_factor", "Divide the measured rate by", "one hole is not the bed", "2"),
		choice("mix.texture", "Soil in the bed", zones.Textures(), "what the bed is filled with", "sandy loam"),
		quantity("mix.depth", "Depth of that soil", "18 in, 450 mm", "12 in = 305 mm"),
		quantity("mix.organic_matter", "Compost in it, by weight", "4 %", "2.5 %"),
		choice("bed.shape", "Shape", []string{"rectangle", "oval", "polygon"}, "a polygon wants its corners, and no length and width", ""),
		quantity("bed.length", "Length", "outer edge to outer edge: 20 ft, 6 m", ""),
		quantity("bed.width", "Width", "14 ft, 4.2 m", ""),
		{Key: "bed.points", Label: "Corners", Kind: "text", Hint: "along and across, in order: 0 ft, 0 ft; 18 ft, 0 ft; 12 ft, 14 ft"},
		quantity("bed.ponding_depth", "Depth of water before it spills", "6 in, 150 mm", ""),
		{Key: "bed.side_slope", Label: "Sides, run to rise", Kind: "text", Hint: "3:1; steeper sides wash and slip", Default: "3:1"},
		quantity("bed.rim_width", "Width of the rim", "1 ft, 30 cm", "1 ft = 305 mm"),
		quantity("bed.freeboard", "Height of the outer edge over the spill", "2 in, 50 mm", "2 in = 51 mm"),
		number("bed.kc", "Water that the planting uses", "against a lawn in full growth: 1.0", "1.0"),
		quantity("target.capture", "Water to keep, over the years", "80 %", "80 %"),
		quantity("target.event", "Storm to swallow", "1.5 in, 38 mm; empty: from the record", ""),
		quantity("target.drain_within", "Drained within", "24 h; longer standing water harms plants and breeds mosquitoes", "24 h"),
		quantity("sun.bottom", "Sun in the bottom", "direct sun a day in the growing season: 6 h", ""),
		quantity("sun.slope", "Sun on the slope", "6.5 h", ""),
		quantity("sun.rim", "Sun on the rim", "7 h", ""),
		quantity("wishes.yearly_risk_max", "Most risk a year", "riskier plants are left out: 15 %", "15 %"),
		number("wishes.most_species", "Most species", "12", ""),
		number("wishes.smallest_group", "Fewest of a species in a zone", "3", "3"),
		quantity("wishes.share_cap", "Most of a zone for one species", "25 % of its ground, planted or not", "25 %"),
		number("wishes.budget", "Budget", "in the currency of the plant table", ""),
		quantity("wishes.height_max.bottom", "Tallest in the bottom", "4 ft, 120 cm", ""),
		quantity("wishes.height_max.slope", "Tallest on the slope", "4 ft, 120 cm", ""),
		quantity("wishes.height_max.rim", "Tallest on the rim", "3 ft, 90 cm", ""),
		ids("wishes.no_toxic_to", "Nothing poisonous to", "people, pets, livestock, skin"),
		choice("wishes.no_runners", "Leave out plants that run", yesNo(), "", "no"),
		choice("wishes.bloom.from", "In flower from", months(), "", ""),
		choice("wishes.bloom.to", "In flower until", months(), "", ""),
		ids("wishes.native_to", "Native to", "regions as the plant table writes them"),
		ids("wishes.wanted", "Wanted", "ids of plants"),
		ids("wishes.unwanted", "Not wanted", "ids of plants"),
		number("wishes.seed", "Number that the search begins with", "same number, same list", "1"),
		choice("layout.view_from", "Seen from", zones.Views(), "", "all round"),
		quantity("layout.overlap", "Overlap of grown plants", "10 %", "10 %"),
		quantity("layout.margin", "Kept free along the edge", "0 in, 0 cm", "0 in = 0 cm"),
	}
}

// fieldNamed finds a field by its key.
func fieldNamed(key string) (field, bool) {
	all := fieldTable()
	i := slices.IndexFunc(all, func(f field) bool { return f.Key == key })
	if i < 0 {
		return field{}, false
	}
	return all[i], true
}

// fields gives every field with what the draft says, and what holds without it in
// the units shown. The caller holds mu.
func (s *session) fields(units zones.Units) []field {
	texts, err := zones.KeyTexts(s.draft.garden)
	if err != nil {
		panic("page: a draft that is no garden file: " + err.Error())
	}
	out := fieldTable()
	for i := range out {
		f := &out[i]
		f.Group, _, _ = strings.Cut(f.Key, ".")
		if us, metric, both := strings.Cut(f.Default, " = "); both {
			f.Default = us
			if units == zones.UnitsMetric {
				f.Default = metric
			}
		}
		if f.Choices == nil {
			f.Choices = []string{}
		}
		text, ok := texts[f.Key]
		if parent := f.Key[:max(0, strings.LastIndex(f.Key, "."))]; !ok { // one figure for all zones
			if one, all := texts[parent]; all && (parent == "sun" || parent == "wishes.height_max") {
				text, ok = one, true
			}
		}
		f.Text, f.Set = report.Plain(text), ok
	}
	return out
}
