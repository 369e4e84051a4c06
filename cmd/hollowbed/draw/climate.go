package draw

import (
	"fmt"
	"math"
	"strings"
)

// ClimateIn is what the picture of a usual year shows.
type ClimateIn struct {
	Sheet
	Source     string // what it rests on: "From the record rain.csv"
	Months     [12]ClimateMonth
	FirstMonth int // the picture begins with it; 0 is January
}

// ClimateMonth is a month of a mean year; NaN is not known.
type ClimateMonth struct {
	RainMM      float64
	WetDays     float64 // days of rain
	HighC, LowC float64 // mean highest and lowest temperature of the day
	FrostNights float64 // nights at or below 0 deg C
}

const (
	climateX = margin + 27
	climateW = (pageW - margin - climateX) / 12
	rainH    = 15.0
	warmthH  = 24.0
)

type climateDraw struct {
	*svg
	in ClimateIn
}

// ClimateChart draws a mean year by month: rain and how many days bring it, how warm
// days and nights are and how many nights freeze. All figures stand in words as well.
func ClimateChart(in ClimateIn) Drawing {
	d := &climateDraw{in: in}
	s, title := newSVG(in.Sheet, "climate", "The year", in.Source)
	d.svg = s
	top := bodyStart + 4.5
	d.months(top)
	rain := panel{top: top + 6, foot: top + 6 + rainH, most: 1}
	d.rain(&rain)
	d.row(rain.foot+4.2, "days of rain", func(m ClimateMonth) string { return d.count(m.WetDays) })
	warm := panel{top: rain.foot + 9, foot: rain.foot + 9 + warmthH}
	d.warmth(warm)
	d.row(warm.foot+4.2, "nights of frost", func(m ClimateMonth) string { return d.count(m.FrostNights) })
	return d.picture(warm.foot+7.5, title, d.describe())
}

// month is the number of a column's month.
func (d *climateDraw) month(i int) int { return monthAt(d.in.FirstMonth, i) }

// of is the month of a column.
func (d *climateDraw) of(i int) ClimateMonth { return d.in.Months[d.month(i)-1] }

func (d *climateDraw) mid(i int) float64 { return climateX + climateW*(float64(i)+0.5) }

func (d *climateDraw) months(y float64) {
	for i := range 12 {
		d.text(d.mid(i), y, monthName(d.month(i)), lettering{size: small, anchor: "middle", bold: true})
	}
	d.line(margin, y+1.6, pageW-margin, y+1.6, stroke(faint, 0.2))
}

// row prints a figure below each month.
func (d *climateDraw) row(y float64, name string, words func(ClimateMonth) string) {
	d.text(climateX-1.5, y, name, lettering{size: small, anchor: "end", colour: soft})
	for i := range 12 {
		d.text(d.mid(i), y, words(d.of(i)), lettering{size: small, anchor: "middle"})
	}
}

func (d *climateDraw) count(v float64) string {
	if !known(v) {
		return "?"
	}
	return figure(v, 0)
}

// rain draws a bar for each month with its figure on top.
func (d *climateDraw) rain(p *panel) {
	unit, decimals, name := 1.0, 0, "mm"
	if !d.in.Units.Metric {
		unit, decimals, name = mmPerIn, 1, "in"
	}
	for _, m := range d.in.Months {
		if known(m.RainMM) {
			p.most = math.Max(p.most, m.RainMM)
		}
	}
	p.most *= 1.02
	d.text(climateX-1.5, p.foot-0.6, "rain, "+name, lettering{size: small, anchor: "end", colour: soft})
	look := d.define(otherWash("water")) + ` stroke="` + ink + `" stroke-width="1.8"`
	d.line(climateX, p.foot, pageW-margin, p.foot, stroke(pencil, 0.2))
	for i := range 12 {
		v := d.of(i).RainMM
		if !known(v) {
			d.text(d.mid(i), p.foot-1, "?", lettering{size: small, anchor: "middle"})
			continue
		}
		y := p.y(v)
		if v > 0 {
			d.rect(box{d.mid(i) - 3.2, y, d.mid(i) + 3.2, p.foot}, look)
		}
		d.text(d.mid(i), y-1, figure(v/unit, decimals), lettering{size: small, anchor: "middle"})
	}
}

// warmth draws for each month a bar from the mean night to the mean day, with both
// figures, and a line where water freezes.
func (d *climateDraw) warmth(p panel) {
	low, high := 0.0, 0.0
	for _, m := range d.in.Months {
		if known(m.LowC) && known(m.HighC) {
			low, high = math.Min(low, m.LowC), math.Max(high, m.HighC)
		}
	}
	const words = 4.0 // room for a figure above and below
	y := func(c float64) float64 {
		return p.foot - words - (p.foot-p.top-2*words)*(c-low)/math.Max(high-low, 1)
	}
	name := "\u00b0F"
	if d.in.Units.Metric {
		name = "\u00b0C"
	}
	d.text(climateX-1.5, p.top+1, "day, night, "+name, lettering{size: small, anchor: "end", colour: soft})
	d.text(climateX-1.5, y(0)+1, "freezing", lettering{size: small, anchor: "end", colour: soft})
	look := d.define(zoneWash("rim")) + ` stroke="` + ink + `" stroke-width="1.8"`
	d.line(climateX, y(0), pageW-margin, y(0), stroke(soft, 0.25, 1.2, 0.8))
	for i := range 12 {
		m := d.of(i)
		if !known(m.LowC) || !known(m.HighC) {
			d.text(d.mid(i), p.foot-1, "?", lettering{size: small, anchor: "middle"})
			continue
		}
		d.rect(box{d.mid(i) - 2, y(m.HighC), d.mid(i) + 2, y(m.LowC)}, look)
		d.over(d.mid(i), y(m.HighC)-1, d.warm(m.HighC))
		d.over(d.mid(i), y(m.LowC)+3.2, d.warm(m.LowC))
	}
}

// warm is a temperature, given in deg C, without its unit.
func (d *climateDraw) warm(c float64) string {
	if !d.in.Units.Metric {
		c = c*1.8 + 32
	}
	return figure(c, 0)
}

// over prints a figure on a patch of paper, so that no line runs through it.
func (d *climateDraw) over(x, y float64, words string) {
	l := lettering{size: small, anchor: "middle"}
	d.rect(l.box(x, y, words), filled(paper))
	d.text(x, y, words, l)
}

// describe says all figures, for those who cannot see the picture.
func (d *climateDraw) describe() string {
	words := []string{strings.TrimSuffix(d.in.Source, ".") + "."}
	unit := " F"
	if d.in.Units.Metric {
		unit = " \u00b0C"
	}
	for i := range 12 {
		m := d.of(i)
		var parts []string
		if known(m.RainMM) {
			parts = append(parts, fmt.Sprintf("%s of rain on %s days", d.in.Units.depth(m.RainMM), d.count(m.WetDays)))
		}
		if known(m.LowC) && known(m.HighC) {
			parts = append(parts, fmt.Sprintf("days %s, nights %s, %s nights of frost", d.warm(m.HighC)+unit, d.warm(m.LowC)+unit, d.count(m.FrostNights)))
		}
		if len(parts) == 0 {
			parts = []string{"not known"}
		}
		words = append(words, monthName(d.month(i))+": "+strings.Join(parts, "; ")+".")
	}
	return strings.Join(words, " ")
}

// panel is one strip of the chart.
type panel struct {
	top, foot float64
	most      float64 // value at the top
}

func (p panel) y(v float64) float64 {
	return p.foot - (p.foot-p.top)*math.Max(0, math.Min(v/p.most, 1))
}
