package water

import (
	"slices"

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
type seen struct {
	wetH, airPoorH, dryDays int
	load                    float64 // the greatest drought load, days
}

// spellsSeen follows a run by the hour.
type spellsSeen struct {
	seen
	wet, poor, dry int
	loadNow        float64
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

func (s *spellsSeen) day(ks float64) {
	longer(ks < 1, &s.dry, &s.dryDays)
	s.loadNow = DroughtLoad(s.loadNow, ks)
	s.load = max(s.load, s.loadNow)
}

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
			depleted, taw, _ := c.roots()
			now[i].day(Stress(depleted, taw, p))
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
			now[i].day(Stress(st.mix.fieldMM-q.heldMM, st.mix.tawMM, p))
		}
		if d+1 == years[y].ToDay {
			bottom[y], rim[y] = now[0].seen, now[1].seen
			now[0].seen, now[1].seen = seen{}, seen{}
			y = min(y+1, len(years)-1)
		}
	})
	return bottom, rim
}
