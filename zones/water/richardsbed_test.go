package water

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/site"
)

// secondBed is a bed by the second model.
type secondBed struct {
	Setup
	columns []*column // bottom, three of the slope, rim
	p       float64
	pond    float64 // m3
	in, out float64 // m3
	lost    float64 // hours that did not settle
	beganM3 float64 // stored when in and out were set to nothing
}

func newSecondBed(s Setup, mix, ground *earth, cells int) *secondBed {
	b := &secondBed{Setup: s}
	bands := s.Bed.Bands()
	group := func(from, to int) {
		c := newColumn(mix, ground, s.MixDepthMM, cells)
		for _, band := range bands[from:to] {
			c.areaM2 += band.AreaM2
			c.heightMM += band.AreaM2 * (band.FootMM + band.TopMM) / 2
		}
		c.heightMM /= c.areaM2
		b.columns = append(b.columns, c)
	}
	slope := len(bands)
	for slope > 0 && bands[slope-1].Zone == "rim" {
		slope--
	}
	group(0, 1)
	b.columns[0].heightMM = bands[0].FootMM
	for k := range 3 {
		group(1+(slope-1)*k/3, 1+(slope-1)*(k+1)/3)
	}
	group(slope, len(bands))
	return b
}

func (b *secondBed) storedM3() float64 {
	total := b.pond
	for _, c := range b.columns {
		total += c.heldMM() * c.areaM2 / 1000
	}
	return total
}

// step moves the bed on by hours in which all comes evenly; false if a column does
// not settle, and nothing is changed.
func (b *secondBed) step(hours, rainMM, inflowM3, demandMM float64) bool {
	level := b.columns[0].heightMM
	if b.pond > 0 {
		level = b.Bed.LevelMM(min(b.pond, b.Bed.SpillVolumeM3()))
	}
	var before []column
	for _, c := range b.columns {
		before = append(before, column{head: slices.Clone(c.head), theta: slices.Clone(c.theta), seepedMM: c.seepedMM})
	}
	restore := func(i int) {
		c := b.columns[i]
		copy(c.head, before[i].head)
		copy(c.theta, before[i].theta)
		c.seepedMM = before[i].seepedMM
	}
	fail := func() bool {
		for i := range b.columns {
			restore(i)
		}
		return false
	}
	atHand, used := b.pond+inflowM3, 0.0
	under := func(i int, c *column) bool { return i == 0 && atHand > 0 || b.pond > 0 && level > c.heightMM }
	for i, c := range slices.Backward(b.columns) {
		if under(i, c) {
			atHand += rainMM * c.areaM2 / 1000
			continue
		}
		used += c.draw(demandMM/hours, b.p) * hours * c.areaM2 / 1000
		in, ok := c.move(hours, -1, rainMM/hours)
		if !ok {
			return fail()
		}
		atHand += (rainMM - in) * c.areaM2 / 1000
	}
	wanted := 0.0
	takes := make([]float64, len(b.columns))
	for i, c := range b.columns {
		if !under(i, c) {
			break
		}
		lake := b.pond > 0
		if lake {
			clear(c.sink)
			sun := min(demandMM*c.areaM2/1000, atHand)
			atHand -= sun
			used += sun
		} else {
			used += c.draw(demandMM/hours, b.p) * hours * c.areaM2 / 1000
		}
		in, ok := c.move(hours, max(level-c.heightMM, 0), 0)
		if !ok {
			return fail()
		}
		takes[i] = max(in, 0)
		wanted += takes[i] * c.areaM2 / 1000
	}
	if share := atHand / wanted; wanted > atHand {
		for i, c := range b.columns {
			if takes[i] == 0 {
				continue
			}
			restore(i)
			in, ok := c.move(hours, -1, share*takes[i]/hours)
			if !ok {
				return fail()
			}
			takes[i] = in
		}
	}
	for i, c := range b.columns {
		atHand -= takes[i] * c.areaM2 / 1000
	}
	b.in += rainMM*b.bedM2()/1000 + inflowM3
	b.out += used
	for i, c := range b.columns {
		b.out += (c.seepedMM - before[i].seepedMM) * c.areaM2 / 1000
	}
	b.pond = max(atHand, 0)
	if spill := b.Bed.SpillVolumeM3(); b.pond > spill {
		b.out += b.pond - spill
		b.pond = spill
	}
	return true
}

