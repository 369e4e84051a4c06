package care

import (
	"math"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/water"
)

// wetMarginCM is how far beyond the roots the ground is watered on each side,
// so that they find moist soil to grow into. Assumption, no source.
const wetMarginCM = 10

// youngShare is what a plant of usual size bears in its first year, as a share of what it
// bears once established. Assumption of the method; that tolerance of flooding
// rises with age is shown by Gattringer and others 2017, PLoS ONE 12:e0176869
// (abstract), the share is not.
const youngShare = 0.5

// Rooted returns how far roots have come from the pot (0) to their mature
// depth (1): growing days since planting / (growing days a year x rooting
// years), at most 1. Roots rest in the cold. Growth in a straight line is that
// of FAO-56 Example 38 [S1]; the time is the setting's.
func Rooted(growingDays int, growingDaysAYear, rootingYears float64) float64 {
	return min(1, float64(growingDays)/(growingDaysAYear*rootingYears))
}

// YoungRootCM returns the depth or width of roots that have come a share of
// the way from the pot to the mature size, cm: pot + rooted (mature - pot).
// Roots that stay smaller than the pot count with their mature size.
func YoungRootCM(potCM, matureCM, rooted float64) float64 {
	pot := min(potCM, matureCM)
	return pot + rooted*(matureCM-pot)
}

// Pot is the soil, or the roots, that come with a plant, by the size it is sold in; of
// one that does not say, the setting's. A plug is 2 in wide and 5 in deep, a quart pot
// 4 in and 5 in (growers of native plants, SOURCES.md [S39]); bare roots and bulbs:
// common practice, no source.
func (s Setting) Pot(p catalogue.Plant) (depthCM, widthCM float64) {
	switch p.SoldAs {
	case "plug":
		return 12.5, 5
	case "small pot":
		return 12.5, 10
	case "gallon pot":
		return 15, 15
	case "bare root":
		return 15, 10
	case "bulb":
		return 10, 5
	}
	return s.PotDepthCM, s.PotWidthCM
}

// Young is a plant with the limits of water that it bears once its roots have come so
// far: a share of the full ones at planting (youngShare, less for small sizes), all when
// rooted, in a straight line. All root in the same time, so that small ones gain faster:
// shrubs of 3 gallons take 20 to 28 weeks, and large plants longer than small ones
// (SOURCES.md [S40]). Assumption of the method.
func Young(p catalogue.Plant, rooted float64) catalogue.Plant {
	dry, topMM := atPlanting(p.SoldAs)
	deep := min(youngShare*p.PondMM, topMM)
	p.PondMM = deep + (p.PondMM-deep)*rooted
	p.WetH *= Tolerance(youngShare, rooted)
	p.DryD *= Tolerance(dry, rooted)
	return p
}

// Tolerance is what a plant bears, as a share of what it bears established, from the
// share at planting and how far its roots have come.
func Tolerance(atPlanting, rooted float64) float64 { return atPlanting + (1-atPlanting)*rooted }

// Lifted is the share of its limits that a grown plant bears just moved.
const Lifted = youngShare

// atPlanting is the share of its full drought that a plant bears at planting, and how
// high its leaves stand, by the size it is sold in. Plugs are watered twice a week until
// established (University of Wisconsin Extension) or every three days, others and bare
// root weekly (a grower; SOURCES.md [S40]): half as long as a gallon pot, of which the
// shallower ball makes 12.5 / 15 and this share the rest, 0.5 x 0.5 x 15 / 12.5 = 0.3. A
// small pot lies between, a bulb rests through drought, and the heights: common practice,
// no source.
func atPlanting(soldAs string) (dry, topMM float64) {
	switch soldAs {
	case "plug":
		return 0.3, 100
	case "small pot":
		return 0.4, 150
	}
	return youngShare, math.Inf(1)
}

// wetShare returns the share of a zone's ground that is watered: a disc about
// each plant of the width of its roots and a margin of 10 cm all round, never
// more than all of it; all of it if nobody says what stands there, or how wide
// it grows.
func (s Stand) wetShare(setting Setting, rooted float64) float64 {
	if len(s.Groups) == 0 || !(s.AreaM2 > 0) {
		return 1
	}
	total := 0.0
	for _, g := range s.Groups {
		if !(g.Plant.SpreadCM > 0) {
			return 1
		}
		_, pot := setting.Pot(g.Plant)
		total += float64(g.Count) * WateredM2(pot, g.Plant.SpreadCM, rooted)
	}
	return min(1, total/s.AreaM2)
}

