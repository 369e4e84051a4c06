package plants

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/list"
	"hollowbed/zones"
)

// What bloom, variety and native plants count beside survival, as shares of
// the planted area, unless the garden file says otherwise. Assumption, no
// source: survival first, a month of bloom worth about a plant or two.
const (
	bloomWeight   = 0.10
	varietyWeight = 0.05
	nativeWeight  = 0.05
)

// Planting is a planting list with what it rests on.
type Planting struct {
	Exposure *zones.Exposure
	Lines    []Line
	Zones    []ZoneFill
	Verdicts []Verdict // all that were judged, bottom zone first
	Sure     *Sureness // how the verdicts stand over the cases; nil unless asked for
	Watering *Watering // that the list counts on; nil: none

	Objective, Bound, Gap float64
	Stopped               string
	Cost                  float64
	BloomWanted           []int // months
	BloomMonths           []int // with a flower, wanted or not
	Notes                 []string
	Asides                []string // of how the list was made, which change nothing for who plants it
	LayersCost            float64  // see WeighLayers

	solved float64 // objective before firm
	stop   func() bool
}

// Line is one species in one zone.
type Line struct {
	Verdict
	Count     int
	SpacingCM float64
	Layer     string  // "matrix", "structure", "seasonal" or "bulbs"
	AreaM2    float64 // that they cover, at mature spread; bulbs none
	Next      []Alternative
}

// Alternative is a species that could stand in a line's place.
type Alternative struct {
	Verdict *Verdict
	Count   int
	Change  float64 // of the objective; negative is worse
}

// ZoneFill says how far a zone is planted.
type ZoneFill struct {
	Zone      string
	AreaM2    float64
	PlantedM2 float64
	Offered   int      // species that would live and are wished for
	Bare      string   // why ground stays bare, where some does
	Refusal   *Refusal // why nothing, or nearly nothing, can be planted
}

// Choose makes the planting list of a lot. Where too little survives, the zone
// stays empty and its Refusal says why. An error means wishes that clash.
func Choose(j *Judge, c *catalogue.Catalogue) (*Planting, error) {
	g := j.Exposure.Lot.Garden
	if err := knownWishes(g, c); err != nil {
		return nil, err
	}
	verdicts := j.All(c)
	if j.stopped() {
		return nil, errStopped
	}
	return choose(j, verdicts, nil)
}

// choose makes the list from verdicts; sure may be nil.
func choose(j *Judge, verdicts []Verdict, sure *Sureness) (*Planting, error) {
	g := j.Exposure.Lot.Garden
	p := &Planting{Exposure: j.Exposure, Verdicts: verdicts, BloomWanted: bloomWanted(j.Exposure), Sure: sure, stop: j.Stop}
	problem, offered := p.problem(g)
	problem.Stop = j.Stop
	p.Notes = append(p.Notes, missedWishes(g, p.Verdicts)...)
	p.Notes = append(p.Notes, strangeRegions(g, p.Verdicts)...)
	p.Notes = append(p.Notes, j.shutOut(verdicts)...)
	if !j.Exposure.HasCold() {
		p.Notes = append(p.Notes, "the record has no temperatures, so cold was not judged")
	}
	if g.Site.LatitudeDeg < 0 {
		p.Notes = append(p.Notes, "flower months are those of the plant table: if it comes from the north, they are half a year out here")
	}
	for _, z := range j.Exposure.Zones {
		p.Zones = append(p.Zones, ZoneFill{Zone: z.Zone, AreaM2: z.AreaM2})
	}
	for _, v := range offered {
		p.Zones[p.zoneIndex(v.Zone)].Offered++
	}
	if len(offered) > 0 {
		if err := p.solve(problem, offered); err != nil {
			return nil, err
		}
	} else {
		p.Stopped = "nothing to choose from"
	}
	for i := range p.Zones {
		p.Zones[i].Refusal = p.refuse(p.Zones[i])
	}
	p.Watering = watering(j.Exposure, p.Stands(), care.Default())
	return p, nil
}

