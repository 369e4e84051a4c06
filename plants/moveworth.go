package plants

import (
	"math"
	"slices"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/moves"
)

// What work and plants are worth, in the currency of the plant table. A choice of
// this project, no source; the margin by the twin experiment (data/MEASURED.md).
const (
	usualHour  = 20.0 // of an hour of work, unless wishes.hour_worth says
	UsualPrice = 10.0 // of a plant that the table has no price of
	// struggleLoss is the share of the seasons in which a plant struggles that cost it
	// its life. Assumption, no source, as in cmd/twin.
	struggleLoss = 0.3
	// moveMargin is by how much of its own work a move has to be better than the
	// best of the other answers.
	moveMargin = 0.5
	// Lifting a ball and setting it takes digMin, and more for each kilogram. Common
	// practice, no source.
	digMin, digMinPerKG = 5.0, 0.25
	leastHelp           = 0.01 // of a year's risk: water that takes less off it is no help
)

// Answer is what can be done about a plant that struggles.
type Answer string

// The four answers.
const (
	AnswerLeave Answer = "leave"
	AnswerWater Answer = "water"
	AnswerMove  Answer = "move"
	AnswerBuy   Answer = "buy"
)

// Answers weighs what can be done about a plant that struggles. All costs are money,
// over the seasons looked at: an hour of work at what it is worth, and a plant at its
// price times the chance to lose it, struggleLoss for each season in which it is
// expected to struggle. NaN for what cannot be done here; minutes are those of work.
type Answers struct {
	Best                      Answer
	Leave, Water, Move, Buy   float64
	WaterMin, MoveMin, BuyMin float64
	To                        MovePlace // of the move
	With                      string    // stake of the plant that it would trade places with
	New                       NewPlant  // to buy
}

// price is what a plant is worth.
func price(p catalogue.Plant) float64 {
	if p.Price > 0 {
		return p.Price
	}
	return UsualPrice
}

// atRisk is what is lost of a plant for a season in which it struggles.
func atRisk(p catalogue.Plant) float64 { return struggleLoss * price(p) }

// hour is what an hour of work is worth, and pay so many minutes.
func (r *relocation) hour() float64 {
	return orDefault(r.in.Judge.Exposure.Lot.Garden.Wishes.HourWorth, usualHour)
}

func (r *relocation) pay(minutes float64) float64 { return minutes / 60 * r.hour() }

// minutes is what it takes to lift a plant, set it and water it in, at the rate of
// the hose that care takes as usual.
func (h Lifting) minutes() float64 {
	times := 1 + h.ForD/max(1, h.AgainEveryD)
	return digMin + digMinPerKG*h.BallKG + float64(times)*h.WaterL/care.Default().HoseLMin
}

// waterMinutes is what it takes to water a grown plant once a week in drought, in a
// mean year: what it needs by the hose, and a minute a visit at least, as in care.
func (r *relocation) waterMinutes(p catalogue.Plant, zone string) float64 {
	key := [2]string{p.ID, zone}
	minutes, ok := r.watering[key]
	if !ok {
		e := r.in.Judge.Exposure
		if r.careBed == nil {
			r.careBed = youngBed(e, care.Default())
		}
		spread := orDefault(p.SpreadCM, unknownSpreadCM)
		stand := care.Stand{Zone: zone, AreaM2: care.WateredM2(spread, spread, 1), Groups: []care.Group{{Plant: p, Count: 1}}}
		litres, visits := r.careBed.WeeklyInDrought([]care.Stand{stand}, e.Whole)
		for y := range litres {
			minutes += max(float64(visits[y]), litres[y]/care.Default().HoseLMin) / float64(len(litres))
		}
		r.watering[key] = minutes
	}
	return minutes
}

