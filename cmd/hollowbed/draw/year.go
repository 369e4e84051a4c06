package draw

import (
	"cmp"
	"fmt"
	"math"
	"time"
)

// YearIn is what the year chart shows.
type YearIn struct {
	Sheet
	First   time.Time // the first day; only its date counts
	Days    []Day     // one for each day, from First on
	Place   string    // whose soil water it is: "the slope, 2 in below spill"
	Growing [][2]int  // growing seasons: numbers of first and last day, 0 is First
	Limits  []Limit   // of the plants chosen
	Wet     *Spell    // longest wet spell of the place; nil: none
	Dry     *Spell    // longest dry spell
}

// Day is one day of the record; NaN is not known.
type Day struct {
	RainMM float64
	PondMM float64 // deepest of the day
	Water  float64 // share of the available water in the soil at the end of the day, 0 to 1; above 1 is wetter than field capacity
}

// Limit is what one plant bears; NaN is left out.
type Limit struct {
	Name   string
	PondMM float64 // deepest standing water
	WetH   float64 // longest wet spell, hours
	Water  float64 // share of the available water below which it suffers
	DryD   float64 // longest dry spell, days
	Met    Met
}

// Met is what a plant has been through, in the units of its limits; NaN: not known.
type Met struct {
	WetH, DryD         float64 // in the year of the chart
	WetMostH, DryMostD float64 // in the hardest year on record
}

// Spell is a stretch of time.
type Spell struct {
	FromDay float64 // counted from First, with parts of a day
	Days    float64
}

// panel is one strip of the chart.
type panel struct {
	top, foot float64
	most      float64 // value at the top
}

func (p panel) y(v float64) float64 {
	return p.foot - (p.foot-p.top)*math.Max(0, math.Min(v/p.most, 1))
}

type yearDraw struct {
	*svg
	in     YearIn
	x0, x1 float64
	gap    string // look of days without a record
	gaps   int
}

const panelH = 33.0

// YearChart draws one year of rain, pond and soil water.
func YearChart(in YearIn) Drawing {
	d := &yearDraw{in: in, x0: margin + 15, x1: pageW - margin - 44}
	s, title := newSVG(in.Sheet, "year", "A year in the bed", d.period(), "Soil water is that of "+cmp.Or(in.Place, "the bed")+".")
	d.svg = s
	d.gap = d.define(otherWash("keepout"))
	top := bodyStart + 6
	panels := [3]panel{}
	for i := range panels {
		panels[i] = panel{top: top, foot: top + panelH}
		top += panelH + 12.5
	}
	panels[0].most, panels[1].most, panels[2].most = d.mostOf(func(v Day) float64 { return v.RainMM }), d.mostOf(func(v Day) float64 { return v.PondMM }), 1.06
	for _, l := range in.Limits {
		if known(l.PondMM) && l.PondMM > 0 {
			panels[1].most = math.Max(panels[1].most, math.Min(1.05*l.PondMM, 3*panels[1].most))
		}
	}
	for _, v := range in.Days {
		if known(v.Water) {
			panels[2].most = math.Max(panels[2].most, math.Min(1.03*v.Water, 2))
		}
	}
	d.background(panels)
	d.rain(panels[0])
	d.pond(panels[1])
	d.soil(panels[2])
	y := d.legend(panels[2].foot + 9)
	y = d.spells(y + 4)
	return d.picture(y+3, title, d.describe())
}

// period names the days shown.
func (d *yearDraw) period() string {
	if len(d.in.Days) == 0 {
		return "No days on record."
	}
	last := d.in.First.AddDate(0, 0, len(d.in.Days)-1)
	return d.in.First.Format("2 January 2006") + " to " + last.Format("2 January 2006") + "."
}

// mostOf is the top of an axis: the largest value, a little rounded up.
func (d *yearDraw) mostOf(of func(Day) float64) float64 {
	most := 10.0
	for _, v := range d.in.Days {
		if x := of(v); known(x) {
			most = math.Max(most, x)
		}
	}
	return most * 1.08
}