// problem turns the verdicts without a bar into the question that list solves.
func (p *Planting) problem(g *zones.Garden) (list.Problem, []*Verdict) {
	w := g.Wishes
	problem := list.Problem{
		ShareCap: w.ShareCap, SmallestGroup: w.SmallestGroup, MostSpecies: w.MostSpecies,
		Budget:      orDefault(w.Budget, math.Inf(1)),
		BloomWeight: orDefault(w.Weights.Bloom, bloomWeight), VarietyWeight: orDefault(w.Weights.Variety, varietyWeight),
		NativeWeight: orDefault(w.Weights.Native, nativeWeight),
		BloomMonths:  monthBits(p.BloomWanted), Seed: uint64(w.Seed), Shares: shares(w.Layers),
	}
	for _, z := range p.Exposure.Zones {
		problem.Zones = append(problem.Zones, list.Zone{Name: z.Zone, AreaM2: steady(z.AreaM2)})
	}
	species := map[string]int{}
	var offered []*Verdict
	for i := range p.Verdicts {
		v := &p.Verdicts[i]
		if v.Bar != NoBar {
			continue
		}
		at, ok := species[v.Plant.ID]
		if !ok {
			at = len(problem.Species)
			species[v.Plant.ID] = at
			problem.Species = append(problem.Species, list.Species{
				ID: v.Plant.ID, AreaM2: groundM2(&v.Plant), Layer: layer(&v.Plant), Price: orDefault(v.Plant.Price, 0),
				Bloom: monthBits(monthsBetween(v.Plant.FlowerFrom, v.Plant.FlowerTo)), Native: sharesTag(v.Plant.NativeTo, w.NativeTo),
				Wanted: slices.Contains(w.Wanted, v.Plant.ID),
			})
		}
		problem.Candidates = append(problem.Candidates, list.Candidate{
			Species: at, Zone: p.exposureZone(v.Zone), Survival: steady(v.Fit.Survival() * p.Sure.share(*v) * trust(&v.Plant)),
		})
		offered = append(offered, v)
	}
	return problem, offered
}

// steady takes the last digits off a figure, which differ between processors, so
// that every one of them solves the very same problem.
func steady(x float64) float64 { return math.Round(x*1e10) / 1e10 }

// atTheLimit says that the species that fit a zone are planted up to the limit for
// one, and that others are too wide for it.
func atTheLimit(problem list.Problem, fit, wide int) string {
	limit := fmt.Sprintf("at the %.0f %% limit for one species", 100*problem.ShareCap)
	words := fmt.Sprintf("all %d species that fit are %s", fit, limit)
	if fit == 1 {
		words = "the one species that fits is " + limit
	}
	switch wide {
	case 0:
		return words
	case 1:
		return fmt.Sprintf("%s; another is too wide for a group of %d", words, problem.SmallestGroup)
	}
	return fmt.Sprintf("%s; the other %d are too wide for a group of %d", words, wide, problem.SmallestGroup)
}

