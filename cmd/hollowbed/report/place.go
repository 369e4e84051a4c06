package report

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
)

// Place is the document of the command place.
type Place struct {
	Garden        Garden        `json:"garden"`
	Record        Record        `json:"record"`
	Doubt         *Doubt        `json:"doubt,omitempty" about:"with --robust: what was taken as uncertain"` // with --robust
	Plants        []placeRow    `json:"plants"`
	Left          []leftOver    `json:"left"`
	FixedPoints   [2]fixedPoint `json:"fixed_points" schema:"len 2..2"`
	LossM2        Number        `json:"expected_loss_m2" schema:"known; 0.."`
	RandomM2      Number        `json:"random_loss_m2"`
	BoundM2       Number        `json:"bound_m2" schema:"known; 0.."`
	Gap           Number        `json:"gap" schema:"known; 0..1"`
	Overlap       Number        `json:"overlap" schema:"known; 0.."`
	NeededOverlap Number        `json:"needed_overlap"`
	Hidden        Number        `json:"hidden_plants" schema:"known; 0.."`
	Stopped       string        `json:"stopped"`
	Notes         []string      `json:"notes"`
	Written       string        `json:"written"`
	Blocks        []doc.Block   `json:"-"`
	Stakes        []doc.Block   `json:"-"` // the setting-out table, and what it is measured from
}

// placeRow is one plant in its place.
type placeRow struct {
	Stake          string `json:"stake" schema:"some"`
	ID             string `json:"id"`
	VernacularName string `json:"vernacularName"`
	Zone           string `json:"zone" schema:"one of bottom|slope|rim"`
	Drift          string `json:"drift" about:"letter of the drift it stands in; empty for one that stands alone or in twos"`
	XM             Number `json:"x_m" schema:"known"`
	YM             Number `json:"y_m" schema:"known"`
	HeightMM       Number `json:"height_mm" schema:"known"`
	SunH           Number `json:"sun_h"`
	SpreadCM       Number `json:"spread_cm" schema:"known; 0.."`
	YearlyRisk     Number `json:"yearly_risk" schema:"0..1"`
	FromAM         Number `json:"from_a_m" schema:"known; 0.."`
	FromBM         Number `json:"from_b_m" schema:"known; 0.."`
	Stayed         bool   `json:"stayed"`
}

// leftOver is plants that found no place.
type leftOver struct {
	ID             string `json:"id"`
	VernacularName string `json:"vernacularName"`
	Zone           string `json:"zone" schema:"one of bottom|slope|rim"`
	Count          int    `json:"count" schema:"1.."`
	Why            string `json:"why"`
}

// fixedPoint is a point to measure from.
type fixedPoint struct {
	Name string `json:"name"`
	XM   Number `json:"x_m" schema:"known"`
	YM   Number `json:"y_m" schema:"known"`
}

// NewPlace makes the document of a placement; written is the file it went to.
func NewPlace(g Garden, p *plants.Placed, written string) Place {
	l := p.Planting.Exposure.Lot
	points, names := l.FixedPoints()
	out := Place{
		Garden: g, Record: newRecord(p.Planting.Exposure.Record), Doubt: listDoubt(p.Planting), Plants: []placeRow{}, Left: []leftOver{},
		LossM2: Number(p.LossM2), RandomM2: Number(p.RandomMeanM2), BoundM2: Number(p.BoundM2), Gap: Number(p.Gap),
		Overlap: Number(l.Garden.Layout.Overlap), NeededOverlap: Number(p.NeededOverlap), Hidden: Number(p.Hidden),
		Stopped: p.Stopped, Notes: orEmpty(p.Notes), Written: written,
	}
	for i := range points {
		out.FixedPoints[i] = fixedPoint{names[i], Number(points[i][0]), Number(points[i][1])}
	}
	for _, s := range p.Result.Plants {
		name := s.ID
		if s.Line >= 0 {
			name = p.Lines[s.Line].Name
		}
		out.Plants = append(out.Plants, placeRow{
			Stake: s.Stake, ID: s.ID, VernacularName: name, Zone: s.Zone, Drift: s.Drift, XM: Number(s.X), YM: Number(s.Y), HeightMM: Number(s.HeightMM),
			SunH: Number(l.SunAt(s.X, s.Y)), SpreadCM: Number(s.SpreadCM), YearlyRisk: Number(s.Risk), Stayed: s.Stayed,
			FromAM: Number(math.Hypot(s.X-points[0][0], s.Y-points[0][1])), FromBM: Number(math.Hypot(s.X-points[1][0], s.Y-points[1][1])),
		})
	}
	for _, left := range p.Result.Left {
		line := p.Lines[left.Line]
		out.Left = append(out.Left, leftOver{line.ID, line.Name, line.Zone, left.Count, left.Why.String()})
	}
	out.Notes = append(out.Notes, countsOnWater(l.Garden)...)
	if len(p.Bare) > 0 {
		var bare []string
		for _, k := range p.Bare {
			bare = append(bare, k.Stake)
		}
		out.Notes = append(out.Notes, fmt.Sprintf("bare since a plant died there: %s. Its own kind is not planted there again: hollowbed move says why it died and what would do best", some(bare)))
	}
	out.word(l.Garden.Wishes.YearlyRiskMax, riskWords(p))
	return out
}

