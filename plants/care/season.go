package care

import (
	"math"
	"slices"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
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
	Sooner  int     // the kind of plants that could not wait for a week; -1: none
}

// Season is one zone from planting until the plants have rooted, in one year's
// weather.
type Season struct {
	Year      int // in which it was planted
	From, To  time.Time
	Waterings []Watering
	Litres    float64
	LostDays  int     // days without a rain value
	Plants    []Roots // of the stand's groups, in order, at the end
}

// taken is how far roots have come once plants count as established, so that neither
// visits nor dry spells are those of young ones: what is set out weeks after growth
// begins has seen its one growing season by autumn, not next spring. Choice of this
// project, no source.
const taken = 0.9

// today is what all roots of a bed meet on a day.
type today struct {
	day                 int
	rooted, demandMM, p float64
	rests               bool // the day ends every dry spell
}

func (w *Weather) today(d int, rooted float64, s Setting) today {
	demand := s.demandMM(w.Run.DemandMM[d], rooted)
	return today{d, rooted, demand, water.DepletionFraction(pTab, demand), w.Lost[d] || !w.Growing[d]}
}

// course is what a season of one zone is walked with.
type course struct {
	bed       *Bed
	offeredMM []float64                     // by the day of the run
	shutMM    []float64                     // the same while the roof water is kept out ...
	weeks     int                           // ... so many weeks from planting
	stand     Stand                         // zone, ground and plants that are watered
	kinds     []kind                        // of its groups, each once
	of        []int                         // which one each group is
	days      []func(water.Drought) float64 // a spell of each kind as days on the reference ground
	rule      Rule
	lookAhead int             // days of forecast that a watering waits for
	grown     bool            // plants that have rooted, and are watered all the same
	given     map[int]float64 // what is poured by the day, mm, whatever the rule; nil: the rule says
}

// course is that of a stand in a band, by a rule. Of a stand without plants nothing is
// known but the ground.
func (b *Bed) course(s Stand, band int, rule Rule, years int) course {
	c := course{bed: b, offeredMM: b.Weather.Run.OfferedMM[band], stand: s, rule: rule}
	if b.Shut != nil {
		c.shutMM, c.weeks = b.Shut.Run.OfferedMM[band], b.ShutWeeks
	}
	for _, g := range s.Groups {
		k := b.kindOf(g.Plant, years)
		k.safe = g.Safe
		c.add(k)
	}
	if len(c.kinds) == 0 {
		c.add(b.kindOf(catalogue.Plant{DryD: math.NaN(), RootCM: math.NaN()}, years))
	}
	return c
}

// add adds a group of a kind.
func (c *course) add(k kind) {
	i := slices.Index(c.kinds, k)
	if i < 0 {
		i, c.kinds = len(c.kinds), append(c.kinds, k)
		c.days = append(c.days, fit.NewReference(k.matureCM).Days)
	}
	c.of = append(c.of, i)
}

// walk goes from day from up to but not including day to.
func (c *course) walk(from, to int) Season {
	k := c.begin(from, to)
	k.on(c, to)
	return k.ended(c)
}

// walked is a season as far as it was walked.
type walked struct {
	season        Season
	from, day     int // of planting; to be walked next
	grown, poured int // days of growth; day of the last watering
}

func (c *course) begin(from, to int) walked {
	w := c.bed.Weather
	k := walked{season: Season{Year: w.date(from).Year(), From: w.date(from), To: w.date(to)}, from: from, day: from, poured: from}
	k.season.Plants = make([]Roots, len(c.kinds))
	for i, kind := range c.kinds {
		k.season.Plants[i].Worst.Share = 0 * kind.bearsD // NaN if not known
	}
	return k
}

// on walks on by itself, up to but not including day to.
func (k *walked) on(c *course, to int) {
	for k.day < to {
		_, asked := c.asks(k)
		k.step(c, asked)
	}
}

// ended is the season, with the roots of every group.
func (k *walked) ended(c *course) Season {
	s := k.season
	s.Plants = make([]Roots, len(c.of))
	for i, kind := range c.of {
		s.Plants[i] = k.season.Plants[kind]
	}
	return s
}

// again is the season so far, to be walked on from in more than one way.
func (k *walked) again() walked {
	out := *k
	out.season.Waterings = slices.Clip(k.season.Waterings)
	out.season.Plants = slices.Clone(k.season.Plants)
	return out
}

func (k *walked) rooted(c *course) float64 {
	if c.grown {
		return 1
	}
	return Rooted(k.grown, c.bed.Weather.GrowingDaysAYear, c.bed.Setting.RootingYears)
}

// step walks one day; visit says that somebody is out with the hose.
func (k *walked) step(c *course, visit bool) {
	d, w, s := k.day, c.bed.Weather, &k.season
	t := w.today(d, k.rooted(c), c.bed.Setting)
	pouredMM := c.given[d]
	if c.given == nil && (visit || c.rule == InchAWeek || c.rule == InchLessRain) && c.mayWater(k, t) {
		watering := c.pour(k, t)
		if pouredMM = watering.DepthMM; pouredMM > 0 {
			s.Waterings = append(s.Waterings, watering)
			s.Litres += watering.Litres
			k.poured = d
		}
	}
	for i := range c.kinds {
		s.Plants[i].pass(&c.kinds[i], c.days[i], c.bed.Ground, t, c.offered(k, d)+float64(pouredMM*c.bed.Setting.ReachShare))
	}
	if w.Growing[d] {
		k.grown++
	}
	if w.Lost[d] {
		s.LostDays++
	}
	k.day++
}

