package plants

import (
	"cmp"
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
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// demo is the judge, the catalogue and the planting of the demo garden as it is
// set out.
func demo(t testing.TB, change ...func(g *zones.Garden)) (*Judge, *catalogue.Catalogue, []placement.Planted) {
	t.Helper()
	open := func(name string) *os.File {
		f, err := os.Open("../data/" + name)
		require.NoError(t, err)
		t.Cleanup(func() { f.Close() })
		return f
	}
	g, err := zones.ReadGarden("garden.yaml", open("garden.yaml"))
	require.NoError(t, err)
	for _, c := range change {
		c(g)
	}
	rec, err := site.ReadRecord("rain.csv", open("rain.csv"), g.Weather.Format, g.Site.LatitudeDeg)
	require.NoError(t, err)
	lot, err := zones.Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	c, err := catalogue.Read("plants.csv", open("plants.csv"))
	require.NoError(t, err)
	j := NewJudge(e)
	return j, c, setOut(t, j, c)
}

// setOut chooses and places a planting.
func setOut(t testing.TB, j *Judge, c *catalogue.Catalogue) []placement.Planted {
	t.Helper()
	p, err := Choose(j, c)
	require.NoError(t, err)
	placed, err := Place(j, p, c, Grown{})
	require.NoError(t, err)
	return placed.Rows("2023-10-10", nil)
}

// unlayered makes a list whose plants differ more in what they bear.
func unlayered(g *zones.Garden) { g.Wishes.Layers = zones.Layers{} }

func autumn() time.Time { return time.Date(2024, 9, 1, 0, 0, 0, 0, time.UTC) }

func mustRelocate(t testing.TB, in MoveInput) *Relocation {
	t.Helper()
	in.Model = season.Default()
	if in.On.IsZero() {
		in.On = autumn()
	}
	r, err := Relocate(in)
	require.NoError(t, err)
	return r
}

// muddled lets plants of the bottom and of the rim trade places, as many pairs as
// asked for and as have the same spread: those first that bear drought, and water, least.
func muddled(c *catalogue.Catalogue, rows []placement.Planted, pairs int) []placement.Planted {
	out, kept := slices.Clone(rows), Standing(rows, c)
	tender := func(zone string, bears func(p catalogue.Plant) float64) (at []int) {
		borne := make([]float64, len(rows))
		for i, r := range rows {
			p, _ := c.ByID(r.ID)
			if borne[i] = bears(p); r.Zone == zone && p.Form != bulb {
				at = append(at, i)
			}
		}
		slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(borne[a], borne[b]) })
		return at
	}
	high := tender("rim", func(p catalogue.Plant) float64 { return p.WetH })
	for _, i := range tender("bottom", func(p catalogue.Plant) float64 { return p.DryD }) {
		at := slices.IndexFunc(high, func(k int) bool { return kept[i].SpreadCM == kept[k].SpreadCM && rows[i].ID != rows[k].ID })
		if at < 0 || pairs == 0 {
			continue
		}
		pairs--
		a, b := &out[i], &out[high[at]]
		a.X, a.Y, a.Zone, b.X, b.Y, b.Zone = b.X, b.Y, b.Zone, a.X, a.Y, a.Zone
		high = slices.Delete(high, at, at+1)
	}
	return out
}

