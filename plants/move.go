package plants

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/list"
	"hollowbed/plants/moves"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// MoveInput is what a relocation plan rests on.
type MoveInput struct {
	Judge     *Judge
	Catalogue *catalogue.Catalogue // with its own limits: what was learned comes in by Learned
	Standing  []placement.Planted  // rows of planted.csv
	Dead      []string             // stakes of those that are dead, beside those with that sign: their places are free
	Failed    []placement.Planted  // where plants died: none of the same kind is set there again
	Garden    string               // its name in Learned
	Model     season.Model
	Learned   *season.Learned    // nil: nothing was learned yet
	Diagnoses []season.Diagnosis // of the last season of each plant; may lack plants
	Stands    []season.Standing  // where plants stood before; may lack plants
	On        time.Time          // the day of planning
	Unnoted   bool               // plants without notes are moved for their own sake too, and not only to make room
	asked     string             // the stake of a plant that is treated as if there were notes of it
	looking   bool               // all that is asked is who would be moved: no second choices
	Seasons   int                // looked ahead; 0 for 3
	Caution   float64            // doubts that a move has to gain more than; 0 for 1, below 0 for none
}

// usualSeasons is how far a plan looks ahead: effects of a move lag over three
// years (Brotherton and others 2019, SOURCES.md [S28]).
const usualSeasons = 3

// Relocation is the plan of least expected loss for the plants that stand.
type Relocation struct {
	Moves  []PlantMove // in the order of doing, group by group, largest gain first
	Stays  []PlantMove // in the order of planted.csv
	Groups []moves.Group
	// New are the best plants to buy: for plants that are replaced, and for places
	// that a plant left or died at and that are free in the end.
	New []NewPlant
	// Lost are the plants that died.
	Lost []Lost
	// Look are the stakes of plants without notes that would be moved for their own
	// sake if what is expected of them were seen: look at them first.
	Look []string
	// What struggling plants are expected to cost over the seasons, with work and new
	// plants, in the currency of the plant table: by the plan, and if nothing is done.
	// That some are to be watered where they stand is not in the plan.
	Objective, Nothing float64
	Margin             float64 // of the moves, that Objective counts beside their work
	HourWorth          float64 // that it reckons with
	Seasons            int
	Caution            float64
	Notes              []string
}

// MoveAction is what is done with a plant.
type MoveAction string

// The actions. A plant is replaced where a new one is planted in its place, and
// taken out where another one that stands takes it.
const (
	ActStay    MoveAction = "stay"
	ActMove    MoveAction = "move"
	ActSwap    MoveAction = "swap"
	ActReplace MoveAction = "replace"
	ActTakeOut MoveAction = "take out"
)

// PlantMove is what is done with one plant, and why.
type PlantMove struct {
	Stake     string
	Plant     catalogue.Plant
	From, To  MovePlace // To has no Spot if it is replaced or taken out
	Action    MoveAction
	Group     int              // in Relocation.Groups; -1 if it stays
	Cause     season.Diagnosis // Cause.Case.Plant is "" if there is none
	Before    season.Outlook   // where it stands
	After     season.Outlook   // where it will stand, or of the new plant in its place
	LossNow   float64          // chance to struggle at least once in the seasons looked at, where it stands
	LossThen  float64          // ... where it will stand, its roots cut back in the first, other disturbance apart; or of the new plant; NaN if taken out
	Disturb   float64          // chance that the move itself costs it a season
	Answers   *Answers         // weighed side by side; nil if it does not struggle, or why is open
	When      window
	How       Lifting
	Second    SecondBest
	Planted   time.Time // zero if not known
	Judged    bool      // false if its limits are not known: it is left alone
	WeightM2  float64   // ground it covers
	SpreadCM  float64
	UnknownOf []string // columns of the plant table that are not known
}

// MovePlace is a place of the bed by name.
type MovePlace struct {
	Spot
	Stake string // of the plant that stands, or stood, there; "" for ground between plants
	Free  bool   // nobody stands there now
	Room  float64
}

// SecondBest is the best plan that does something else with a plant; not worked
// out for one that stays.
type SecondBest struct {
	Known  bool
	To     MovePlace // no Spot if it is given up
	GiveUp bool
	Extra  float64 // how much more ground that plan loses
}

// NewPlant is the best plant to buy for a place.
type NewPlant struct {
	Place     MovePlace
	Plant     catalogue.Plant
	Outlook   season.Outlook
	BenefitM2 float64   // ground expected to be kept, less its costs
	Instead   string    // stake of the plant that it replaces; "" for a place that is free in the end
	Stake     string    // for the new plant
	Mother    string    // stake of the plant that thrives and of which it is a piece; "" if it is bought
	When      window    // to divide that plant
	Else      *NewPlant // to buy, if it is divided
}

