package site

import (
	"fmt"
	"math"
	"sort"
)

// SunGrid is the sun on the cells of a grid of squares over a box.
type SunGrid struct {
	MinX, MinY    float64 // corner of the first cell, metres
	StepM         float64 // side of a cell
	Columns, Rows int
	Hours         []float64 // mean hours of direct sun a day at the middle of each cell, row by row; NaN outside the bed
}

// maxCells keeps a slip of the pen from filling the memory.
const maxCells = 4_000_000

// Grid works out the sun in the middle of every cell of a grid centred on the box.
// heightM is the height of a spot above the spill level, m, false where there is no bed.
func (s *Sky) Grid(obstacles []Obstacle, minX, minY, maxX, maxY, stepM float64, heightM func(x, y float64) (float64, bool)) *SunGrid {
	mustCheck(obstacles)
	columns, rows := math.Ceil((maxX-minX)/stepM), math.Ceil((maxY-minY)/stepM)
	if !(stepM > 0) || !(columns >= 1) || !(rows >= 1) || !(columns*rows <= maxCells) {
		panic(fmt.Sprintf("site: grid of %v over %v to %v, %v to %v", stepM, minX, maxX, minY, maxY))
	}
	g := &SunGrid{
		MinX: (minX + maxX - columns*stepM) / 2, MinY: (minY + maxY - rows*stepM) / 2,
		StepM: stepM, Columns: int(columns), Rows: int(rows),
	}
	p := s.newPlace()
	for row := range g.Rows {
		for column := range g.Columns {
			x, y := g.middle(column, row)
			hours := math.NaN()
			if z, ok := heightM(x, y); ok {
				hours = p.hours(obstacles, x, y, z)
			}
			g.Hours = append(g.Hours, hours)
		}
	}
	return g
}

// middle is the middle of a cell.
func (g *SunGrid) middle(column, row int) (x, y float64) {
	return g.MinX + (float64(column)+0.5)*g.StepM, g.MinY + (float64(row)+0.5)*g.StepM
}

// ZoneSun is the sun of one zone, hours a day.
type ZoneSun struct {
	Zone                 string
	MeanH, LeastH, MostH float64
	Cells                int
}

// ByZone sums the cells up by zone, in the order of their names; "" does not count.
func (g *SunGrid) ByZone(zone func(x, y float64) string) []ZoneSun {
	at := map[string]int{}
	var out []ZoneSun
	for i, hours := range g.Hours {
		if math.IsNaN(hours) {
			continue
		}
		name := zone(g.middle(i%g.Columns, i/g.Columns))
		if name == "" {
			continue
		}
		k, known := at[name]
		if !known {
			k = len(out)
			at[name] = k
			out = append(out, ZoneSun{Zone: name, LeastH: math.Inf(1), MostH: math.Inf(-1)})
		}
		z := &out[k]
		z.MeanH += hours
		z.LeastH, z.MostH = min(z.LeastH, hours), max(z.MostH, hours)
		z.Cells++
	}
	for i := range out {
		out[i].MeanH /= float64(out[i].Cells)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Zone < out[j].Zone })
	return out
}
