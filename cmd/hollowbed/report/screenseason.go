package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"hollowbed/plants"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
)

// ScreenSeason is what was noted of the plants that stand, and what it means.
type ScreenSeason struct {
	Ready   bool           `json:"ready"`
	Words   string         `json:"words"`
	Today   string         `json:"today"`
	Signs   []ScreenSign   `json:"signs"`
	Vigour  []ScreenVigour `json:"vigour"`
	Plants  []ScreenNoted  `json:"plants"`
	Lessons []string       `json:"lessons"`
	Notes   []string       `json:"notes"`
}

// ScreenSign is a sign that can be seen.
type ScreenSign struct {
	Sign  string `json:"sign"`
	Label string `json:"label"`
	Look  string `json:"look"`
}

// ScreenVigour is a step of the scale of vigour.
type ScreenVigour struct {
	Value int    `json:"value"`
	Label string `json:"label"`
}

// ScreenNoted is a plant that stands, with its notes.
type ScreenNoted struct {
	Stake     string        `json:"stake"`
	ID        string        `json:"id"`
	Name      string        `json:"name"`
	Zone      string        `json:"zone"`
	XM        Number        `json:"x_m"`
	YM        Number        `json:"y_m"`
	RadiusM   Number        `json:"radius_m"`
	Planted   string        `json:"planted"`
	Notes     []ScreenNote  `json:"notes"`
	Struggles bool          `json:"struggles"`
	Causes    []ScreenCause `json:"causes"`
	Evidence  []string      `json:"evidence"` // for the likeliest cause
	LookFor   string        `json:"look_for"`
	Advice    string        `json:"advice"`
}

// ScreenNote is one entry.
type ScreenNote struct {
	Entry int    `json:"entry"`
	Date  string `json:"date"`
	Words string `json:"words"`
}

// ScreenCause is how likely a cause is.
type ScreenCause struct {
	Cause string `json:"cause"`
	Words string `json:"words"`
	Share Number `json:"share"`
}

// causesShown is how many causes of a plant are shown, and from which chance.
const (
	causesShown = 4
	leastCause  = 0.02
)

// NewScreenSeason words what was noted. in.Plan may be nil, and all but Plants
// and Signs empty if nothing stands.
func NewScreenSeason(g Garden, in MoveIn, rows []placement.Planted, rec *season.Record) ScreenSeason {
	d := Move{Garden: g, in: in}
	out := ScreenSeason{
		Ready: len(rows) > 0, Today: date(in.On), Signs: []ScreenSign{}, Vigour: screenVigour(), Plants: []ScreenNoted{}, Lessons: []string{}, Notes: plainAll(in.Notes),
	}
	for _, r := range in.Signs.Rows {
		out.Signs = append(out.Signs, ScreenSign{string(r.Sign), r.Label, r.Look})
	}
	kept := plants.Standing(rows, in.Plants)
	struggling := 0
	for i, r := range rows {
		p := ScreenNoted{
			Stake: r.Stake, ID: r.ID, Name: Plain(in.species(r.ID)), Zone: r.Zone, XM: Number(r.X), YM: Number(r.Y), RadiusM: Number(kept[i].SpreadCM / 200),
			Planted: r.Planted, Notes: []ScreenNote{}, Causes: []ScreenCause{}, Evidence: []string{},
		}
		for _, e := range rec.Current() {
			if season.SameStake(e.Stake, r.Stake) {
				n := NewNote(g, nil, []season.Entry{e}, nil, "").Entries[0]
				p.Notes = append(p.Notes, ScreenNote{e.Number, n.Date, Plain(n.says(g.Units))})
			}
		}
		if k := slices.IndexFunc(in.Diagnoses, func(c season.Diagnosis) bool { return season.SameStake(c.Case.Plant, r.Stake) }); k >= 0 {
			d.diagnosed(&p, in.Diagnoses[k])
		}
		if p.Struggles {
			struggling++
		}
		out.Plants = append(out.Plants, p)
	}
	out.Words = seasonWords(len(rows), len(in.Diagnoses), struggling)
	if in.Learned != nil {
		out.Lessons = bulleted(func(w io.Writer) { NewMove(g, in.withPlan()).lessons(w) })
	}
	return out
}

// withPlan is in with a plan, if only an empty one, so that a document can be
// made of it.
func (in MoveIn) withPlan() MoveIn {
	if in.Plan == nil {
		in.Plan = &plants.Relocation{}
	}
	return in
}

func seasonWords(standing, noted, struggling int) string {
	switch {
	case standing == 0:
		return "Nothing is known to stand here yet. Keep the places and save, plant, and then write down how each plant does."
	case noted == 0:
		return fmt.Sprintf("%s. Nothing is noted yet: pick a plant and say how it does.", plural(standing, "plant stands here", "plants stand here"))
	case struggling == 0:
		return fmt.Sprintf("%s, notes on %d: none struggles.", plural(standing, "plant stands here", "plants stand here"), noted)
	}
	return fmt.Sprintf("%s, notes on %d: %s.", plural(standing, "plant stands here", "plants stand here"), noted, plural(struggling, "struggles", "struggle"))
}

