package report

import (
	"fmt"
	"math"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/season"
)

// moveAnswers are the four answers for a plant that struggles, in the currency of the
// plant table over the seasons looked at.
type moveAnswers struct {
	Plant        string `json:"plant" schema:"some"`
	Best         string `json:"best" schema:"one of leave|water|move|buy"`
	Leave        Number `json:"leave" schema:"known; 0.." about:"its price for three in ten of the seasons in which it is expected to struggle"`
	Water        Number `json:"water" about:"watered once a week in drought; null where that is no help, or counted on already"`
	Move         Number `json:"move" about:"with whom it trades places; null where no place is within the accepted risk"`
	Buy          Number `json:"buy" about:"another plant in its place; null where none would do"`
	WaterMinutes Number `json:"water_minutes" schema:"known; 0.."`
	MoveMinutes  Number `json:"move_minutes" schema:"known; 0.."`
	BuyMinutes   Number `json:"buy_minutes" schema:"known; 0.."`
	BuyID        string `json:"buy_id"`
}

func newMoveAnswers(m plants.PlantMove) moveAnswers {
	a := m.Answers
	return moveAnswers{
		m.Stake, string(a.Best), Number(a.Leave), Number(a.Water), Number(a.Move), Number(a.Buy),
		Number(a.WaterMin), Number(a.MoveMin), Number(a.BuyMin), a.New.Plant.ID,
	}
}

// costs puts the four answers side by side, the best first.
func (d Move) costs(a *plants.Answers) string {
	work := func(cost, minutes float64) string {
		return fmt.Sprintf("%.2f (%.0f min of work)", cost, max(1, minutes))
	}
	say := map[plants.Answer]string{plants.AnswerLeave: fmt.Sprintf("leave it %.2f", a.Leave)}
	if !math.IsNaN(a.Water) {
		say[plants.AnswerWater] = "water it weekly in drought " + work(a.Water, a.WaterMin)
	}
	if !math.IsNaN(a.Move) {
		say[plants.AnswerMove] = "move it " + work(a.Move, a.MoveMin)
	}
	if !math.IsNaN(a.Buy) {
		say[plants.AnswerBuy] = fmt.Sprintf("buy %s for its place ", a.New.Plant.VernacularName) + work(a.Buy, a.BuyMin)
	}
	var rest []string
	for _, other := range []plants.Answer{plants.AnswerLeave, plants.AnswerWater, plants.AnswerMove, plants.AnswerBuy} {
		if words, ok := say[other]; ok && other != a.Best {
			rest = append(rest, words)
		}
	}
	if len(rest) == 0 {
		return say[a.Best] + "."
	}
	return say[a.Best] + "; else " + strings.Join(rest, ", ") + "."
}

// answered are the answers for a stake; nil if it does not struggle, or no plan is made.
func (d Move) answered(stake string) *plants.Answers {
	if d.in.Plan == nil {
		return nil
	}
	for _, all := range [][]plants.PlantMove{d.in.Plan.Moves, d.in.Plan.Stays} {
		for _, m := range all {
			if season.SameStake(m.Stake, stake) {
				return m.Answers
			}
		}
	}
	return nil
}

// costsNote says what the figures of the answers are.
func (d Move) costsNote() []doc.Block {
	if len(d.Answers) == 0 {
		return nil
	}
	return []doc.Block{doc.Line(""), doc.Text{Words: fmt.Sprintf("Costs are in the plant table's currency, over %s: an hour of work at %.4g (wishes.hour_worth), a plant at its price, or %.0f where none is stated, for three in ten of the seasons in which it is expected to struggle. A move has to save half of its own work again. What mends the site, drains it or cuts back shade, has no price here.",
		plural(d.Seasons, "season", "seasons"), d.in.Plan.HourWorth, plants.UsualPrice)}}
}
