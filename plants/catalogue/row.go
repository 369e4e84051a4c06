package catalogue

// row is one line of the plant table as gocsv binds it. The tags are the names
// in tableColumns, in the same order; a test holds the two together.
type row struct {
	ID             wordCell   `csv:"id"`
	ScientificName textCell   `csv:"scientificName"`
	VernacularName textCell   `csv:"vernacularName"`
	Form           wordCell   `csv:"form"`
	Zones          listCell   `csv:"zones"`
	SunMinH        numberCell `csv:"sun_min_h"`
	SunMaxH        numberCell `csv:"sun_max_h"`
	WetH           numberCell `csv:"wet_h"`
	PondMM         numberCell `csv:"pond_mm"`
	DryD           numberCell `csv:"dry_d"`
	LowestC        numberCell `csv:"lowest_c"`
	RootCM         numberCell `csv:"root_cm"`
	HeightCM       numberCell `csv:"height_cm"`
	SpreadCM       numberCell `csv:"spread_cm"`
	FlowerFrom     monthCell  `csv:"flower_from"`
	FlowerTo       monthCell  `csv:"flower_to"`
	FlowerColour   listCell   `csv:"flower_colour"`
	Evergreen      wordCell   `csv:"evergreen"`
	NativeTo       listCell   `csv:"native_to"`
	Spreads        wordCell   `csv:"spreads"`
	Toxic          listCell   `csv:"toxic"`
	Price          numberCell `csv:"price"`
	SoldAs         wordCell   `csv:"sold_as"`
	Tags           listCell   `csv:"tags"`
	Notes          textCell   `csv:"notes"`
	Source         textCell   `csv:"source"`
	Assumed        listCell   `csv:"assumed"`
}

// wrong lists what is wrong with each cell, in the order of the columns.
func (r *row) wrong() [27]string {
	return [27]string{
		r.ID.wrong, r.ScientificName.wrong, r.VernacularName.wrong, r.Form.wrong, r.Zones.wrong,
		r.SunMinH.wrong, r.SunMaxH.wrong, r.WetH.wrong, r.PondMM.wrong, r.DryD.wrong,
		r.LowestC.wrong, r.RootCM.wrong, r.HeightCM.wrong, r.SpreadCM.wrong,
		r.FlowerFrom.wrong, r.FlowerTo.wrong, r.FlowerColour.wrong, r.Evergreen.wrong,
		r.NativeTo.wrong, r.Spreads.wrong, r.Toxic.wrong, r.Price.wrong,
		r.SoldAs.wrong, r.Tags.wrong, r.Notes.wrong, r.Source.wrong, r.Assumed.wrong,
	}
}

func (r *row) plant() Plant {
	return Plant{
		ID: r.ID.is, ScientificName: r.ScientificName.is, VernacularName: r.VernacularName.is,
		Form: r.Form.is, Zones: r.Zones.is,
		SunMinH: r.SunMinH.is, SunMaxH: r.SunMaxH.is,
		WetH: r.WetH.is, PondMM: r.PondMM.is, DryD: r.DryD.is,
		LowestC: r.LowestC.is, RootCM: r.RootCM.is, HeightCM: r.HeightCM.is, SpreadCM: r.SpreadCM.is,
		FlowerFrom: r.FlowerFrom.is, FlowerTo: r.FlowerTo.is, FlowerColour: r.FlowerColour.is,
		Evergreen: r.Evergreen.is, NativeTo: r.NativeTo.is, Spreads: r.Spreads.is, Toxic: r.Toxic.is,
		Price: r.Price.is, SoldAs: r.SoldAs.is, Tags: r.Tags.is, Notes: r.Notes.is, Source: r.Source.is, Assumed: r.Assumed.is,
	}
}

func rowOf(p *Plant) row {
	text := func(s string) textCell { return textCell{is: s} }
	word := func(s string) wordCell { return wordCell{is: s} }
	list := func(s []string) listCell { return listCell{is: s} }
	num := func(v float64) numberCell { return numberCell{is: v} }
	month := func(m int) monthCell { return monthCell{is: m} }
	return row{
		ID: word(p.ID), ScientificName: text(p.ScientificName), VernacularName: text(p.VernacularName),
		Form: word(p.Form), Zones: list(p.Zones),
		SunMinH: num(p.SunMinH), SunMaxH: num(p.SunMaxH),
		WetH: num(p.WetH), PondMM: num(p.PondMM), DryD: num(p.DryD),
		LowestC: num(p.LowestC), RootCM: num(p.RootCM), HeightCM: num(p.HeightCM), SpreadCM: num(p.SpreadCM),
		FlowerFrom: month(p.FlowerFrom), FlowerTo: month(p.FlowerTo), FlowerColour: list(p.FlowerColour),
		Evergreen: word(p.Evergreen), NativeTo: list(p.NativeTo), Spreads: word(p.Spreads), Toxic: list(p.Toxic),
		Price: num(p.Price), SoldAs: word(p.SoldAs), Tags: list(p.Tags), Notes: text(p.Notes), Source: text(p.Source), Assumed: list(p.Assumed),
	}
}

// number returns the value of a number column; ok is false for other columns.
func (p *Plant) number(column string) (v float64, ok bool) {
	switch column {
	case "sun_min_h":
		return p.SunMinH, true
	case "sun_max_h":
		return p.SunMaxH, true
	case "wet_h":
		return p.WetH, true
	case "pond_mm":
		return p.PondMM, true
	case "dry_d":
		return p.DryD, true
	case "lowest_c":
		return p.LowestC, true
	case "root_cm":
		return p.RootCM, true
	case "height_cm":
		return p.HeightCM, true
	case "spread_cm":
		return p.SpreadCM, true
	case "price":
		return p.Price, true
	}
	return 0, false
}

// list returns the value of a column of several values.
func (p *Plant) list(column string) []string {
	switch column {
	case "zones":
		return p.Zones
	case "flower_colour":
		return p.FlowerColour
	case "native_to":
		return p.NativeTo
	case "toxic":
		return p.Toxic
	case "tags":
		return p.Tags
	case "assumed":
		return p.Assumed
	}
	panic("catalogue: no column of several values is named " + column)
}

// text returns the value of a column of text or of one word.
func (p *Plant) text(column string) string {
	switch column {
	case "id":
		return p.ID
	case "scientificName":
		return p.ScientificName
	case "vernacularName":
		return p.VernacularName
	case "form":
		return p.Form
	case "evergreen":
		return p.Evergreen
	case "spreads":
		return p.Spreads
	case "sold_as":
		return p.SoldAs
	case "notes":
		return p.Notes
	case "source":
		return p.Source
	}
	panic("catalogue: no column of text is named " + column)
}
