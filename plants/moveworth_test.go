package plants

import (
	"math"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// A ball of 12 kg, set with 4.5 L and watered seven times more in two weeks, by hand:
// 5 + 12/4 + 8 x 4.5/15 = 10.4 minutes. At 20 an hour they are 3.47. A plant at 18 that
// struggles in 46 % of three seasons is lost at 18 x 0.3 x 3 x 0.46 = 7.45.
func TestWorkByHand(t *testing.T) {
	h := Lifting{BallKG: 12, WaterL: 4.5, AgainEveryD: 2, ForD: 14}
	assert.InDelta(t, 10.4, h.minutes(), 1e-12)
	j := NewJudge(expose(t, nil, someYears(2)))
	r := &relocation{in: MoveInput{Judge: j}}
	assert.InDelta(t, 3.4667, r.pay(h.minutes()), 1e-4)
	j.Exposure.Lot.Garden.Wishes.HourWorth = 0
	assert.Zero(t, r.pay(h.minutes()), "an hour may be worth nothing")
	assert.InDelta(t, 7.452, 3*0.46*atRisk(catalogue.Plant{Price: 18}), 1e-9)
	assert.InDelta(t, 3, atRisk(catalogue.Plant{Price: math.NaN()}), 1e-12, "no price is known: 10")
}

// season of the demo garden as it ships, with its notes.
func demoSeason(t *testing.T) MoveInput {
	j, c, _ := demo(t)
	open := func(name string) *os.File {
		f, err := os.Open("../data/" + name)
		require.NoError(t, err)
		t.Cleanup(func() { f.Close() })
		return f
	}
	rows, _, err := placement.ReadPlanted("planted.csv", open("season/planted.csv"))
	require.NoError(t, err)
	rec, err := season.Read("season.csv", open("season/season.csv"))
	require.NoError(t, err)
	signs, err := season.ReadTable("signs.csv", open("signs.csv"))
	require.NoError(t, err)
	r, err := Replay("demo", j.Exposure, nil, c, rows, rec)
	require.NoError(t, err)
	return r.MoveInput(j, signs, c, rows, nil, time.Date(2024, 10, 5, 0, 0, 0, 0, time.UTC))
}

// The demo keeps a move that is clearly worth it, and no other; of every plant that
// struggles the four answers are weighed, by hand from its outlooks.
func TestAnswersOfTheDemo(t *testing.T) {
	in := demoSeason(t)
	r, err := Relocate(in)
	require.NoError(t, err)
	require.Len(t, r.Moves, 1)
	m := r.Moves[0]
	assert.True(t, m.To.Free && m.After.YearlyRisk <= 0.15)
	a := m.Answers
	work := m.How.minutes() / 60 * 20
	assert.InDelta(t, m.How.minutes(), a.MoveMin, 1e-9)
	assert.InDelta(t, 3*0.3*18*m.Before.YearlyRisk, a.Leave, 1e-6)
	assert.InDelta(t, 3*0.3*18*(m.After.LossMoved(3)+m.Disturb/3+m.Before.Harm(m.After, 3))+work, a.Move, 1e-6)
	assert.True(t, math.IsNaN(a.Water), "water does not help against water")
	assert.Less(t, a.Move+0.5*work, 0.9*min(a.Leave, a.Buy), "clearly")
	best := map[Answer]int{}
	for _, s := range slices.Concat(r.Moves, r.Stays) {
		a := s.Answers
		assert.Equal(t, a != nil, s.Cause.Case.Plant != "" && s.Cause.Struggles() && !s.Cause.Wait && s.Cause.Accident == "", s.Stake)
		if a == nil {
			continue
		}
		best[a.Best]++
		for _, other := range []float64{a.Leave, a.Water, a.Buy} { // NaN is no less
			assert.False(t, a.Best == AnswerLeave && other < a.Leave, "%s: %+v", s.Stake, a)
		}
		assert.False(t, a.Best == AnswerLeave && a.Move+moveMargin*20*a.MoveMin/60 < a.Leave, "%s: %+v", s.Stake, a)
	}
	assert.Equal(t, 1, best[AnswerMove])
}

// A thirsty plant is watered where that is cheaper than losing it, and left where an
// hour is too dear; a dear one that nothing helps gets a cheap one in its place; where
// the list counts on water already, water is no answer of its own.
func TestWaterLeaveOrBuy(t *testing.T) {
	rec := someYears(6)
	thirsty := with(hardy("thirsty"), func(p *catalogue.Plant) { p.DryD, p.Price = 11, 60 })
	answer := func(wishes string, plants ...catalogue.Plant) *Answers {
		j := NewJudge(expose(t, map[string]string{"wishes": "{yearly_risk_max: 15 %, " + wishes + "}"}, rec))
		in := MoveInput{Judge: j, Catalogue: tableOf(plants...), Standing: []placement.Planted{{Stake: "THI1", ID: "thirsty", X: 0.15, Y: 1.5}}}
		in.Diagnoses = struggling(in.Standing...)
		r := mustRelocate(t, in)
		all := slices.Concat(r.Moves, r.Stays)
		require.Len(t, all, 1)
		return all[0].Answers
	}
	cheap := answer("hour_worth: 1", thirsty)
	assert.Equal(t, AnswerWater, cheap.Best)
	assert.Less(t, cheap.Water, cheap.Leave)
	assert.Equal(t, AnswerLeave, answer("hour_worth: 1000", thirsty).Best)
	assert.True(t, math.IsNaN(answer("watering: weekly-in-drought", thirsty).Water))
	assert.Equal(t, AnswerBuy, answer("hour_worth: 200", thirsty, hardy("hardy")).Best)
	assert.Equal(t, AnswerWater, answer("hour_worth: 1", thirsty, with(hardy("hardy"), func(p *catalogue.Plant) { p.Price = 90 })).Best)
}

// A dearer hour never makes more work: of plans that cost a part that is money and a
// part that is work at a price, the work of the best falls as its price rises
// (parametric programming, textbook). Nor does it make more moves where the list
// counts on water already: what else there is to do takes less work than a move.
// Else one may take the place of watering, which takes more.
func TestDearerHour(t *testing.T) {
	c := somePlants(20)
	for i := range c.Plants {
		c.Plants[i].Price *= 4
	}
	for _, watering := range []string{"first-year", "weekly-in-drought"} {
		first, last := 0, 0
		for seed := range uint64(4) {
			j := NewJudge(expose(t, map[string]string{"soil": "{texture: clay, rate: 1.5 mm/h, safety_factor: 1}", "wishes": "{yearly_risk_max: 40 %, watering: " + watering + "}", "sun": "{bottom: 6 h, slope: 6 h, rim: 9 h}"}, someYears(6)))
			in := MoveInput{Judge: j, Catalogue: c, Standing: scatter(j, c, 25, seed)}
			in.Diagnoses = struggling(in.Standing...)
			moves, work := math.MaxInt, math.Inf(1)
			for k, hour := range []float64{0, 1, 3, 10, 20, 40, 200} {
				j.Exposure.Lot.Garden.Wishes.HourWorth = hour
				r := mustRelocate(t, in)
				sound(t, in, r)
				now, minutes := planWork(r)
				assert.LessOrEqual(t, minutes, work+1e-6, "seed %d, hour %g", seed, hour)
				assert.True(t, now <= moves || watering == "first-year", "seed %d, hour %g: %d moves for %d", seed, hour, now, moves)
				if moves, work = now, minutes; k == 0 {
					first += now
				}
			}
			last += moves
		}
		assert.Greater(t, first, last+3, "the test needs moves that an hour can be too dear for")
	}
}

// planWork is how many plants a plan moves, and its minutes of work as the plan counts
// them.
func planWork(r *Relocation) (moved int, minutes float64) {
	for _, m := range slices.Concat(r.Moves, r.Stays) {
		switch {
		case m.Action == ActMove || m.Action == ActSwap:
			moved, minutes = moved+1, minutes+(1+moveMargin)*m.How.minutes()
		case m.Action == ActReplace:
			minutes += m.Answers.BuyMin
		case m.Action == ActStay && m.Answers != nil && m.Answers.Best == AnswerWater:
			minutes += m.Answers.WaterMin
		}
	}
	return moved, minutes
}
