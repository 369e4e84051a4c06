package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/zones"
	"hollowbed/zones/inlet"
)

// Inlets are the three ways to bring the water in, side by side.
type Inlets struct {
	Chosen    string      `json:"chosen"`
	DesignM3H Number      `json:"design_m3h"`
	RecordM3H Number      `json:"wettest_hour_m3h"`
	Ways      []Way       `json:"ways" schema:"len 3..3"`
	Cautions  []string    `json:"cautions" schema:"some"`
	Blocks    []doc.Block `json:"-"`
}

// Way is one way to bring the water in.
type Way struct {
	Kind        string     `json:"kind" schema:"one of pipe|swale|surface"`
	Possible    bool       `json:"possible"`
	Sound       bool       `json:"sound"`
	LengthM     Number     `json:"length_m"`
	StartMM     Number     `json:"start_mm"`
	OutletMM    Number     `json:"outlet_mm"`
	Fall        Number     `json:"fall"`
	LeastCover  Number     `json:"least_cover_mm"`
	BedDepthMM  Number     `json:"least_bed_depth_mm"`
	TrenchBedMM Number     `json:"least_bed_depth_full_cover_mm"`
	CapacityM3H Number     `json:"capacity_m3h"`
	Limit       string     `json:"capacity_set_by"`
	VelocityMS  Number     `json:"outlet_velocity_ms"`
	PadNeeded   bool       `json:"splash_pad"`
	PadLengthM  Number     `json:"pad_length_m"`
	PadWidthM   Number     `json:"pad_width_m"`
	PadStoneMM  Number     `json:"pad_stone_mm"`
	CutM3       Number     `json:"cut_m3"`
	FillM3      Number     `json:"fill_m3"`
	FromBedM3   Number     `json:"soil_from_bed_m3"`
	ImportM3    Number     `json:"import_m3"`
	LeftM3      Number     `json:"left_over_m3"`
	Items       []wayItem  `json:"items"`
	Troubles    []wayFault `json:"troubles"`
}

// wayItem is something to buy.
type wayItem struct {
	Name   string `json:"name"`
	Unit   string `json:"unit"`
	Order  Number `json:"order"`
	Waste  Number `json:"waste"`
	SizeMM Number `json:"size_mm"`
	Note   string `json:"note"`
	Source string `json:"source"`
}

// wayFault is what refuses a way or should be known of it.
type wayFault struct {
	Refuses bool   `json:"refuses"`
	Fails   bool   `json:"fails"`
	What    string `json:"what"`
	Change  string `json:"change"`
	Source  string `json:"source"`
}

// NewInlets makes the part of a basin document about the way in; nil if the
// garden file has no inlet section.
func NewInlets(l *zones.Lot) *Inlets {
	if !l.WayIn.Given {
		return nil
	}
	u := l.Garden.Units
	out := &Inlets{Chosen: l.Garden.Inlet.Way, DesignM3H: Number(l.WayIn.Plan.DesignM3H), RecordM3H: Number(l.WayIn.Plan.RecordM3H), Cautions: l.WayIn.Plan.Cautions}
	for _, w := range l.WayIn.Plan.Ways {
		row := Way{
			Kind: w.Kind, Possible: w.Possible, Sound: w.Sound, LengthM: Number(w.LengthM), StartMM: Number(w.StartMM), OutletMM: Number(w.OutletMM), Fall: Number(w.Fall),
			LeastCover: Number(w.LeastCoverMM), BedDepthMM: Number(w.BedDepthMM), TrenchBedMM: Number(w.TrenchBedMM),
			CapacityM3H: Number(w.CapacityM3H), Limit: w.Capacity.Limit, VelocityMS: Number(w.VelocityMS),
			PadNeeded: w.Pad.Needed, PadLengthM: Number(w.Pad.LengthM), PadWidthM: Number(w.Pad.WidthM), PadStoneMM: Number(w.Pad.RockMM),
			CutM3: Number(w.Earth.CutM3), FillM3: Number(w.Earth.FillM3), FromBedM3: Number(w.Earth.BedM3), ImportM3: Number(w.Earth.ImportM3), LeftM3: Number(w.Earth.LeftM3),
			Items: []wayItem{}, Troubles: []wayFault{},
		}
		for _, i := range w.Items {
			name, more := i.Said(zones.UnitsMetric.Length)
			row.Items = append(row.Items, wayItem{name, i.Unit, Number(i.Order), Number(i.Waste), Number(i.SizeMM), more, i.Source})
		}
		for _, t := range w.Troubles {
			what, change := u.InletText(t)
			row.Troubles = append(row.Troubles, wayFault{t.Refuses, t.Fails, what, change, t.Source})
		}
		out.Ways = append(out.Ways, row)
	}
	out.Blocks = out.word(l, "")
	return out
}

