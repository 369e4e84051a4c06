// Package list decides which species, and how many plants of each, stand in
// each zone of a bed.
//
// Input is a Problem: species, zones, and the candidates (one species in one
// zone where it is fit to live, with its chance to survive). Output is a
// Result: whole numbers of plants, the objective reached, an upper bound that
// no list can pass, and the gap between the two. Solve never reads a clock:
// the same Problem gives the same lines.
//
// The same lines and the same bound come out on every processor: where a product
// is added to, it is written float64(x*y), which no compiler may fuse with the
// sum. One bit more or less, and the search for the bound would take another way.
//
// It leaves out where each plant stands inside its zone, and it does not judge
// fitness: whatever is not to be planted must not be among the candidates.
package list

import (
	"fmt"
	"math"
	"math/bits"
	"slices"
)

// enoughSpecies is where more variety earns nothing. Common practice, no source.
const enoughSpecies = 12

// areaSlack is the relative slack on areas, shares and money that rounding may use up.
const areaSlack = 1e-9

// Candidate is one species in one zone where it is fit to live.
type Candidate struct {
	Species  int     // index into Problem.Species
	Zone     int     // index into Problem.Zones
	Survival float64 // 0 to 1: area-weighted yearly chance to survive, fixed losses included
}

// Species is what the list needs to know of a species.
type Species struct {
	ID     string
	AreaM2 float64 // ground for one plant, see AreaPerPlantM2; of a bulb, what it lies under
	Layer  Layer
	Price  float64 // for one plant
	Bloom  uint16  // bit m-1 is month m
	Native bool
	Wanted bool // must stand somewhere in the bed if it has a candidate
}

// Zone is a part of the bed.
type Zone struct {
	Name   string
	AreaM2 float64
}

// Problem is the whole question. The objective is a sum of shares:
//
//	sum over lines of count * AreaM2 / total zone area * Survival
//	+ NativeWeight  * planted area of natives / total zone area
//	+ BloomWeight   * wanted months with a flower / wanted months
//	+ VarietyWeight * min(species in the bed, target) / target
//
// where target is the smallest of enoughSpecies, MostSpecies (if set) and the
// number of species that can stand anywhere.
//
// A zone where no candidate could obey both ShareCap and SmallestGroup is
// small, and there the two rules give way: the share of a species may reach
// one smallest group, and if even that is larger than the zone, the group is
// what fits. Result.Notes says where this was done.
//
// Each layer may have its share of a zone's ground to itself, and what no share
// keeps is for all: with A the ground of a layer, sum over layers of
// max(0, A - kept) is at most the free ground. Where fewer plants would live than
// a share asks for, the rest of it is free, and a note says so. Bulbs add nothing
// to the first sum and take no ground; there are no more than the ground that the
// others of their zone cover, over AreaM2 of a bulb. For them Survival - 1 counts in
// place of Survival, and no native weight: what they add is flowers and kinds alone.
type Problem struct {
	Species    []Species
	Zones      []Zone
	Candidates []Candidate

	ShareCap      float64       // greatest share of a zone's area for one species, above 0 to 1
	SmallestGroup int           // a species stands in a zone with none or at least this many
	MostSpecies   int           // in the whole bed; 0 is no limit
	Shares        [Bulb]float64 // by layer: least share of a zone's ground, as far as plants for it live there
	Budget        float64       // +Inf is no limit

	BloomWeight, VarietyWeight, NativeWeight float64

	BloomMonths uint16 // months wanted in flower, bit m-1 is month m
	Seed        uint64
	Effort      int // ways of filling a zone to try, never seconds; 0 is defaultEffort

	// Stop, if set, is asked now and then whether the answer is still wanted.
	Stop func() bool
}

// Line is a number of plants of one candidate.
type Line struct {
	Candidate int // index into Problem.Candidates
	Count     int
}

// validate returns the first fault in the problem itself.
func (p Problem) validate() error {
	switch {
	case !(p.ShareCap > 0 && p.ShareCap <= 1):
		return fmt.Errorf("share cap: %v: want a share above 0, at most 1", p.ShareCap)
	case p.SmallestGroup < 1:
		return fmt.Errorf("smallest group: %d: want 1 or more plants", p.SmallestGroup)
	case slices.Min(p.Shares[:]) < 0 || !(p.Shares[NoLayer] == 0) || !(p.Shares[Matrix]+p.Shares[Structure]+p.Shares[Seasonal] <= 1):
		return fmt.Errorf("layers: shares %v: expected 0 or more each, none for no layer, and at most 1 together", p.Shares)
	case p.MostSpecies < 0:
		return fmt.Errorf("most species: %d: want a number of species, or 0 for no limit", p.MostSpecies)
	case !(p.Budget >= 0):
		return fmt.Errorf("budget: %v: want 0 or more", p.Budget)
	case p.Effort < 0:
		return fmt.Errorf("effort: %d: want 0 or more rounds", p.Effort)
	case p.BloomMonths >= 1<<12:
		return fmt.Errorf("bloom months: %#x: want bits 0 to 11 only", p.BloomMonths)
	}
	for _, w := range []struct {
		name  string
		value float64
	}{{"bloom weight", p.BloomWeight}, {"variety weight", p.VarietyWeight}, {"native weight", p.NativeWeight}} {
		if !(w.value >= 0 && w.value <= math.MaxFloat32) {
			return fmt.Errorf("%s: %v: want 0 or more", w.name, w.value)
		}
	}
	if err := p.validateSpecies(); err != nil {
		return err
	}
	return p.validatePlaces()
}