func (b *secondBed) bedM2() (m2 float64) {
	for _, c := range b.columns {
		m2 += c.areaM2
	}
	return m2
}

// hours moves the bed on, in as many parts as it takes.
func (b *secondBed) hours(hours, rainMM, inflowM3, demandMM float64) {
	parts := 1
	if b.pond > 0 || rainMM > 0 {
		parts = 4
	}
	for done := 0; done < parts; {
		n := float64(parts)
		if b.step(hours/n, rainMM/n, inflowM3/n, demandMM/n) {
			done++
			continue
		}
		if parts > 2000 {
			b.lost += hours / n
			done++
			continue
		}
		parts, done = parts*4, done*4
	}
}

// seen is what a zone met in a year, by either model.
type seen struct{ wetH, airPoorH, dryDays int }

// spellsSeen follows a run by the hour.
type spellsSeen struct {
	seen
	wet, poor, dry int
}

func longer(is bool, now, longest *int) {
	if *now++; !is {
		*now = 0
	}
	*longest = max(*longest, *now)
}

func (s *spellsSeen) hour(wet, poor bool) {
	longer(wet, &s.wet, &s.wetH)
	longer(poor, &s.poor, &s.airPoorH)
}

func (s *spellsSeen) day(dry bool) { longer(dry, &s.dry, &s.dryDays) }

// follow runs the second model over the record and returns what bottom and rim
// met by year.
func (b *secondBed) follow(rec *site.Record, years []site.Year) (bottom, rim []seen) {
	st := newState(b.Setup)
	w := b.weather(rec)
	ends := []*column{b.columns[0], b.columns[len(b.columns)-1]}
	now := make([]spellsSeen, 2)
	day := func(d int) {
		et0, p := st.day(rec.Days[d])
		b.p = p
		var inflow, demand [24]float64
		rain := rec.RainMM[24*d : 24*d+24]
		st.today(rain, et0, w.rainless[d], w.sun[d], &inflow, &demand)
		for h := 0; h < 24; {
			n, asked := 1, demand[h]
			for rain[h] == 0 && b.pond == 0 && h+n < 24 && n < 6 && rain[h+n] == 0 && ends[0].mixMM() < 0.85*b.MixSat*b.MixDepthMM {
				asked += demand[h+n]
				n++
			}
			b.hours(float64(n), rain[h], inflow[h], asked)
			for range n {
				for i, c := range ends {
					held, full := c.mixMM(), b.MixSat*b.MixDepthMM
					ponded := i == 0 && b.pond > film*b.Bed.SpillVolumeM3()
					now[i].hour(ponded || held >= wetSaturation*full, ponded || held > full-0.1*b.MixDepthMM)
				}
			}
			h += n
		}
		for i, c := range ends {
			now[i].day(b.MixFC*b.MixDepthMM-c.mixMM() > p*(b.MixFC-b.MixWP)*b.MixDepthMM)
		}
	}
	for d := range min(365, len(rec.Days)) {
		day(d)
	}
	b.in, b.out, b.beganM3 = 0, 0, b.storedM3()
	clear(now)
	for _, y := range years {
		for i := range now {
			now[i].seen = seen{}
		}
		for d := y.FromDay; d < y.ToDay; d++ {
			day(d)
		}
		bottom, rim = append(bottom, now[0].seen), append(rim, now[1].seen)
	}
	return bottom, rim
}

