package plants

import (
	"fmt"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

const (
	// rainSlack is how far the lot's yearly rain may be outside what a table
	// states of a species' range, whose ends are round figures. Assumption, no
	// source. What the roof sends comes with storms alone and counts in the dry
	// spells, not here (but for aridMM): with it any plant would pass in a desert.
	rainSlack = 0.1
	// aridMM is up to how much stated rain a plant is one of arid country, which lives
	// on what runs together there: for it the roof's water counts as rain. Arid is below
	// 250 mm a year: common practice, no source.
	aridMM = 250
	// anyState is the region of wishes.native_to that every state lies in.
	anyState = "US"
	// mildD is from how many days without frost on, in the middle year, a place is
	// too mild for plants that are known from cold winters alone. Assumption, no
	// source.
	mildD = 240
	// lowD is from how many on it is no place for plants of high mountains.
	// Assumption, no source.
	lowD = 150
	// desertMM is below how much rain a year no plant of wet ground is offered unasked:
	// there made years miss the longest droughts (zones/climate, where a dry country
	// begins at the same figure). Common practice, no source.
	desertMM = 350
	// tame is what a plant that runs counts in a list of real plants, so that tame
	// ones of equal chances go before it; so does one whose traits are its genus's and
	// of which nobody knows who sells it. Choice of this project, no source.
	tame = 0.95
)

// ground is what a real plant is held against before any water is looked at.
type ground struct {
	states     []string // where it should be native
	rainMM     float64  // of a mean year
	bedMM      float64  // with what the bed keeps of the roof's water, over all of it
	frostFreeD float64  // days between frosts in the middle year; NaN if not known
	texture    string   // of the bed's soil: c, m or f
	ph         float64
	widthCM    float64
}

func (j *Judge) groundOf() *ground {
	if j.ground != nil {
		return j.ground
	}
	e := j.Exposure
	g := &ground{states: e.Lot.Garden.Wishes.NativeTo, rainMM: e.Record.Figures.MeanYearMM, frostFreeD: frostFreeDays(e.Lot.Record), ph: e.Lot.Garden.Soil.PH, texture: soilClass(e.Lot.Mix.Texture)}
	g.bedMM = g.rainMM
	if b := e.Run.Balance; b.RainOnBedM3 > 0 {
		g.bedMM *= max(1, 1+(b.InflowM3-b.OverflowM3)/b.RainOnBedM3)
	}
	x0, y0, x1, y1 := e.Lot.Bed.Spec().Outline.Bounds()
	g.widthCM = 100 * min(x1-x0, y1-y0)
	j.ground = g
	return g
}

// soilClass is coarse, medium or fine as the characteristics of plants sort the
// textures of the soil triangle. Source: USDA, NRCS, The PLANTS Database, its
// definitions; from memory.
func soilClass(texture string) string {
	switch texture {
	case "sand", "loamy sand":
		return "c"
	case "clay", "silty clay", "sandy clay":
		return "f"
	}
	return "m"
}

// placeBar says why a real plant is none for this lot, whatever zone it might
// live in; plants that are wanted by name pass.
func (j *Judge) placeBar(p *catalogue.Plant) (Bar, string) {
	wild := p.Wild
	wishes := &j.Exposure.Lot.Garden.Wishes
	if wild == nil || slices.Contains(wishes.Wanted, p.ID) {
		return NoBar, ""
	}
	g := j.groundOf()
	states := g.states
	if len(states) == 0 {
		states = []string{wild.State}
	}
	leastMM := g.rainMM
	if wild.RainMinMM <= aridMM {
		leastMM = g.bedMM
	}
	soldWell := wild.Sold == "routinely" || wild.Sold == "listed" || wild.Sold == catalogue.SoldFurther
	u := j.Exposure.Lot.Garden.Units
	switch {
	case !slices.Contains(states, anyState) && !sharesTag(p.NativeTo, states):
		return BarNative, "not native to " + strings.Join(states, ", ")
	case len(p.NativeTo) == 0:
		return BarNative, "native to no state"
	case wild.Weed != "":
		return BarWeed, wild.Weed
	case wild.Annual:
		return BarAnnual, "lives for a year or two"
	case p.Form == "climber":
		return BarClimbs, "climbs, and would smother what grows beside it"
	case wild.Tree && !wishes.Trees:
		return BarTree, "a tree; wishes.trees: yes lists trees"
	case wishes.Sold != "any" && !soldWell:
		return BarSold, "seldom sold, as far as known; wishes.sold: any lists it"
	case g.rainMM > (1+rainSlack)*wild.RainMaxMM || leastMM < (1-rainSlack)*wild.RainMinMM:
		return BarRain, fmt.Sprintf("grows where a year brings %s to %s of rain; here %s", u.Depth(wild.RainMinMM), u.Depth(wild.RainMaxMM), u.Depth(g.rainMM))
	case g.frostFreeD < (1-rainSlack)*wild.FrostFreeD:
		return BarSeason, fmt.Sprintf("needs %.0f days without frost, here %.0f in the middle year", wild.FrostFreeD, g.frostFreeD)
	case wild.Water != "" && wild.Near == 0:
		return BarWater, wild.Water
	case g.rainMM < desertMM && wild.Wet && wild.Near == 0 && wishes.Watering != zones.WaterWeekly:
		return BarWet, fmt.Sprintf("a plant of wet ground, and a year brings %s here; no list from nearby names it", u.Depth(g.rainMM))
	case g.frostFreeD > lowD && wild.Mountains != "":
		return BarMild, wild.Mountains
	case g.frostFreeD > mildD && wild.ColdWinters && wild.Near == 0:
		return BarMild, fmt.Sprintf("known from cold winters alone; here are %.0f days without frost in the middle year", g.frostFreeD)
	case wild.Soils != "" && !strings.Contains(wild.Soils, g.texture):
		return BarSoil, "does not grow in " + j.Exposure.Lot.Mix.Texture
	case g.ph < wild.PHMin || g.ph > wild.PHMax:
		return BarSoil, fmt.Sprintf("grows at pH %.1f to %.1f, here %.1f", wild.PHMin, wild.PHMax, g.ph)
	case p.SpreadCM > g.widthCM:
		return BarWide, fmt.Sprintf("%s wide, the bed %s", u.Length(p.SpreadCM/100), u.Length(g.widthCM/100))
	}
	return NoBar, ""
}

// shutOut tells how many of the real plants are none for this lot, and why.
func (j *Judge) shutOut(verdicts []Verdict) []string {
	counts := map[Bar]int{}
	all, out := 0, 0
	var notes []string
	for _, v := range verdicts {
		if v.Plant.Wild == nil || v.Zone != verdicts[0].Zone {
			continue
		}
		if all++; all == 1 && v.Plant.Wild.State == "HI" { // USDA's PLANTS says so of 99 species, all of the mainland too
			notes = append(notes, "Hawaii: the source calls many plants of the mainland native there; ask a local grower which are")
		}
		if v.Unfit != NoBar {
			out++
			counts[v.Unfit]++
		}
	}
	if out == 0 {
		return notes
	}
	var parts []string
	for _, bar := range []Bar{BarNative, BarWeed, BarAnnual, BarClimbs, BarTree, BarSold, BarRain, BarSeason, BarMild, BarWater, BarWet, BarSoil, BarWide} {
		if n := counts[bar]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, shutWords(bar)))
		}
	}
	return append(notes, fmt.Sprintf("of %d real plants %d were left out at once: %s", all, out, strings.Join(parts, ", ")))
}

func shutWords(bar Bar) string {
	switch bar {
	case BarTree:
		return "trees"
	case BarAnnual:
		return "annuals"
	case BarClimbs:
		return "climbers"
	case BarWeed:
		return "weeds, thorny or very poisonous"
	case BarSold:
		return "seldom sold"
	case BarSoil:
		return "for another soil"
	}
	return string(bar)
}

// trust is what a real plant counts in a list by how sure its limits are. Choice
// of this project, no source.
func trust(p *catalogue.Plant) float64 {
	w, share := p.Wild, 1.0
	if w == nil {
		return 1
	}
	if p.Spreads == "runs" {
		share = tame
	}
	if w.Sold == catalogue.SoldFurther {
		share *= tame
	}
	return share * [...]float64{catalogue.Sure: 1, catalogue.Likely: 0.98, catalogue.Possible: 0.92, catalogue.Doubtful: 0.86}[w.Grade]
}
