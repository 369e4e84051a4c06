package report

import (
	"fmt"
	"io"
	"math"

	"github.com/jedib0t/go-pretty/v6/table"

	"hollowbed/zones"
)

// Inlets are the three ways to bring the water in, side by side.
type Inlets struct {
	Chosen    string   `json:"chosen"`
	DesignM3H Number   `json:"design_m3h"`
	RecordM3H Number   `json:"wettest_hour_m3h"`
	Ways      []Way    `json:"ways" schema:"len 3..3"`
	Cautions  []string `json:"cautions" schema:"some"`
}

// Way is one way to bring the water in.
type Way struct {
	Kind        string     `json:"kind" schema:"one of pipe|swale|surface"`
	Possible    bool       `json:"possible"`
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
	Items       []WayItem  `json:"items"`
	Troubles    []WayFault `json:"troubles"`
}

// WayItem is something to buy.
type WayItem struct {
	Name   string `json:"name"`
	Unit   string `json:"unit"`
	Order  Number `json:"order"`
	Waste  Number `json:"waste"`
	SizeMM Number `json:"size_mm"`
	Note   string `json:"note"`
	Source string `json:"source"`
}

// WayFault is what refuses a way or should be known of it.
type WayFault struct {
	Refuses bool   `json:"refuses"`
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
			Kind: w.Kind, Possible: w.Possible, LengthM: Number(w.LengthM), StartMM: Number(w.StartMM), OutletMM: Number(w.OutletMM), Fall: Number(w.Fall),
			LeastCover: Number(w.LeastCoverMM), BedDepthMM: Number(w.BedDepthMM), TrenchBedMM: Number(w.TrenchBedMM),
			CapacityM3H: Number(w.CapacityM3H), Limit: w.Capacity.Limit, VelocityMS: Number(w.VelocityMS),
			PadNeeded: w.Pad.Needed, PadLengthM: Number(w.Pad.LengthM), PadWidthM: Number(w.Pad.WidthM), PadStoneMM: Number(w.Pad.RockMM),
			CutM3: Number(w.Earth.CutM3), FillM3: Number(w.Earth.FillM3), FromBedM3: Number(w.Earth.BedM3), ImportM3: Number(w.Earth.ImportM3), LeftM3: Number(w.Earth.LeftM3),
			Items: []WayItem{}, Troubles: []WayFault{},
		}
		for _, i := range w.Items {
			row.Items = append(row.Items, WayItem{i.Name, i.Unit, Number(i.Order), Number(i.Waste), Number(i.SizeMM), i.Note, i.Source})
		}
		for _, t := range w.Troubles {
			what, change := u.InletText(t)
			row.Troubles = append(row.Troubles, WayFault{t.Refuses, what, change, t.Source})
		}
		out.Ways = append(out.Ways, row)
	}
	return out
}

// text prints the ways side by side, then what each needs and fails.
func (d Inlets) text(w io.Writer, u zones.Units) {
	fmt.Fprintln(w, "\nThree ways to bring the water in; levels from the spill level")
	head := table.Row{""}
	for _, way := range d.Ways {
		name := way.Kind
		if way.Kind == d.Chosen {
			name += " (taken)"
		}
		head = append(head, name)
	}
	line := func(name string, cell func(Way) string) table.Row {
		row := table.Row{name}
		for _, way := range d.Ways {
			row = append(row, cell(way))
		}
		return row
	}
	depth := func(n Number) string {
		if math.IsNaN(float64(n)) {
			return "-"
		}
		return signed(u.Depth, float64(n))
	}
	grid(w, head, nil, []table.Row{
		line("can be", func(x Way) string { return yesNo(x.Possible) }),
		line("length", func(x Way) string { return u.Length(float64(x.LengthM)) }),
		line("at the downspout", func(x Way) string { return depth(x.StartMM) }),
		line("where it arrives", func(x Way) string { return depth(x.OutletMM) }),
		line("fall", func(x Way) string { return fmt.Sprintf("%.2g %%", 100*float64(x.Fall)) }),
		line("least soil over it", func(x Way) string { return depth(x.LeastCover) }),
		line("least bed depth", func(x Way) string { return depth(x.BedDepthMM) }),
		line("carries safely", func(x Way) string { return u.Flow(float64(x.CapacityM3H)) }),
		line("set by", func(x Way) string { return x.Limit }),
		line("speed at the bed", func(x Way) string { return u.Speed(float64(x.VelocityMS)) }),
		line("stones there", func(x Way) string {
			if !x.PadNeeded {
				return "a few"
			}
			return fmt.Sprintf("%s by %s of %s", u.Length(float64(x.PadLengthM)), u.Length(float64(x.PadWidthM)), u.Depth(float64(x.PadStoneMM)))
		}),
		line("to dig", func(x Way) string { return u.Soil(float64(x.CutM3)) }),
		line("berm or banks", func(x Way) string { return u.Soil(float64(x.FillM3)) }),
		line("soil to bring in", func(x Way) string { return u.Soil(float64(x.ImportM3)) }),
	})
	wrap(w, "", "", fmt.Sprintf("Off the roof: %s in the design rain, %s in the wettest hour on record (a daily record's hours come from its pattern, and a cloudburst of minutes is harder than any hour).",
		u.Flow(float64(d.DesignM3H)), u.Flow(float64(d.RecordM3H))))
	for _, way := range d.Ways {
		d.needs(w, way, u)
	}
	fmt.Fprintln(w, "\nBefore bringing water in:")
	bullets(w, d.Cautions)
}

func (d Inlets) needs(w io.Writer, way Way, u zones.Units) {
	fmt.Fprintf(w, "\n%s\n", way.Kind)
	for _, t := range way.Troubles {
		mark := "mind: "
		if t.Refuses {
			mark = "refused: "
		}
		what := t.What
		if t.Change != "" {
			what += "; " + t.Change
		}
		wrap(w, "  "+mark, "    ", what)
	}
	for _, i := range way.Items {
		wrap(w, "  - ", "    ", i.amount(u)+" "+i.Name+note(i.Note))
	}
}

// amount words how much of an item to order, waste included.
func (i WayItem) amount(u zones.Units) string {
	switch i.Unit {
	case "m":
		return u.Length(float64(i.Order))
	case "m2":
		return u.Area(float64(i.Order))
	case "m3":
		return u.Volume(float64(i.Order))
	}
	return fmt.Sprintf("%.0f", float64(i.Order))
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