// atHome weighs the three answers that leave a plant where it stands, or put a new
// one there, and makes the least of them the cost of its place.
func (r *relocation) atHome(i int) {
	s, w, b := &r.plants[i], &r.problem.Plants[i], &r.best[i]
	k := i*len(r.rooms) + i
	s.loss = r.problem.Loss[k]
	if math.IsInf(w.GiveUp, 1) {
		return
	}
	seasons, most := float64(r.in.Seasons), r.in.Judge.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	a := &Answers{Best: AnswerLeave, Leave: w.Weight * s.loss, Water: math.NaN(), Move: math.NaN(), Buy: math.NaN()}
	least := a.Leave
	if !r.in.Judge.bed.Watered {
		wet := *r.in.Judge.bed
		wet.Watered = true
		risk := outlookIn(&wet, s.prospect, s.plant, r.spots[i]).YearlyRisk
		if risk < s.loss-leastHelp {
			a.WaterMin = seasons * r.waterMinutes(s.plant, r.spots[i].Zone)
			a.Water = steady(w.Weight*risk + r.pay(a.WaterMin))
		}
		if a.Water < least {
			least, a.Best = a.Water, AnswerWater
		}
	}
	if b.BenefitM2 > 0 && b.Outlook.YearlyRisk <= most {
		value := seasons * atRisk(b.Plant)
		pot := lifting(r.in.Judge.Exposure.Lot, b.Plant, b.Plant.SpreadCM, r.in.On, r.in.On)
		a.New, a.BuyMin = *b, pot.minutes()
		a.Buy = steady(price(b.Plant) + r.pay(a.BuyMin) + value*b.Outlook.LossMoved(r.in.Seasons))
		s.newDoubt = steady(r.problem.Caution * math.Hypot(w.GiveUpDoubt, value*b.Outlook.Doubt()))
		if cost := a.Buy + s.newDoubt; cost < least {
			least, a.Best, s.renewed = cost, AnswerBuy, true
		}
	}
	s.answers, r.problem.Loss[k] = a, least/w.Weight
}

// priceNew has the option to give a plant up cost what another in its place does,
// where one is known, beside what it costs where it stands.
func (r *relocation) priceNew(i int, options []PlaceOption) {
	a := r.plants[i].answers
	if a == nil || math.IsNaN(a.Buy) || r.plants[i].renewed {
		return
	}
	for _, o := range options {
		if !o.GiveUp && o.Displaces == "" && o.To.X == r.rooms[i].X && o.To.Y == r.rooms[i].Y {
			for k := range options {
				if options[k].GiveUp {
					options[k].Extra = o.Extra + a.Buy + r.plants[i].newDoubt - r.home(i)
				}
			}
		}
	}
}

// moved is what it costs to move a plant to a place, its margin apart.
func (r *relocation) moved(i, q int) float64 {
	w, k := &r.problem.Plants[i], i*len(r.rooms)+q
	if w.SpreadCM > r.problem.Places[q].RoomCM {
		return math.Inf(1)
	}
	return w.Weight*(r.problem.Loss[k]+r.plants[i].disturb/float64(r.in.Seasons)+r.problem.Caution*r.problem.Doubt[k]) + r.pay(r.plants[i].how.minutes())
}

// home is what it costs where it stands, by the best answer there.
func (r *relocation) home(i int) float64 {
	return r.problem.Plants[i].Weight * r.problem.Loss[i*len(r.rooms)+i]
}

// saved is what the plan takes for granted of a place: that the plant is watered, or a
// new one set there.
func (r *relocation) saved(i int) float64 {
	return r.problem.Plants[i].Weight*r.plants[i].loss - r.home(i)
}

// answers are those of a plant by a plan; nil if it does not struggle. The move is
// that of the plan with all of its group, less what the others would cost where they
// stand; of a plant that stays the best to free ground or in exchange with one other.
func (r *relocation) answers(i int, plan *moves.Plan) *Answers {
	if r.plants[i].answers == nil {
		return nil
	}
	a, n := *r.plants[i].answers, len(r.plants)
	a.New.Place = r.place(i)
	if g := plan.Moves[i].Group; g >= 0 && plan.Moves[i].To >= 0 {
		a.Best, a.To, a.Move = AnswerMove, r.place(plan.Moves[i].To), 0
		for _, j := range plan.Groups[g].Plants {
			if to := plan.Moves[j].To; to >= 0 {
				a.Move, a.MoveMin = a.Move+r.moved(j, to), a.MoveMin+r.plants[j].how.minutes()
			} else {
				a.Move += r.problem.Plants[j].GiveUp
			}
			if j != i {
				a.Move -= r.home(j)
			}
		}
		return &a
	}
	best := math.Inf(1)
	for q := range r.rooms {
		cost, minutes, with := r.moved(i, q), r.plants[i].how.minutes(), ""
		switch {
		case q < n && q != i && plan.Moves[q].To == q:
			cost += r.moved(q, i) - r.home(q)
			minutes, with = minutes+r.plants[q].how.minutes(), r.plants[q].row.Stake
		case !slices.Contains(plan.Open, q):
			continue // its own, or somebody's in the end
		}
		if cost < best {
			best, a.Move, a.MoveMin, a.To, a.With = cost, cost, minutes, r.place(q), with
		}
	}
	return &a
}