// sound checks what holds of every plan: each plant once; the cost never above
// that of doing nothing, and the difference is what the groups gain; no place
// twice; what was moved stands apart as before or as it should; risks are
// between 0 and 1.
func sound(t *testing.T, in MoveInput, r *Relocation) {
	t.Helper()
	seen, to := map[string]bool{}, map[[2]float64]string{}
	for _, m := range slices.Concat(r.Moves, r.Stays) {
		require.False(t, seen[m.Stake], m.Stake)
		seen[m.Stake] = true
		if m.Action == ActTakeOut {
			continue
		}
		if m.Judged {
			assert.True(t, m.Before.YearlyRisk >= 0 && m.Before.YearlyRisk <= 1 && m.After.YearlyRisk >= 0 && m.After.YearlyRisk <= 1, "%+v", m)
		}
		if m.Action == ActMove || m.Action == ActSwap {
			assert.LessOrEqual(t, m.After.YearlyRisk, in.Judge.Exposure.Lot.Garden.Wishes.YearlyRiskMax, "%s goes where more is risked than is accepted", m.Stake)
		}
		at := m.To
		if m.Action == ActReplace {
			at = m.From
		}
		other, twice := to[[2]float64{at.X, at.Y}]
		require.False(t, twice, "%s and %s at one place", other, m.Stake)
		to[[2]float64{at.X, at.Y}] = m.Stake
	}
	when := map[int]window{}
	for _, m := range r.Moves {
		if w, ok := when[m.Group]; ok && (m.Action == ActMove || m.Action == ActSwap) {
			assert.Equal(t, []time.Time{w.From, w.To}, []time.Time{m.When.From, m.When.To}, "in one go: %s", m.Stake)
		} else if m.Action != ActTakeOut {
			when[m.Group] = m.When
		}
	}
	gain := 0.0
	for _, g := range r.Groups {
		assert.Greater(t, g.Gain, 0.0)
		assert.InDelta(t, g.Gain, g.Loss-g.Disturb-g.Doubt-g.Refill-g.Discard, 1e-9)
		gain += g.Gain
	}
	assert.InDelta(t, r.Nothing-r.Objective, gain, 1e-9)

	var all []int
	for g := range r.Groups {
		all = append(all, g)
	}
	after := r.Rows(in.Standing, "2024-10-01", all...)
	assert.Equal(t, in.Standing, r.Rows(in.Standing, "2024-10-01"), "nothing done, nothing changed")
	for _, m := range r.Moves {
		k := slices.IndexFunc(after, func(p placement.Planted) bool { return p.Stake == m.Stake })
		switch m.Action {
		case ActReplace, ActTakeOut:
			assert.Negative(t, k, "%s is gone", m.Stake)
		default:
			assert.Equal(t, [2]float64{m.To.X, m.To.Y}, [2]float64{after[k].X, after[k].Y}, m.Stake)
			assert.Equal(t, in.Judge.Exposure.Lot.Bed.ZoneAt(after[k].X, after[k].Y), after[k].Zone, m.Stake)
			assert.Empty(t, after[k].Drift, "%s left its drift", m.Stake)
		}
	}
	before := map[[2]string]float64{}
	each(in.Standing, in.Catalogue, func(a, b placement.Kept, d, want float64) { before[[2]string{a.Stake, b.Stake}] = d - want })
	overlap := in.Judge.Exposure.Lot.Garden.Layout.Overlap
	each(after, in.Catalogue, func(a, b placement.Kept, d, want float64) {
		slack := d - (1-overlap)*want
		if was, ok := before[[2]string{a.Stake, b.Stake}]; ok && was < 0 {
			return // stood too near before
		}
		assert.GreaterOrEqual(t, slack, -0.002, "%s and %s stand too near", a.Stake, b.Stake)
	})
	again := in
	again.Standing = after
	again.Caution, again.Learned = max(in.Caution, 1), nil
	if in.Learned == nil && in.Dead == nil && in.Unnoted {
		assert.LessOrEqual(t, mustRelocate(t, again).Nothing, r.Nothing+1e-9, "after the plan the bed is no worse")
	}
}

// each visits every two plants with their distance and the sum of their radii.
func each(rows []placement.Planted, c *catalogue.Catalogue, visit func(a, b placement.Kept, d, want float64)) {
	kept := Standing(rows, c)
	for i, a := range kept {
		for _, b := range kept[:i] {
			if a.Under || b.Under { // a bulb lies beneath others
				continue
			}
			visit(a, b, math.Hypot(a.X-b.X, a.Y-b.Y), (a.SpreadCM+b.SpreadCM)/200)
		}
	}
}

