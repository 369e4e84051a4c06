package care

import (
	"time"

	"hollowbed/zones/water"
)

// Rule is a way to water.
type Rule string

// The rules that are compared.
const (
	ByDepletion  Rule = "by depletion"             // when the roots' easy water is gone, and then to the full
	InchAWeek    Rule = "an inch a week"           // whatever the rain
	InchLessRain Rule = "an inch a week less rain" // what the rain gauge is short of it
	NoWatering   Rule = "none"
)

// rules lists the rules in the order in which they are shown.
func rules() []Rule { return []Rule{ByDepletion, InchLessRain, InchAWeek, NoWatering} }

// inchMM is an inch of water, which over 1 m2 is as many litres. The rule of
// an inch a week in the first growing season, less what fell, is that of many
// extension services (Green Up Glen Rock, New Jersey: at least 1 in a week
// through the growing season while plants establish, made up by watering where
// rain was less; L. Reich, Associated Press, 2021: 1 in a week as the general
// rule, 150 sq ft take 90 gal). See SOURCES.md.
const inchMM = 25.4

const weekDays = 7

// pTab is the share of TAW that bed plants take without stress at 5 mm/d, the
// middle of FAO-56 Table 22 [S1].
const pTab = 0.5

// Watering is one visit with the hose.
type Watering struct {
	Day     int // of the run
	Date    time.Time
	DepthMM float64 // poured on the ground that is watered
	Litres  float64 // in the zone
	Minutes float64 // at the hose's rate
	RootCM  float64 // how deep the roots are by then: soak to there
	Rooted  float64 // how far they have come: 0 pot, 1 established
}

// Season is one zone from planting until the plants have rooted, in one year's
// weather.
type Season struct {
	Year      int // in which it was planted
	From, To  time.Time
	Waterings []Watering
	Litres    float64
	Drought   water.Drought // the worst dry spell of the young roots
	LostDays  int           // days without a rain value

	End state
}

// state is a zone at the start of the day after a season's last.
type state struct {
	DepletionMM float64 // of the root zone, below field capacity
	RootCM      float64
	Rooted      float64 // 0 in the pot, 1 established
	EasyMM      float64 // depletion at which stress begins
	Load        float64 // drought load, days
}

// refill takes a root zone through one day: water comes early in the day and
// fills the depletion, what is more passes below, and plants use what they
// need as far as they can: Dr after = Dr + demand Ks, Ks from the depletion
// once the water is in. All in mm. Source: FAO-56 Eq. 84-88 [S1], as in its
// Examples 37 and 38.
func refill(depletionMM, waterMM, demandMM, tawMM, pTab float64) (afterMM float64) {
	d := max(0, depletionMM-waterMM)
	ks := water.Stress(d, tawMM, water.DepletionFraction(pTab, demandMM))
	return min(tawMM, d+demandMM*ks)
}

// course is what a season is walked with.
type course struct {
	bed       *Bed
	offeredMM []float64 // by the day of the run
	stand     Stand     // zone, ground and plants that are watered
	rootCM    float64   // mature
	rule      Rule
	gapDays   int
	lookAhead int  // days of forecast that a watering waits for
	visit     bool // somebody waters another zone today
	grown     bool // plants that have rooted, and are watered all the same
}

// walk goes from day from up to but not including day to.
func (c course) walk(from, to int) Season {
	w := c.begin(from, to)
	w.on(c, to)
	return w.ended()
}

// walked is a season as far as it was walked.
type walked struct {
	season        Season
	st            state
	run           water.Drought
	from, day     int // of planting; to be walked next
	grown, poured int // days of growth; day of the last watering
}

func (c course) begin(from, to int) walked {
	w := c.bed.Weather
	return walked{season: Season{Year: w.date(from).Year(), From: w.date(from), To: w.date(to)}, from: from, day: from, poured: from}
}

func (k walked) ended() Season {
	k.season.End = k.st
	return k.season
}

// on walks on, up to but not including day to.
func (k *walked) on(c course, to int) {
	w, s, st := c.bed.Weather, &k.season, &k.st
	potCM := c.stand.potCM(c.bed.Setting)
	for ; k.day < to; k.day++ {
		d := k.day
		if st.Rooted = 1; !c.grown {
			st.Rooted = Rooted(k.grown, w.GrowingDaysAYear, c.bed.Setting.RootingYears)
		}
		demand := c.demandMM(d, st.Rooted)
		st.RootCM = YoungRootCM(potCM, c.rootCM, st.Rooted)
		taw := c.bed.Ground.TAWMM(st.RootCM)
		p := water.DepletionFraction(pTab, demand)
		st.EasyMM = p * taw
		pouredMM := 0.0
		if d > k.from && w.Growing[d] && !w.frozen[w.date(d).Month()] && (st.Rooted < 1 || c.grown) {
			pouredMM = c.pour(d, k.from, k.poured, *st, demand)
		}
		if pouredMM > 0 {
			s.add(c.watering(d, pouredMM, *st))
			k.poured = d
		}
		st.DepletionMM = refill(st.DepletionMM, c.offeredMM[d]+float64(pouredMM*c.bed.Setting.ReachShare), demand, taw, pTab)
		if w.Growing[d] {
			k.grown++
		}
		if w.Lost[d] || !w.Growing[d] {
			k.run, st.Load = water.Drought{}, 0
			if w.Lost[d] {
				s.LostDays++
			}
			continue
		}
		follow(&k.run, &s.Drought, d, st.DepletionMM/taw, water.Stress(st.DepletionMM, taw, p))
		st.Load = k.run.Load
	}
}