// WateredM2 returns the ground that is watered for one plant: a disc of the
// width of its roots and 10 cm all round.
func WateredM2(potWidthCM, spreadCM, rooted float64) float64 {
	return discM2(YoungRootCM(potWidthCM, spreadCM, rooted) + 2*wetMarginCM)
}

func discM2(widthCM float64) float64 { return math.Pi / 4 * widthCM * widthCM / 1e4 }

// Roots are those of one kind of plants on one day, and the worst that they met.
type Roots struct {
	DepletionMM float64       // below field capacity
	CM          float64       // how deep they are
	EasyMM      float64       // depletion at which stress begins
	So          water.Drought // the dry spell that goes on, and today's depletion
	Days        float64       // that spell, as days without water on the reference ground
	Share       float64       // of what they bear at planting; NaN if not known

	Worst Spell
}

// Spell is the dry spell that took most of what plants bear at planting.
type Spell struct {
	Days, Share float64
	From        int // day of the run
}

// refill takes a root zone through one day: water comes early in the day and
// fills the depletion, what is more passes below, and plants use what they
// need as far as they can: Dr after = Dr + demand Ks, Ks from the depletion
// once the water is in. All in mm. Source: FAO-56 Eq. 84-88 [S1], as in its
// Examples 37 and 38.
func refill(depletionMM, waterMM, demandMM, tawMM, pTab float64) (afterMM float64) {
	d := max(0, depletionMM-waterMM)
	ks := water.Stress(d, tawMM, water.DepletionFraction(pTab, demandMM))
	return min(tawMM, d+demandMM*ks)
}

// kind is what the walk needs to know of one kind of plants; groups that are alike in
// it are walked once.
type kind struct {
	potCM, matureCM float64
	bearsD          float64 // days of drought that they bear at planting; NaN if not known
	most            float64 // share of that for which somebody goes out
	safe            bool    // they live without the hose
}

// aim is the share of the risk put up with that drought may take, so that wetness and
// cold have room. Choice of this project, no source.
const aim = 0.75

// kindOf is that of one species. Somebody goes out before a drought at which, came it
// every year, the yearly risk would be what drought may take.
func (b *Bed) kindOf(p catalogue.Plant, years int) kind {
	pot, _ := b.Setting.Pot(p)
	mature := MatureCM(p, b.Ground)
	return kind{
		potCM: pot, matureCM: mature, bearsD: Young(p, 0).DryD,
		most: fit.DefaultPredictor().SeverityAt(aim*b.Setting.RiskMax, years, &p, fit.TooDry),
	}
}

// grow puts roots at their depth of a day.
func (r *Roots) grow(k *kind, g water.Ground, t today) (tawMM float64) {
	r.CM = YoungRootCM(k.potCM, k.matureCM, t.rooted)
	tawMM = g.TAWMM(r.CM)
	r.EasyMM = t.p * tawMM
	return tawMM
}

// pass takes roots through a day with so much water. A day at rest, or whose rain is
// not known, ends the spell.
func (r *Roots) pass(k *kind, days func(water.Drought) float64, g water.Ground, t today, waterMM float64) {
	taw := r.grow(k, g, t)
	r.DepletionMM = refill(r.DepletionMM, waterMM, t.demandMM, taw, pTab)
	if t.rests {
		r.So, r.Days, r.Share = water.Drought{}, 0, 0
		return
	}
	follow(&r.So, t.day, water.Stress(r.DepletionMM, taw, t.p))
	r.So.PeakDepleted = r.DepletionMM / taw
	r.Days = days(r.So)
	r.Share = share(r.Days, k.bearsD)
	if t.rooted >= taken {
		return
	}
	if r.Share > r.Worst.Share || math.IsNaN(r.Share) && r.Days > r.Worst.Days {
		r.Worst = Spell{r.Days, r.Share, t.day}
		if r.So.Days > 0 {
			r.Worst.From = r.So.FromDay
		}
	}
}

// follow carries a dry spell over one more day.
func follow(run *water.Drought, day int, ks float64) {
	if ks >= 1 {
		*run = water.Drought{}
		return
	}
	if run.Days == 0 {
		run.FromDay = day
	}
	run.Days++
	run.Load = water.DroughtLoad(run.Load, ks)
}
