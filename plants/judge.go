// Package plants is the pipeline from the zones of a lot and a catalogue to a
// planting: who would live where, which species and how many.
package plants

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones"
)

// sunSlackH is how far outside its range of sun a plant is still offered, at
// the loss that fit states. Assumption, no source.
const sunSlackH = 1.0

// Bar says why a plant is not offered in a zone.
type Bar string

// The bars, in the order in which they are tested: the first that holds is
// the one that is told.
const (
	NoBar       Bar = ""
	BarUnwanted Bar = "unwanted"
	BarNative   Bar = "not native here"
	BarSold     Bar = "not sold"
	BarAnnual   Bar = "annual"
	BarWeed     Bar = "a weed somewhere"
	BarClimbs   Bar = "a climber"
	BarTree     Bar = "a tree"
	BarRain     Bar = "climate too dry or too wet"
	BarSeason   Bar = "summer too short"
	BarMild     Bar = "winter too mild"
	BarWater    Bar = "of open water, bogs or salt"
	BarWet      Bar = "of wet ground, too dry a country"
	BarSoil     Bar = "soil"
	BarWide     Bar = "too wide for the bed"
	BarToxic    Bar = "toxic"
	BarHarm     Bar = "harm not known"
	BarRuns     Bar = "runs"
	BarSpreads  Bar = "not known whether it runs"
	BarHeight   Bar = "too tall"
	BarHeights  Bar = "height not known"
	BarPrice    Bar = "price not known"
	BarSpread   Bar = "spread not known"
	BarZone     Bar = "grows in other zones"
	BarUnknown  Bar = "limits not known"
	BarSun      Bar = "sun"
	BarRisk     Bar = "risk"
	BarUnsure   Bar = "not robust" // only where robust plants are preferred
)

// Verdict is one plant in one zone: how it would live, and whether it is
// offered.
type Verdict struct {
	Plant  catalogue.Plant
	Zone   string
	Fit    fit.Fit
	Bar    Bar
	Detail string // what the bar rests on, for people
	Tagged bool   // the catalogue names this zone
	Unfit  Bar    // why a real plant is none for this lot, whatever the zone
}

// Lives says whether the plant keeps within its limits here, whatever the
// wishes are.
func (v *Verdict) Lives() bool {
	return v.Bar != BarUnknown && v.Bar != BarSun && v.Bar != BarRisk
}

// Disagrees says whether the grower's word and the computation differ: the
// zone is tagged and the plant would not live, or it would live untagged. A
// plant without any tag disagrees with nobody, nor does a real one, which has no label.
func (v *Verdict) Disagrees() bool {
	return v.Bar != BarUnknown && len(v.Plant.Zones) > 0 && v.Plant.Wild == nil && v.Tagged != v.Lives()
}

// Judge is a lot's exposure made ready for judging plants.
type Judge struct {
	Exposure *zones.Exposure
	// Stop, if set, is asked now and then, from several goroutines at once,
	// whether the answer is still wanted. What it ends gives errStopped.
	Stop   func() bool
	bed    *fit.Bed
	found  map[string]judged // by zone, what all found last
	ground *ground           // for real plants, once it was looked at
}

// judged is how the plants of a catalogue fare in a zone, wishes apart, so far as
// they were judged: nil for those that were not.
type judged struct {
	table *catalogue.Catalogue
	sunH  float64
	fits  []*fit.Fit
}

// errStopped is the error of work that Judge.Stop ended.
var errStopped = errors.New("stopped")

func (j *Judge) stopped() bool { return j.Stop != nil && j.Stop() }

// NewJudge prepares the judgement of plants on a lot. Not for use by several
// goroutines at once.
func NewJudge(e *zones.Exposure) *Judge {
	return &Judge{Exposure: e, bed: fitBed(e), found: map[string]judged{}}
}

// fitBed gives fit what a lot's exposure found.
func fitBed(e *zones.Exposure) *fit.Bed {
	l := e.Lot
	return &fit.Bed{
		Run: e.Run, Start: l.Record.Start, MinC: e.MinC, Use: e.Whole,
		Ground: l.Ground(), Predict: fit.DefaultPredictor(), Watered: l.Garden.Wishes.Watering == zones.WaterWeekly,
	}
}

