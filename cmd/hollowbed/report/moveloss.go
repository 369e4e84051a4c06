package report

import (
	"fmt"
	"math"
	"slices"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
)

// moveDied is a plant that died.
type moveDied struct {
	Step           int       `json:"step" schema:"0.."` // for --only; 0 if nothing is to be planted there yet
	Plant          string    `json:"plant" schema:"some"`
	ID             string    `json:"id"`
	VernacularName string    `json:"vernacularName"`
	Place          movePlace `json:"place"`
	Cause          string    `json:"cause" schema:"one of |fine|too wet|too deep|too dry|too shaded|too exposed|slow to establish|other"` // "" if it is not known
	CauseChance    Number    `json:"cause_chance" schema:"0..1"`
	Taken          bool      `json:"taken" about:"another plant stands there, or moves there"`
	New            string    `json:"new" about:"stake, in new, of the plant for its place; empty for none"`
	Else           string    `json:"else_buy" about:"id of the plant to buy, where a piece of one that thrives is offered first"`
	ElsePrice      Number    `json:"else_price"`
}

// priceOf is what a new plant costs; NaN if the plant table does not say.
func priceOf(n plants.NewPlant) float64 {
	if n.Mother != "" {
		return 0
	}
	return n.Plant.Price
}

func (d *Move) died(l plants.Lost) moveDied {
	out := moveDied{
		Step: l.Step + 1, Plant: l.Stake, ID: l.Plant.ID, VernacularName: l.Plant.VernacularName, Place: d.place(l.Place),
		CauseChance: Number(math.NaN()), Taken: l.Taken, ElsePrice: Number(math.NaN()),
	}
	if l.Cause.Case.Plant != "" && !l.Cause.Rests {
		out.Cause, out.CauseChance = string(l.Cause.Top), Number(l.Cause.TopP)
	}
	if l.New >= 0 {
		n := d.in.Plan.New[l.New]
		if out.New = n.Stake; n.Else != nil {
			out.Else, out.ElsePrice = n.Else.Plant.ID, Number(n.Else.Plant.Price)
		}
	}
	return out
}

// losses say of each plant that died why, and what to plant there: a step where
// that is to be done, and the rest in a list.
func (d *Move) losses() (steps []MoveStep, rest []doc.Block) {
	var items []string
	cost, unpriced := 0.0, 0
	for i, l := range d.in.Plan.Lost {
		why := "not known: nobody noted how it did."
		if l.Cause.Case.Plant != "" {
			why = d.why(l.Cause)
		}
		who := fmt.Sprintf("%s (%s), %s, died", l.Stake, l.Plant.VernacularName, d.Died[i].Place.Zone)
		if l.Step < 0 {
			items = append(items, who+". Why: "+why+" "+d.bare(l))
			continue
		}
		n := d.in.Plan.New[l.New]
		if p := priceOf(n); math.IsNaN(p) {
			unpriced++
		} else {
			cost += p
		}
		steps = append(steps, MoveStep{[]string{l.Stake}, append([]doc.Block{doc.Line(""),
			doc.Text{Hang: 3, Words: fmt.Sprintf("%d. %s: %s.", l.Step+1, who, setThere(n))}, doc.Rest(part("Why", why))}, d.piece(n)...)})
	}
	if len(steps) > 0 {
		sum := fmt.Sprintf("New plants where others died: in all %.2f in the plant table's currency", cost)
		if cost == 0 && unpriced == 0 {
			sum = "The pieces for places where plants died cost nothing"
		} else if unpriced > 0 {
			sum += fmt.Sprintf(", and %s of which it has no price", plural(unpriced, "plant", "plants"))
		}
		const sure = "Make sure first: a plant whose roots are firm and pale may come up again."
		rest = []doc.Block{doc.Fold{Short: []doc.Block{doc.Text{Words: sure}}, Full: []doc.Block{doc.Line(""), doc.Text{Words: sum + ". " + sure + " None of the same kind is planted where it died."}}}}
	}
	return steps, append(rest, counted("Died, and their places stay as they are", items)...)
}

// setThere says what to plant where one died.
func setThere(n plants.NewPlant) string {
	if n.Mother == "" {
		return "buy " + bought(n)
	}
	return fmt.Sprintf("divide %s (%s), which thrives, and set a piece of it there: no price, risk %s a year", n.Mother, n.Plant.VernacularName, risk(n.Outlook.YearlyRisk, false))
}

// piece says when to divide a plant, and what to buy instead.
func (d *Move) piece(n plants.NewPlant) (out []doc.Block) {
	if n.Mother != "" {
		out = append(out, part("When", fmt.Sprintf("%s to %s, %s.", date(n.When.From), date(n.When.To), n.When.Reason)))
	}
	if n.Else != nil {
		out = append(out, part("Else", "buy "+bought(*n.Else)+"."))
	}
	return out
}

// bare says why nothing is planted where one died.
func (d *Move) bare(l plants.Lost) string {
	switch {
	case l.Taken:
		return "Its place goes to another."
	case l.New < 0:
		return "Nothing in the plant table has room and would do well there: leave it bare for now."
	}
	n := d.in.Plan.New[l.New]
	return fmt.Sprintf("Best would be %s at a risk of %s a year, more than you wished to risk: leave it bare for now.", n.Plant.VernacularName, risk(n.Outlook.YearlyRisk, false))
}

// bought words a plant to buy: its price and its risk.
func bought(n plants.NewPlant) string {
	price := "the plant table has no price of it"
	if !math.IsNaN(n.Plant.Price) {
		price = fmt.Sprintf("%.2f", n.Plant.Price)
	}
	return fmt.Sprintf("%s (%s), risk %s a year", n.Plant.VernacularName, price, risk(n.Outlook.YearlyRisk, false))
}

// buy names new plants for places that are free in the end, those of one kind
// and zone in one line.
func (d Move) buy() []doc.Block {
	type line struct {
		stakes []string
		words  string
		risky  bool
	}
	var lines []line
	for _, n := range d.New {
		if n.Instead != "" || slices.ContainsFunc(d.Died, func(l moveDied) bool { return l.New == n.Stake }) {
			continue
		}
		words := fmt.Sprintf("stood, in the %s: %s, risk %s a year", n.Place.Zone, n.VernacularName, risk(float64(n.RiskAfter), false))
		k := slices.IndexFunc(lines, func(l line) bool { return l.words == words })
		if k < 0 {
			k, lines = len(lines), append(lines, line{words: words, risky: float64(n.RiskAfter) > d.in.Exposure.Lot.Garden.Wishes.YearlyRiskMax})
		}
		lines[k].stakes = append(lines[k].stakes, n.Place.Of)
	}
	var items []string
	for _, l := range lines {
		more := ""
		if l.risky {
			more = "; more than you wished to risk: leave it bare for now"
		}
		items = append(items, "where "+some(l.stakes)+" "+l.words+more)
	}
	return counted("Free places, and what would do best there", items)
}

// newHarms says of the new plants whom they can hurt and how they can run away.
func newHarms(all []plants.NewPlant) (out []string) {
	for _, n := range all {
		for _, m := range []*plants.NewPlant{&n, n.Else} {
			if m == nil {
				continue
			}
			for _, h := range harms(m.Plant) {
				if words := m.Plant.VernacularName + ": " + h; !slices.Contains(out, words) {
					out = append(out, words)
				}
			}
		}
	}
	return out
}
