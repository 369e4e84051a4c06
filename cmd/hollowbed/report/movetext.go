package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/season"
)

// MoveStep is what is done with some plants, for a page on which each is
// accepted or refused: its first block says what.
type MoveStep struct {
	Stakes []string   `json:"stakes"`
	Blocks doc.Blocks `json:"blocks"`
}

// word makes the blocks: what to do first, then what struggles and stays, then
// what was learned.
func (d *Move) word() {
	advice := d.advice()
	first, _ := doc.First(advice)
	answer := []doc.Block{doc.Fold{Short: []doc.Block{doc.Text{Words: first}}, Full: []doc.Block{doc.Text{Words: advice}}}}
	if _, names := d.in.Exposure.Lot.FixedPoints(); len(d.Moves) > 0 {
		answer = append(answer, doc.Text{Words: fixedPoints(names)})
	}
	d.Before = answered(d.Garden, "Moves", &d.Record, false, answer...)
	for _, batch := range d.batches() {
		d.Steps = append(d.Steps, d.batch(batch)...)
	}
	refills, after := d.losses()
	d.Steps = append(d.Steps, refills...)
	d.After = slices.Concat(after, d.into(), d.buy(), d.waiting(), d.worthALook(), []doc.Block{doc.Rest(d.costsNote()...)}, counted("Learned from the notes", d.lessons()),
		counted("Notes", d.Notes), apart("Care", d.Cautions, true))
	for _, f := range d.Written {
		d.After = append(d.After, doc.Text{Words: "Wrote " + f + "."})
	}
}

func (d Move) advice() string {
	moved, room, replaced := 0, 0, 0
	for _, m := range d.in.Plan.Moves {
		switch {
		case m.Action == plants.ActReplace || m.Action == plants.ActTakeOut:
			replaced++
		case makesRoom(m):
			room++
		default:
			moved++
		}
	}
	stay := plural(len(d.Stays), "plant stays", "plants stay")
	if moved+room+replaced == 0 {
		return fmt.Sprintf("Move nothing: %s. No move is worth its disturbance and what is not known about it.", stay)
	}
	var parts []string
	if moved > 0 {
		parts = append(parts, plural(moved, "plant would do better elsewhere", "plants would do better elsewhere"))
	}
	if room > 0 {
		parts = append(parts, plural(room, "makes room", "make room"))
	}
	if replaced > 0 {
		parts = append(parts, plural(replaced, "is better replaced", "are better replaced"))
	}
	return fmt.Sprintf("%s; %s. Looking %s ahead, this saves %.2f in the plant table's currency, with work, new plants and what it leaves in doubt taken off.",
		strings.Join(parts, ", "), stay, plural(d.Seasons, "season", "seasons"), float64(d.Nothing-d.Objective)+d.in.Plan.Margin)
}

// batches puts together what is done together: the plants of a group, and plants
// of one kind that nobody noted anything of and that are replaced alike.
func (d Move) batches() [][]plants.PlantMove {
	var out [][]plants.PlantMove
	for _, m := range d.in.Plan.Moves {
		if k := len(out) - 1; k >= 0 && (out[k][0].Group == m.Group || d.alike(out[k][0], m)) {
			out[k] = append(out[k], m)
			continue
		}
		out = append(out, []plants.PlantMove{m})
	}
	return out
}

func (d Move) alike(a, b plants.PlantMove) bool {
	for _, m := range []plants.PlantMove{a, b} {
		if m.Action != plants.ActReplace || m.Cause.Case.Plant != "" {
			return false
		}
	}
	return a.Plant.ID == b.Plant.ID && a.From.Zone == b.From.Zone && d.replacement(a.Stake) == d.replacement(b.Stake) &&
		risk(a.Before.YearlyRisk, false) == risk(b.Before.YearlyRisk, false)
}

// part is a line of what is said of a move.
func part(lead, words string) doc.Text { return doc.Text{In: 3, Lead: lead, Words: words, Hang: 5} }