// demandMM is what plants would use on a day, mm over the ground they root in:
// the bed's Kc ET0, less while they are small, in a straight line with the
// roots.
func (c course) demandMM(d int, rooted float64) float64 {
	return c.bed.Setting.demandMM(c.bed.Weather.Run.DemandMM[d], rooted)
}

func (s Setting) demandMM(grownMM, rooted float64) float64 {
	return grownMM * (s.YoungUse + (1-s.YoungUse)*rooted)
}

// follow carries a dry spell over one more day and keeps the worst.
func follow(run, worst *water.Drought, day int, depleted, ks float64) {
	worst.PeakDepleted = max(worst.PeakDepleted, depleted)
	if ks >= 1 {
		*run = water.Drought{}
		return
	}
	if run.Days == 0 {
		run.FromDay = day
	}
	run.Days++
	run.Load = water.DroughtLoad(run.Load, ks)
	if run.Load > worst.Load {
		worst.Load, worst.FromDay, worst.Days = run.Load, run.FromDay, run.Days
	}
}

// pour returns what is poured on a day, mm on the ground that is watered.
func (c course) pour(d, planted, last int, st state, demandMM float64) float64 {
	switch c.rule {
	case ByDepletion:
		short := max(0, st.DepletionMM-c.offeredMM[d])
		if c.visit && short >= topUpShare*st.EasyMM {
			return short / c.bed.Setting.ReachShare
		}
		gap := c.gapDays
		if d-planted < c.bed.Setting.SettleDays && !c.grown {
			gap = min(gap, c.bed.Setting.SettleGapDays)
		}
		if d-last < gap {
			return 0
		}
		if short+demandMM <= st.EasyMM || c.rainComes(d, short, demandMM, st) {
			return 0
		}
		return short / c.bed.Setting.ReachShare
	case InchAWeek, InchLessRain:
		if (d-planted)%weekDays != 0 {
			return 0
		}
		if c.rule == InchAWeek {
			return inchMM
		}
		fell := 0.0
		for back := d - weekDays; back < d; back++ {
			fell += c.bed.Weather.RainMM[back]
		}
		return max(0, inchMM-fell)
	}
	return 0
}

// rainComes says whether the forecast brings, in the days that are waited for,
// enough to do without the hose.
func (c course) rainComes(d int, shortMM, demandMM float64, st state) bool {
	for ahead := d + 1; ahead <= d+c.lookAhead && ahead < len(c.offeredMM); ahead++ {
		shortMM = max(0, shortMM+demandMM-c.offeredMM[ahead])
		demandMM = c.demandMM(ahead, st.Rooted)
		if shortMM+demandMM <= st.EasyMM {
			return true
		}
	}
	return false
}

// watering says what a depth comes to: by depletion only the ground about the
// plants is watered, by the fixed rules the whole zone.
func (c course) watering(d int, depthMM float64, st state) Watering {
	share := 1.0
	if c.rule == ByDepletion {
		share = c.stand.wetShare(c.bed.Setting, st.Rooted)
	}
	litres := depthMM * c.stand.AreaM2 * share // 1 mm on 1 m2 is 1 L
	return Watering{
		Day: d, Date: c.bed.Weather.date(d), DepthMM: depthMM, Litres: litres,
		Minutes: hoseMinutes(litres, c.bed.Setting.HoseLMin), RootCM: st.RootCM, Rooted: st.Rooted,
	}
}

func (s *Season) add(w Watering) {
	s.Waterings = append(s.Waterings, w)
	s.Litres += w.Litres
}

// For returns a season's waterings as dates after another day of planting: what
// a year like that one would ask for. Day still counts in the record.
func (s Season) For(plantedOn time.Time) []Watering {
	var out []Watering
	first := time.Date(s.From.Year(), s.From.Month(), s.From.Day(), 0, 0, 0, 0, time.UTC)
	for _, w := range s.Waterings {
		date := time.Date(w.Date.Year(), w.Date.Month(), w.Date.Day(), 0, 0, 0, 0, time.UTC)
		w.Date = plantedOn.AddDate(0, 0, int(date.Sub(first)/(24*time.Hour)))
		out = append(out, w)
	}
	return out
}

// hoseMinutes returns how long a hose of so many L/min takes to give so many
// litres: t = litres / rate. +Inf if it gives nothing.
func hoseMinutes(litres, hoseLMin float64) float64 { return litres / hoseLMin }