func (p *Planting) solve(problem list.Problem, offered []*Verdict) error {
	result, notes, err := solveLayered(&problem)
	if errors.Is(err, list.ErrStopped) {
		return errStopped
	}
	if err != nil {
		return &WishClashError{File: p.Exposure.Lot.Garden.Source, Err: err}
	}
	p.Notes = append(p.Notes, notes...)
	p.solved = result.Objective
	p.firm(&problem, offered, &result)
	p.Objective, p.Bound, p.Gap, p.Stopped, p.Cost = result.Objective, result.Bound, result.Gap, result.Stopped, result.Cost
	p.Asides = append(p.Asides, result.Notes...)
	for z, why := range result.WhyEmpty {
		zone := &p.Zones[p.zoneIndex(p.Exposure.Zones[z].Zone)]
		switch {
		case why == list.WhyNone && zone.Offered > 0:
			zone.Bare = "all that would live here grows too wide for it"
		case why == list.WhyShare:
			zone.Bare = atTheLimit(problem, zone.Offered-result.Wide[z], result.Wide[z])
		case why == list.WhyBudget && result.Cost == 0 && result.Filled[z] == 0:
			zone.Bare = "the budget does not reach for a smallest group of any species"
		case why != list.WhyFull && why != list.WhyNone:
			zone.Bare = why.String()
		}
	}
	for m := 1; m <= 12; m++ {
		if result.BloomMonths&(1<<(m-1)) != 0 {
			p.BloomMonths = append(p.BloomMonths, m)
		}
	}
	next := list.Alternatives(problem, result)
	for i, line := range result.Lines {
		v := offered[line.Candidate]
		area := 0.0
		if layer(&v.Plant) != list.Bulb {
			area = float64(line.Count) * groundM2(&v.Plant)
		}
		p.Zones[p.zoneIndex(v.Zone)].PlantedM2 += area
		out := Line{Verdict: *v, Count: line.Count, SpacingCM: v.Plant.SpreadCM, Layer: layer(&v.Plant).String(), AreaM2: area}
		for _, a := range next[i] {
			out.Next = append(out.Next, Alternative{Verdict: offered[a.Candidate], Count: a.Count, Change: a.Change})
		}
		p.Lines = append(p.Lines, out)
	}
	slices.SortStableFunc(p.Lines, func(a, b Line) int {
		return cmp.Or(cmp.Compare(p.zoneIndex(a.Zone), p.zoneIndex(b.Zone)), cmp.Compare(layer(&a.Plant), layer(&b.Plant)))
	})
	p.Notes = append(p.Notes, p.oneSided(problem.ShareCap)...)
	return nil
}

// oneSided tells of a species that has far more of what is planted than of the
// ground, of which share_cap speaks: money or fit plants ran out before others
// came in.
func (p *Planting) oneSided(shareCap float64) []string {
	planted, of := 0.0, map[string]float64{}
	for _, l := range p.Lines {
		planted += l.AreaM2
		of[l.Plant.ID] += l.AreaM2
	}
	for _, l := range p.Lines {
		if share := of[l.Plant.ID] / planted; share > 2*shareCap {
			return []string{fmt.Sprintf("%s has %.0f %% of what is planted, and what harms it would leave little: share_cap (%.0f %%) holds it to a part of each zone's ground, of which much stays bare; a larger wishes.weights.variety brings in others", l.Plant.VernacularName, 100*share, 100*shareCap)}
		}
	}
	return nil
}

func (p *Planting) zoneIndex(name string) int {
	return slices.IndexFunc(p.Zones, func(z ZoneFill) bool { return z.Zone == name })
}

func (p *Planting) exposureZone(name string) int {
	return slices.IndexFunc(p.Exposure.Zones, func(z zones.ZoneExposure) bool { return z.Zone == name })
}

// bloomWanted returns the months wished for, or those of which more than half
// the days lie in the growing season.
func bloomWanted(e *zones.Exposure) []int {
	w := e.Lot.Garden.Wishes
	if w.BloomFrom > 0 {
		return monthsBetween(w.BloomFrom, w.BloomTo)
	}
	var days, growing [13]int
	for d, g := range e.Lot.Record.Growing() {
		m := e.Lot.Record.Start.AddDate(0, 0, d).Month()
		days[m]++
		if g {
			growing[m]++
		}
	}
	var months []int
	for m := 1; m <= 12; m++ {
		if 2*growing[m] > days[m] {
			months = append(months, m)
		}
	}
	return months
}

// monthsBetween lists the months from one to another, over the turn of the
// year where need be; none if from is 0.
func monthsBetween(from, to int) []int {
	if from == 0 {
		return nil
	}
	months := []int{from}
	for m := from; m != to; {
		m = m%12 + 1
		months = append(months, m)
	}
	return months
}

func monthBits(months []int) uint16 {
	var bits uint16
	for _, m := range months {
		bits |= 1 << (m - 1)
	}
	return bits
}

func orDefault(v, otherwise float64) float64 {
	if math.IsNaN(v) {
		return otherwise
	}
	return v
}

func sharesTag(a, b []string) bool {
	return slices.ContainsFunc(a, func(tag string) bool { return slices.Contains(b, tag) })
}