// batch words what is done together.
func (d Move) batch(all []plants.PlantMove) []MoveStep {
	first := all[0]
	when := moveWhen{date(first.When.From), date(first.When.To), string(first.When.Reason)}
	if d.together(all) {
		var stakes, numbers []string
		for _, m := range all {
			stakes, numbers = append(stakes, m.Stake), append(numbers, strconv.Itoa(m.Group+1))
		}
		return []MoveStep{{stakes, []doc.Block{
			doc.Line(""),
			doc.Text{Hang: 3, Words: fmt.Sprintf("%s. %s (%s), %s: replace them by %s.", strings.Join(numbers, ", "), strings.Join(stakes, ", "), first.Plant.VernacularName, first.From.Zone, d.replacement(first.Stake))},
			doc.Rest(part("Risk", d.riskWords(first))),
			part("Why", "nothing was seen of them; by what they bear and what the place does. Look at them first."),
			part("When", fmt.Sprintf("%s to %s, %s.", when.From, when.To, when.Reason)),
		}}}
	}
	var steps []MoveStep
	for _, m := range all {
		steps = append(steps, MoveStep{[]string{m.Stake}, d.move(m)})
	}
	steps[0].Blocks = append([]doc.Block{doc.Line("")}, steps[0].Blocks...)
	last := &steps[len(steps)-1].Blocks
	for i, m := range all {
		own := moveWhen{date(m.When.From), date(m.When.To), string(m.When.Reason)}
		if i == 0 || own != when {
			*last = append(*last, part("When", fmt.Sprintf("%s%s to %s, %s.", ofStake(own != when, m.Stake), own.From, own.To, own.Reason)))
		}
	}
	var said string
	for i, m := range all {
		if m.Action != plants.ActMove && m.Action != plants.ActSwap {
			continue
		}
		if how := d.how(m.How); how != said {
			*last = append(*last, doc.Rest(part("How", ofStake(i > 0 && said != "", m.Stake)+how)))
			said = how
		}
	}
	if len(all) > 1 {
		*last = append(*last, doc.Text{In: 3, Words: "Do these together: one takes the other's place.", Hang: 3})
	}
	return steps
}

// together says whether a batch is of plants that are replaced alike.
func (d Move) together(all []plants.PlantMove) bool { return len(all) > 1 && d.alike(all[0], all[1]) }

func ofStake(is bool, stake string) string {
	if is {
		return stake + ": "
	}
	return ""
}

// move words one plant that moves.
func (d Move) move(m plants.PlantMove) []doc.Block {
	why := []doc.Block{part("Risk", d.riskWords(m)), part("Why", d.whyMoved(m))}
	if m.Answers != nil {
		why = append(why, part("Costs", d.costs(m.Answers)))
	}
	out := []doc.Block{doc.Text{Hang: 3, Words: fmt.Sprintf("%d. %s (%s), %s: %s.", m.Group+1, m.Stake, m.Plant.VernacularName, m.From.Zone, d.do(m))}, doc.Rest(why...)}
	if look := d.toBeSure(m); look != "" {
		out = append(out, part("To be sure", look))
	}
	if s := d.second(m.Stake, m.Second); s != "" {
		out = append(out, doc.Rest(part("Else", s+".")))
	}
	return out
}

// do says what is done with a plant.
func (d Move) do(m plants.PlantMove) string {
	switch m.Action {
	case plants.ActMove, plants.ActSwap:
		return "to " + d.to(m.To)
	case plants.ActReplace:
		return "replace it by " + d.replacement(m.Stake)
	case plants.ActTakeOut:
		return "take it out: its place goes to another"
	}
	return "leave it"
}

// riskWords says how a plant does where it stands and where it would.
func (d Move) riskWords(m plants.PlantMove) string {
	after := ""
	if m.Action != plants.ActTakeOut {
		after = ", then " + risk(m.After.YearlyRisk, false)
	}
	harm := ""
	if m.Action == plants.ActMove || m.Action == plants.ActSwap {
		harm = fmt.Sprintf("; the move itself sets it back at %s", risk(m.Disturb, false))
	}
	then := ""
	if !math.IsNaN(m.LossThen) {
		then = ", then " + risk(m.LossThen, false)
	}
	return fmt.Sprintf("%s a year here%s. To struggle in %s: %s here%s%s.", risk(m.Before.YearlyRisk, false), after,
		plural(d.Seasons, "season", "seasons"), risk(m.LossNow, false), then, harm)
}

func (d Move) how(h plants.Lifting) string {
	u := d.Garden.Units
	return fmt.Sprintf("lift it with a ball %s wide and %s deep (about %s), set it as deep as it stood, water in with %s; in dry weather again every %d days for %d.",
		u.Depth(10*h.BallWidthCM), u.Depth(10*h.BallDepthCM), u.Weight(h.BallKG), u.Water(h.WaterL/1000), h.AgainEveryD, h.ForD)
}

