package season

import (
	"cmp"
	"math"
	"slices"

	"hollowbed/plants/fit"
)

// Half widths of the grids, in steps: theta 2.1, eta 0.6, gamma 1.0 log units
// either way, what they make together, and the bearing of a plant.
const (
	thetaHalf = 21
	etaHalf   = 6
	gammaHalf = 10
	placeHalf = thetaHalf + gammaHalf // theta - gamma
	plantHalf = placeHalf + etaHalf   // theta - gamma + eta
)

// How often plants are looked at anew with what is then believed of their
// other limits, and how often species and gardens tell each other in between.
const (
	sweeps = 3
	tells  = 3
)

// Learned is what notes teach.
type Learned struct {
	Species []SpeciesLimit // by id and limit
	Sun     []speciesSun   // by id
	Gardens []gardenFactor // by name
	Plants  []PlantBearing // by garden and plant
}

// SpeciesLimit is how far one limit of one species is moved.
type SpeciesLimit struct {
	ID                string
	Limit             fit.Limit
	Factor, Low, High float64 // multiple of the catalogue's value: median, 90 % interval
	Belief            Belief  // of theta
	Plants, Gardens   int     // it rests on
}

// speciesSun is with how much less sun a species does, and how much more it stands, than
// its range says, hours a day.
type speciesSun struct {
	ID   string
	Ends [2]Belief
}

// gardenFactor is how much wetter and drier a garden is than computed.
type gardenFactor struct {
	Garden               string
	Wet, WetLow, WetHigh float64 // multiple of the severity: median, 90 % interval
	Dry, DryLow, DryHigh float64
	WetBelief, DryBelief Belief // of gamma
	WetPlants, DryPlants int    // it rests on
}

// PlantBearing is what one plant bears in its garden.
type PlantBearing struct {
	Garden, Plant, Species string
	Before                 Bearing // without its own notes: for Diagnose
	After                  Bearing // with them: for what to do next
	Own                    Bearing // its eta alone
}

// Bearing finds what a plant bears; ok is false if it had no notes.
func (l *Learned) Bearing(garden, plant string) (b PlantBearing, ok bool) {
	i, ok := slices.BinarySearchFunc(l.Plants, PlantBearing{Garden: garden, Plant: plant}, byPlant)
	if !ok {
		return PlantBearing{}, false
	}
	return l.Plants[i], true
}

// Expect is what a plant without notes bears, by its species and garden, or beforehand.
func (l *Learned) Expect(m Model, garden, species string, assumed [LimitCount]bool) Bearing {
	b := m.Unlearned(Case{Assumed: assumed})
	for k, limit := range Limits() {
		theta, gamma := Belief{SD: m.tau(assumed[k])}, Belief{SD: m.gammaSD(k, 0)}
		if s, ok := l.Limit(species, limit); ok {
			theta = s.Belief
		}
		if g, ok := l.Garden(garden); ok && gammaOf(k) >= 0 {
			gamma = [2]Belief{g.WetBelief, g.DryBelief}[gammaOf(k)]
		}
		b[k] = Belief{theta.Mean - gamma.Mean, math.Hypot(math.Hypot(theta.SD, gamma.SD), m.Eta)}
	}
	if i := slices.IndexFunc(l.Sun, func(s speciesSun) bool { return s.ID == species }); i >= 0 {
		copy(b[LimitCount:], l.Sun[i].Ends[:])
	}
	return b
}

// Garden finds what was learned of a garden.
func (l *Learned) Garden(name string) (g gardenFactor, ok bool) {
	i, ok := slices.BinarySearchFunc(l.Gardens, name, func(g gardenFactor, name string) int { return cmp.Compare(g.Garden, name) })
	if !ok {
		return g, false
	}
	return l.Gardens[i], true
}

// Limit finds what was learned of a limit of a species.
func (l *Learned) Limit(id string, limit fit.Limit) (s SpeciesLimit, ok bool) {
	i := slices.IndexFunc(l.Species, func(s SpeciesLimit) bool { return s.ID == id && s.Limit == limit })
	if i < 0 {
		return s, false
	}
	return l.Species[i], true
}

func sortPlants(p []PlantBearing) { slices.SortFunc(p, byPlant) }

func byPlant(a, b PlantBearing) int {
	return cmp.Or(cmp.Compare(a.Garden, b.Garden), cmp.Compare(a.Plant, b.Plant))
}

// Learn moves the limits of species, and finds what gardens and single plants add to
// that, from all cases at once, in any order; not those whose weather is not known.
// Limits come one after the other, each by what the one before has left to explain: at
// once, too wet and too deep would both take the same failures for theirs. eta is
// averaged over; theta and gamma of species and gardens are found by belief propagation
// on the grids: exact for one species in one garden, else the usual approximation. The
// ends of a species' range of sun are learned beside them (lookSun).
func (m Model) Learn(t *Table, cases []Case) *Learned {
	n := newNetwork(m, t, cases)
	for sweep := range sweeps {
		n.lookSun()
		for l := range LimitCount {
			n.look(l)
			for range tells {
				n.tellSpecies(l)
				n.tellGardens(l)
			}
			n.believe(l, sweep == sweeps-1)
		}
	}
	return n.learned()
}