// diagnosed words why a plant does as it does.
func (d *Move) diagnosed(p *ScreenNoted, c season.Diagnosis) {
	p.Struggles = c.Struggles()
	for _, cause := range byChance(c) {
		if v := c.Of(cause); v >= leastCause && len(p.Causes) < causesShown {
			p.Causes = append(p.Causes, ScreenCause{string(cause), fmt.Sprintf("%.0f %%", 100*v), Number(v)})
		}
	}
	for _, e := range c.Evidence {
		p.Evidence = append(p.Evidence, Plain(d.evidence(c.Case, e)))
	}
	if c.Case.Ordinary {
		p.Evidence = append(p.Evidence, "this season's weather is not known: judged by an ordinary year")
	}
	if row, ok := d.in.lookFor(c); ok {
		p.LookFor = ended(row.Look)
	}
	if c.Struggles() && c.Vigour != 0 && !d.moves(c.Case.Plant) {
		p.Advice = strings.TrimSpace(Plain(d.meanwhile(c)))
	}
}

// moves says whether the plan moves a plant.
func (d *Move) moves(stake string) bool {
	return d.in.Plan != nil && slices.ContainsFunc(d.in.Plan.Moves, func(m plants.PlantMove) bool { return season.SameStake(m.Stake, stake) })
}

// screenVigour names the steps of the scale of vigour.
func screenVigour() []ScreenVigour {
	return []ScreenVigour{{5, "excellent"}, {4, "good"}, {3, "average"}, {2, "below average"}, {1, "poor"}, {0, "dead or nearly"}}
}

// bulleted takes what is printed as a list, an item a text.
func bulleted(print func(io.Writer)) []string {
	var b strings.Builder
	print(&b)
	out := []string{}
	for line := range strings.Lines(b.String()) {
		switch item, first := strings.CutPrefix(line, "  - "); {
		case first:
			out = append(out, strings.TrimSpace(item))
		case strings.HasPrefix(line, "    ") && len(out) > 0:
			out[len(out)-1] += " " + strings.TrimSpace(line)
		}
	}
	return out
}

// ScreenMoves is a relocation plan.
type ScreenMoves struct {
	Ready    bool         `json:"ready"`
	Words    string       `json:"words"`
	On       string       `json:"on"`
	Moves    []ScreenMove `json:"moves"`
	Stays    string       `json:"stays"`
	Buy      []string     `json:"buy"`
	Look     []string     `json:"look"` // stakes to look at first
	Notes    []string     `json:"notes"`
	Cautions []string     `json:"cautions"`
	Revision string       `json:"revision"`
}

// ScreenMove is what is done with one plant. Those of one group are done
// together.
type ScreenMove struct {
	Group   int       `json:"group"`
	Stake   string    `json:"stake"`
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Action  string    `json:"action"`
	Zone    string    `json:"zone"`
	Do      string    `json:"do"`
	From    ScreenAt  `json:"from"`
	To      *ScreenAt `json:"to"`
	Before  string    `json:"before"`
	After   string    `json:"after"`
	Risk    string    `json:"risk"`
	Cause   string    `json:"cause"`
	LookFor string    `json:"look_for"`
	When    string    `json:"when"`
	How     string    `json:"how"`
	Second  string    `json:"second"`
}

// ScreenAt is a place of the plan, for drawing.
type ScreenAt struct {
	XM    Number `json:"x_m"`
	YM    Number `json:"y_m"`
	Words string `json:"words"`
}

// NewScreenMoves words a relocation plan.
func NewScreenMoves(g Garden, in MoveIn) ScreenMoves {
	d := NewMove(g, in)
	out := ScreenMoves{
		Ready: true, Words: Plain(d.advice()), On: d.On, Moves: []ScreenMove{}, Look: orEmpty(in.Plan.Look),
		Buy: bulleted(d.buy), Notes: plainAll(d.Notes), Cautions: plainAll(d.Cautions),
	}
	for _, m := range in.Plan.Moves {
		row := ScreenMove{
			Group: m.Group + 1, Stake: m.Stake, ID: m.Plant.ID, Name: Plain(m.Plant.VernacularName), Action: string(m.Action), Zone: m.From.Zone, Do: Plain(d.do(m)),
			From: ScreenAt{Number(m.From.X), Number(m.From.Y), "from the " + m.From.Zone}, Before: yearly(m.Before.YearlyRisk), Risk: d.riskWords(m),
			Cause: Plain(d.whyMoved(m)), LookFor: d.toBeSure(m),
			When: fmt.Sprintf("%s to %s, %s", date(m.When.From), date(m.When.To), m.When.Reason), Second: Plain(d.second(m.Stake, m.Second)),
		}
		if m.Action == plants.ActMove || m.Action == plants.ActSwap {
			row.To = &ScreenAt{Number(m.To.X), Number(m.To.Y), Plain(d.to(m.To))}
			row.How = d.how(m.How)
		}
		if m.Action != plants.ActTakeOut {
			row.After = yearly(m.After.YearlyRisk)
		}
		out.Moves = append(out.Moves, row)
	}
	out.Stays = plural(len(d.Stays), "plant stays where it is", "plants stay where they are") + "."
	return out
}

func yearly(v float64) string { return "risk " + risk(v, false) + " a year" }

// NothingStands is the plan of a garden in which nothing is known to stand.
func NothingStands(u zones.Units, on string) ScreenMoves {
	return ScreenMoves{Words: seasonWords(0, 0, 0), On: on, Moves: []ScreenMove{}, Buy: []string{}, Look: []string{}, Notes: []string{}, Cautions: []string{}}
}
