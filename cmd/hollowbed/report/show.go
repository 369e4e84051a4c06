package report

import (
	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// Show is the document of find --show and --compare: all that the plant table says
// of one plant or two, and how each would live in the garden's zones.
type Show struct {
	Garden    Garden      `json:"garden"`
	Catalogue string      `json:"catalogue"`
	Plants    []Shown     `json:"plants" schema:"some"`
	Blocks    []doc.Block `json:"-"`
}

// Shown is a plant in full; what the table does not state is null or empty.
type Shown struct {
	ID             string    `json:"id"`
	ScientificName string    `json:"scientificName"`
	VernacularName string    `json:"vernacularName"`
	Form           string    `json:"form"`
	SoldFor        []string  `json:"zones" schema:"each one of bottom|slope|rim"`
	SunMinH        Number    `json:"sun_min_h"`
	SunMaxH        Number    `json:"sun_max_h"`
	WetH           Number    `json:"wet_h"`
	PondMM         Number    `json:"pond_mm"`
	DryD           Number    `json:"dry_d"`
	LowestC        Number    `json:"lowest_c"`
	RootCM         Number    `json:"root_cm"`
	HeightCM       Number    `json:"height_cm"`
	SpreadCM       Number    `json:"spread_cm"`
	FlowerFrom     int       `json:"flower_from" about:"month; 0 is none or not known"`
	FlowerTo       int       `json:"flower_to" about:"month; 0 is none or not known"`
	FlowerColour   []string  `json:"flower_colour"`
	Evergreen      string    `json:"evergreen"`
	NativeTo       []string  `json:"native_to"`
	Spreads        string    `json:"spreads"`
	Toxic          []string  `json:"toxic"`
	Price          Number    `json:"price"`
	Tags           []string  `json:"tags" about:"other traits"`
	Notes          string    `json:"notes"`
	Source         string    `json:"source"`
	Assumed        []string  `json:"assumed"`
	Lives          []whyZone `json:"in_garden" about:"how it would live in each zone; none where no garden was asked for"`
}

// NewShow makes the document of one plant or of two side by side; of each the
// verdicts on it, none where no garden was asked for.
func NewShow(g Garden, catalogueName string, e *zones.Exposure, all []catalogue.Plant, verdicts [][]plants.Verdict) Show {
	out := Show{Garden: g, Catalogue: catalogueName}
	var cards []Why
	for i, p := range all {
		card := newCard(g, p)
		if e != nil {
			card = NewWhy(g, e, verdicts[i])
		}
		cards = append(cards, card)
		out.Plants = append(out.Plants, newShown(p, card.Zones))
	}
	if len(cards) == 2 {
		out.Blocks = append([]doc.Block{doc.Heading(cards[0].VernacularName + " beside " + cards[1].VernacularName)}, Pair(cards[0], cards[1])...)
		return out
	}
	out.Blocks = append([]doc.Block{doc.Heading(named(&all[0]))}, cards[0].Card...)
	return out
}

func newShown(p catalogue.Plant, lives []whyZone) Shown {
	return Shown{
		ID: p.ID, ScientificName: p.ScientificName, VernacularName: p.VernacularName, Form: p.Form, SoldFor: orEmpty(p.Zones),
		SunMinH: Number(p.SunMinH), SunMaxH: Number(p.SunMaxH), WetH: Number(p.WetH), PondMM: Number(p.PondMM), DryD: Number(p.DryD),
		LowestC: Number(p.LowestC), RootCM: Number(p.RootCM), HeightCM: Number(p.HeightCM), SpreadCM: Number(p.SpreadCM),
		FlowerFrom: p.FlowerFrom, FlowerTo: p.FlowerTo, FlowerColour: orEmpty(p.FlowerColour), Evergreen: p.Evergreen,
		NativeTo: orEmpty(p.NativeTo), Spreads: p.Spreads, Toxic: orEmpty(p.Toxic), Price: Number(p.Price), Tags: orEmpty(p.Tags), Notes: p.Notes, Source: p.Source,
		Assumed: orEmpty(p.Assumed), Lives: orEmpty(lives),
	}
}

// newCard is a plant by its table alone.
func newCard(g Garden, p catalogue.Plant) Why {
	out := Why{Garden: g, ID: p.ID, ScientificName: p.ScientificName, VernacularName: p.VernacularName, Notes: p.Notes}
	out.card(p, evidence(p))
	return out
}