// offered is what the balance brings on a day, mm.
func (c *course) offered(k *walked, d int) float64 {
	if d < k.from+c.weeks*weekDays {
		return c.shutMM[d]
	}
	return c.offeredMM[d]
}

// mayWater says whether a hose is of use: not on the day of planting, in the cold, or
// once the plants have rooted.
func (c *course) mayWater(k *walked, t today) bool {
	w := c.bed.Weather
	return t.day > k.from && w.Growing[t.day] && !w.frozen[w.date(t.day).Month()] && (t.rooted < taken || c.grown)
}

// demandMM is what plants would use on a day, mm over the ground they root in:
// the bed's Kc ET0, less while they are small, in a straight line with the
// roots.
func (s Setting) demandMM(grownMM, rooted float64) float64 {
	return grownMM * (s.YoungUse + (1-s.YoungUse)*rooted)
}

// asks says whether a plant of the zone calls for water today: it has used its easy
// water and was watered a week ago or more (in the first days: the day before yesterday),
// or, sooner, it would come today to the share (kind.most) of the drought it bears. For
// that share it counts until it has rooted with what it bears at planting, since the
// published intervals [S40] hold until then; that visits become rarer comes of its roots,
// which reach more water. sooner is the kind that cannot wait, -1 if none.
func (c *course) asks(k *walked) (sooner int, asked bool) {
	t := c.bed.Weather.today(k.day, k.rooted(c), c.bed.Setting)
	gap, since := weekDays, k.day-k.poured
	if k.day-k.from < c.bed.Setting.SettleDays && !c.grown {
		gap = c.bed.Setting.SettleGapDays
	}
	if c.rule != ByDepletion || since < min(gap, shortestGap) {
		return -1, false
	}
	for i := range c.kinds {
		p := &c.kinds[i]
		if p.safe {
			continue
		}
		r := k.season.Plants[i]
		r.grow(p, c.bed.Ground, t)
		if since >= gap {
			short := max(0, r.DepletionMM-c.offered(k, k.day))
			asked = asked || short+t.demandMM > r.EasyMM && !c.rainComes(k, t, short, r.EasyMM)
			continue
		}
		if r.pass(p, c.days[i], c.bed.Ground, t, c.offered(k, k.day)); r.Share > p.most && !c.grown && c.mayWater(k, t) {
			return i, true
		}
	}
	return -1, asked && c.mayWater(k, t)
}

// pour returns what is poured on a day. By depletion every kind that asks, or on a
// visit has used half of its easy water, is filled up.
func (c *course) pour(k *walked, t today) Watering {
	out, d := Watering{Day: t.day, Date: c.bed.Weather.date(t.day), Rooted: t.rooted, Sooner: -1}, t.day
	share := 1.0
	switch c.rule {
	case ByDepletion:
		sooner, asked := c.asks(k)
		out.Sooner = sooner
		for i := range c.kinds {
			r := k.season.Plants[i]
			r.grow(&c.kinds[i], c.bed.Ground, t)
			short := max(0, r.DepletionMM-c.offered(k, d))
			wants := short >= topUpShare*r.EasyMM || asked && i == sooner
			if !c.kinds[i].safe && wants && short/c.bed.Setting.ReachShare > out.DepthMM {
				out.DepthMM, out.RootCM = short/c.bed.Setting.ReachShare, r.CM
			}
		}
		share = c.stand.wetShare(c.bed.Setting, t.rooted)
	case InchAWeek, InchLessRain:
		if (d-k.from)%weekDays != 0 {
			return out
		}
		out.DepthMM = inchMM
		for back := d - weekDays; back < d && c.rule == InchLessRain; back++ {
			out.DepthMM -= c.bed.Weather.RainMM[back]
		}
		out.DepthMM = max(0, out.DepthMM)
	}
	out.Litres = out.DepthMM * c.stand.AreaM2 * share // 1 mm on 1 m2 is 1 L
	out.Minutes = hoseMinutes(out.Litres, c.bed.Setting.HoseLMin)
	return out
}

// rainComes says whether the forecast brings, in the days that are waited for,
// enough to do without the hose.
func (c *course) rainComes(k *walked, t today, shortMM, easyMM float64) bool {
	demandMM := t.demandMM
	for ahead := t.day + 1; ahead <= t.day+c.lookAhead && ahead < len(c.offeredMM); ahead++ {
		shortMM = max(0, shortMM+demandMM-c.offered(k, ahead))
		demandMM = c.bed.Setting.demandMM(c.bed.Weather.Run.DemandMM[ahead], t.rooted)
		if shortMM+demandMM <= easyMM {
			return true
		}
	}
	return false
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