// Zone judges a plant in a zone. ok is false if the bed has no such zone.
func (j *Judge) Zone(p catalogue.Plant, zone string) (v Verdict, ok bool) {
	f, ok := j.bed.InZone(p, zone, j.Exposure.Lot.Sun.Of(zone))
	return j.verdict(&p, zone, f), ok
}

// Band judges a plant at one height of the bed.
func (j *Judge) Band(p catalogue.Plant, band int) Verdict {
	zone := j.Exposure.Bands[band].Zone
	return j.verdict(&p, zone, j.bed.InBand(p, band, j.Exposure.Lot.Sun.Of(zone)))
}

func (j *Judge) verdict(p *catalogue.Plant, zone string, f fit.Fit) Verdict {
	bought := sized(j.Exposure.Lot.Garden.Wishes, *p)
	p = &bought
	v := Verdict{Plant: *p, Zone: zone, Fit: f, Tagged: slices.Contains(p.Zones, zone)}
	switch v.Bar, v.Detail = j.weatherBar(p, zone, &v.Fit); v.Bar { // what it is told to be limited by is what shuts it out
	case BarRisk:
		v.Fit.Reason = v.Fit.Weather
	case BarSun:
		v.Fit.Reason = v.Fit.Sun
	}
	bar, detail := j.placeBar(p)
	if v.Unfit = bar; bar == NoBar {
		bar, detail = j.wishBar(p, zone)
	}
	if bar != NoBar && v.Lives() {
		v.Bar, v.Detail = bar, detail
	}
	return v
}

// All judges every plant of a catalogue in every zone of the bed, zone by
// zone from the bottom up, in the order of the catalogue; not all if Stop ends
// it. A real plant that is none for this lot, whatever the zone, is barred for that
// and its risk is not looked at. Plants that were judged in the same zone and sun
// before are not judged again.
func (j *Judge) All(c *catalogue.Catalogue) []Verdict {
	all := make([]Verdict, 0, len(j.Exposure.Zones)*len(c.Plants))
	unfit := make([]Verdict, len(c.Plants))
	for i := range c.Plants {
		bar, detail := j.placeBar(&c.Plants[i])
		unfit[i] = Verdict{Plant: c.Plants[i], Fit: fit.Fit{YearlyRisk: math.NaN(), IfRight: math.NaN()}, Bar: bar, Detail: detail, Unfit: bar}
	}
	for _, z := range j.Exposure.Zones {
		if !(z.AreaM2 > 0) {
			continue
		}
		fits := j.fitsIn(z.Zone, c, unfit)
		if fits == nil {
			return all
		}
		for i := range c.Plants {
			v := unfit[i]
			if v.Unfit == NoBar {
				v = j.verdict(&c.Plants[i], z.Zone, *fits[i])
			}
			v.Zone, v.Tagged = z.Zone, slices.Contains(v.Plant.Zones, z.Zone)
			all = append(all, v)
		}
	}
	return all
}

// fitsIn judges those plants of a catalogue in a zone that are not unfit and were
// not judged there before; nil if Stop ends it.
func (j *Judge) fitsIn(zone string, c *catalogue.Catalogue, unfit []Verdict) []*fit.Fit {
	known, sunH := j.found[zone], j.Exposure.Lot.Sun.Of(zone)
	if known.table != c || known.sunH != sunH {
		known = judged{c, sunH, make([]*fit.Fit, len(c.Plants))}
	}
	var rows []int
	var plants []catalogue.Plant
	for i := range c.Plants {
		if unfit[i].Unfit == NoBar && known.fits[i] == nil {
			rows, plants = append(rows, i), append(plants, c.Plants[i])
		}
	}
	if len(rows) > 0 {
		fits := j.bed.AllInZone(plants, zone, sunH, j.Stop)
		if j.stopped() {
			return nil
		}
		for k, i := range rows {
			known.fits[i] = &fits[k]
		}
		j.found[zone] = known
	}
	return known.fits
}