// Relocate makes the plan. See package moves for what it proves, and relocation
// for the costs. The error is bad input, such as two plants with one stake.
func Relocate(in MoveInput) (*Relocation, error) {
	r, err := newRelocation(in)
	if err != nil {
		return nil, err
	}
	plan, err := moves.Solve(r.problem)
	if err != nil {
		return nil, fmt.Errorf("plan the moves: %w", err)
	}
	out := r.result(plan)
	if !in.Unnoted && slices.ContainsFunc(r.plants, func(s standing) bool { return !s.noted }) {
		in.Unnoted, in.looking = true, true
		bold, err := Relocate(in)
		if err != nil {
			return nil, err
		}
		for _, m := range bold.Moves {
			if m.Cause.Case.Plant == "" && m.LossThen < m.LossNow {
				out.Look = append(out.Look, m.Stake)
			}
		}
	}
	return out, nil
}

// PlaceOption is one place for one plant, for `move --plant`.
type PlaceOption struct {
	To        MovePlace // no Spot if it is given up
	GiveUp    bool
	Displaces string // stake of the plant that stands there
	Outlook   season.Outlook
	Loss      float64 // chance to struggle there in the seasons looked at; NaN if given up
	Extra     float64 // by how much the best plan with the plant there is worse than the best plan
}

// RankPlaces lists the places that one plant may have, best first, for its own
// sake whether or not there are notes of it. For one with notes the first is that
// of the plan.
func RankPlaces(in MoveInput, stake string) ([]PlaceOption, error) {
	in.asked = stake
	r, err := newRelocation(in)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(r.plants, func(s standing) bool { return strings.EqualFold(s.row.Stake, stake) })
	if i < 0 {
		return nil, &noStakeError{Stake: stake, Why: r.noPlaces(stake)}
	}
	if !r.plants[i].judged {
		return nil, &noStakeError{Stake: stake, Why: fmt.Sprintf("its kind %q is not in the plant table, so nobody knows what it bears", r.plants[i].row.ID)}
	}
	options, err := moves.Ranked(r.problem, i)
	if err != nil {
		return nil, err
	}
	var out []PlaceOption
	for _, o := range options {
		p := PlaceOption{Loss: math.NaN(), Extra: o.Extra}
		if p.GiveUp = o.To == moves.GivenUp || o.To == i && r.plants[i].renewed; !p.GiveUp {
			p.To, p.Outlook, p.Loss = r.place(o.To), r.outlook(i, o.To).Outlook, r.strugglesAt(i, o.To)
		}
		if o.Displaces >= 0 {
			p.Displaces = r.plants[o.Displaces].row.Stake
		}
		out = append(out, p)
		if o.To == i && r.plants[i].renewed { // it may stay itself as well
			w, k := r.problem.Plants[i], i*len(r.rooms)+i
			out = append(out, PlaceOption{
				To: r.place(i), Outlook: r.outlook(i, i).Outlook, Loss: r.plants[i].loss,
				Extra: o.Extra + w.Weight*(r.plants[i].loss-r.problem.Loss[k]),
			})
		}
	}
	r.priceNew(i, out)
	slices.SortStableFunc(out, func(a, b PlaceOption) int { return cmp.Compare(a.Extra, b.Extra) })
	return out, nil
}

// noPlaces says why a plant has no places; "" if nobody knows it.
func (r *relocation) noPlaces(stake string) string {
	row, grows := season.Grows(r.in.Standing, stake)
	if !grows {
		return ""
	}
	if _, inside := r.in.Judge.SpotAt(row.X, row.Y); !inside {
		return "stands outside the bed: see to its place in planted.csv"
	}
	return "was noted as dead: its place is free"
}

// noStakeError says that no places can be ranked for a stake.
type noStakeError struct{ Stake, Why string }

func (e *noStakeError) Error() string {
	if e.Why != "" {
		return fmt.Sprintf("%q: %s", e.Stake, e.Why)
	}
	return fmt.Sprintf("%q: want the stake of a plant in planted.csv", e.Stake)
}

// BadInput marks the error as one that the user can mend.
func (e *noStakeError) BadInput() bool { return true }

// result turns the plan of places into one of plants.
func (r *relocation) result(plan *moves.Plan) *Relocation {
	out := &Relocation{Seasons: r.in.Seasons, HourWorth: r.hour(), Caution: r.problem.Caution, Notes: r.notes, Objective: plan.Objective}
	for i := range r.plants {
		if plan.Moves[i].Group < 0 && !r.plants[i].renewed {
			out.Objective += r.saved(i)
		}
		out.Nothing += r.problem.Plants[i].Weight * r.plants[i].loss
	}
	out.Groups = r.groups(plan)
	slices.SortStableFunc(out.Groups, func(a, b moves.Group) int {
		return cmp.Or(cmp.Compare(steady(b.Gain), steady(a.Gain)), cmp.Compare(a.Plants[0], b.Plants[0]))
	})
	group := make([]int, len(r.plants))
	for i := range group {
		group[i] = -1
	}
	for g := range out.Groups {
		first := len(out.Moves)
		for _, i := range out.Groups[g].Plants {
			group[i] = g
			out.Moves = append(out.Moves, r.move(i, g, plan))
			if plan.Moves[i].To >= 0 && plan.Moves[i].To != i {
				out.Margin += moveMargin * r.pay(r.plants[i].how.minutes())
			}
		}
		together(out.Moves[first:], r.in.On)
	}
	for i, g := range group {
		if g < 0 {
			out.Stays = append(out.Stays, r.move(i, g, plan))
		}
		if g >= 0 && plan.Moves[i].Action == moves.Stay {
			out.New = append(out.New, r.newPlant(i, r.plants[i].row.Stake))
		}
	}
	for _, q := range plan.Open { // free in the end, and a plant left it
		if q < len(r.plants) && r.best[q].BenefitM2 > 0 {
			out.New = append(out.New, r.newPlant(q, ""))
		}
	}
	r.losses(out, plan)
	r.nameNew(out.New)
	return out
}

