package species

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
)

// A measure is the median of a limit in a class, and how far plants of the class
// are from it, in log units.
type measure struct{ median, spread float64 }

// wetDays are the days under water, roots flooded, that established plants bore
// in the growing season, by class: of woody plants by wetland status, of herbs by
// anaerobic tolerance (the ranks that agree best with the days, 0.61 and 0.62).
// Geometric means and standard deviations of the logs of species: 14 woody ones of
// FAC and wetter, 20 drier; of herbs 2, 8 and 3, which share the spread of all 13.
// Source: published trials and tolerance classes, testdata/species/species-days.csv.
func wetDays(form string, status status, airless string) measure {
	switch {
	case woody(form) && status <= fac:
		return measure{100, 0.52}
	case woody(form):
		return measure{17, 1.36}
	case airless == "High":
		return measure{56, 0.6}
	case airless == "Medium" || airless == "Low": // not to be told apart
		return measure{20, 0.6}
	}
	return measure{7, 0.6}
}

// drySpread is how far the drought that a plant bears may be from the median, in log
// units; enough is by how much the median lies over a drought that plants of lists
// bear, so that one that lists name is accepted there: the ratio at which fit's yearly risk is 15 %. Assumption, no
// source, for the spread.
const (
	drySpread = 0.4
	enough    = 1.48
)

// rootCM is how deep the roots go: medians of the greatest rooting depths that
// were measured, by form and wetland status; 7 to 147 species stand behind each.
// Of trees and shrubs it is held to 1 m, of which half are deeper. Source: GRooT
// database (Guerrero-Ramirez and others 2020), testdata/species/rooting.csv.
func rootCM(form string, status status) float64 {
	wet, moist := status <= facw, status == fac
	by := func(whenWet, whenMoist, whenDry float64) float64 {
		switch {
		case wet:
			return whenWet
		case moist:
			return whenMoist
		}
		return whenDry
	}
	switch form {
	case formGrass:
		return by(25, 60, 80)
	case formShrub:
		return by(40, 40, 100)
	case formSmall, formTree:
		return 100
	}
	return by(15, 55, 65)
}

// pondShare is how much of its height a plant may stand under water for as long
// as it bears wetness: leaves of grasses were damaged by two days under 15 to 30
// cm (testdata/species/flood-trials.csv.gz). The share is an assumption, no
// source; of woody plants it counts to 60 cm.
const (
	pondShare  = 0.5
	mostPondMM = 600
	pondSpread = 0.2
)

// growthLost says when growth suffers, which comes before life is lost, in what trials
// of young plants in pots showed (testdata/species/flood-trials.csv.gz): it is no limit
// by itself.
func growthLost(form string) string {
	switch {
	case woody(form):
		return "growth suffers first: of 7 shrubs in pots 4 grew less after 3 days with flooded roots, 5 after 6 to 7; none is said to have died"
	case form == formGrass:
		return "growth suffers first: young grasses lived through 7 days with flooded roots, but leaves of 5 of 7 were damaged under 15 to 30 cm of water, of 2 within 2 days"
	}
	return "growth suffers first: of 15 young perennials all lived through floods of 4 days, and 4 grew less"
}