func (p Problem) validateSpecies() error {
	seen := make(map[string]bool, len(p.Species))
	for _, s := range p.Species {
		switch {
		case seen[s.ID]:
			return fmt.Errorf("species %q: listed twice", s.ID)
		case !(s.AreaM2 > 0 && s.AreaM2 <= math.MaxFloat32):
			return fmt.Errorf("species %q: area %v m2: want more than 0", s.ID, s.AreaM2)
		case !(s.Price >= 0 && s.Price <= math.MaxFloat32):
			return fmt.Errorf("species %q: price %v: want 0 or more", s.ID, s.Price)
		case s.Layer < NoLayer || s.Layer >= layerCount:
			return fmt.Errorf("species %q: layer %d: expected 0 to %d", s.ID, s.Layer, layerCount-1)
		case s.Bloom >= 1<<12:
			return fmt.Errorf("species %q: bloom %#x: want bits 0 to 11 only", s.ID, s.Bloom)
		}
		seen[s.ID] = true
	}
	return nil
}

func (p Problem) validatePlaces() error {
	total := 0.0
	for _, z := range p.Zones {
		if !(z.AreaM2 >= 0 && z.AreaM2 <= math.MaxFloat32) {
			return fmt.Errorf("zone %q: area %v m2: want 0 or more", z.Name, z.AreaM2)
		}
		total += z.AreaM2
	}
	if !(total > 0) {
		return fmt.Errorf("zones: total area %v m2: want more than 0", total)
	}
	seen := make(map[[2]int]bool, len(p.Candidates))
	for i, c := range p.Candidates {
		key := [2]int{c.Species, c.Zone}
		switch {
		case c.Species < 0 || c.Species >= len(p.Species):
			return fmt.Errorf("candidate %d: species %d: want 0 to %d", i, c.Species, len(p.Species)-1)
		case c.Zone < 0 || c.Zone >= len(p.Zones):
			return fmt.Errorf("candidate %d: zone %d: want 0 to %d", i, c.Zone, len(p.Zones)-1)
		case !(c.Survival >= 0 && c.Survival <= 1):
			return fmt.Errorf("candidate %d: survival %v: want 0 to 1", i, c.Survival)
		case seen[key]:
			return fmt.Errorf("candidate %d: species %q in zone %q: listed twice", i, p.Species[c.Species].ID, p.Zones[c.Zone].Name)
		}
		seen[key] = true
	}
	return nil
}

// objective returns the value of lines, whether or not they obey the rules.
// See Problem for the formula. It panics if a line names no candidate.
func (p Problem) objective(lines []Line) float64 {
	t := p.newTally(p.varietyTarget())
	for _, l := range lines {
		t.add(l)
	}
	return t.value()
}

// tally sums an objective up line by line.
type tally struct {
	p       *Problem
	totalM2 float64
	target  int

	plants float64 // of the plants alone
	in     map[int]bool
	kinds  int
	bloom  uint16
}

func (p *Problem) newTally(target int) *tally {
	return &tally{p: p, totalM2: p.totalAreaM2(), target: target, in: map[int]bool{}}
}

func (t *tally) add(l Line) {
	t.plants, t.kinds, t.bloom = t.next(l)
	if l.Count > 0 {
		t.in[t.p.Candidates[l.Candidate].Species] = true
	}
}

// next is what the sums become with one more line.
func (t *tally) next(l Line) (plants float64, kinds int, bloom uint16) {
	c := t.p.Candidates[l.Candidate]
	s := &t.p.Species[c.Species]
	plants, kinds, bloom = t.plants+float64(float64(l.Count)*s.AreaM2/t.totalM2*t.p.worth(c)), t.kinds, t.bloom
	if l.Count > 0 && !t.in[c.Species] {
		kinds++
		bloom |= s.Bloom
	}
	return plants, kinds, bloom
}

// worth is what the ground of a candidate counts in the objective.
func (p *Problem) worth(c Candidate) float64 {
	switch s := &p.Species[c.Species]; {
	case s.Layer == Bulb:
		return min(0, c.Survival-1)
	case s.Native:
		return c.Survival + p.NativeWeight
	}
	return c.Survival
}

func (t *tally) value() float64 { return t.valueOf(t.plants, t.kinds, t.bloom) }

func (t *tally) valueOf(plants float64, kinds int, bloom uint16) float64 {
	if wanted := t.p.BloomMonths; wanted != 0 {
		plants += t.p.BloomWeight * float64(bits.OnesCount16(bloom&wanted)) / float64(bits.OnesCount16(wanted))
	}
	if t.target > 0 {
		plants += t.p.VarietyWeight * float64(min(kinds, t.target)) / float64(t.target)
	}
	return plants
}

func (p Problem) totalAreaM2() float64 {
	total := 0.0
	for _, z := range p.Zones {
		total += z.AreaM2
	}
	return total
}

func (p Problem) varietyTarget() int {
	able := make([]bool, len(p.Species))
	kinds := 0
	for k, r := range p.limits() {
		if s := p.Candidates[k].Species; r.most > 0 && !able[s] {
			able[s] = true
			kinds++
		}
	}
	target := min(enoughSpecies, kinds)
	if p.MostSpecies > 0 {
		target = min(target, p.MostSpecies)
	}
	return target
}
