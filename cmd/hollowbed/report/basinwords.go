package report

import (
	"fmt"
	"math"
	"slices"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
	"hollowbed/zones/basin"
)

// word makes the blocks of a bed: verdict first, then what it rests on, then cautions.
func (d *Basin) word(l *zones.Lot, p zones.Performance, size *zones.Size) {
	u := d.Garden.Units
	d.Verdict = verdict(d.Checks, size != nil, l.Record != nil)
	d.Short = doc.Facts{
		{Label: "bed", Value: u.Area(l.Bed.Spec().Outline.AreaM2()), Know: "shape"}, {Label: "pond", Value: u.Depth(l.Bed.Spec().PondingMM) + " deep", Know: "shape"},
		{Label: "soaks away in", Value: u.Duration(p.DrainH), Know: "drain"},
	}
	if l.Record != nil {
		d.Short = append(d.Short, doc.Fact{Label: "roof water kept", Value: u.Percent(p.Captured), Know: "capture"})
	}
	var answer []doc.Block
	if d.Inlets != nil {
		answer = append(answer, doc.Text{Words: d.Inlets.answer()})
	}
	for _, s := range d.Verdict {
		answer = append(answer, doc.Text{Words: s})
	}
	d.Blocks = answered(d.Garden, "The basin", d.Record, d.Inlets == nil, answer...)
	d.Figures = append([]doc.Block{doc.Heading("The basin")}, d.figures(l, p, size)...)
	d.Blocks = append(d.Blocks, d.Figures[1:]...)
}

// figures are all but the verdict.
func (d *Basin) figures(l *zones.Lot, p zones.Performance, size *zones.Size) []doc.Block {
	u := d.Garden.Units
	var short []doc.Block
	if d.Inlets == nil {
		short = []doc.Block{d.Short}
	}
	out := []doc.Block{doc.Fold{Short: short, Full: []doc.Block{bedFacts(u, l, p), doc.Line(""), doc.Screen(heightTable(u, l))}}, doc.Line(""), checked(d.Checks)}
	if size != nil {
		out = append(out, doc.Line(""), doc.Text{Lead: "Size", Words: sizeWords(u, *size), Hang: 2})
	}
	if d.Inlets != nil {
		out = append(append(out, doc.Line("")), d.Inlets.Blocks...)
	}
	soil := doc.List{Title: "About the soil", Items: d.Soil.Notes}
	usual := doc.List{Title: "Defaults for what the garden file leaves out", Items: d.Garden.Assume, Run: true, Aside: true}
	return slices.Concat(out, []doc.Block{doc.Rest(doc.Text{Lead: "Handbook", Words: handbookWords(u, l.Handbook()), Hang: 2}, doc.Line("")),
		soil.Cut(2), doc.Rest(doc.Line("")), usual.Cut(0)},
		doc.Apart(doc.List{Title: "Before you dig", Items: d.Cautions, Mind: true, Aside: true}),
		[]doc.Block{doc.Fold{Short: []doc.Block{doc.Line(""), doc.Line("All: --all. The smallest bed that does: --size. Ways in for water: --inlets.")}}})
}

// checked has the checks; in short those that fail; the verdict names those that could not be made.
func checked(checks []basin.Check) doc.Block {
	fails := slices.DeleteFunc(slices.Clone(checks), func(c basin.Check) bool { return !c.Known || c.OK })
	held := len(slices.DeleteFunc(slices.Clone(checks), func(c basin.Check) bool { return !c.Known || !c.OK }))
	short := []doc.Block{doc.Line(fmt.Sprintf("%d of %d checks met: --all.", held, len(checks)))}
	if len(fails) > 0 {
		short = append([]doc.Block{checkTable(fails)}, short...)
	}
	return doc.Fold{Short: short, Full: []doc.Block{checkTable(checks), doc.Line("Where each limit comes from: --json.")}}
}

// bedFacts are the figures of the bed, in words.
func bedFacts(u zones.Units, l *zones.Lot, p zones.Performance) doc.Facts {
	spec, mix := l.Bed.Spec(), l.Garden.Mix.DepthMM
	return doc.Facts{
		{Label: "bed", Value: u.Area(spec.Outline.AreaM2()) + ", outer edge of the rim", Know: "shape"},
		{Label: "drains to it", Value: u.Area(l.CatchM2), Know: "catchment"},
		{Label: "pond", Value: u.Depth(spec.PondingMM) + " deep, holds " + u.Volume(l.Bed.SpillVolumeM3()), Know: "shape"},
		{Label: "full pond soaks away in", Value: soaksAway(u, l, p), Know: "drain"},
		{Label: "soil below", Value: soilRates(u, l), Know: "soil"},
		{Label: "mix", Value: l.Mix.Texture + ", " + u.Soil(spec.Outline.AreaM2()*mix/1000) + " in all", Note: u.Depth(mix) + " deep", Know: "shape"},
		{Label: "to dig out", Value: u.Soil(l.Bed.ExcavationM3(mix, spec.FreeboardMM)) + " in place, if the rim ends level with the old ground", Know: "shape"},
	}
}

// soaksAway words the drain time, and says so where the mix is the slower part.
func soaksAway(u zones.Units, l *zones.Lot, p zones.Performance) string {
	if math.IsInf(p.DrainH, 1) {
		return "no time at all can be given: the soil takes no water"
	}
	s := u.Duration(p.DrainH) + " on wet soil"
	if !math.IsNaN(p.DrainDryH) && !math.IsInf(p.DrainDryH, 1) {
		s += ", " + u.Duration(p.DrainDryH) + " on soil that had drained"
	}
	if l.Mix.KMMH < l.Native.RateMMH {
		s += " (held back by the mix, " + u.Rate(l.Mix.KMMH) + ")"
	}
	return s
}

