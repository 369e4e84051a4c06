package report

import (
	"math"
	"slices"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
)

// MoveIn is what the documents of a relocation plan rest on.
type MoveIn struct {
	Exposure    *zones.Exposure
	Plants      *catalogue.Catalogue
	Plan        *plants.Relocation
	Diagnoses   []season.Diagnosis // of every plant with notes
	Learned     *season.Learned    // nil if there were no notes
	Limits      []season.LearnedLimit
	Signs       *season.Table
	Own         string   // name of this garden in Learned
	Gardens     []string // others that it learned from
	On          time.Time
	Notes       []string
	Written     []string             // files
	Done        []int                // groups that were carried out
	Into        string               // folder of another garden; "" if none was looked at
	IntoTable   *catalogue.Catalogue // its plant table
	IntoPlanted bool                 // it has a planted.csv
	Guests      []plants.Guest
}

// Weigh replays the seasons of what is planted by rows, in this garden alone,
// and learns from the notes of rec.
func (in *MoveIn) Weigh(garden string, j *plants.Judge, rows []placement.Planted, rec *season.Notes) (plants.MoveInput, error) {
	replayed, err := plants.Replay(garden, in.Exposure, nil, in.Plants, rows, rec)
	if err != nil {
		return plants.MoveInput{}, err
	}
	in.Own, in.Notes = replayed.Garden, replayed.Notes
	input := replayed.MoveInput(j, in.Signs, in.Plants, rows, nil, in.On)
	in.Take(input)
	return input, nil
}

// Take takes over what the notes taught and what they say of each plant.
func (in *MoveIn) Take(from plants.MoveInput) {
	in.Learned, in.Diagnoses, in.Limits = from.Learned, from.Diagnoses, nil
	if in.Learned != nil {
		in.Limits = in.Learned.Limits(from.Catalogue)
	}
}

// Move is the document of the command move.
type Move struct {
	Garden    Garden        `json:"garden"`
	Record    Record        `json:"record"`
	On        string        `json:"on" schema:"day"`
	Seasons   int           `json:"seasons" schema:"1.."`
	Moves     []MoveRow     `json:"moves"`
	New       []moveNew     `json:"new"`
	Died      []moveDied    `json:"died" about:"plants that died, why, and what to plant in their places now"`
	Stays     []moveStay    `json:"stays"`
	Look      []string      `json:"look" schema:"each some" about:"stakes without notes that would be moved for their own good: look at them first"` // stakes without notes that are worth a look
	Objective Number        `json:"objective" about:"what struggling plants are expected to cost over the seasons looked at, by the plan, with work, its margin and new plants, in the currency of the plant table"`
	Nothing   Number        `json:"nothing_done"`
	HourWorth Number        `json:"hour_worth" schema:"known; 0.." about:"what an hour of work counts"`
	Answers   []moveAnswers `json:"answers" about:"plants that struggle, and what each answer would cost"`
	Causes    []moveCause   `json:"causes"`
	Learned   []moveLearned `json:"learned"`
	This      *moveGarden   `json:"this_garden"`
	Into      []moveInto    `json:"into,omitempty" about:"with --into: struggling plants that would do better in that garden"`
	Gardens   []string      `json:"learned_from" schema:"each some"`
	Notes     []string      `json:"notes" schema:"each some"`
	Cautions  []string      `json:"cautions" schema:"each some"`
	Written   []string      `json:"written" schema:"each some"`
	Before    doc.Blocks    `json:"-"`
	Steps     []MoveStep    `json:"-"`
	After     doc.Blocks    `json:"-"`
	in        MoveIn        // for words
}