// word makes the blocks: what stands where, with distances from the two fixed
// points; most is the risk that the wishes allow, risks says what the risks are of.
func (d *Place) word(most float64, risks []string) {
	const title = "Where each plant stands"
	add := func(b ...doc.Block) { d.Blocks = append(d.Blocks, b...) }
	if len(d.Plants)+len(d.Left) == 0 {
		add(answered(d.Garden, title, &d.Record, false, doc.Text{Words: "Nothing to place: the planting list is empty, and nothing stands in planted.csv. Why nothing would live here: hollowbed choose."})...)
		return
	}
	u := d.Garden.Units
	t := doc.Table{Caption: "Setting-out table", Know: "place", Columns: []doc.Column{
		{Head: "stake"}, {Head: "drift", Screen: true}, {Head: "plant", Screen: true}, {Head: "zone", Wide: true, Screen: true}, {Head: "from A", Right: true}, {Head: "from B", Right: true}, {Head: "ground, from spill", Right: true, Know: "shape"},
		{Head: "risk a year", Right: true, Screen: true}, {Head: "sun", Right: true, Wide: true, Screen: true},
	}}
	stayed := 0
	for _, p := range d.Plants {
		if p.Stayed {
			stayed++
		}
		t.Rows = append(t.Rows, []doc.Cell{{Words: p.Stake, Stake: p.Stake}, {Words: p.Drift}, {Words: p.VernacularName}, {Words: p.Zone}, {Words: u.Length(float64(p.FromAM))}, {Words: u.Length(float64(p.FromBM))},
			{Words: level(u, float64(p.HeightMM))}, {Words: risk(float64(p.YearlyRisk), false), Level: riskLevel(float64(p.YearlyRisk), most)}, {Words: sunText(p.SunH)}})
	}
	advice := fmt.Sprintf("%s have their place", plural(len(d.Plants), "plant", "plants"))
	if stayed > 0 {
		advice += fmt.Sprintf(", %d of them by planted.csv", stayed)
	}
	answer := []doc.Block{doc.Text{Words: advice + ". Mark each with a stake, and measure from the two fixed points; distances are level, and risk is for a year."}}
	if d.Doubt != nil {
		answer = append(answer, doc.Text{Words: d.Doubt.preferred(u, d.Record)})
	}
	add(answered(d.Garden, title, &d.Record, false, append(answer, d.left()...)...)...)
	d.Stakes = []doc.Block{doc.Text{Words: fixedPoints([2]string{d.FixedPoints[0].Name, d.FixedPoints[1].Name})}, doc.Line(""), t}
	add(doc.Fold{Short: []doc.Block{d.kinds()}, Full: append(d.drifts(), append(d.Stakes, doc.Line(""))...)})
	for i, words := range risks {
		if text := (doc.Text{Words: words, Know: "risk"}); i == 0 {
			add(doc.Screen(doc.Rest(text)))
		} else {
			add(text)
		}
	}
	add(doc.Screen(doc.Rest(doc.Text{Lead: "How good", Words: fmt.Sprintf("in an average year %s of planting would be lost here; set out by chance under the same rules %s; no placement of this list loses less than %s.",
		u.Area(float64(d.LossM2)), u.Area(float64(d.RandomM2)), u.Area(float64(d.BoundM2)))})),
		doc.List{Title: "Notes", Items: d.Notes}.Cut(notesShown))
	if d.Written != "" {
		add(doc.Line("Wrote " + d.Written + "."))
	}
	add(doc.List{Items: []string{"Before you dig, have buried pipes and cables marked."}, Bare: true, Mind: true},
		doc.Fold{Short: []doc.Block{doc.Line("All: --all. Each plant: --stakes. A picture: --plan FILE.svg (or .png).")},
			Full: []doc.Block{doc.Line("The plan as a picture: --plan FILE.svg (or .png).")}})
}

