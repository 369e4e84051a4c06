package plants

import (
	"cmp"
	"math"
	"slices"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones"
)

// Refusal says why a zone is left empty: how many plants each limit or wish
// rules out, which plant came nearest, and what would let plants live.
type Refusal struct {
	Zone    string
	Ruled   []RuledOut
	Nearest *Verdict // of those that a limit rules out; nil if only wishes do
	Changes []Change
}

// RuledOut counts the plants that one bar keeps out; Limit says which limit it
// was where Bar is BarRisk or BarSun.
type RuledOut struct {
	Bar   Bar
	Limit fit.Limit
	Count int
}

// Change is one thing that could be done, and how many species would then be
// offered in the zone. Zero means that it was tried and does not help alone.
type Change struct {
	Kind    string // one of ChangeKinds
	PondMM  float64
	SunH    float64 // hours more
	Texture string
	MixMM   float64
	Offered int
}

// The kinds of change that are tried.
const (
	ChangeWater = "watering"
	ChangePond  = "shallower pond"
	ChangeSun   = "more sun"
	ChangeMix   = "another mix"
	ChangeDeep  = "deeper mix"
)

// ChangeKinds lists the kinds of change that are tried, in order.
func ChangeKinds() []string {
	return []string{ChangeWater, ChangePond, ChangeSun, ChangeMix, ChangeDeep}
}

// refuse explains a zone in which nothing lives; nil where something would, and
// where the zone has no ground.
func (p *Planting) refuse(z ZoneFill) *Refusal {
	if z.Offered > 0 || !(z.AreaM2 > 0) {
		return nil
	}
	r := &Refusal{Zone: z.Zone}
	for _, v := range p.Verdicts {
		if v.Zone != z.Zone || v.Bar == NoBar || v.Unfit != NoBar {
			continue
		}
		r.count(v)
		if (v.Bar == BarRisk || v.Bar == BarSun) && (r.Nearest == nil || v.Fit.Survival() > r.Nearest.Fit.Survival()) {
			r.Nearest = &v
		}
	}
	slices.SortStableFunc(r.Ruled, func(a, b RuledOut) int { return cmp.Compare(b.Count, a.Count) })
	return r
}

func (r *Refusal) count(v Verdict) {
	key := RuledOut{Bar: v.Bar}
	if v.Bar == BarRisk || v.Bar == BarSun {
		key.Limit = v.Fit.Reason.Limit
	}
	for i := range r.Ruled {
		if r.Ruled[i].Bar == key.Bar && r.Ruled[i].Limit == key.Limit {
			r.Ruled[i].Count++
			return
		}
	}
	key.Count = 1
	r.Ruled = append(r.Ruled, key)
}

// TryChanges fills in what would help each empty zone, by running the lot
// again with watering, a shallower pond, more sun, another or a deeper mix, one
// at a time. Of each kind the smallest change that lets something live is kept,
// or the largest tried if none does. It costs a run of the balance for each
// try, shared by all zones, so callers ask for it only when a zone is empty.
func (p *Planting) TryChanges(c *catalogue.Catalogue) error {
	judges := map[Change]*Judge{}
	for i := range p.Zones {
		r := p.Zones[i].Refusal
		if r == nil || !r.canHelp() {
			continue
		}
		for _, kind := range ChangeKinds() {
			change, err := p.tryKind(r.Zone, kind, c, judges)
			if err != nil {
				return err
			}
			if change.Kind != "" {
				r.Changes = append(r.Changes, change)
			}
		}
		slices.SortStableFunc(r.Changes, func(a, b Change) int { return cmp.Compare(b.Offered, a.Offered) })
	}
	return nil
}

// canHelp says whether a change of the bed could let anything live: not where
// only wishes or gaps in the catalogue stand in the way.
func (r *Refusal) canHelp() bool {
	return slices.ContainsFunc(r.Ruled, func(o RuledOut) bool { return o.Bar == BarRisk || o.Bar == BarSun })
}

func (p *Planting) tryKind(zone, kind string, c *catalogue.Catalogue, judges map[Change]*Judge) (Change, error) {
	var best Change
	for _, change := range p.tries(kind) {
		j, known := judges[change]
		if !known {
			var err error
			if j, err = p.with(change); err != nil {
				return best, err
			}
			judges[change] = j
		}
		change.Offered = offeredIn(j, zone, c)
		offered := change.Offered
		if kind == ChangeMix {
			if best.Kind == "" || offered > best.Offered {
				best = change
			}
			continue
		}
		best = change
		if offered > 0 {
			break
		}
	}
	return best, nil
}

// tries lists the changes of a kind from the smallest to the largest.
func (p *Planting) tries(kind string) []Change {
	g := p.Exposure.Lot.Garden
	var out []Change
	switch kind {
	case ChangeWater:
		if g.Wishes.Watering != zones.WaterWeekly {
			out = append(out, Change{Kind: kind})
		}
	case ChangePond:
		for _, share := range []float64{0.75, 0.5, 0.33} {
			out = append(out, Change{Kind: kind, PondMM: math.Round(g.Bed.PondingDepthMM*share/5) * 5})
		}
	case ChangeSun:
		for _, h := range []float64{1, 2, 3, 4} {
			out = append(out, Change{Kind: kind, SunH: h})
		}
	case ChangeMix:
		for _, texture := range []string{"loamy sand", "sandy loam", "loam", "silt loam"} {
			if texture != g.Mix.Texture {
				out = append(out, Change{Kind: kind, Texture: texture})
			}
		}
	case ChangeDeep:
		for _, more := range []float64{150, 300} {
			out = append(out, Change{Kind: kind, MixMM: g.Mix.DepthMM + more})
		}
	}
	return out
}

// with judges the lot with one change; nil if such a bed cannot be.
func (p *Planting) with(change Change) (*Judge, error) {
	g := *p.Exposure.Lot.Garden
	e := p.Exposure
	sun := e.Lot.Sun
	switch change.Kind {
	case ChangeWater:
	case ChangePond:
		g.Bed.PondingDepthMM = change.PondMM
	case ChangeSun:
		sun.BottomH += change.SunH
		sun.SlopeH += change.SunH
		sun.RimH += change.SunH
	case ChangeMix:
		g.Mix.Texture, g.Mix.FieldCapacity, g.Mix.WiltingPoint, g.Mix.Saturation, g.Mix.ConductivityMMH = change.Texture, math.NaN(), math.NaN(), math.NaN(), math.NaN()
	case ChangeDeep:
		g.Mix.DepthMM = change.MixMM
	}
	if change.Kind == ChangeSun || change.Kind == ChangeWater {
		lot := *e.Lot
		lot.Sun = sun
		again := *e
		again.Lot = &lot
		e = &again
	} else {
		lot, err := zones.Prepare(&g, e.Lot.Record)
		if err != nil {
			return nil, nil
		}
		if e, err = lot.Expose(); err != nil {
			return nil, err
		}
	}
	j := NewJudge(e)
	j.bed.Watered = j.bed.Watered || change.Kind == ChangeWater
	return j, nil
}

// offeredIn counts the species offered in a zone; none on a nil Judge.
func offeredIn(j *Judge, zone string, c *catalogue.Catalogue) int {
	if j == nil {
		return 0
	}
	offered := 0
	for _, plant := range c.Plants {
		if v, ok := j.Zone(plant, zone); ok && v.Bar == NoBar {
			offered++
		}
	}
	return offered
}