// MoveRow is one plant that moves, with the group that it moves in: a swap is
// done whole or not at all.
type MoveRow struct {
	Group          int        `json:"group" schema:"1.."` // from 1
	Plant          string     `json:"plant" schema:"some"`
	ID             string     `json:"id"`
	VernacularName string     `json:"vernacularName"`
	From           movePlace  `json:"from"`
	To             *movePlace `json:"to"` // null if it is replaced or taken out
	Action         string     `json:"action" schema:"one of move|swap|replace|take out"`
	Cause          string     `json:"cause" schema:"one of |fine|too wet|too deep|too dry|too shaded|too exposed|slow to establish|other"` // "" if nothing was seen of it
	CauseChance    Number     `json:"cause_chance" schema:"0..1"`
	RiskBefore     Number     `json:"yearly_risk_before" schema:"0..1"`
	RiskAfter      Number     `json:"yearly_risk_after" schema:"0..1"`
	LossBefore     Number     `json:"loss_before" schema:"0..1"` // chance to struggle at least once in the seasons looked at
	LossAfter      Number     `json:"loss_after" schema:"0..1"`
	Disturb        Number     `json:"disturbance" schema:"0..1"`
	When           moveWhen   `json:"when"`
	How            *moveHow   `json:"how"` // null if it is not lifted whole
	Second         string     `json:"second"`
}

// movePlace is a place of the bed.
type movePlace struct {
	XM       Number `json:"x_m"`
	YM       Number `json:"y_m"`
	HeightMM Number `json:"height_mm"`
	Zone     string `json:"zone" schema:"one of bottom|slope|rim"`
	SunH     Number `json:"sun_h" schema:"0..24"`
	Of       string `json:"of" about:"stake that stands, or stood, there; empty for ground between plants"` // stake that stands, or stood, there; "" for ground between plants
	FromAM   Number `json:"from_a_m" schema:"0.."`
	FromBM   Number `json:"from_b_m" schema:"0.."`
}

// moveWhen is when to move.
type moveWhen struct {
	From   string `json:"from" schema:"day"`
	To     string `json:"to" schema:"day"`
	Reason string `json:"reason" schema:"some"`
}

// moveHow is how to lift and water in.
type moveHow struct {
	BallWidthCM Number `json:"ball_width_cm"`
	BallDepthCM Number `json:"ball_depth_cm"`
	BallKG      Number `json:"ball_kg"`
	WaterL      Number `json:"water_l"`
	AgainEveryD int    `json:"again_every_d" schema:"1.."`
	ForD        int    `json:"for_d" schema:"1.."`
}

// moveNew is a plant to buy.
type moveNew struct {
	Stake          string    `json:"stake" schema:"some"`
	ID             string    `json:"id" schema:"some"`
	VernacularName string    `json:"vernacularName"`
	Place          movePlace `json:"place"`
	Instead        string    `json:"instead_of"` // stake of the plant that it replaces; "" for a free place
	RiskAfter      Number    `json:"yearly_risk" schema:"0..1"`
	KeptM2         Number    `json:"kept_m2"`
	Divided        string    `json:"divided_from" about:"stake of the plant of which it is a piece; empty if it is bought"`
	Price          Number    `json:"price" about:"0 for a piece, null if the plant table has none"`
}

// moveStay is a plant that stays where it is.
type moveStay struct {
	Plant          string `json:"plant" schema:"some"`
	ID             string `json:"id" schema:"some"`
	VernacularName string `json:"vernacularName"`
	Zone           string `json:"zone" schema:"one of bottom|slope|rim"`
	YearlyRisk     Number `json:"yearly_risk" schema:"0..1"`
	Judged         bool   `json:"judged"` // false if its limits are not known
}

// moveCause is why a plant does as it does, by its notes.
type moveCause struct {
	Plant          string         `json:"plant" schema:"some"`
	ID             string         `json:"id" schema:"some"`
	VernacularName string         `json:"vernacularName"`
	Vigour         *int           `json:"vigour" schema:"0..5"`
	Chances        []causeChance  `json:"chances" schema:"len 8..8"` // likeliest first
	Evidence       []moveEvidence `json:"evidence" schema:"len ..3"`
	LookFor        string         `json:"look_for"` // what would settle it
	Accident       string         `json:"accident" about:"what happened to it, if that is the likeliest; no move mends it"`
	Also           string         `json:"also" schema:"one of |too wet|too deep|too dry|too shaded|too exposed|other" about:"a second trouble, if the signs are of two"`
	DoNow          string         `json:"do_now" about:"what to do after an accident"`
	Wait           bool           `json:"wait"`
	LookOn         string         `json:"look_on" schema:"day or none"`
	Ordinary       bool           `json:"ordinary_year"` // the season's weather is not known
	AirPoorH       Number         `json:"air_poor_longest_h" schema:"known; 0.." about:"longest spell wet or with under 10 % of air by volume in the mix; 0 where the weather is not known"`
}

