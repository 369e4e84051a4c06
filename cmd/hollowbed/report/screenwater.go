package report

import (
	"fmt"
	"math"
	"time"

	"hollowbed/cmd/hollowbed/draw"
	"hollowbed/zones"
)

// screenWater is a stretch of the record to be watched.
type screenWater struct {
	Play   string            `json:"play"`
	Title  string            `json:"title"`
	Words  string            `json:"words"`
	Step   string            `json:"step"`
	Frames []screenFrame     `json:"frames"`
	Rings  []screenWaterRing `json:"rings"`
}

// screenFrame is one moment: bands are in the order of ScreenPlan.Bands.
type screenFrame struct {
	At        string   `json:"at"`
	Words     string   `json:"words"`
	LevelMM   Number   `json:"level_mm"`
	Ring      int      `json:"ring"` // -1: no water stands
	Rain      string   `json:"rain"`
	RainShare Number   `json:"rain_share"`
	Bands     []Number `json:"bands"`
	Wet       []bool   `json:"wet"`
}

// screenWaterRing is the edge of the water at a level.
type screenWaterRing struct {
	MM    Number        `json:"mm"`
	Words string        `json:"words"`
	Rings [][][2]Number `json:"rings"`
}

// waterLevels is how many levels of water are drawn between bottom and spill.
const waterLevels = 24

// NewScreenWater words a stretch of the record and draws its levels of water.
func NewScreenWater(name string, e *zones.Exposure, plan ScreenPlan, p zones.Play) screenWater {
	u := e.Lot.Garden.Units
	out := screenWater{Play: name, Step: "hour", Frames: []screenFrame{}, Rings: []screenWaterRing{}}
	layout, rainIn := "Mon 2 Jan 2006, 15:04", "this hour"
	if p.Step >= 24*time.Hour {
		out.Step, layout, rainIn = "day", "Mon 2 Jan 2006", "this day"
	}
	bed := drawBed(e.Lot)
	var levels []float64
	for i := 1; i <= waterLevels; i++ {
		level := bed.BottomMM * (1 - float64(i)/waterLevels)
		levels = append(levels, level)
	}
	for i, rings := range draw.Rings(bed, levels) {
		r := screenWaterRing{MM: Number(levels[i]), Words: u.Depth(levels[i]-bed.BottomMM) + " deep", Rings: [][][2]Number{}}
		for _, line := range rings {
			r.Rings = append(r.Rings, ring(line))
		}
		out.Rings = append(out.Rings, r)
	}
	most, rained := 0.0, 0.0
	for _, f := range p.Frames {
		most, rained = max(most, f.RainMM), rained+f.RainMM
	}
	for i, f := range p.Frames {
		frame := screenFrame{
			At: p.Start.Add(time.Duration(i) * p.Step).Format(layout), LevelMM: Number(f.LevelMM), Ring: -1,
			Rain: u.Rain(f.RainMM) + " of rain " + rainIn, RainShare: share(f.RainMM, most),
		}
		frame.Words = "no water stands"
		if f.Pond {
			frame.Ring = ringOf(f.LevelMM, bed.BottomMM)
			frame.Words = u.Depth(f.LevelMM-bed.BottomMM) + " of water in the bottom"
		}
		for _, b := range plan.Bands {
			frame.Bands = append(frame.Bands, Number(math.Round(100*f.Water[b.Band])/100))
			frame.Wet = append(frame.Wet, f.Wet[b.Band])
		}
		out.Frames = append(out.Frames, frame)
	}
	from, to := p.Start, p.Start.Add(time.Duration(len(p.Frames))*p.Step-time.Second)
	switch name {
	case "driest":
		out.Title = "The driest spell of the record"
		out.Words = fmt.Sprintf("From %s to %s %s fell. The fuller a place is coloured, the more water its soil still holds for plants.", date(from), date(to), u.Rain(rained))
	default:
		out.Title = "The wettest week of the record"
		out.Words = fmt.Sprintf("From %s to %s %s fell.", date(from), date(to), u.Rain(rained))
	}
	return out
}

// ringOf is the nearest of the levels drawn.
func ringOf(levelMM, bottomMM float64) int {
	return min(max(int(math.Round(waterLevels*(1-levelMM/bottomMM)))-1, 0), waterLevels-1)
}
