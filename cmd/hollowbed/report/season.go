package report

import (
	"fmt"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
)

// Season is what was noted of the plants that stand, and what it means, for a
// page on which more can be noted.
type Season struct {
	Ready  bool          `json:"ready"`
	Words  string        `json:"words"`
	Today  string        `json:"today"`
	Signs  []seasonSign  `json:"signs"`
	Vigour []seasonStep  `json:"vigour"`
	Plants []seasonPlant `json:"plants"`
	Drifts []seasonDrift `json:"drifts"`
	// What was seen of the bed itself, and how to say it of a pond.
	Bed      []seasonNote `json:"bed"`
	PondLike string       `json:"pond_like"`
}

// seasonSign is a sign that can be seen.
type seasonSign struct {
	Sign  string `json:"sign"`
	Label string `json:"label"`
	Look  string `json:"look"`
}

// seasonStep is a step of the scale of vigour.
type seasonStep struct {
	Value int    `json:"value"`
	Label string `json:"label"`
}

// seasonPlant is a plant that stands, with its notes.
type seasonPlant struct {
	Stake     string       `json:"stake"`
	Name      string       `json:"name"`
	Notes     []seasonNote `json:"notes"`
	Struggles bool         `json:"struggles"`
	Chances   string       `json:"chances"` // of the likeliest causes; "" without notes
	Causes    doc.Blocks   `json:"causes"`
}

// seasonDrift is a drift whose plants grow.
type seasonDrift struct {
	Letter string `json:"letter"`
	Words  string `json:"words"`
	Count  int    `json:"count"`
}

// seasonNote is one entry.
type seasonNote struct {
	Entry int    `json:"entry"`
	Date  string `json:"date"`
	Words string `json:"words"`
	Photo string `json:"photo"` // file in the folder photos; "" for none
}

// VigourSteps are the steps of vigour in words.
func VigourSteps() []seasonStep {
	return []seasonStep{{5, "excellent"}, {4, "good"}, {3, "average"}, {2, "below average"}, {1, "poor"}, {0, "dead or nearly"}}
}

// NewSeason words what was noted. in.Plan may be nil, and all but Plants and
// Signs empty if nothing stands.
func NewSeason(g Garden, in MoveIn, rows []placement.Planted, rec *season.Notes) Season {
	d := Move{Garden: g, in: in}
	out := Season{
		Ready: len(rows) > 0, Today: date(in.On), Signs: []seasonSign{}, Plants: []seasonPlant{}, Drifts: []seasonDrift{},
		Vigour: VigourSteps(), Bed: []seasonNote{}, PondLike: "4 in at 8:00, gone by 20:00",
	}
	if g.Units == zones.UnitsMetric {
		out.PondLike = strings.Replace(out.PondLike, "4 in", "10 cm", 1)
	}
	for _, e := range rec.Current() {
		if e.Watched() || e.OfDrift() {
			n := newSeasonNote(g, e)
			n.Words = e.Stake + ", " + n.Words
			if e.OfDrift() {
				n.Words = "drift " + n.Words
				if e.SomeDied() {
					n.Words += "; which died is not known: note each by its stake once you know,"
				}
			}
			out.Bed = append(out.Bed, n)
		}
	}
	for _, r := range in.Signs.Shown() {
		out.Signs = append(out.Signs, seasonSign{string(r.Sign), r.Label, r.Look})
	}
	for _, letter := range season.Drifts(rows) {
		if grow := rec.Drift(rows, letter); len(grow) > 0 {
			out.Drifts = append(out.Drifts, seasonDrift{letter, fmt.Sprintf("drift %s, %d %s", letter, len(grow), Plain(in.species(grow[0].ID))), len(grow)})
		}
	}
	struggling := 0
	for _, r := range rows {
		p := seasonPlant{Stake: r.Stake, Name: Plain(in.species(r.ID)), Notes: []seasonNote{}}
		for _, e := range rec.Current() {
			if season.SameStake(e.Stake, r.Stake) {
				p.Notes = append(p.Notes, newSeasonNote(g, e))
			}
		}
		if k := slices.IndexFunc(in.Diagnoses, func(c season.Diagnosis) bool { return season.SameStake(c.Case.Plant, r.Stake) }); k >= 0 {
			c := in.Diagnoses[k]
			p.Struggles, p.Chances, p.Causes = c.Struggles(), chances(c), d.causes(c)
		}
		if p.Struggles {
			struggling++
		}
		out.Plants = append(out.Plants, p)
	}
	out.Words = seasonWords(len(rows), len(in.Diagnoses), struggling)
	return out
}