// A bed that was just set out well is left alone. The same with plants of the
// bottom and the rim exchanged is put right, as far as doubts and disturbance allow.
func TestRelocateDemo(t *testing.T) {
	j, c, rows := demo(t, unlayered)
	j.Exposure.Lot.Garden.Wishes.HourWorth, j.Exposure.Lot.Garden.Wishes.YearlyRiskMax = 0, 1 // by the losses alone
	in := MoveInput{Judge: j, Catalogue: c, Standing: rows}
	good := mustRelocate(t, in)
	sound(t, in, good)
	assert.Empty(t, good.Moves)
	assert.Len(t, good.Stays, len(rows))

	in.Standing = muddled(c, rows, 24)
	unseen := mustRelocate(t, in)
	assert.Empty(t, unseen.Moves, "nobody wrote down how any plant does")
	assert.Greater(t, len(unseen.Look), 8)
	in.Unnoted = true
	bold := mustRelocate(t, in)
	sound(t, in, bold)
	assert.Empty(t, bold.Look)
	assert.Greater(t, len(bold.Moves), 8)
	for _, m := range bold.Moves {
		assert.Contains(t, []MoveAction{ActMove, ActSwap}, m.Action, "nobody saw %s struggle", m.Stake)
	}
	in.Unnoted = false
	for i, r := range rows {
		if in.Standing[i] != r {
			in.Diagnoses = append(in.Diagnoses, struggling(r)...)
		}
	}
	bad := mustRelocate(t, in)
	sound(t, in, bad)
	assert.Greater(t, len(bad.Moves), 8)
	assert.NotEmpty(t, bad.Stays)
	assert.Greater(t, bad.Nothing-bad.Objective, 0.0)
	for _, m := range bad.Moves {
		if m.Action == ActMove || m.Action == ActSwap {
			assert.True(t, m.Disturb > 0 && m.Disturb < 0.5, "%s", m.Stake)
			assert.False(t, m.When.From.Before(autumn()))
			assert.Greater(t, m.How.WaterL, 0.5)
		}
	}
	for _, m := range bad.Stays {
		assert.Zero(t, m.Second, "%s stays: nobody sees its second choice", m.Stake)
	}
	for _, m := range bad.Moves {
		assert.True(t, m.Second.Known)
		assert.GreaterOrEqual(t, m.Second.Extra, 0.0)
		if !m.Second.GiveUp && (m.Action == ActMove || m.Action == ActSwap) {
			assert.NotEqual(t, [2]float64{m.To.X, m.To.Y}, [2]float64{m.Second.To.X, m.Second.To.Y}, "%s: the second choice is the first", m.Stake)
		}
	}

	// With caution beyond measure only moves that cannot turn out for the worse are
	// left, each of them and not only its group.
	in.Caution = 1e6
	careful := mustRelocate(t, in)
	assert.LessOrEqual(t, len(careful.Moves), len(bad.Moves))
	for _, g := range careful.Groups {
		assert.Less(t, g.Doubt, g.Loss)
	}
	in.Caution = -1
	rash := mustRelocate(t, in)
	t.Logf("set out %.2f m2, muddled %.2f, after the plan %.2f, without caution %.2f", good.Nothing, bad.Nothing, bad.Objective, rash.Objective)
	assert.Less(t, rash.Objective, bad.Objective)
	assert.Greater(t, rash.Nothing-rash.Objective, 0.25*(bad.Nothing-good.Nothing))
}

// Places for one plant: the plan's own comes first and costs nothing more; all
// others cost as much as they say.
func TestRankPlaces(t *testing.T) {
	j, c, rows := demo(t, unlayered)
	j.Exposure.Lot.Garden.Wishes.HourWorth, j.Exposure.Lot.Garden.Wishes.YearlyRiskMax = 0, 1 // by the losses alone
	in := MoveInput{Judge: j, Catalogue: c, Standing: muddled(c, rows, 6), Model: season.Default(), On: autumn()}
	in.Diagnoses = struggling(rows...)
	for i := range in.Diagnoses {
		in.Diagnoses[i].Chance[0] = 1 // seen, and fine
	}
	plan := mustRelocate(t, in)
	m := plan.Moves[slices.IndexFunc(plan.Moves, func(m PlantMove) bool { return m.Action == ActSwap || m.Action == ActMove })]
	options, err := RankPlaces(in, m.Stake)
	require.NoError(t, err)
	require.Greater(t, len(options), 10)
	assert.InDelta(t, 0, options[0].Extra, 1e-9)
	least := math.Inf(1)
	found := false
	for k, o := range options {
		if k > 0 {
			assert.GreaterOrEqual(t, o.Extra, options[k-1].Extra)
		}
		if !o.GiveUp && o.To.X == m.To.X && o.To.Y == m.To.Y {
			found = true
			assert.InDelta(t, 0, o.Extra, 1e-9)
			assert.InDelta(t, m.LossThen, o.Loss, 1e-12)
		} else {
			least = min(least, o.Extra)
		}
	}
	assert.True(t, found)
	assert.InDelta(t, m.Second.Extra, least, 1e-9)

	var missing *noStakeError
	_, err = RankPlaces(in, "NOBODY9")
	require.ErrorAs(t, err, &missing)
	assert.True(t, badInput(err))
}