// x is the left edge of a day.
func (d *yearDraw) x(day float64) float64 {
	n := math.Max(1, float64(len(d.in.Days)))
	return d.x0 + (d.x1-d.x0)*math.Max(0, math.Min(day, n))/n
}

// background draws growing seasons, days without record and months.
func (d *yearDraw) background(panels [3]panel) {
	season := d.define(otherWash("season"))
	for _, p := range panels {
		for _, g := range d.in.Growing {
			if g[1] >= g[0] {
				d.rect(box{d.x(float64(g[0])), p.top, d.x(float64(g[1] + 1)), p.foot}, season)
			}
		}
		for _, r := range runs(len(d.in.Days), func(i int) bool { return !known(d.in.Days[i].RainMM) }) {
			d.gaps += r[1] - r[0] + 1
			d.rect(box{d.x(float64(r[0])), p.top, d.x(float64(r[1] + 1)), p.foot}, d.gap)
		}
		d.months(p)
		d.line(d.x0, p.foot, d.x1, p.foot, stroke(ink, 0.25))
	}
	d.gaps /= len(panels)
}

// months rules off and names the months under a panel.
func (d *yearDraw) months(p panel) {
	end := d.in.First.AddDate(0, 0, len(d.in.Days))
	at := time.Date(d.in.First.Year(), d.in.First.Month(), 1, 0, 0, 0, 0, time.UTC)
	first := time.Date(d.in.First.Year(), d.in.First.Month(), d.in.First.Day(), 0, 0, 0, 0, time.UTC)
	for ; at.Before(end); at = at.AddDate(0, 1, 0) {
		from := at.Sub(first).Hours() / 24
		to := at.AddDate(0, 1, 0).Sub(first).Hours() / 24
		a, b := d.x(from), d.x(to)
		if from > 0 {
			d.line(a, p.top, a, p.foot, stroke(faint, 0.15))
		}
		if b-a > 7 {
			d.text((a+b)/2, p.foot+3.6, at.Format("Jan"), lettering{size: small, anchor: "middle", colour: soft})
		}
	}
}

// axis writes the heading of a panel and its values, which are v*unit.
func (d *yearDraw) axis(p panel, name, unitName string, unit float64) {
	d.text(d.x0-13, p.top-2.4, name, lettering{size: normal, title: true})
	step := tickStep(p.most/unit, 4)
	for k := 0; float64(k)*step*unit <= p.most; k++ {
		y := p.y(float64(k) * step * unit)
		if k > 0 {
			d.line(d.x0, y, d.x1, y, stroke(faint, 0.15))
		}
		words := figure(float64(k)*step, 2)
		if k == 0 {
			words += " " + unitName
		}
		d.text(d.x0-1.2, y+1, words, lettering{size: small, anchor: "end", colour: soft})
	}
}

func (d *yearDraw) depthUnit() (string, float64) {
	if d.in.Units.Metric {
		return "mm", 1
	}
	return "in", mmPerIn
}

func (d *yearDraw) describe() string {
	rain, wettest, deepest, driest := 0.0, 0.0, 0.0, math.Inf(1)
	for _, v := range d.in.Days {
		if known(v.RainMM) {
			rain += v.RainMM
			wettest = math.Max(wettest, v.RainMM)
		}
		if known(v.PondMM) {
			deepest = math.Max(deepest, v.PondMM)
		}
		if known(v.Water) {
			driest = math.Min(driest, v.Water)
		}
	}
	u := d.in.Units
	s := d.period() + " Rain " + u.depth(rain) + " in all, at most " + u.depth(wettest) + " in a day. Deepest pond " + u.depth(deepest) + "."
	if known(driest) {
		s += fmt.Sprintf(" Least soil water %.0f %% of what plants can take up.", driest*100)
	}
	if d.in.Wet != nil {
		s += " Longest wet spell " + hours(d.in.Wet.Days*24) + "."
	}
	if d.in.Dry != nil {
		s += " Longest dry spell " + days(d.in.Dry.Days) + "."
	}
	return s
}

func hours(h float64) string { return figure(h, 0) + " h" }

func days(n float64) string {
	if math.Abs(n-1) < 0.05 {
		return "1 day"
	}
	return figure(n, 0) + " days"
}
