package species

import (
	"math"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
)

const (
	cmPerFt = 30.48
	mmPerIn = 25.4
)

// woodsSunH is the most sun, hours a day, of plants of the forest floor
// (testdata/species/shade.csv): part shade. Common practice, no source.
const woodsSunH = 4

const (
	formForb  = "forb"
	formGrass = "grass-like"
	formFern  = "fern-like"
	formClimb = "climber"
	formShrub = "shrub"
	formSmall = "small tree"
	formTree  = "tree"
)

// form follows the growth habit: a tree is a tree. What is both shrub and tree is
// a shrub up to 15 ft, and up to 26 ft if it has several stems. Common practice,
// no source.
func (r *record) form() string {
	has := func(habit string) bool { return slices.Contains(r.habit, habit) }
	switch {
	case r.group == "Fern":
		return formFern
	case has("Tree"):
		several := r.growth == "Multiple Stem" || r.growth == "Thicket Forming"
		if has("Shrub") && (r.heightFt <= 15 || several && r.heightFt <= 26 || math.IsNaN(r.heightFt)) {
			return formShrub
		}
		if r.heightFt <= 26 {
			return formSmall
		}
		return formTree
	case has("Vine"):
		return formClimb
	case has("Shrub") || has("Subshrub") && !has("Forb/herb"):
		return formShrub
	case has("Graminoid"):
		return formGrass
	}
	return formForb
}

func woody(form string) bool { return form == formShrub || form == formSmall || form == formTree }

// annual says that it lives for a year or two at most.
func (r *record) annual() bool {
	return len(r.duration) > 0 && !slices.Contains(r.duration, "Perennial")
}

// plant makes a plant of a row for a lot in some regions of the wetland list.
func (r *record) plant(c *classes, state string, regions []int, line int) catalogue.Plant {
	form := r.form()
	status, listed := r.statusIn(regions)
	p := catalogue.Plant{
		ID: catalogue.IDFor(r.name), ScientificName: r.name, VernacularName: commonName(r), Form: form, NativeTo: r.native,
		SunMinH: pick(r.shade, map[string]float64{"Intolerant": 6, "Intermediate": 4, "Tolerant": 2}), SunMaxH: pick(r.shade, map[string]float64{"Intolerant": 24, "Intermediate": 24}),
		LowestC: (r.lowestF - 32) / 1.8, HeightCM: math.Round(r.heightFt * cmPerFt), Price: math.NaN(), Line: line,
		Source: source(r), Evergreen: map[string]string{"TRUE": "yes", "FALSE": "no"}[r.evergreen],
	}
	if r.woods != "" {
		p.SunMinH, p.SunMaxH = 0, woodsSunH
		p.Notes = "A plant of the " + r.woods + "."
	}
	p.SpreadCM = spreadCM(form, p.HeightCM)
	p.FlowerFrom, p.FlowerTo = bloom(r.bloom)
	if p.FlowerFrom > 0 && r.colour != "" && form != formGrass {
		p.FlowerColour = []string{strings.ToLower(r.colour)}
	}
	p.Spreads = map[string]string{"None": "no", "Slow": "slowly", "Moderate": "slowly", "Rapid": "runs"}[r.vegetative]
	if p.Spreads == "no" && r.seeds == "Rapid" {
		p.Spreads = "seeds"
	}
	if r.runs != "" {
		p.Spreads = "runs"
	}
	p.Assumed = []string{"sun_min_h", "sun_max_h", "root_cm", "spread_cm", "flower_from", "flower_to", "wet_h", "pond_mm", "dry_d"}
	r.harm(&p)
	if r.guessed {
		p.Assumed = append(p.Assumed, "lowest_c", "height_cm", "spreads", "evergreen", "flower_colour")
		p.Notes = strings.TrimSpace(p.Notes + " Height, bloom, light and cold are those of its genus or form.")
	}
	p.Wild = &catalogue.Wild{
		State: state, Guessed: r.guessed,
		Tree: form == formTree || form == formSmall, Annual: r.annual(), Sold: r.soldAs(), Weed: r.weed, RainMinMM: r.rainMinIn * mmPerIn, RainMaxMM: r.rainMaxIn * mmPerIn,
		FrostFreeD: r.frostFreeD, ColdWinters: r.coldWinters(), Soils: r.soils, PHMin: r.phMin, PHMax: r.phMax, Also: r.also,
	}
	if r.mountains != "" {
		p.Wild.Mountains = "a plant of " + r.mountains
	}
	if r.water != "" {
		p.Wild.Water = "a plant of " + r.water
	}
	r.limits(&p, c, status, listed)
	return p
}

// coldF is the least temperature, in degrees Fahrenheit, to which plants of cold
// winters live. Assumption, no source.
const coldF = -10

// coldWinters says that a plant is hardy where winters are cold, and native to no
// state that is mild throughout: nothing tells that it bears heat.
func (r *record) coldWinters() bool {
	mild := func(state string) bool { return strings.Contains("AL AR FL GA HI LA MS SC TX", state) }
	return r.lowestF <= coldF && !slices.ContainsFunc(r.native, mild)
}

func pick(class string, of map[string]float64) float64 {
	if v, ok := of[class]; ok {
		return v
	}
	return math.NaN()
}

func source(r *record) string {
	s := "USDA, NRCS, The PLANTS Database"
	if r.tier > 1 {
		s += " (name and states)"
	}
	return s + "; US Army Corps of Engineers, National Wetland Plant List 2020"
}

// soldAs is how a plant is sold: by the characteristics, or as garden lists name it.
func (r *record) soldAs() string {
	switch {
	case r.tier > 2:
		return catalogue.SoldFurther
	case r.sold == "Routinely Available":
		return "routinely"
	case len(r.lists) > 0 || r.tier > 1:
		return "listed"
	case r.sold == "":
		return ""
	}
	return "seldom"
}

