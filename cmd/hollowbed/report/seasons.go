package report

import (
	"fmt"
	"slices"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/draw"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones/site"
)

// timeOfYear is a stretch of months to look at a bed in.
type timeOfYear struct {
	name   string
	months []int
}

func (t timeOfYear) words() string {
	if len(t.months) == 1 {
		return t.name
	}
	return fmt.Sprintf("%s, %s to %s", doc.Capital(t.name), monthName(t.months[0]), monthName(t.months[len(t.months)-1]))
}

// timesOfYear are the four seasons of a hemisphere, by whole months from March (common
// practice of weather services, no source).
func timesOfYear(south bool) []timeOfYear {
	var out []timeOfYear
	first := 3
	if south {
		first = 9
	}
	for i, name := range []string{"spring", "summer", "autumn", "winter"} {
		t := timeOfYear{name: name}
		for k := range 3 {
			t.months = append(t.months, (first-1+3*i+k)%12+1)
		}
		out = append(out, t)
	}
	return out
}

// leafC is the mean temperature from which a month counts as one of growth: that of the
// growing season of a record (zones/site/season.go). Assumption, no source.
const leafC = 5.0

// inLeaf reports whether at least half of the months are warm enough for leaves.
func (t timeOfYear) inLeaf(months [12]site.MonthMean) bool {
	warm := 0
	for _, m := range t.months {
		if mean := (months[m-1].HighC + months[m-1].LowC) / 2; !(mean < leafC) {
			warm++
		}
	}
	return 2*warm >= len(t.months)
}

// look is how a plant looks then: in flower if it is in any of the months, green if the
// weather allows leaves or it keeps some all year.
func (t timeOfYear) look(p catalogue.Plant, months [12]site.MonthMean) draw.Look {
	out := draw.Look{Colours: p.FlowerColour}
	if p.FlowerFrom > 0 {
		flower := monthsOf(p.FlowerFrom, p.FlowerTo)
		out.Flowers = slices.ContainsFunc(t.months, func(m int) bool { return slices.Contains(flower, m) })
	}
	switch {
	case t.inLeaf(months), p.Evergreen == "yes", p.Evergreen == "semi":
	case p.Evergreen == "no":
		out.Leaf = draw.Bare
	default:
		out.Leaf = draw.Unsure
	}
	return out
}

// looks gives the looks of what is drawn of a placement, species by species.
func (t timeOfYear) looks(p *plants.Placed, species []draw.Species, standing []draw.Plant) []draw.Look {
	out := make([]draw.Look, len(species))
	for i := range out {
		out[i].Leaf = draw.Unsure
	}
	for i, s := range p.Result.Plants {
		if s.Line >= 0 {
			out[standing[i].Species] = t.look(p.Plants[s.Line], p.Planting.Exposure.Record.Months)
		}
	}
	return out
}

// SeasonsSVG draws what is green and what flowers in each season.
func SeasonsSVG(g Garden, p *plants.Placed) Drawing {
	in := draw.SeasonsIn{Sheet: sheet(g, "seasons", "Through the year"), Outline: drawBed(p.Planting.Exposure.Lot).Outline}
	in.Species, in.Plants = drawn(p)
	for _, t := range timesOfYear(p.Planting.Exposure.Lot.Garden.Site.LatitudeDeg < 0) {
		in.Views = append(in.Views, draw.SeasonView{Name: t.words(), Looks: t.looks(p, in.Species, in.Plants)})
	}
	return draw.Seasons(in)
}

// ScreenView is a time of the year that the plan can show, with what every kind of the
// plan looks like then.
type ScreenView struct {
	Name  string       `json:"name"`
	Words string       `json:"words"`
	Looks []screenLook `json:"looks"` // by kind
}

// screenLook is the look of a kind: flower, green, bare or unsure.
type screenLook struct {
	Look  string `json:"look"`
	Tone  string `json:"tone"`
	Words string `json:"words"`
}

// NewScreenViews gives the seasons and the months of a planting.
func NewScreenViews(p *plants.Placed) []ScreenView {
	south := p.Planting.Exposure.Lot.Garden.Site.LatitudeDeg < 0
	all := timesOfYear(south)
	for _, t := range timesOfYear(south) {
		for _, m := range t.months {
			all = append(all, timeOfYear{time.Month(m).String(), []int{m}})
		}
	}
	species, standing := drawn(p)
	var out []ScreenView
	for _, t := range all {
		v := ScreenView{Name: doc.Capital(t.name)}
		kinds := map[string]int{}
		for _, l := range t.looks(p, species, standing) {
			v.Looks = append(v.Looks, screenLook{lookName(l), l.Tone(), l.Words()})
			kinds[lookName(l)]++
		}
		v.Words = fmt.Sprintf("%s: %d of %d kinds in flower", doc.Capital(t.words()), kinds["flower"], len(species))
		for _, rest := range [][2]string{{"green", "green"}, {"bare", "bare or cut back"}, {"unsure", "with leaves not known"}} {
			if n := kinds[rest[0]]; n > 0 {
				v.Words += fmt.Sprintf(", %d %s", n, rest[1])
			}
		}
		v.Words += "."
		out = append(out, v)
	}
	return out
}

func lookName(l draw.Look) string {
	switch {
	case l.Flowers:
		return "flower"
	case l.Leaf == draw.Green:
		return "green"
	case l.Leaf == draw.Bare:
		return "bare"
	}
	return "unsure"
}