// byBalance is the same of the balance.
func byBalance(s Setup, rec *site.Record, years []site.Year) (bottom, rim []seen) {
	n := len(s.Bed.Bands())
	now := make([]spellsSeen, 2)
	bottom, rim = make([]seen, len(years)), make([]seen, len(years))
	y := 0
	simulate(s, rec, len(rec.Days), true, func(h, _ int, st *state) {
		for i, p := range []*place{&st.places[0], &st.places[n-1]} {
			now[i].hour(st.wet(p), st.wet(p) || p.heldMM > st.mix.satMM-0.1*s.MixDepthMM)
		}
		if h%24 < 23 {
			return
		}
		d := h / 24
		_, p := st.day(rec.Days[d])
		for i, q := range []*place{&st.places[0], &st.places[n-1]} {
			now[i].day(st.mix.fieldMM-q.heldMM > p*st.mix.tawMM)
		}
		if d+1 == years[y].ToDay {
			bottom[y], rim[y] = now[0].seen, now[1].seen
			now[0].seen, now[1].seen = seen{}, seen{}
			y = min(y+1, len(years)-1)
		}
	})
	return bottom, rim
}

// bothModels runs a garden over a rate under a record by both.
type bothModels struct {
	second        *secondBed
	bottom, rim   []seen  // by the second model
	bottomP, rimP []seen  // by the balance
	unclosed      float64 // share of the water
	years         []site.Year
}

func runBoth(t testing.TB, g caseGarden, rate float64, r realRecord, cells int, noRise bool) bothModels {
	mixSoil, err := site.MixSoil("sandy loam", 2.5)
	require.NoError(t, err)
	mix := saxtonRawlsEarth(mixSoil, 0.65, 0.10, mixSoil.KMMH)
	g.nativeMMH = rate
	s := g.setup(t, r.lat)
	s.Weather = NewWeather(r.rec, r.lat)
	m := bothModels{second: newSecondBed(s, mix, grounds(t)[rate], cells), years: r.rec.Years(r.lat)}
	for _, c := range m.second.columns {
		c.noRise = noRise
	}
	m.bottom, m.rim = m.second.follow(r.rec, m.years)
	m.bottomP, m.rimP = byBalance(s, r.rec, m.years)
	m.unclosed = math.Abs(m.second.in-m.second.out-m.second.storedM3()+m.second.beganM3) / m.second.in
	return m
}

// figures are the middle of the years and the largest.
func figures(all []seen, of func(seen) int) (middle, most float64) {
	var v []float64
	for _, s := range all {
		v = append(v, float64(of(s)))
	}
	slices.Sort(v)
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2, v[len(v)-1]
}

func wetOf(s seen) int  { return s.wetH }
func poorOf(s seen) int { return s.airPoorH }
func dryOf(s seen) int  { return s.dryDays }

// near holds the balance to the second model: within a share of it, or so many
// hours or days.
func near(t *testing.T, want, got, share, least float64, what string) {
	t.Helper()
	assert.LessOrEqual(t, math.Abs(got-want), max(share*want, least), "%s: %.0f by Richards, %.0f by the balance", what, want, got)
}

// The balance against the Richards equation over a storm season and the drought
// after it, at two rates: longest wet spell within 15 %, longest spell with less
// than 10 % of air by volume within 25 %, longest dry spell within 5 days or 20 %.
// Half the cell size gives the same, and no water is lost. The straight line that
// seepage followed before leaves the bottom short of air for 31 h where Richards
// finds 45, and dry for 20 and 15 days where he finds none.
func TestAgainstRichards(t *testing.T) {
	jfk := realRecords(t)[2]
	const from, to = 115, 255
	jfk.rec = &site.Record{
		Source: jfk.rec.Source, Start: jfk.rec.Start.AddDate(0, 0, from), Step: jfk.rec.Step,
		RainMM: jfk.rec.RainMM[24*from : 24*to], Missing: make([]bool, 24*(to-from)), Days: jfk.rec.Days[from:to],
	}
	g := gridGardens()[0]
	for _, rate := range []float64{25, 6} {
		m := runBoth(t, g, rate, jfk, 20, false)
		holds(t, m, fmt.Sprintf("storms of 2013 at %g mm/h", rate), false)
		if rate == 6 {
			fine := runBoth(t, g, rate, jfk, 40, false)
			near(t, float64(fine.bottom[0].wetH), float64(m.bottom[0].wetH), 0.02, 2, "half the cells: wet")
			near(t, float64(fine.bottom[0].airPoorH), float64(m.bottom[0].airPoorH), 0.05, 3, "half the cells: air")
			near(t, float64(fine.rim[0].dryDays), float64(m.rim[0].dryDays), 0, 1, "half the cells: dry")
		}
	}
}