// Everywhere judges one plant in every zone of the bed, from the bottom up.
func (j *Judge) Everywhere(p catalogue.Plant) []Verdict {
	var all []Verdict
	for _, z := range j.Exposure.Zones {
		if v, ok := j.Zone(p, z.Zone); ok {
			all = append(all, v)
		}
	}
	return all
}

// Best is the verdict on a plant in the zone where it would live at the least
// risk; false where it would live in none.
func (j *Judge) Best(p catalogue.Plant) (best Verdict, ok bool) {
	for _, v := range j.Everywhere(p) {
		if v.Lives() && (!ok || v.Loss() < best.Loss()) {
			best, ok = v, true
		}
	}
	return best, ok
}

// unknown names the columns that decide whether a plant lives in a zone and
// that the catalogue leaves empty: a limit that is not known is never fine.
// Standing water matters where water stands, cold where the record has
// temperatures.
func (j *Judge) unknown(p *catalogue.Plant, zone string) []string {
	var columns []string
	for _, c := range []struct {
		name    string
		value   float64
		matters bool
	}{
		{"sun_min_h", p.SunMinH, true}, {"wet_h", p.WetH, true}, {"pond_mm", p.PondMM, j.Exposure.WaterStands(zone)},
		{"dry_d", p.DryD, true}, {"lowest_c", p.LowestC, j.Exposure.HasCold()},
	} {
		if c.matters && math.IsNaN(c.value) {
			columns = append(columns, c.name)
		}
	}
	return columns
}

func (j *Judge) weatherBar(p *catalogue.Plant, zone string, f *fit.Fit) (Bar, string) {
	limit := j.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	lacking := j.unknown(p, zone)
	switch {
	case len(lacking) > 0:
		return BarUnknown, "the catalogue does not state " + strings.Join(lacking, ", ")
	case !(f.YearlyRisk <= limit):
		return BarRisk, fmt.Sprintf("yearly risk %.3g %%, at most %.3g %% wanted", 100*f.YearlyRisk, 100*limit)
	case !(f.SunLoss <= fit.SunLoss(sunSlackH)+1e-9):
		return BarSun, "sun outside its range"
	}
	return NoBar, ""
}

func (j *Judge) wishBar(p *catalogue.Plant, zone string) (Bar, string) {
	w := j.Exposure.Lot.Garden.Wishes
	allowed := w.HarmUnknown == "allow"
	unknown := len(p.Toxic) == 0 || slices.Contains(p.Assumed, "toxic")
	for _, who := range w.NoToxicTo {
		if slices.Contains(p.Toxic, who) {
			return BarToxic, "poisonous to " + who
		}
		if unknown && !allowed {
			return BarHarm, "not known whether it is poisonous to " + who
		}
	}
	if p.Wild != nil && !slices.Contains(p.Zones, zone) {
		return BarZone, "plants like it are named for the " + strings.Join(p.Zones, " and ")
	}
	if p.Wild != nil && len(p.Toxic) == 0 && !allowed {
		return BarHarm, "not known whether it is poisonous; wishes.harm_unknown: allow lists such plants, each marked"
	}
	most := w.HeightMaxCM.Of(zone)
	switch {
	case slices.Contains(w.Unwanted, p.ID):
		return BarUnwanted, "unwanted"
	case w.NoRunners && p.Spreads == "runs":
		return BarRuns, "spreads by runners"
	case w.NoRunners && p.Spreads == "":
		return BarSpreads, "not known whether it spreads by runners"
	case math.IsNaN(p.SpreadCM):
		return BarSpread, "the catalogue does not state spread_cm, so its plants cannot be counted out"
	case !math.IsNaN(w.Budget) && math.IsNaN(p.Price):
		return BarPrice, "its price is not known, and there is a budget"
	case !math.IsNaN(most) && math.IsNaN(p.HeightCM):
		return BarHeights, "the catalogue does not state height_cm, and a height is wished for"
	case !math.IsNaN(most) && p.HeightCM > most:
		u := j.Exposure.Lot.Garden.Units
		return BarHeight, fmt.Sprintf("%s tall, at most %s wanted", u.Length(p.HeightCM/100), u.Length(most/100))
	}
	return NoBar, ""
}