// soilRates words the rate as tested and, if there is a factor, the safe one, each
// with what it is for.
func soilRates(u zones.Units, l *zones.Lot) string {
	n := l.Native
	how := n.Source
	if !math.IsNaN(n.RawMMH) {
		how = fmt.Sprintf("water in the test hole fell at %s; without the flow through its wall", u.Rate(n.RawMMH))
	}
	if n.Factor == 1 {
		return u.Rate(n.TestedMMH) + " (" + how + ")"
	}
	if math.IsNaN(n.RawMMH) {
		how = "rate given in the garden file"
	}
	return fmt.Sprintf("%s for plants, care and seasons (%s); %s for size, drain time and overflow, divided by %.3g for safety",
		u.Rate(n.TestedMMH), how, u.Rate(n.RateMMH), n.Factor)
}

// verdict says in a sentence or a few whether the bed does its work.
func verdict(checks []basin.Check, sized, recorded bool) []string {
	var bad, unknown []string
	open := 0
	for _, c := range checks {
		if !c.Known {
			open++
		}
		switch {
		case !c.Known && c.Name != "capture" && c.Name != "target event":
			unknown = append(unknown, c.Name)
		case c.Known && !c.OK:
			bad = append(bad, c.Name)
		}
	}
	left := fmt.Sprintf("%d of %d checks could not be made", open, len(checks))
	out := []string{"This bed meets every check."}
	if open > 0 {
		out[0] = left + "; the others hold."
	}
	if len(bad) > 0 {
		out[0] = "Not yet: " + join(bad) + " " + isAre(len(bad)) + " outside what is wanted (below)."
		mends := slices.DeleteFunc(slices.Clone(bad), func(name string) bool { return !slices.Contains(basin.SetBySize(), name) })
		switch {
		case sized || len(mends) == 0:
		case len(mends) == len(bad):
			out[0] += " hollowbed basin --size finds a bed that does."
		default:
			out[0] += " hollowbed basin --size finds a bed for " + join(mends) + "; mend the rest first."
		}
		if open > 0 {
			out[0] += " " + left + "."
		}
	}
	if len(unknown) > 0 {
		out = append(out, "Not known: "+join(unknown)+". Measure, and add to the garden file.")
	}
	if !recorded {
		out = append(out, "No weather record: put a rain.csv in the garden's folder, and capture and the target event can be checked too.")
	}
	return out
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func join(items []string) string {
	out := ""
	for i, s := range items {
		switch {
		case i > 0 && i == len(items)-1:
			out += " and "
		case i > 0:
			out += ", "
		}
		out += s
	}
	return out
}

// heightTable has the zones from the highest down.
func heightTable(u zones.Units, l *zones.Lot) doc.Table {
	t := doc.Table{Caption: "Zones by height", Know: "shape", Columns: []doc.Column{
		{Head: "zone"}, {Head: "area", Right: true}, {Head: "top, from spill", Right: true}, {Head: "foot, from spill", Right: true},
	}}
	zs := l.Bed.Zones()
	for i := len(zs) - 1; i >= 0; i-- {
		t.Rows = append(t.Rows, doc.Cells(zs[i].Zone, u.Area(zs[i].AreaM2), level(u, zs[i].TopMM), level(u, zs[i].FootMM)))
	}
	return t
}

func checkTable(checks []basin.Check) doc.Table {
	t := doc.Table{Caption: "Checks", Know: "checks", Columns: []doc.Column{{Head: "check"}, {Head: "met"}, {Head: "found"}, {Head: "wanted"}, {Head: "source", Wide: true, Screen: true}}}
	for _, c := range checks {
		holds := doc.Cell{Words: "no", Look: "fails"}
		switch {
		case !c.Known:
			holds = doc.Cell{Words: "not known", Look: "unknown"}
		case c.OK:
			holds = doc.Cell{Words: "yes", Look: "ok"}
		}
		t.Rows = append(t.Rows, []doc.Cell{{Words: c.Name}, holds, {Words: c.Found}, {Words: c.Wanted}, {Words: c.Source}})
	}
	return t
}

// sizeWords say what the smallest bed is that does, or why there is none.
func sizeWords(u zones.Units, s zones.Size) string {
	pond := u.Depth(s.Spec.PondingMM)
	if !s.Reached && s.AreaM2 == 0 {
		return "no bed can drain in time on this ground, however shallow: " + s.Depth + ". A" + zones.WhatDrains[1:] + "."
	}
	if !s.Reached {
		return "no bed of these proportions, up to eight times as long, meets the targets: " + s.Binding + ". Its pond would be " +
			pond + " deep (" + s.Depth + "). A smaller roof share or a lower target would be needed."
	}
	x0, y0, x1, y1 := s.Spec.Outline.Bounds()
	return fmt.Sprintf("the smallest bed that meets the targets has %s: %s by %s, pond %s (%s). It keeps %s of the water. What sets it: %s.",
		u.Area(s.AreaM2), u.Length(x1-x0), u.Length(y1-y0), pond, s.Depth, u.Percent(s.Performs.Captured), s.Binding)
}

func handbookWords(u zones.Units, h zones.Handbook) string {
	if h.Note != "" {
		return "none to compare with: " + h.Note + "."
	}
	assumed := ""
	if h.Assumed {
		assumed = " (no texture is given)"
	}
	return fmt.Sprintf("GWQ037 (Wisconsin, 2003) would give %s: %.2f of what drains to it, for %s soil%s at this depth. It knows neither your rain nor your soak test.",
		u.Area(h.AreaM2), h.Factor, h.Group, assumed)
}