// word makes the blocks: the ways side by side, then what each needs and fails.
// If one is named, that alone.
func (d *Inlets) word(l *zones.Lot, one string) []doc.Block {
	u := l.Garden.Units
	figures, title := shortWays(wayTable(l)), "Three ways to bring the water in"
	if one != "" {
		figures, title = wayFacts(wayTable(l), one), "The way in: "+wayName(one)
	}
	out := []doc.Block{
		doc.Heading(title + "; levels from the spill level"), figures,
		doc.Rest(doc.Text{Know: "inlet", Words: fmt.Sprintf("Off the roof: %s in the design rain, %s in the wettest hour on record (a daily record's hours come from its pattern, and a cloudburst of minutes is harder than any hour).",
			u.Flow(l.WayIn.Plan.DesignM3H), u.Flow(l.WayIn.Plan.RecordM3H))}),
	}
	for i, way := range l.WayIn.Plan.Ways {
		if one != "" && one != way.Kind {
			continue
		}
		var items doc.List
		for _, i := range way.Items {
			name, more := i.Said(u.Length)
			items.Items = append(items.Items, amount(u, i)+" "+name+note(more))
		}
		if one == "" {
			out = append(out, doc.Rest(doc.Line(""), doc.Heading(way.Kind)))
		}
		for _, t := range d.Ways[i].Troubles {
			words := doc.Text{In: 2, Hang: 4, Lead: "mind", Words: t.What}
			switch {
			case t.Refuses:
				words.Lead = "refused"
			case t.Fails:
				words.Lead = "put right first"
			}
			if t.Change != "" {
				words.Words += "; " + t.Change
			}
			short := words
			short.In, short.Lead = 0, way.Kind+", "+words.Lead
			out = append(out, doc.Fold{Short: []doc.Block{short}, Full: []doc.Block{words}})
		}
		out = append(out, doc.Rest(items))
	}
	return append(out, doc.Apart(doc.List{Title: "Before bringing water in", Items: d.Cautions, Mind: true})...)
}

// wayTable sets the ways side by side.
func wayTable(l *zones.Lot) doc.Table {
	u := l.Garden.Units
	t := doc.Table{Caption: "Three ways side by side", Know: "inlet", Columns: []doc.Column{{}}}
	for _, way := range l.WayIn.Plan.Ways {
		name := way.Kind
		if way.Kind == l.Garden.Inlet.Way {
			name += " (taken)"
		}
		t.Columns = append(t.Columns, doc.Column{Head: name})
	}
	depth := func(mm float64) string {
		if math.IsNaN(mm) {
			return "-"
		}
		return level(u, mm)
	}
	for _, line := range []struct {
		name string
		cell func(inlet.Way) string
	}{
		{"can be", func(x inlet.Way) string { return canBe(x.Possible, x.Sound) }},
		{"length", func(x inlet.Way) string { return u.Length(x.LengthM) }},
		{"at the downspout", func(x inlet.Way) string { return depth(x.StartMM) }},
		{"where it arrives", func(x inlet.Way) string { return depth(x.OutletMM) }},
		{"fall", func(x inlet.Way) string { return fmt.Sprintf("%.2g %%", 100*x.Fall) }},
		{"least soil over it", func(x inlet.Way) string { return depth(x.LeastCoverMM) }},
		{"least bed depth", func(x inlet.Way) string { return depth(x.BedDepthMM) }},
		{"carries safely", func(x inlet.Way) string { return u.Flow(x.CapacityM3H) }},
		{"set by", func(x inlet.Way) string { return x.Capacity.Limit }},
		{"speed at the bed", func(x inlet.Way) string { return u.Speed(x.VelocityMS) }},
		{"stones there", func(x inlet.Way) string {
			if !x.Pad.Needed {
				return "a few"
			}
			return fmt.Sprintf("%s by %s of %s", u.Length(x.Pad.LengthM), u.Length(x.Pad.WidthM), u.Depth(x.Pad.RockMM))
		}},
		{"to dig", func(x inlet.Way) string { return u.Soil(x.Earth.CutM3) }},
		{"berm or banks", func(x inlet.Way) string { return u.Soil(x.Earth.FillM3) }},
		{"soil to bring in", func(x inlet.Way) string { return u.Soil(x.Earth.ImportM3) }},
	} {
		row := []string{line.name}
		for _, way := range l.WayIn.Plan.Ways {
			row = append(row, line.cell(way))
		}
		t.Rows = append(t.Rows, doc.Cells(row...))
	}
	return t
}

// shortWays has the first things to know of the ways, or all of a table.
func shortWays(t doc.Table) doc.Block {
	short := t
	short.Rows = slices.DeleteFunc(slices.Clone(t.Rows), func(row []doc.Cell) bool {
		return !slices.Contains([]string{"length", "fall", "carries safely", "to dig"}, row[0].Words)
	})
	return doc.Fold{Short: []doc.Block{short}, Full: []doc.Block{t}}
}

// answer says which ways can be.
func (d *Inlets) answer() string {
	var parts []string
	for _, w := range d.Ways {
		words := w.Kind + " " + canBe(w.Possible, w.Sound)
		if w.Kind == d.Chosen {
			words += " (taken)"
		}
		parts = append(parts, words)
	}
	return "Ways in: " + strings.Join(parts, "; ") + "."
}

// canBe says whether a way can be.
func canBe(possible, sound bool) string {
	if possible && !sound {
		return "not yet"
	}
	return yesNo(possible)
}

// wayFacts are the figures of one way of a table.
func wayFacts(t doc.Table, kind string) doc.Facts {
	at := slices.IndexFunc(t.Columns, func(c doc.Column) bool { return strings.HasPrefix(c.Head, kind) })
	var out doc.Facts
	for _, row := range t.Rows {
		if row[at].Words != "-" && row[at].Words != "" {
			out = append(out, doc.Fact{Label: row[0].Words, Value: row[at].Words, Know: t.Know})
		}
	}
	return out
}

// amount words how much of an item to order, waste included.
func amount(u zones.Units, i inlet.Item) string {
	switch i.Unit {
	case "m":
		return u.Length(i.Order)
	case "m2":
		return u.Area(i.Order)
	case "m3":
		return u.Volume(i.Order)
	}
	return fmt.Sprintf("%.0f", i.Order)
}

func note(s string) string {
	if s == "" {
		return ""
	}
	return " (" + s + ")"
}

func yesNo(ok bool) string {
	if ok {
		return "yes"
	}
	return "no"
}