func newSeasonNote(g Garden, e season.Entry) seasonNote {
	n := NewNote(g, nil, []season.Entry{e}, nil, "").Entries[0]
	return seasonNote{e.Number, n.Date, Plain(n.says(g.Units)), e.Photo}
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

// causesShown is how many causes of a plant are shown, and from which chance.
const (
	causesShown = 4
	leastCause  = 0.02
)

// causes says why a plant does as it does, and what to do with it.
func (d *Move) causes(c season.Diagnosis) (out doc.Blocks) {
	if c.Struggles() && c.Vigour != 0 && !d.moves(c.Case.Plant) {
		out = append(out, doc.Text{Words: strings.TrimSpace(d.meanwhile(c))})
	}
	t := doc.Table{Caption: "Causes, by weight of evidence", Columns: []doc.Column{{Head: "cause"}, {Head: "chance", Know: "cause"}}}
	for _, cause := range byChance(c) {
		if v := c.Of(cause); v >= leastCause && len(t.Rows) < causesShown {
			words := string(cause)
			if cause == season.Other && c.Accident != "" {
				words = accidentWords(c.Accident)
			}
			t.Rows = append(t.Rows, []doc.Cell{{Words: words}, {Words: fmt.Sprintf("%.0f %%", 100*v), Bar: doc.NewBar(v, v, 1)}})
		}
	}
	evidence := doc.List{Title: "What speaks for the first"}
	for _, e := range c.Evidence {
		evidence.Items = append(evidence.Items, d.evidence(c.Case, e))
	}
	if c.Case.Ordinary {
		evidence.Items = append(evidence.Items, "this season's weather is not known: judged by an ordinary year")
	}
	out = append(out, t, evidence)
	if row, ok := d.in.lookFor(c); ok {
		out = append(out, doc.Text{Lead: "To be sure", Words: ended(row.Look)})
	}
	return out
}

// seasonBlocks say for paper how the plants did, why, and what that teaches.
func seasonBlocks(g Garden, in MoveIn, planted int) doc.Blocks {
	d := Move{Garden: g, in: in}
	var lines []alike
	struggling := 0
	for _, c := range in.Diagnoses {
		if c.Struggles() {
			struggling++
			lines = gather(lines, c.Case.Plant, fmt.Sprintf("(%s): %s", in.species(c.Case.Species), d.why(c)))
		}
	}
	out := doc.Blocks{doc.Heading("How the plants did"), doc.Text{Words: seasonWords(planted, len(in.Diagnoses), struggling), Know: "cause"}}
	for _, list := range []doc.List{{Title: "Those that struggle, and what it may be", Items: items(lines)}, {Title: "Learned from the notes", Items: d.lessons()}, {Title: "Notes", Items: in.Notes}} {
		if len(list.Items) > 0 {
			out = append(out, list)
		}
	}
	return append(out, doc.Text{Words: moveCautions()[1]})
}

// moves says whether the plan moves a plant.
func (d *Move) moves(stake string) bool {
	return d.in.Plan != nil && slices.ContainsFunc(d.in.Plan.Moves, func(m plants.PlantMove) bool { return season.SameStake(m.Stake, stake) })
}

// NothingStands is the plan of a garden in which nothing is known to stand.
func NothingStands(notes []string) doc.Blocks {
	return doc.Blocks{doc.Heading("Moves"), doc.Text{Words: seasonWords(0, 0, 0)}, doc.List{Title: "Notes", Items: notes}}
}
