package report

import (
	"fmt"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/basin"
)

// Choose is the document of the command choose.
type Choose struct {
	Garden      Garden        `json:"garden"`
	Catalogue   string        `json:"catalogue"`
	Record      Record        `json:"record"`
	Lines       []Line        `json:"lines"`
	Objective   Number        `json:"objective" schema:"known; 0.."`
	Bound       Number        `json:"bound" schema:"known; 0.."`
	Gap         Number        `json:"gap" schema:"known; 0..1"`
	Stopped     string        `json:"stopped" schema:"some"`
	BloomMonths []int         `json:"bloom_months" schema:"unique; each 1..12"`
	BloomWanted []int         `json:"bloom_months_wanted" schema:"unique; each 1..12"`
	bloomWished bool          // by the garden file; else they are those of the growing season
	Cost        Number        `json:"cost" schema:"known; 0.."`
	Zones       []fill        `json:"zones" schema:"some"`
	BedFirst    []string      `json:"bed_first"` // checks of the bed that fail
	Labels      []disagree    `json:"labels"`
	Notes       []string      `json:"notes"`
	Cautions    []string      `json:"cautions"`
	Watering    *listWatering `json:"watering,omitempty" about:"with wishes.watering: weekly-in-drought: what the list counts on"`
	Order       goods         `json:"order"`
	Doubt       *Doubt        `json:"doubt,omitempty" about:"with --robust: what was taken as uncertain"` // with --robust
	Blocks      []doc.Block   `json:"-"`
	Next        []doc.Block   `json:"-"` // the next best for each line
	in          *plants.Planting
}

// Line is one species in one zone.
type Line struct {
	Zone           string        `json:"zone" schema:"one of bottom|slope|rim"`
	ID             string        `json:"id"`
	ScientificName string        `json:"scientificName"`
	VernacularName string        `json:"vernacularName"`
	Count          int           `json:"count" schema:"1.."`
	SpacingCM      Number        `json:"spacing_cm" schema:"known; >0"`
	AreaM2         Number        `json:"area_m2" schema:"known; 0.." about:"of bulbs 0: they grow beneath the others"`
	Layer          string        `json:"layer" schema:"one of matrix|structure|seasonal|bulbs"`
	YearlyRisk     Number        `json:"yearly_risk" schema:"0..1"`
	SunLoss        Number        `json:"sun_loss" schema:"known; 0..1"`
	PastYears      int           `json:"past_years"`
	Years          int           `json:"years" schema:"1.."`
	LimitedBy      string        `json:"limited_by" schema:"one of |too wet|too deep|too dry|too cold|too little sun|too much sun"`
	Reason         string        `json:"reason" schema:"some"`
	Assumed        []string      `json:"assumed"`
	Unknown        []string      `json:"unknown"`
	Price          Number        `json:"price"`
	Alternatives   []alternative `json:"alternatives"`
	Sure           *lineSure     `json:"sure,omitempty" about:"with --robust"` // with --robust
	size           string        // to order; "" if nothing says which
}

// alternative could stand in a line's place.
type alternative struct {
	ID              string `json:"id"`
	VernacularName  string `json:"vernacularName"`
	Count           int    `json:"count" schema:"1.."`
	SpacingCM       Number `json:"spacing_cm" schema:"known; >0"`
	YearlyRisk      Number `json:"yearly_risk" schema:"0..1"`
	Assumed         bool   `json:"assumed"`
	ObjectiveChange Number `json:"objective_change" schema:"known"`
	Reason          string `json:"reason"`
}

// fill says how far a zone is planted, and if it is not, why.
type fill struct {
	Zone      string   `json:"zone" schema:"one of bottom|slope|rim"`
	AreaM2    Number   `json:"area_m2" schema:"known; 0.."`
	PlantedM2 Number   `json:"planted_m2" schema:"known; 0.."`
	Offered   int      `json:"offered"`
	Bare      string   `json:"bare"` // why ground stays bare, "" if none does
	Refused   []string `json:"refused"`
}

// disagree is a zone tag that the computation does not bear out.
type disagree struct {
	ID             string `json:"id"`
	VernacularName string `json:"vernacularName"`
	Zone           string `json:"zone" schema:"one of bottom|slope|rim"`
	Tagged         bool   `json:"tagged"`
	Lives          bool   `json:"lives"`
	YearlyRisk     Number `json:"yearly_risk" schema:"0..1"`
	Reason         string `json:"reason"`
}

// NewChoose makes the document of a planting list.
// checks are those of the bed; the ones that fail are told before any plant.
func NewChoose(g Garden, catalogueName string, p *plants.Planting, checks []basin.Check) Choose {
	out := Choose{
		Garden: g, Catalogue: catalogueName, Record: newRecord(p.Exposure.Record), Lines: []Line{},
		Objective: Number(p.Objective), Bound: Number(p.Bound), Gap: Number(p.Gap), Stopped: p.Stopped,
		BloomMonths: orEmpty(p.BloomMonths), BloomWanted: orEmpty(p.BloomWanted), bloomWished: p.Exposure.Lot.Garden.Wishes.BloomFrom > 0, Cost: Number(p.Cost),
		Order: newGoods(p), Watering: newListWatering(p.Watering), Doubt: listDoubt(p), BedFirst: []string{}, Labels: []disagree{}, Notes: append(orEmpty(p.Notes), p.Asides...), Cautions: plantCautions(p),
	}
	for _, c := range checks {
		if c.Known && !c.OK {
			out.BedFirst = append(out.BedFirst, fmt.Sprintf("%s: found %s, wanted %s", c.Name, c.Found, c.Wanted))
		}
	}
	for _, l := range p.Lines {
		line := newLine(g, l)
		line.Sure = newSure(p.Sure, l.Verdict)
		out.Lines = append(out.Lines, line)
	}
	for _, z := range p.Zones {
		out.Zones = append(out.Zones, fill{
			Zone: z.Zone, AreaM2: Number(z.AreaM2), PlantedM2: Number(z.PlantedM2), Offered: z.Offered, Bare: z.Bare, Refused: refusal(g, z.Refusal),
		})
	}
	for i := range p.Verdicts {
		if v := &p.Verdicts[i]; v.Disagrees() {
			out.Labels = append(out.Labels, disagree{
				ID: v.Plant.ID, VernacularName: v.Plant.VernacularName, Zone: v.Zone, Tagged: v.Tagged, Lives: v.Lives(),
				YearlyRisk: Number(v.Fit.YearlyRisk), Reason: Reason(v.Fit.Reason, g.Units),
			})
		}
	}
	out.in = p
	out.word(p)
	return out
}