// limits fills in what the plant bears, how far that may be off and what it rests
// on. Ferns, and what has no tolerance of drought at all, come to a rim by lists of
// their own alone, and so do wetland plants of that kind to a slope: common
// practice, no source.
func (r *record) limits(p *catalogue.Plant, c *classes, status status, listed bool) {
	wet := wetDays(p.Form, status, r.airlessOr(status))
	p.RootCM = rootCM(p.Form, status)
	home, doubt := c.homeDrought(r.native, p.Wild.State, status, r.drought, p.RootCM)
	p.WetH, p.DryD = math.Round(24*wet.median), math.Round(enough*c.dry*home)
	height := p.HeightCM
	if math.IsNaN(height) {
		height = 30
	}
	p.PondMM = math.Round(min(pondShare*10*height, mostPondMM))
	w := p.Wild
	if cold, ok := c.cold[w.State]; ok && r.guessed && slices.Contains(r.native, w.State) && cold < p.LowestC {
		p.LowestC = cold // its genus may be of milder places
		w.Evidence = append(w.Evidence, fmt.Sprintf("lowest_c: native here, where one year in ten has %.0f deg C", cold))
	}
	w.Spread = [4]float64{wet.spread, pondSpread, math.Hypot(drySpread, doubt), 0}
	w.Wet = status <= facw
	rating := status.String()
	if !listed {
		rating += " (not on the wetland list)"
	}
	w.Evidence = append(w.Evidence, "wetland status here: "+rating)
	r.named(p, c)
	if r.days != "" {
		r.tried(p)
	} else if woody(p.Form) {
		w.Evidence = append(w.Evidence, fmt.Sprintf("wet_h: mean of woody plants of that kind, %g days under water", wet.median))
	} else {
		w.Evidence = append(w.Evidence, fmt.Sprintf("wet_h: mean of herbs of anaerobic tolerance %s, %g days under water", r.airlessOr(status), wet.median))
	}
	w.Evidence = append(w.Evidence, fmt.Sprintf("dry_d: from droughts of %.0f days on the ground of its home, for roots of %g cm, which listed plants bear in gardens; roots as its form and status have them", home, p.RootCM), "pond_mm: half its height, at most 60 cm; not measured", growthLost(p.Form))
	for _, zone := range c.zones(status) {
		tender := zone == "rim" && (p.Form == formFern || r.drought == "None")
		aquatic := zone != "bottom" && r.water != "" || zone == "slope" && status == obl && r.drought == "None"
		if !slices.Contains(p.Zones, zone) && !tender && !aquatic {
			p.Zones, p.Assumed = append(p.Zones, zone), append(p.Assumed, "zones")
		}
	}
	slices.Sort(p.Zones)
	p.Assumed = slices.Compact(p.Assumed)
}

// muchDrier is from what ratio of their droughts on a list says little of another
// state: one of Seattle of Sacramento. Choice of this project, no source.
const muchDrier = 1.7

// tried takes the days of the species itself.
func (r *record) tried(p *catalogue.Plant) {
	days, readings, _ := strings.Cut(r.days, "/")
	p.WetH = 24 * number(days)
	p.Wild.Spread[0] = 0.4
	p.Wild.Evidence = append(p.Wild.Evidence, fmt.Sprintf("wet_h: %s days under water in trials and printed classes (%s)", days, readings))
}

// named takes the zones for which lists name the species, and how sure that is: a
// list from nearby tells more of it than one from far away.
func (r *record) named(p *catalogue.Plant, c *classes) {
	near, far := map[string]bool{}, map[string]bool{}
	for _, l := range r.lists {
		part := strings.SplitN(l, "@", 3)
		for zone := range strings.SplitSeq(part[0], "+") {
			if !slices.Contains(p.Zones, zone) {
				p.Zones = append(p.Zones, zone)
			}
		}
		of, where := far, "far away, in "
		if c.nearby(part[1], p.Wild.State) {
			of, where = near, ""
		}
		of[part[2]] = true
		p.Wild.Evidence = append(p.Wild.Evidence, fmt.Sprintf("named for the %s, %s%s: %s", strings.ReplaceAll(part[0], "+", ", "), where, part[1], part[2]))
	}
	slices.Sort(p.Zones)
	w, tried := p.Wild, r.days != ""
	w.Near, w.Far, w.Tried = len(near), len(far), tried
	switch {
	case len(near) >= 2 || len(near) == 1 && tried:
		w.Grade = catalogue.Sure
	case len(near) == 1 || tried:
		w.Grade = catalogue.Likely
	case len(far) > 0:
		w.Grade = catalogue.Possible
	default:
		w.Grade = catalogue.Doubtful
	}
}

// nearby says whether a list of a place tells of a state: both lie in one region of
// the wetland list, and the state is not much drier; a place that is no state is of
// the Great Lakes.
func (c *classes) nearby(place, state string) bool {
	if !IsState(place) {
		place = "NY"
	}
	const rootCM = 45 // any would do
	return atRoots(c.home[state], rootCM) <= muchDrier*atRoots(c.home[place], rootCM) && slices.ContainsFunc(regionsOf(place), func(region int) bool { return slices.Contains(regionsOf(state), region) })
}

// airlessOr is the class of anaerobic tolerance, or that of most plants of the
// status where it is not known.
func (r *record) airlessOr(status status) string {
	if r.airless != "" {
		return r.airless
	}
	return [...]string{obl: "High", facw: "Medium", fac: "Low", facu: "None", upl: "None"}[status]
}