// kinds has a row a kind: its stakes, and how many stand in each zone.
func (d Place) kinds() doc.Block {
	t := doc.Table{Columns: []doc.Column{{Head: "stakes"}, {Head: "plant"}, {Head: "where"}, {Head: "drift"}, {Head: "risk", Right: true}}}
	kinds := map[string][]placeRow{}
	var order []string
	for _, p := range d.Plants {
		if kinds[p.ID] == nil {
			order = append(order, p.ID)
		}
		kinds[p.ID] = append(kinds[p.ID], p)
	}
	for _, id := range order {
		var in, drifts []string
		count, most := map[string]int{}, 0.0
		for _, p := range kinds[id] {
			if count[p.Zone] == 0 {
				in = append(in, p.Zone)
			}
			if p.Drift != "" && !slices.Contains(drifts, p.Drift) {
				drifts = append(drifts, p.Drift)
			}
			count[p.Zone]++
			most = max(most, float64(p.YearlyRisk))
		}
		for i, zone := range in {
			in[i] = fmt.Sprintf("%d %s", count[zone], zone)
		}
		stakes := kinds[id][0].Stake
		if n := len(kinds[id]); n > 1 {
			stakes += " to " + kinds[id][n-1].Stake
		}
		t.Rows = append(t.Rows, doc.Cells(stakes, kinds[id][0].VernacularName, strings.Join(in, ", "), strings.Join(drifts, " "), risk(most, false)))
	}
	return t.Cut(kindsShown, "kinds")
}

// drifts says what to set out together: how many of what, how far apart, by drift.
func (d Place) drifts() []doc.Block {
	in := map[string][]placeRow{}
	for _, p := range d.Plants {
		in[p.Drift] = append(in[p.Drift], p)
	}
	delete(in, "")
	var items []string
	for _, letter := range slices.SortedFunc(maps.Keys(in), func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) }) {
		p := in[letter]
		items = append(items, fmt.Sprintf("%s: %d %s, %s apart: %s", letter, len(p), p[0].VernacularName, d.Garden.Units.Length(float64(p[0].SpreadCM)/100), stakesOf(p)))
	}
	if items == nil {
		return nil
	}
	return []doc.Block{doc.List{Title: "Drifts, in triangles where the ground allows it", Items: items}, doc.Line("")}
}

// stakesOf names stakes, those that follow each other by the first and the last.
func stakesOf(rows []placeRow) string {
	var out []string
	for i := 0; i < len(rows); {
		key, end := letters(rows[i].Stake), i+1
		first, err := strconv.Atoi(rows[i].Stake[len(key):])
		for err == nil && end < len(rows) && rows[end].Stake == key+strconv.Itoa(first+end-i) {
			end++
		}
		if end > i+2 {
			out = append(out, rows[i].Stake+" to "+rows[end-1].Stake)
		} else {
			end = i + 1
			out = append(out, rows[i].Stake)
		}
		i = end
	}
	return strings.Join(out, ", ")
}

// left says which plants found no place, and why, once for all of which the
// same is true.
func (d Place) left() []doc.Block {
	if len(d.Left) == 0 {
		return nil
	}
	byWhy := map[string][]string{}
	for _, l := range d.Left {
		byWhy[l.Why] = append(byWhy[l.Why], fmt.Sprintf("%d %s in the %s", l.Count, l.VernacularName, l.Zone))
	}
	var parts []string
	for why, lines := range byWhy {
		slices.Sort(lines)
		parts = append(parts, strings.Join(lines, ", ")+" ("+why+")")
	}
	help := ""
	if !math.IsNaN(float64(d.NeededOverlap)) && d.NeededOverlap > d.Overlap {
		help = fmt.Sprintf(" With mature spreads overlapping by %s (layout.overlap) all of them find one.", d.Garden.Units.Percent(float64(d.NeededOverlap)))
	}
	slices.Sort(parts)
	return []doc.Block{doc.Text{Lead: "No place for", Hang: 2, Words: strings.Join(parts, "; ") + "." + help}}
}

// fixedPoints says from where places are measured. Pegs are those of
// zones.Lot.FixedPoints where the garden file names no points.
func fixedPoints(names [2]string) string {
	if names == [2]string{"peg A", "peg B"} {
		return "A, B: pegs at the left and the right front corner of the rectangle that just holds the bed."
	}
	return fmt.Sprintf("A: %s. B: %s.", names[0], names[1])
}