// holds compares what both found. Where storm follows storm all winter (chained)
// spells join or part over a few hours: there wet spells are held by the middle of
// the years, air is held within 40 %, and TestRiseFromBelow sees to the rim.
func holds(t *testing.T, m bothModels, what string, chained bool) {
	t.Helper()
	t.Logf("%s: bottom %v by Richards, %v by the balance; rim %v, %v; %.0e not closed", what, m.bottom, m.bottomP, m.rim, m.rimP, m.unclosed)
	assert.Zero(t, m.second.lost, "hours that did not settle")
	assert.Less(t, m.unclosed, 1e-7, what)
	of := func(r, p []seen, f func(seen) int, middle bool) (float64, float64) {
		middleR, mostR := figures(r, f)
		middleP, mostP := figures(p, f)
		if middle {
			return middleR, middleP
		}
		return mostR, mostP
	}
	air := 0.25
	if chained {
		air = 0.40
	}
	r, p := of(m.bottom, m.bottomP, wetOf, chained)
	near(t, r, p, 0.15, 4, what+": longest wet spell, h")
	r, p = of(m.bottom, m.bottomP, poorOf, false)
	near(t, r, p, air, 4, what+": longest spell short of air, h")
	r, p = of(m.bottom, m.bottomP, dryOf, true)
	near(t, r, p, 0.20, 5, what+": bottom, longest dry spell of the middle year, d")
	if !chained {
		r, p = of(m.rim, m.rimP, dryOf, true)
		near(t, r, p, 0.20, 5, what+": rim, longest dry spell of the middle year, d")
	}
}

// The same over whole records, two gardens and three grounds, with a ground that
// gives nothing back to dry roots, as in the balance: TestRiseFromBelow has what
// that leaves out.
func TestAgainstRichardsWhole(t *testing.T) {
	if !testenv.Heavy() {
		t.Skip("whole records take minutes: HOLLOWBED_HEAVY=1")
	}
	real := realRecords(t)
	ordinary, shallow := gridGardens()[0], gridGardens()[6]
	for _, g := range []caseGarden{ordinary, shallow} {
		records, rates := []realRecord{real[2], real[0], real[1]}, []float64{25, 6, 1.5}
		if g.name == shallow.name {
			records, rates = records[:1], rates[:2] // see data/METHOD.md for 1.5
		}
		for _, r := range records {
			for _, rate := range rates {
				holds(t, runBoth(t, g, rate, r, 20, true), fmt.Sprintf("%s, %s at %g mm/h", g.name, r.name, rate), r.lat > 45)
			}
		}
	}
}

// Seattle's rims are short of water longer by the balance, in two summers of four.
// The reason is the water that dry roots draw up from the ground: without it the
// Richards equation finds the same.
func TestRiseFromBelow(t *testing.T) {
	if !testenv.Heavy() {
		t.Skip("four years twice over: HOLLOWBED_HEAVY=1")
	}
	seattle := realRecords(t)[0]
	m := runBoth(t, gridGardens()[0], 6, seattle, 20, true)
	t.Logf("rim %v by Richards without rise, %v by the balance", m.rim, m.rimP)
	for y := range m.rim {
		near(t, float64(m.rim[y].dryDays), float64(m.rimP[y].dryDays), 0.10, 5, fmt.Sprintf("rim, year %d", y))
	}
}