// harm says whom a plant hurts: by published lists of poisonous plants, else by
// the class of the characteristics, whose None is no more than "not known": it
// stands there for lily of the valley.
func (r *record) harm(p *catalogue.Plant) {
	switch {
	case r.harms != "":
		p.Toxic = strings.Split(r.harms, "|")
	case slices.Contains([]string{"Slight", "Moderate", "Severe"}, r.toxicity):
		p.Toxic = []string{"people", "pets", "livestock"}
	default:
		return
	}
	p.Assumed = append(p.Assumed, "toxic")
}

// bloom gives the months of a season of bloom in the north: a season is three
// months; early, mid and late are one each. Assumption, no source.
func bloom(period string) (from, to int) {
	months := map[string][2]int{
		"Late Winter": {2, 2}, "Winter": {12, 2}, "Early Spring": {3, 4}, "Spring": {3, 5}, "Mid Spring": {4, 5}, "Late Spring": {5, 6},
		"Early Summer": {6, 6}, "Mid Summer": {7, 7}, "Summer": {6, 8}, "Late Summer": {8, 9}, "Fall": {9, 10},
	}
	m := months[period]
	return m[0], m[1]
}

// spreadCM is the mature spread of a plant of a height:
//
//	spread = ratio x height, at least 25 cm, for herbs at most 90
//
// The ratios are the medians of heights and spreads printed together in lists for
// rain gardens (forbs 0.5 of 27, grasses 0.5, shrubs 0.9 of 9, trees 0.6 of 11:
// testdata/species/zone-lists.csv.gz); the bounds are the spacings of
// testdata/species/spacing.csv (6 to 36 in) without their ends.
func spreadCM(form string, heightCM float64) float64 {
	switch form {
	case formShrub:
		return math.Round(max(0.9*heightCM, 25))
	case formSmall, formTree:
		return math.Round(0.6 * heightCM)
	}
	return math.Round(min(max(0.5*heightCM, 25), 90))
}

// guessTraits gives tier 2 the traits of tier 1: those of its own varieties, or else
// the median figure and the commonest class of the same genus and habit, of the genus
// and kind of stem, or of the form.
func guessTraits(all []record) {
	known := map[string][]*record{}
	for i := range all {
		if r := &all[i]; r.tier == 1 {
			words := strings.Fields(r.name)
			species := words[0] + " " + words[1]
			if words[len(words)-1] == words[1] || known[species] == nil { // its type before other varieties
				known[species] = []*record{r}
			}
			for _, key := range []string{words[0] + " " + strings.Join(r.habit, ", "), words[0] + " " + r.form(), r.form()} {
				known[key] = append(known[key], r)
			}
		}
	}
	middling := map[string]*record{} // of those known by a key
	for i := range all {
		r := &all[i]
		if r.tier == 1 {
			continue
		}
		genus, _, _ := strings.Cut(r.name, " ")
		by := r.name
		for _, key := range []string{genus + " " + strings.Join(r.habit, ", "), genus + " " + r.form(), r.form()} {
			if len(known[by]) == 0 {
				by = key
			}
		}
		o := middling[by]
		if o == nil {
			o = middleOf(known[by])
			middling[by] = o
		}
		r.guessed = true
		if math.IsNaN(r.heightFt) { // no list prints it
			r.heightFt = o.heightFt
		}
		r.lowestF, r.rainMinIn, r.rainMaxIn, r.frostFreeD = o.lowestF, o.rainMinIn, o.rainMaxIn, o.frostFreeD
		r.shade, r.drought, r.bloom, r.colour = o.shade, o.drought, o.bloom, o.colour
		r.evergreen, r.vegetative, r.seeds, r.growth = o.evergreen, o.vegetative, o.seeds, o.growth
	}
}

// middleOf has the median figures and the commonest classes of some plants.
func middleOf(like []*record) *record {
	class := func(of func(*record) string) string { return commonest(like, of) }
	figure := func(of func(*record) float64) float64 { return middle(like, of) }
	return &record{
		heightFt: figure(func(o *record) float64 { return o.heightFt }), lowestF: figure(func(o *record) float64 { return o.lowestF }),
		rainMinIn: figure(func(o *record) float64 { return o.rainMinIn }), rainMaxIn: figure(func(o *record) float64 { return o.rainMaxIn }),
		frostFreeD: figure(func(o *record) float64 { return o.frostFreeD }),
		shade:      class(func(o *record) string { return o.shade }), drought: class(func(o *record) string { return o.drought }),
		bloom: class(func(o *record) string { return o.bloom }), colour: class(func(o *record) string { return o.colour }),
		evergreen: class(func(o *record) string { return o.evergreen }), vegetative: class(func(o *record) string { return o.vegetative }),
		seeds: class(func(o *record) string { return o.seeds }), growth: class(func(o *record) string { return o.growth }),
	}
}

// commonest is the class that most have, of those alike the first by the alphabet.
func commonest(like []*record, of func(*record) string) string {
	counts, best := map[string]int{}, ""
	for _, r := range like {
		if c := of(r); c != "" {
			counts[c]++
		}
	}
	for c, n := range counts {
		if n > counts[best] || n == counts[best] && c < best {
			best = c
		}
	}
	return best
}

func middle(like []*record, of func(*record) float64) float64 {
	var all []float64
	for _, r := range like {
		if v := of(r); !math.IsNaN(v) {
			all = append(all, v)
		}
	}
	if len(all) == 0 {
		return math.NaN()
	}
	slices.Sort(all)
	return all[len(all)/2]
}
