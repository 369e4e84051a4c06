package list

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// shape describes one kind of generated instance.
type shape struct {
	Name      string
	Species   int
	Zones     int
	Share     float64
	Group     int
	Most      int
	Money     float64 // budget as a share of what a full bed costs on average; 0 is none
	Wanted    int
	Tiny      int     // how many zones are tiny
	ZoneM2    float64 // mean area of the others
	Fit       float64 // chance that a species suits a zone
	Bloom     float64
	Variety   float64
	Native    float64
	BigPlants bool
	Layers    [Bulb]float64 // shares; species have layers if there are any
}

// instance builds the problem of a shape and a seed.
func instance(sh shape, seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 7))
	p := Problem{
		ShareCap: sh.Share, SmallestGroup: sh.Group, MostSpecies: sh.Most, Budget: math.Inf(1),
		BloomWeight: sh.Bloom, VarietyWeight: sh.Variety, NativeWeight: sh.Native,
		BloomMonths: 0b001111111000, Seed: seed,
	}
	for z := range sh.Zones {
		area := sh.ZoneM2 * (0.5 + r.Float64())
		if z < sh.Tiny {
			area = 0.15 + 1.2*r.Float64()
		}
		p.Zones = append(p.Zones, Zone{fmt.Sprintf("zone %d", z), math.Round(area*100) / 100})
	}
	perM2 := 0.0
	for s := range sh.Species {
		spread := []float64{20, 25, 30, 30, 35, 40, 45, 45, 50, 60, 60, 75, 90, 120}[r.IntN(14)]
		if sh.BigPlants {
			spread *= 1.8
		}
		first, length := r.IntN(9), 1+r.IntN(3)
		bloom := uint16(0)
		for m := first; m < first+length; m++ {
			bloom |= 1 << min(m+2, 11)
		}
		price := math.Round((2+10*r.Float64()+spread/12)*20) / 20
		sp := Species{ID: fmt.Sprintf("s%03d", s), AreaM2: AreaPerPlantM2(spread), Price: price, Bloom: bloom, Native: r.IntN(2) == 0}
		perM2 += price / sp.AreaM2 / float64(sh.Species)
		p.Species = append(p.Species, sp)
		liking := r.Float64() * float64(sh.Zones-1)
		for z := range sh.Zones {
			if r.Float64() > sh.Fit {
				continue
			}
			risk := 0.02 + 0.12*math.Abs(float64(z)-liking) + 0.25*r.Float64()
			p.Candidates = append(p.Candidates, Candidate{s, z, math.Max(0.05, 1-risk)})
		}
	}
	if sh.Layers != [Bulb]float64{} {
		p.Shares = sh.Layers
		p.layers(r)
	}
	for range sh.Wanted {
		p.Species[r.IntN(sh.Species)].Wanted = true
	}
	if sh.Money > 0 {
		p.Budget = math.Round(sh.Money * perM2 * p.totalAreaM2())
	}
	return p
}

// layers gives each species a layer: large plants are more often structure, one in
// eight is a bulb.
func (p *Problem) layers(r *rand.Rand) {
	for s := range p.Species {
		sp := &p.Species[s]
		switch x := r.Float64(); {
		case x < 0.125:
			sp.Layer, sp.AreaM2 = Bulb, 0.1
		case sp.AreaM2 > 0.3*r.Float64()+0.2:
			sp.Layer = Structure
		case x < 0.5:
			sp.Layer = Matrix
		default:
			sp.Layer = Seasonal
		}
	}
}

// family is the generated family: every shape stands for a way in which lists get hard.
func family() []shape {
	base := shape{Species: 40, Zones: 3, Share: 0.3, Group: 3, ZoneM2: 8, Fit: 0.7, Bloom: 0.3, Variety: 0.2, Native: 0.1}
	with := func(name string, change func(*shape)) shape {
		s := base
		s.Name = name
		change(&s)
		return s
	}
	return []shape{
		with("plain", func(*shape) {}),
		with("demo", func(s *shape) { s.Species, s.Most, s.Money = 120, 15, 0.8 }),
		with("tight budget", func(s *shape) { s.Money = 0.3 }),
		with("very tight budget", func(s *shape) { s.Money, s.Species = 0.12, 60 }),
		with("few species", func(s *shape) { s.Most = 5 }),
		with("few species, tight budget", func(s *shape) { s.Most, s.Money = 6, 0.3 }),
		with("wanted", func(s *shape) { s.Wanted, s.Most = 5, 9 }),
		with("wanted, tight budget", func(s *shape) { s.Wanted, s.Money = 4, 0.25 }),
		with("tiny zones", func(s *shape) { s.Tiny = 2; s.ZoneM2 = 4 }),
		with("all tiny", func(s *shape) { s.Tiny, s.Zones, s.Species = 3, 3, 25 }),
		with("huge groups", func(s *shape) { s.Group, s.ZoneM2 = 11, 6 }),
		with("big plants", func(s *shape) { s.BigPlants = true; s.ZoneM2 = 10 }),
		with("big plants, few species", func(s *shape) { s.BigPlants = true; s.Most, s.Species = 4, 30 }),
		with("twelve zones", func(s *shape) { s.Zones, s.Species, s.ZoneM2 = 12, 60, 4 }),
		with("twelve zones, tight", func(s *shape) {
			s.Zones, s.Species, s.ZoneM2, s.Most, s.Money = 12, 60, 4, 10, 0.4
		}),
		with("large", func(s *shape) { s.Species, s.ZoneM2, s.Most, s.Money = 150, 15, 20, 0.5 }),
		with("survival only", func(s *shape) { s.Bloom, s.Variety, s.Native, s.Share = 0, 0, 0, 0.45 }),
		with("layers", func(s *shape) { s.Layers = [Bulb]float64{Matrix: 0.5, Structure: 0.1, Seasonal: 0.25} }),
		with("layers, demo", func(s *shape) {
			s.Species, s.Most, s.Money, s.Layers = 120, 12, 0.8, [Bulb]float64{Matrix: 0.5, Structure: 0.1, Seasonal: 0.25}
		}),
		with("layers, tight budget", func(s *shape) { s.Money, s.Layers = 0.3, [Bulb]float64{Matrix: 0.4, Seasonal: 0.3} }),
		with("layers, tiny zones", func(s *shape) {
			s.Tiny, s.ZoneM2, s.Layers = 2, 4, [Bulb]float64{Matrix: 0.5, Structure: 0.2, Seasonal: 0.3}
		}),
		with("variety first", func(s *shape) { s.Variety, s.Bloom, s.Group = 1, 1, 5 }),
	}
}
