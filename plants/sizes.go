package plants

import (
	"math"
	"slices"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/list"
	"hollowbed/zones"
)

// sized is a plant as it is bought for a garden: a bulb as a bulb, others in the
// size that is wished for, woody ones never smaller than a gallon pot (common
// practice, no source), at the price that the garden file has for that size. What
// the plant table says comes first.
func sized(w zones.Wishes, p catalogue.Plant) catalogue.Plant {
	woody := slices.Contains([]string{"shrub", "climber", "small tree", "tree"}, p.Form)
	switch {
	case p.SoldAs != "":
	case p.Form == bulb:
		p.SoldAs = bulb
	case woody && (w.Size == "plug" || w.Size == "small pot"):
		p.SoldAs = "gallon pot"
	default:
		p.SoldAs = w.Size
	}
	if math.IsNaN(p.Price) {
		p.Price = w.PriceOf(p.SoldAs)
	}
	return p
}

// What is ordered beside plants.
const (
	// compostShare is the compost of a bed's soil by volume: published mixes have 20 to
	// 30 %. SOURCES.md [S38].
	compostShare = 0.25
	// MulchMM is how deep shredded hardwood lies at first, 3 in: published 2 to 3 in.
	// SOURCES.md [S38].
	MulchMM = 76.2
	// YoungPlugCM is the widest that plugs stand apart while young, 18 in: growers say
	// 12 to 18. SOURCES.md [S39].
	YoungPlugCM = 45.72
)

// Order is what a planting asks for beside its plants, m3, and how many plugs more
// would close the ground while they are small.
type Order struct {
	MixM3, CompostM3, MulchM3 float64
	MorePlugs                 int
}

// Order works it out: volume = area x depth, over the whole bed.
func (p *Planting) Order() Order {
	area := 0.0
	for _, z := range p.Exposure.Zones {
		area += z.AreaM2
	}
	o := Order{MixM3: area * p.Exposure.Lot.Garden.Mix.DepthMM / 1000, MulchM3: area * MulchMM / 1000}
	o.CompostM3 = compostShare * o.MixM3
	more := 0.0
	for _, l := range p.Lines {
		if l.Plant.SoldAs == "plug" && l.SpacingCM > YoungPlugCM {
			more += float64(l.Count) * (list.AreaPerPlantM2(l.SpacingCM)/list.AreaPerPlantM2(YoungPlugCM) - 1)
		}
	}
	o.MorePlugs = int(math.Round(more))
	return o
}
