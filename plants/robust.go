package plants

import (
	"fmt"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// RobustCases is how many cases are worked out unless somebody asks for more
// or fewer: if all of 59 independent cases are right, then with 95 %
// confidence at least 95 % of all are, since 0.95^59 < 0.05. Source: the
// success-run rule (textbook).
const RobustCases = 60

// Sure is how one plant in one zone fares over the cases.
type Sure struct {
	Right     int     // cases in which its yearly risk keeps to the limit
	Low, High float64 // yearly risk that 5 % and 95 % of the cases stay at or below
}

// Sureness is how the plants that are offered fare if soil, roof and years are
// others than planned with.
type Sureness struct {
	Doubt zones.Doubt
	Cases int
	// Offered counts, for each zone, the species that are offered as planned
	// and, over the cases, those of them that are right.
	Offered map[string]zones.Range

	of map[sureKey]Sure
}

type sureKey struct{ zone, id string }

// Of returns how a verdict fares over the cases; ok is false for a plant that
// is not offered as planned, which was not followed.
func (s *Sureness) Of(v Verdict) (sure Sure, ok bool) {
	if s == nil {
		return Sure{}, false
	}
	sure, ok = s.of[sureKey{v.Zone, v.Plant.ID}]
	return sure, ok
}

// Robust says whether a plant is right as planned and in every case.
func (s *Sureness) Robust(v Verdict) bool {
	sure, ok := s.Of(v)
	return ok && sure.Right == s.Cases
}

// share is the part of the cases in which a plant is right; 1 if nobody asked.
func (s *Sureness) share(v Verdict) float64 {
	sure, ok := s.Of(v)
	if !ok {
		return 1
	}
	return float64(sure.Right) / float64(s.Cases)
}

// judgeCases judges every plant that is offered as planned in every case, and
// sums up beside it how the figures of the zones change.
func judgeCases(j *Judge, verdicts []Verdict, d zones.Doubt, samples []zones.Sample) (*Sureness, *zones.Spread, error) {
	var offered []Verdict
	of := map[string][]catalogue.Plant{} // those of each zone, in the same order
	for _, v := range verdicts {
		if v.Bar == NoBar {
			offered = append(offered, v)
			of[v.Zone] = append(of[v.Zone], v.Plant)
		}
	}
	risk := make([][]float64, len(offered)) // by plant and case
	for k := range risk {
		risk[k] = make([]float64, len(samples))
	}
	spread, err := j.Exposure.Spread(d, samples, func(i int, there *zones.Exposure) error {
		if j.stopped() {
			return errStopped
		}
		bed, left := fitBed(there), map[string][]float64{}
		for zone, plants := range of {
			left[zone] = bed.RisksInZone(plants, zone)
		}
		for k, v := range offered {
			risk[k][i] = left[v.Zone][0]
			left[v.Zone] = left[v.Zone][1:]
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	s := &Sureness{Doubt: d, Cases: len(samples), Offered: map[string]zones.Range{}, of: map[sureKey]Sure{}}
	limit := j.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	for _, z := range j.Exposure.Zones {
		right, plan := make([]float64, len(samples)), 0.0
		for k, v := range offered {
			if v.Zone != z.Zone {
				continue
			}
			plan++
			for i, r := range risk[k] {
				if r <= limit {
					right[i]++
				}
			}
		}
		s.Offered[z.Zone] = zones.NewRange(plan, right)
	}
	for k, v := range offered {
		sure := Sure{Low: site.QuantileWeibull(risk[k], 0.05), High: site.QuantileWeibull(risk[k], 0.95)}
		for _, r := range risk[k] {
			if r <= limit {
				sure.Right++
			}
		}
		s.of[sureKey{v.Zone, v.Plant.ID}] = sure
	}
	return s, spread, nil
}

// ChooseInDoubt makes the ordinary planting list and tells how each line fares
// over the cases, and how the figures of the zones change.
func ChooseInDoubt(j *Judge, c *catalogue.Catalogue, d zones.Doubt, samples []zones.Sample) (*Planting, *zones.Spread, error) {
	p, err := Choose(j, c)
	if err != nil {
		return nil, nil, err
	}
	var spread *zones.Spread
	p.Sure, spread, err = judgeCases(j, p.Verdicts, d, samples)
	return p, spread, err
}

// lessRoom is by how much of its ground a zone may be planted less for the sake
// of robust plants. Choice of this project, no source.
const lessRoom = 0.05

// ChooseRobust makes the planting list with plants that are right in every
// case. Where they cannot fill a zone as far as all plants would, others come
// in, each counting with the share of the cases in which it is right; a Note
// says so. Wanted plants stay offered.
func ChooseRobust(j *Judge, c *catalogue.Catalogue, d zones.Doubt, samples []zones.Sample) (*Planting, error) {
	if err := knownWishes(j.Exposure.Lot.Garden, c); err != nil {
		return nil, err
	}
	all := j.All(c)
	if j.stopped() {
		return nil, errStopped
	}
	sure, _, err := judgeCases(j, all, d, samples)
	if err != nil {
		return nil, err
	}
	plain, err := choose(j, all, sure)
	if err != nil {
		return nil, err
	}
	strict, err := choose(j, sure.strict(j, all, nil), sure)
	if err != nil {
		return nil, err
	}
	var open []string
	for i, z := range strict.Zones {
		if z.PlantedM2 < plain.Zones[i].PlantedM2-lessRoom*z.AreaM2 {
			open = append(open, z.Zone)
		}
	}
	if len(open) == 0 {
		return strict, nil
	}
	eased, err := choose(j, sure.strict(j, all, open), sure)
	if err != nil {
		return nil, err
	}
	eased.Notes = append(eased.Notes, "too few robust plants to fill the "+strings.Join(open, " and the ")+": others stand there too, those that are right in most cases first")
	return eased, nil
}

// strict bars the plants that are not robust, but in the open zones and where
// they are wanted.
func (s *Sureness) strict(j *Judge, verdicts []Verdict, open []string) []Verdict {
	out := slices.Clone(verdicts)
	for i, v := range out {
		if v.Bar != NoBar || s.Robust(v) || slices.Contains(open, v.Zone) || slices.Contains(j.Exposure.Lot.Garden.Wishes.Wanted, v.Plant.ID) {
			continue
		}
		sure, _ := s.Of(v)
		out[i].Bar, out[i].Detail = BarUnsure, fmt.Sprintf("right in %d of %d cases", sure.Right, s.Cases)
	}
	return out
}