// ended ends words with a full stop if they end with nothing.
func ended(s string) string {
	if strings.HasSuffix(s, "?") || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

func (d Move) replacement(stake string) string {
	for _, n := range d.New {
		if n.Instead == stake {
			return n.VernacularName
		}
	}
	return "another"
}

// worthALook names plants without notes that are not in the plan.
func (d Move) worthALook() []doc.Block {
	var stakes []string
	for _, stake := range d.Look {
		if !slices.ContainsFunc(d.Moves, func(m MoveRow) bool { return m.Plant == stake }) {
			stakes = append(stakes, stake)
		}
	}
	if len(stakes) == 0 {
		return nil
	}
	return []doc.Block{doc.Rest(doc.Line("")), doc.Text{Lead: "Worth a look", Hang: 2, Words: some(stakes) + ". Nobody noted anything of them where they stand, but by what was learned they may do badly there: write down how they do (hollowbed note) before anything is moved."}}
}

// mostStruggling is how many lines of each kind are printed of plants that
// struggle and stay.
const mostStruggling = 12

// alike are stakes of which the same is to be said.
type alike struct {
	stakes []string
	words  string
}

// gather adds a stake to those of which the same is said.
func gather(lines []alike, stake, words string) []alike {
	k := slices.IndexFunc(lines, func(l alike) bool { return l.words == words })
	if k < 0 {
		return append(lines, alike{[]string{stake}, words})
	}
	lines[k].stakes = append(lines[k].stakes, stake)
	return lines
}

func items(lines []alike) (out []string) {
	for _, l := range lines {
		out = append(out, some(l.stakes)+" "+l.words)
	}
	return out
}

// waiting names what struggles and stays: those of one kind of which the same
// is to be said in one line.
func (d Move) waiting() []doc.Block {
	moves := map[string]bool{}
	for _, m := range d.Moves {
		moves[strings.ToUpper(m.Plant)] = true
	}
	var lists [3][]alike // those that stay, those that are too early to tell, and accidents
	for _, c := range d.in.Diagnoses {
		if moves[strings.ToUpper(c.Case.Plant)] || !c.Struggles() || c.Vigour == 0 {
			continue
		}
		list := &lists[0]
		switch {
		case c.Accident != "":
			list = &lists[2]
		case c.Wait:
			list = &lists[1]
		}
		costs := ""
		if a := d.answered(c.Case.Plant); a != nil {
			costs = d.costs(a) + " Why: "
		}
		words := fmt.Sprintf("(%s): %s%s%s", d.in.species(c.Case.Species), costs, d.why(c), strings.TrimPrefix(d.meanwhile(c), nothingBetter))
		*list = gather(*list, c.Case.Plant, words)
	}
	var out []doc.Block
	for i, of := range lists {
		if len(of) == 0 {
			continue
		}
		title := [...]string{"Struggling, and left where they are", "Struggling, and too early to tell", "Struck by something that no other place would mend"}[i]
		list, more := doc.List{Title: title}, 0
		full := []doc.Block{doc.Line("")}
		if i == 0 {
			list.Title = ""
			full = append(full, doc.Text{Words: title + ": no place here is better by more than moving costs and leaves in doubt."})
		}
		shown := min(mostStruggling, len(of))
		list.Items = items(of[:shown])
		for _, l := range of[shown:] {
			more += len(l.stakes)
		}
		full = append(full, list)
		if more > 0 {
			full = append(full, doc.Text{In: 2, Words: fmt.Sprintf("... and %s: --json names all", plural(more, "more plant", "more plants")), Hang: 4})
		}
		var stakes []string
		for _, l := range of {
			stakes = append(stakes, l.stakes...)
		}
		out = append(out, doc.Fold{Short: []doc.Block{doc.Text{Words: title + ": " + some(stakes) + ".", Hang: 2}}, Full: full})
	}
	return out
}

// some names some stakes, and says how many more there are.
func some(stakes []string) string {
	if n := len(stakes) - mostNamed; n > 1 {
		return fmt.Sprintf("%s and %d more", strings.Join(stakes[:mostNamed], ", "), n)
	}
	return strings.Join(stakes, ", ")
}

// mostNamed is how many stakes are named in one line.
const mostNamed = 8

// nothingBetter is said of a plant that struggles and stays.
const nothingBetter = " No place here is better by more than the move costs and leaves in doubt."

// meanwhile is what to do with a plant that struggles and stays.
func (d Move) meanwhile(c season.Diagnosis) string {
	noted := func(n season.Note) bool { return len(n.Seen)+len(n.Absent) > 0 }
	switch {
	case c.Accident != "":
		return " " + accidentHelp(c.Accident) + help(c.Also)
	case c.Rests:
		return fmt.Sprintf(" Do not water it for its looks while it is at rest or the ground is frozen. Look again on %s, when it grows.", date(c.LookOn))
	case c.Wait && !slices.ContainsFunc(c.Case.Notes, noted):
		if row, ok := d.in.lookFor(c); ok {
			return ended(" No sign was written down, so look now: "+row.Look) + " Then note what you see."
		}
		fallthrough
	case c.Wait:
		again := "on " + date(c.LookOn)
		if !c.LookOn.After(d.in.On) {
			again = "now"
		}
		s := " Look again " + again
		if row, ok := d.in.lookFor(c); ok {
			s += ": " + row.Look
		}
		return ended(s)
	case c.Top == season.Other:
		return " Moving would not help: see to the cause."
	}
	if a := d.answered(c.Case.Plant); a != nil && c.Top == season.TooDry && a.Best != plants.AnswerWater {
		return nothingBetter + " Mulch it." + help(c.Also)
	}
	return nothingBetter + help(c.Top) + help(c.Also)
}

// help is what can be done for a plant where it stands.
func help(c season.Cause) string {
	switch c {
	case season.TooDry:
		return " Water it in dry spells (hollowbed care), and mulch."
	case season.TooWet, season.TooDeep:
		return " See whether the bed drains as it should (hollowbed basin)."
	case season.TooShaded:
		return " Cut back what shades it, if you may."
	case season.TooExposed:
		return " Shelter it in its first years."
	}
	return ""
}