func orEmpty[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

func newLine(g Garden, l plants.Line) Line {
	out := Line{
		Zone: l.Zone, ID: l.Plant.ID, ScientificName: l.Plant.ScientificName, VernacularName: l.Plant.VernacularName,
		Count: l.Count, SpacingCM: Number(l.SpacingCM), AreaM2: Number(l.AreaM2), Layer: l.Layer, YearlyRisk: Number(l.Fit.YearlyRisk), SunLoss: Number(l.Fit.SunLoss),
		PastYears: l.Fit.PastYears, Years: l.Fit.Years, LimitedBy: string(l.Fit.Reason.Limit), Reason: Reason(l.Fit.Reason, g.Units) + tolerated(l.Fit) + certainty(l.Verdict),
		Assumed: orEmpty(l.Fit.Assumed), Unknown: orEmpty(l.Fit.Unknown), Price: Number(l.Plant.Price), Alternatives: []alternative{}, size: orderSize(l.Plant),
	}
	for _, a := range l.Next {
		out.Alternatives = append(out.Alternatives, alternative{
			ID: a.Verdict.Plant.ID, VernacularName: a.Verdict.Plant.VernacularName, Count: a.Count,
			SpacingCM: Number(a.Verdict.Plant.SpreadCM), Assumed: len(a.Verdict.Fit.Assumed) > 0,
			YearlyRisk: Number(a.Verdict.Fit.YearlyRisk), ObjectiveChange: Number(a.Change), Reason: Reason(a.Verdict.Fit.Reason, g.Units),
		})
	}
	return out
}

// plantCautions names the plants on the list that can hurt or run away; real ones
// of the same caution stand together.
func plantCautions(p *plants.Planting) []string {
	var keys []string
	caution, of, told := map[string]string{}, map[string][]string{}, map[string]bool{}
	for _, l := range p.Lines {
		if told[l.Plant.ID] {
			continue
		}
		told[l.Plant.ID] = true
		cautions := harms(l.Plant)
		for _, c := range l.Fit.Unknown {
			if !strings.HasSuffix(c, fit.OfThePlace) { // which is told once, for all
				cautions = append(cautions, "the catalogue does not state "+c+", so that limit was not judged.")
			}
		}
		for _, c := range cautions {
			key := c
			if l.Plant.Wild == nil {
				key += l.Plant.ID
			}
			if of[key] == nil {
				keys = append(keys, key)
			}
			caution[key], of[key] = c, append(of[key], l.Plant.VernacularName)
		}
	}
	out := []string{}
	for _, key := range keys {
		out = append(out, strings.Join(of[key], ", ")+": "+caution[key])
	}
	return out
}

// listed writes words as a list: people, pets and livestock.
func listed(words []string) string {
	if last := len(words) - 1; last > 0 {
		return strings.Join(words[:last], ", ") + " and " + words[last]
	}
	return strings.Join(words, "")
}

// ofItsGenus marks a plant whose traits are guessed.
const ofItsGenus = "traits from its genus or form"

// hurts lists whom a plant is known to hurt, and of whom that is not known: where
// its source does not speak of harm, or of those alone whom it hurts.
func hurts(p catalogue.Plant) (who, open []string) {
	who = slices.DeleteFunc(slices.Clone(p.Toxic), func(s string) bool { return s == "none" })
	if len(p.Toxic) == 0 || slices.Contains(p.Assumed, "toxic") {
		open = slices.DeleteFunc([]string{"people", "pets"}, func(s string) bool { return slices.Contains(who, s) })
	}
	return who, open
}

// harms says whom a plant can hurt and how it can run away.
func harms(p catalogue.Plant) []string {
	out := []string{}
	if who, open := hurts(p); len(who) > 0 {
		said := "harmful to " + listed(who)
		if len(open) > 0 {
			said += ", not known whether to " + strings.Join(open, " or ") + " too"
		}
		out = append(out, said+". Plant it out of reach and wear gloves.")
	} else if len(open) > 0 {
		out = append(out, "not known whether it harms people or animals. Ask the grower, and keep children and animals from it until you know.")
	}
	if p.Wild != nil && p.Wild.Guessed {
		out = append(out, ofItsGenus+": height, light, cold and flowers are not its own. Ask a grower.")
	}
	switch p.Spreads {
	case "runs":
		out = append(out, "spreads by runners and can take over. Check local lists of invasive plants, and cut it back every year.")
	case "seeds":
		out = append(out, "seeds itself freely. Check local lists of invasive plants, and pull seedlings.")
	}
	return out
}