// causeChance is the chance of one cause.
type causeChance struct {
	Cause  string `json:"cause" schema:"one of fine|too wet|too deep|too dry|too shaded|too exposed|slow to establish|other"`
	Chance Number `json:"chance" schema:"0..1"`
}

// moveEvidence is one piece of evidence for the likeliest cause.
type moveEvidence struct {
	Kind     string `json:"kind" schema:"one of sign seen|sign looked for and not there|vigour|what it met|months since planting"`
	Words    string `json:"words" schema:"some"`
	LogRatio Number `json:"log_ratio"`
}

// moveLearned is a limit that notes have moved.
type moveLearned struct {
	ID        string `json:"id" schema:"some"`
	Limit     string `json:"limit" schema:"one of wet_h|pond_mm|dry_d|lowest_c"` // column of the plant table
	Catalogue Number `json:"catalogue"`
	Learned   Number `json:"learned"`
	Low       Number `json:"low"`
	High      Number `json:"high"`
	Plants    int    `json:"plants" schema:"1.."`
	Gardens   int    `json:"gardens" schema:"1.."`
}

// moveGarden is how this garden differs from what was computed of it: multiples
// of the severity of wet and dry spells, with 90 % intervals.
type moveGarden struct {
	Wet     Number `json:"wet" schema:">0"`
	WetLow  Number `json:"wet_low" schema:">0"`
	WetHigh Number `json:"wet_high" schema:">0"`
	Dry     Number `json:"dry" schema:">0"`
	DryLow  Number `json:"dry_low" schema:">0"`
	DryHigh Number `json:"dry_high" schema:">0"`
}

// NewMove makes the document of a relocation plan.
func NewMove(g Garden, in MoveIn) Move {
	p := in.Plan
	out := Move{
		Garden: g, Record: newRecord(in.Exposure.Record), On: date(in.On), Seasons: p.Seasons, Moves: []MoveRow{}, New: []moveNew{}, Died: []moveDied{}, Stays: []moveStay{}, Look: orEmpty(p.Look),
		Objective: Number(p.Objective), Nothing: Number(p.Nothing), HourWorth: Number(p.HourWorth), Answers: []moveAnswers{}, Causes: []moveCause{}, Learned: []moveLearned{},
		Gardens: orEmpty(in.Gardens), Notes: append(orEmpty(in.Notes), p.Notes...), Cautions: moveCautions(), Written: orEmpty(in.Written), in: in,
	}
	out.Notes = append(append(out.Notes, countsOnWater(in.Exposure.Lot.Garden)...), monotony(p.New)...)
	for _, m := range p.Moves {
		out.Moves = append(out.Moves, out.row(m))
	}
	for _, n := range p.New {
		out.New = append(out.New, moveNew{
			n.Stake, n.Plant.ID, n.Plant.VernacularName, out.place(n.Place), n.Instead, Number(n.Outlook.YearlyRisk), Number(n.BenefitM2), n.Mother, Number(priceOf(n)),
		})
	}
	for _, l := range p.Lost {
		out.Died = append(out.Died, out.died(l))
	}
	out.Cautions = append(out.Cautions, newHarms(p.New)...)
	for _, m := range p.Stays {
		out.Stays = append(out.Stays, moveStay{m.Stake, m.Plant.ID, m.Plant.VernacularName, m.From.Zone, Number(m.Before.YearlyRisk), m.Judged})
	}
	for _, m := range slices.Concat(p.Moves, p.Stays) {
		if m.Answers != nil {
			out.Answers = append(out.Answers, newMoveAnswers(m))
		}
	}
	for _, x := range in.Guests {
		out.Into = append(out.Into, moveInto{x.From.Stake, in.Into, x.To.Stake, x.To.Zone, Number(x.To.X), Number(x.To.Y), Number(x.Before.YearlyRisk), Number(x.After.YearlyRisk), Number(x.Cost), Number(x.Else)})
	}
	for _, d := range in.Diagnoses {
		out.Causes = append(out.Causes, out.cause(d))
	}
	for _, l := range in.Limits {
		out.Learned = append(out.Learned, moveLearned{l.ID, l.Limit.Column(), Number(l.Catalogue), Number(l.Learned), Number(l.Low), Number(l.High), l.Plants, l.Gardens})
	}
	if in.Learned != nil {
		if f, ok := in.Learned.Garden(in.Own); ok {
			out.This = &moveGarden{Number(f.Wet), Number(f.WetLow), Number(f.WetHigh), Number(f.Dry), Number(f.DryLow), Number(f.DryHigh)}
		}
	}
	out.word()
	return out
}