// Where water stands a plant may not go while nobody knows what it bears of that:
// one that has too much sun on the rim goes down if it is known, and stays up if
// not. Nobody saw it struggle, so it is not replaced.
func TestUnknownStaysOut(t *testing.T) {
	j := NewJudge(expose(t, map[string]string{"sun": "{bottom: 6 h, slope: 6 h, rim: 11 h}", "wishes": "{hour_worth: 0}"}, someYears(10)))
	known := with(hardy("rush"), func(p *catalogue.Plant) { p.SunMaxH = 7 })
	in := MoveInput{Judge: j, Catalogue: tableOf(known), Unnoted: true, Standing: []placement.Planted{{Stake: "RUS1", ID: "rush", X: 0.15, Y: 1.5}}}
	r := mustRelocate(t, in)
	require.Len(t, r.Moves, 1)
	assert.Contains(t, []string{"bottom", "slope"}, r.Moves[0].To.Zone)
	in.Unnoted, in.Model, in.On = false, season.Default(), autumn()
	require.Empty(t, mustRelocate(t, in).Moves, "nobody wrote down how it does")
	options, err := RankPlaces(in, "rus1")
	require.NoError(t, err)
	assert.Contains(t, []string{"bottom", "slope"}, options[0].To.Zone, "but it was asked about")
	in.Unnoted = true
	in.Catalogue = tableOf(with(known, func(p *catalogue.Plant) { p.PondMM = math.NaN() }))
	assert.Empty(t, mustRelocate(t, in).Moves)
}

// What a plan reckons with, worked out here from the outlooks themselves: a plant at
// its price for three in ten of the seasons in which it struggles, an hour of work at 12, its margin on
// a move; no place over the accepted risk; where it stands the least of leaving it,
// water and a new plant, whose doubt counts.
func TestMoveCosts(t *testing.T) {
	j := NewJudge(expose(t, map[string]string{"soil": "{texture: clay, rate: 1.5 mm/h, safety_factor: 1}", "sun": "{bottom: 6 h, slope: 6 h, rim: 9 h}", "wishes": "{yearly_risk_max: 40 %, hour_worth: 12}"}, someYears(10)))
	wet := *j.bed
	wet.Watered = true
	c := somePlants(12)
	for i := 0; i < 12; i += 2 {
		c.Plants[i].Price *= 10 // dear ones may be worth a cheap one in their place
	}
	in := MoveInput{Judge: j, Catalogue: c, Standing: scatter(j, c, 12, 5), Model: season.Default(), On: autumn(), Seasons: 4, Caution: 0.5}
	in.Diagnoses = struggling(in.Standing...)
	r, err := newRelocation(in)
	require.NoError(t, err)
	n := len(r.rooms)
	best, barred := map[Answer]int{}, 0
	for i, s := range r.plants {
		if !s.judged {
			continue
		}
		worth, own := 4*0.3*s.plant.Price, j.outlook(s.prospect, s.plant, r.spots[i])
		require.InDelta(t, worth, r.problem.Plants[i].Weight, 1e-12)
		work := (5 + 0.25*s.how.BallKG + 8*s.how.WaterL/15) / 60 * 12 // set, and seven times in the next two weeks
		require.InDelta(t, worth*r.disturb(&s)/4+(1+moveMargin)*work, worth*r.problem.Plants[i].Disturb, 1e-7, "one season of four")
		for q := range r.rooms {
			there := j.outlook(s.prospect, s.plant, r.spots[q])
			switch loss := r.problem.Loss[i*n+q]; {
			case q == i:
			case there.YearlyRisk > 0.40:
				require.True(t, math.IsInf(loss, 1))
				barred++
			case !math.IsInf(loss, 1):
				require.Equal(t, steady(there.LossMoved(4)), loss)
				require.Equal(t, steady(own.Harm(there, 4)), r.problem.Doubt[i*n+q])
			}
		}
		leave, water, buy := worth*own.YearlyRisk, math.Inf(1), math.Inf(1)
		if watered := outlookIn(&wet, s.prospect, s.plant, r.spots[i]).YearlyRisk; watered < own.YearlyRisk-0.01 {
			water = worth*watered + 4*r.waterMinutes(s.plant, r.spots[i].Zone)/60*12
		}
		if b := r.best[i]; b.BenefitM2 > 0 && b.Outlook.YearlyRisk <= 0.40 {
			p := b.Plant.Price
			pot := lifting(j.Exposure.Lot, b.Plant, b.Plant.SpreadCM, autumn(), autumn())
			buy = p + (5+0.25*pot.BallKG+8*pot.WaterL/15)/60*12 + 4*0.3*p*b.Outlook.LossMoved(4) + 0.5*math.Hypot(worth*own.Doubt(), 4*0.3*p*b.Outlook.Doubt())
		}
		require.InDelta(t, min(leave, water, buy), r.home(i), 1e-8, "%s", s.row.Stake)
		best[s.answers.Best]++
	}
	assert.Positive(t, barred)
	assert.Positive(t, best[AnswerLeave])
	assert.Positive(t, best[AnswerBuy])
}