// nameNew gives the new plants stakes that nobody has or had.
func (r *relocation) nameNew(all []NewPlant) {
	var lines []placement.Line
	for _, n := range all {
		lines = append(lines, placement.Line{ID: n.Plant.ID, Name: n.Plant.VernacularName})
	}
	var taken []string
	for _, s := range r.in.Stands {
		taken = append(taken, s.Stake)
	}
	for i, stake := range placement.NewStakes(Standing(r.in.Standing, r.in.Catalogue), taken, lines) {
		all[i].Stake = stake
	}
}

// groups are those of the plan, reckoned against doing nothing at all, and each
// new plant in the place of an old one as a group of its own.
func (r *relocation) groups(plan *moves.Plan) []moves.Group {
	out := slices.Clone(plan.Groups)
	for g := range out {
		for _, i := range out[g].Plants {
			out[g].Gain += r.saved(i)
			out[g].Loss += r.saved(i)
		}
	}
	for i := range r.plants {
		if r.plants[i].renewed && plan.Moves[i].Action == moves.Stay {
			out = append(out, moves.Group{
				Plants: []int{i}, Gain: r.saved(i), Loss: r.problem.Plants[i].Weight * r.plants[i].loss,
				Doubt: r.plants[i].newDoubt, Refill: r.plants[i].answers.Buy,
			})
		}
	}
	return out
}

func (r *relocation) newPlant(q int, instead string) NewPlant {
	b := r.best[q]
	b.Place, b.Instead = r.place(q), instead
	return b
}

func (r *relocation) move(i, group int, plan *moves.Plan) PlantMove {
	m, s := plan.Moves[i], r.plants[i]
	out := PlantMove{
		Stake: s.row.Stake, Plant: s.plant, From: r.place(i), Action: MoveAction(m.Action), Group: group,
		Cause: s.cause, Before: r.outlook(i, i).Outlook, LossNow: r.strugglesAt(i, i), LossThen: math.NaN(),
		Disturb: s.disturb, Answers: r.answers(i, plan), When: s.when, How: s.how, Planted: s.planted, Judged: s.judged,
		WeightM2: list.AreaPerPlantM2(r.problem.Plants[i].SpreadCM), SpreadCM: r.problem.Plants[i].SpreadCM, UnknownOf: s.unknown,
	}
	switch {
	case m.To == moves.GivenUp:
		out.Action = ActTakeOut
	case m.To == i && group >= 0:
		out.Action, out.After, out.LossThen = ActReplace, r.best[i].Outlook, r.best[i].Outlook.StrugglesMoved(r.in.Seasons)
	default:
		out.To, out.After, out.LossThen = r.place(m.To), r.outlook(i, m.To).Outlook, r.strugglesAt(i, m.To)
	}
	if group >= 0 && !r.in.looking {
		out.Second = r.second(plan.Second(i), i)
	}
	return out
}

func (r *relocation) second(c moves.Choice, i int) SecondBest {
	if math.IsInf(c.Extra, 1) {
		return SecondBest{}
	}
	out := SecondBest{Known: true, Extra: c.Extra, GiveUp: c.To == moves.GivenUp || c.To == i && r.plants[i].renewed}
	if !out.GiveUp {
		out.To = r.place(c.To)
	}
	return out
}

// strugglesAt is the chance that a plant struggles at a place at least once in the
// seasons looked at.
func (r *relocation) strugglesAt(i, place int) float64 {
	if !r.plants[i].judged {
		return math.NaN()
	}
	if place == i {
		return r.outlook(i, i).Struggles(r.in.Seasons)
	}
	return r.outlook(i, place).StrugglesMoved(r.in.Seasons)
}

// place names a place. The first ones are those of the plants, in their order.
func (r *relocation) place(q int) MovePlace {
	room := r.rooms[q]
	p := MovePlace{Spot: r.spots[q], Room: room.SpreadCM, Free: q >= len(r.plants)}
	switch {
	case q < len(r.plants):
		p.Stake = r.plants[q].row.Stake
	case room.Vacant >= 0:
		p.Stake = r.vacant[room.Vacant].Stake
	}
	return p
}