func (d *Move) row(m plants.PlantMove) MoveRow {
	row := MoveRow{
		Group: m.Group + 1, Plant: m.Stake, ID: m.Plant.ID, VernacularName: m.Plant.VernacularName, From: d.place(m.From), Action: string(m.Action),
		CauseChance: Number(math.NaN()), RiskBefore: Number(m.Before.YearlyRisk), RiskAfter: Number(math.NaN()), LossBefore: Number(m.LossNow), LossAfter: Number(m.LossThen),
		Disturb: Number(m.Disturb), When: moveWhen{date(m.When.From), date(m.When.To), string(m.When.Reason)}, Second: d.second(m.Stake, m.Second),
	}
	if m.Cause.Case.Plant != "" {
		row.Cause, row.CauseChance = string(m.Cause.Top), Number(m.Cause.TopP)
	}
	switch m.Action {
	case plants.ActMove, plants.ActSwap:
		to := d.place(m.To)
		row.To, row.RiskAfter = &to, Number(m.After.YearlyRisk)
		row.How = &moveHow{Number(m.How.BallWidthCM), Number(m.How.BallDepthCM), Number(m.How.BallKG), Number(m.How.WaterL), m.How.AgainEveryD, m.How.ForD}
	case plants.ActReplace:
		row.RiskAfter = Number(m.After.YearlyRisk)
	}
	return row
}

func (d *Move) place(p plants.MovePlace) movePlace {
	fixed, _ := d.in.Exposure.Lot.FixedPoints()
	return movePlace{
		Number(p.X), Number(p.Y), Number(p.HeightMM), p.Zone, Number(p.SunH), p.Stake,
		Number(math.Hypot(p.X-fixed[0][0], p.Y-fixed[0][1])), Number(math.Hypot(p.X-fixed[1][0], p.Y-fixed[1][1])),
	}
}

func (d *Move) cause(c season.Diagnosis) moveCause {
	plant := d.in.species(c.Case.Species)
	out := moveCause{
		Plant: c.Case.Plant, ID: c.Case.Species, VernacularName: plant, Vigour: vigour(c.Vigour), Chances: []causeChance{},
		Evidence: []moveEvidence{}, Also: string(c.Also), Wait: c.Wait && c.Struggles(), Ordinary: c.Case.Ordinary, AirPoorH: Number(c.Case.AirPoorH),
	}
	for _, cause := range byChance(c) {
		out.Chances = append(out.Chances, causeChance{string(cause), Number(c.Of(cause))})
	}
	for _, e := range c.Evidence {
		out.Evidence = append(out.Evidence, moveEvidence{string(e.Kind), d.evidence(c.Case, e), Number(e.LogRatio)})
	}
	if row, ok := d.in.lookFor(c); ok {
		out.LookFor = row.Look
	}
	if out.Wait {
		out.LookOn = date(c.LookOn)
	}
	if c.Accident != "" {
		out.Accident, out.DoNow = accidentWords(c.Accident), accidentHelp(c.Accident)
	}
	return out
}
