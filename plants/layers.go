package plants

import (
	"errors"
	"fmt"
	"math"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/list"
	"hollowbed/zones"
)

// Least shares of a zone's ground for each layer, unless the garden file says
// otherwise. Rainer and West 2015, Planting in a Post-Wild World: about half in
// groundcover, 25 to 40 % in seasonal plants, 10 to 15 % in structure; values from
// memory.
const (
	matrixShare    = 0.50
	structureShare = 0.10
	seasonalShare  = 0.25
)

// Heights that part the layers, cm. Common practice, no source.
const (
	tallCM  = 120 // from here on (4 ft) any plant is structure
	lowCM   = 92  // up to here (3 ft) grasses, ferns and groundcover close the soil
	shrubCM = 61  // shrubs up to here do
	matCM   = 31  // any soft plant up to here does
)

// underM2 is the cover that one bulb is set under: about ten to a square metre.
// Common practice, no source.
const underM2 = 0.1

// bulb is the form of plants that grow beneath others.
const bulb = "bulb"

// layer is what a plant is for in a bed, by form and height; of an unknown height, by
// form alone.
func layer(p *catalogue.Plant) list.Layer {
	high := func(cm float64) bool { return p.HeightCM > cm }
	switch p.Form {
	case bulb:
		return list.Bulb
	case "climber", "small tree", "tree":
		return list.Structure
	case "shrub":
		if !high(shrubCM) && p.HeightCM > 0 {
			return list.Matrix
		}
		return list.Structure
	}
	soft := p.Form == "grass-like" || p.Form == "fern-like" || p.Form == "groundcover"
	switch {
	case p.HeightCM >= tallCM:
		return list.Structure
	case p.HeightCM > 0 && !high(matCM), soft && !high(lowCM):
		return list.Matrix
	}
	return list.Seasonal
}

// groundM2 is the ground for one plant; of a bulb, the cover that it lies under.
func groundM2(p *catalogue.Plant) float64 {
	if layer(p) == list.Bulb {
		return underM2
	}
	return list.AreaPerPlantM2(p.SpreadCM)
}

// shares are the least shares of the layers. Where only some are given, the others
// keep theirs as far as there is ground.
func shares(l zones.Layers) [list.Bulb]float64 {
	out := [list.Bulb]float64{list.Matrix: l.Matrix, list.Structure: l.Structure, list.Seasonal: l.Seasonal}
	usual := [list.Bulb]float64{list.Matrix: matrixShare, list.Structure: structureShare, list.Seasonal: seasonalShare}
	given, rest := 0.0, 0.0
	for i := range out {
		if math.IsNaN(out[i]) {
			rest += usual[i]
		} else {
			given += out[i]
		}
	}
	for i := range out {
		if math.IsNaN(out[i]) {
			out[i] = steady(usual[i] * min(1, (1-given)/rest))
		}
	}
	return out
}

// solveLayered makes the list by layers, and without them where wanted plants leave
// no room.
func solveLayered(problem *list.Problem) (list.Result, []string, error) {
	result, err := list.Solve(*problem)
	var clash *list.Clash
	if !errors.As(err, &clash) {
		return result, nil, err
	}
	layered := problem.Shares
	problem.Shares = [list.Bulb]float64{}
	if result, plain := list.Solve(*problem); plain == nil {
		return result, []string{"the wanted plants do not fit beside the shares of the layers (wishes.layers): the list is made without them"}, nil
	}
	problem.Shares = layered
	return result, nil, err
}

// WeighLayers finds out what the layers cost: by which share of it the list would
// score higher without them.
func (p *Planting) WeighLayers() error {
	problem, offered := p.problem(p.Exposure.Lot.Garden)
	if len(offered) == 0 || problem.Shares == [list.Bulb]float64{} {
		return nil
	}
	problem.Shares = [list.Bulb]float64{}
	problem.Stop = p.stop
	free, err := list.Solve(problem)
	if errors.Is(err, list.ErrStopped) {
		return errStopped
	}
	if err != nil || free.Objective == 0 {
		return err
	}
	p.LayersCost = max(0, 1-p.solved/free.Objective)
	p.Asides = append(p.Asides, fmt.Sprintf("layers (wishes.layers) cost %.1f %% of the list's value", 100*p.LayersCost))
	return nil
}
