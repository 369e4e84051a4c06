package report

import (
	"fmt"
	"io"
	"math"
	"slices"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// goods is what is ordered beside plants.
type goods struct {
	MixM3     Number `json:"mix_m3" schema:"known; 0.." about:"of the bed's soil, compost and all"`
	CompostM3 Number `json:"compost_m3" schema:"known; 0.." about:"of that soil"`
	MulchM3   Number `json:"mulch_m3" schema:"known; 0.." about:"for the first year"`
	MorePlugs int    `json:"more_plugs" schema:"0.." about:"beyond the list, to close the ground while plugs are small"`
}

func newGoods(p *plants.Planting) goods {
	o := p.Order()
	return goods{Number(o.MixM3), Number(o.CompostM3), Number(o.MulchM3), o.MorePlugs}
}

// orderSize is what size of a plant to ask a nursery for; "" if nothing says which.
// Of real plants common practice, no source.
func orderSize(p catalogue.Plant) string {
	switch {
	case p.SoldAs != "" || p.Wild == nil:
		return p.SoldAs
	case p.Wild.Tree:
		return "5 to 10 gallon or bare root"
	case p.Form == "shrub":
		return "1 to 3 gallon"
	}
	return "plug or quart"
}

// order says what to order beside plants, and how small plants are set.
func (d Choose) order(u zones.Units) doc.List {
	o := d.Order
	out := doc.List{Title: "Order as well", Items: []string{
		fmt.Sprintf("Bed soil %s, settled; about %s of it compost, a quarter of the volume (published: 20 to 30 %%). Ask for finished compost, without manure.", u.Soil(float64(o.MixM3)), u.Soil(float64(o.CompostM3))),
		fmt.Sprintf("Mulch %s: shredded hardwood, a year old, %s deep (published: %s to %s), kept off the stems. No bark or chips: they float. Nothing dusty: fines seal the ground.", u.Soil(float64(o.MulchM3)), u.Depth(plants.MulchMM), u.Depth(2*25.4), u.Depth(3*25.4)),
	}}
	if o.MorePlugs > 0 {
		out.Items = append(out.Items, fmt.Sprintf("%s more, if you want the ground closed in the first years: plugs stand at most %s apart while young (published: %s to %s), and are thinned later.", plural(o.MorePlugs, "plug", "plugs"), u.Length(plants.YoungPlugCM/100), u.Depth(12*25.4), u.Depth(18*25.4)))
	}
	return out
}

// rows puts the goods below the plants of an order list.
func (o goods) rows(u zones.Units, rows [][]string) [][]string {
	if o.MixM3 == 0 { // no bed is known
		return rows
	}
	const m3PerYd3 = 0.764554857984 // a yard is 0.9144 m by definition
	unit, in := "m3", 1.0
	if u == zones.UnitsUS {
		unit, in = "cu yd", m3PerYd3
	}
	rows[0] = append(rows[0], "unit")
	for i := range rows[1:] {
		rows[i+1] = append(rows[i+1], "plants")
	}
	for _, g := range []struct {
		id, name string
		m3       Number
	}{
		{"bed-soil", "Bed soil, with its compost", o.MixM3}, {"compost", "Compost, of the bed soil", o.CompostM3}, {"mulch", "Shredded hardwood mulch", o.MulchM3},
	} {
		row := make([]string, len(rows[0]))
		row[0], row[1], row[3], row[len(row)-1] = g.id, g.name, fmt.Sprintf("%.2f", float64(g.m3)/in), unit
		rows = append(rows, row)
	}
	return rows
}

// CSV writes the order list, one line a species, with counts over all zones; with
// instead also what to ask for, in each zone, where a plant is sold out. Of each
// species a share more is ordered, in whole plants, and paid for.
func (d Choose) CSV(w io.Writer, instead bool, reserve float64) error {
	rows := [][]string{{"id", "vernacularName", "scientificName", "count", "zones", "spacing_cm", "price", "cost"}}
	at := map[string]int{}
	counts := map[string]int{}
	for _, l := range d.Lines {
		counts[l.ID] += l.Count
		if i, ok := at[l.ID]; ok {
			rows[i][4] += "|" + l.Zone
			continue
		}
		at[l.ID] = len(rows)
		rows = append(rows, []string{l.ID, l.VernacularName, l.ScientificName, "", l.Zone, fmt.Sprintf("%g", float64(l.SpacingCM)), money(l.Price), ""})
	}
	for _, row := range rows[1:] {
		row[3] = fmt.Sprint(counts[row[0]])
	}
	extra := func(id string) int { return int(math.Ceil(float64(counts[id])*reserve - 1e-9)) }
	if reserve > 0 {
		rows[0] = append(rows[0], "reserve")
		for i, row := range rows[1:] {
			rows[i+1] = append(row, fmt.Sprint(extra(row[0])))
		}
	}
	if slices.ContainsFunc(d.Lines, func(l Line) bool { return l.size != "" }) {
		rows[0] = append(rows[0], "size")
		for _, l := range d.Lines {
			if i := at[l.ID]; len(rows[i]) < len(rows[0]) {
				rows[i] = append(rows[i], l.size)
			}
		}
	}
	for _, l := range d.Lines {
		if !math.IsNaN(float64(l.Price)) {
			rows[at[l.ID]][7] = fmt.Sprintf("%.2f", float64(counts[l.ID]+extra(l.ID))*float64(l.Price))
		}
	}
	if instead {
		rows[0] = append(rows[0], "if_sold_out")
		for i, l := range d.Lines {
			row := &rows[at[l.ID]]
			if len(*row) < len(rows[0]) {
				*row = append(*row, l.Zone+": "+d.others(i, "risk %s a year"))
			} else {
				(*row)[len(*row)-1] += "; " + l.Zone + ": " + d.others(i, "risk %s a year")
			}
		}
	}
	rows = d.Order.rows(d.Garden.Units, rows)
	if d.Record.Source != "" || d.Record.Climate != "" { // what the counts rest on
		rows[0] = append(rows[0], "weather")
		for i := range rows[1:] {
			rows[i+1] = append(rows[i+1], d.Record.abroad())
		}
	}
	return writeRows(w, rows)
}

func money(n Number) string {
	if math.IsNaN(float64(n)) {
		return ""
	}
	return fmt.Sprintf("%.2f", float64(n))
}
