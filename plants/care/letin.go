package care

import (
	"errors"
	"math"
	"slices"

	"hollowbed/plants/fit"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// LetInWeek is what comes of letting the roof water in so many weeks after
// planting.
type LetInWeek struct {
	Week    int
	Rooted  float64 // how far roots have come by then, in the mean of the years
	Drowned float64 // share of plants lost to wetness until rooted
	Parched float64 // share lost to drought until rooted, without a hose
	Watered float64 // the same, watered by depletion unless nobody waters
	Litres  float64 // that this takes, in the median year
}

// LetIn says when to let the roof water in.
type LetIn struct {
	Planted MonthDay
	Weeks   []LetInWeek // from at once to when roots are grown
	Years   int         // planting years that it rests on
	// Indices in Weeks, -1 if there is none. Earliest: the loss to wetness is no
	// more than is put up with and, if such a week also comes within SmallLoss of
	// the best one, both losses together, watered, do. Latest: waiting costs no more plants by drought
	// than is put up with beyond what opening at once would, without a hose.
	// Best: the fewest lost, both together, watered; of those within a plant in a
	// hundred the first, which takes the least of the hose.
	Earliest, Latest, Best int
	// Clash: the water would drown them before Latest and they would parch
	// before Earliest: keep it out until Earliest and water by hand.
	Clash     bool
	WetSeason WetSeason
}

// Advised is the week that the plan goes by: the earliest, else the best; 0 if nothing
// is known of the plants.
func (l *LetIn) Advised() int {
	switch {
	case l.Earliest >= 0:
		return l.Weeks[l.Earliest].Week
	case l.Best >= 0:
		return l.Weeks[l.Best].Week
	}
	return 0
}

// Inflow is a balance with what is needed to follow wet spells by the day.
type Inflow struct {
	Weather *Weather
	WetH    [][]int // by band and day; nil for bands that are not looked at
}

// WetHours counts the hours of each day of the record in which the lowest band of
// each zone stood wet. The others stay nil.
func WetHours(s water.Setup, rec *site.Record, zones []string) ([][]int, error) {
	bands := s.Bed.Bands()
	var wanted []int
	for _, zone := range zones {
		if band := wettest(bands, zone); band >= 0 {
			wanted = append(wanted, band)
		}
	}
	found, err := water.WetHours(s, rec, wanted)
	out := make([][]int, len(bands))
	for i, hours := range found {
		out[wanted[i]] = hours
	}
	return out, err
}

// LetWaterIn weighs, week by week after planting, drowning young plants
// against parching them. open and closed are the balances with the roof water
// and without; b.Weather is not used. Until the week closed holds, from then
// on open. Each zone is watered by itself as its plants ask for it. A wet spell is set
// against what plants bear at its end, half of it at planting and all of it once rooted;
// a drought of growing roots against what they bear on its days. Risks are means over the plants. Depth of water is left out: fit has
// it. A year counts if the record follows it until plants have rooted.
func (b *Bed) LetWaterIn(open, closed Inflow, stands []Stand, planted MonthDay, season WetSeason) (*LetIn, error) {
	if err := b.Setting.check(); err != nil {
		return nil, err
	}
	if len(open.Weather.RainMM) != len(closed.Weather.RainMM) {
		return nil, errors.New("care: want the balance with and without roof water over the same record")
	}
	for band := range open.WetH {
		if open.WetH[band] != nil && closed.WetH[band] == nil {
			return nil, errors.New("care: want the wet hours of both balances for the same zones")
		}
	}
	l := letIn{bed: &Bed{Weather: open.Weather, Ground: b.Ground, Setting: b.Setting}, open: open, closed: closed}
	if l.from = l.bed.starts(planted); len(l.from) == 0 {
		return nil, &shortRecordError{Days: open.Weather.Known, Want: b.span()}
	}
	out := &LetIn{Planted: planted, Years: len(l.from), WetSeason: season}
	alone, helped := make([][][]Season, len(stands)), make([][][]Season, len(stands))
	for i, s := range stands {
		alone[i], helped[i] = l.seasons(s, NoWatering), l.seasons(s, b.Setting.rule())
	}
	for week := 0; week*weekDays <= b.span(); week++ {
		out.Weeks = append(out.Weeks, l.week(week, stands, alone, helped))
	}
	out.choose(b.Setting.RiskMax)
	return out, nil
}

const (
	// alike is how little two losses may differ to count as one.
	alike = 0.01
	// SmallLoss is how much more of the plants than in the best week may be lost in
	// the earliest one. Choice of this project, no source.
	SmallLoss = 0.05
)

// choose picks the weeks. Parched is nearly never lower for waiting, so the
// first week at which it costs too much ends the search.
func (l *LetIn) choose(riskMax float64) {
	l.Earliest, l.Latest, l.Best = -1, -1, -1
	borne, within, least := -1, true, math.Inf(1)
	for _, w := range l.Weeks {
		least = min(least, w.Drowned+w.Watered)
	}
	for i, w := range l.Weeks {
		if borne < 0 && w.Drowned <= riskMax {
			borne = i
		}
		if l.Earliest < 0 && w.Drowned <= riskMax && w.Drowned+w.Watered <= least+SmallLoss {
			l.Earliest = i
		}
		if within = within && w.Parched-l.Weeks[0].Parched <= riskMax; within {
			l.Latest = i
		}
		if l.Best < 0 && w.Drowned+w.Watered <= least+alike {
			l.Best = i
		}
	}
	l.Clash = borne < 0 || borne > l.Latest
	if l.Earliest < 0 {
		l.Earliest = borne
	}
}

// letIn is what the weeks share.
type letIn struct {
	bed          *Bed
	open, closed Inflow
	from         []int // days of planting
}

// week weighs one week; the seasons are by stand, week and year.
func (l letIn) week(week int, stands []Stand, alones, helps [][][]Season) LetInWeek {
	out := LetInWeek{Week: week}
	for _, from := range l.from {
		out.Rooted += l.bed.rootedOn(from, from+week*weekDays) / float64(len(l.from))
	}
	litres := make([]float64, len(l.from))
	plants, drowned, dryPlants, parched, watered := 0.0, 0.0, 0.0, 0.0, 0.0
	for i, s := range stands {
		wet := l.wettest(s.Zone, week)
		alone, helped := alones[i][week], helps[i][week]
		for i := range helped {
			litres[i] += helped[i].Litres
		}
		n := 0.0
		for _, g := range s.Groups {
			n += float64(g.Count)
		}
		if risk, known := drownedShare(s, wet); known > 0 {
			drowned += risk * known
			plants += known
		}
		if risk := lostToDrought(s, alone); !math.IsNaN(risk) {
			parched += risk * n
			watered += lostToDrought(s, helped) * n
			dryPlants += n
		}
	}
	out.Drowned, out.Parched, out.Watered = drowned/plants, parched/dryPlants, watered/dryPlants
	out.Litres = site.QuantileWeibull(litres, 0.5)
	return out
}

// drownedShare returns the mean risk of a stand's plants by wetness, and the
// number of plants that say what they bear. wetH is the worst spell of each
// year as what an established plant would feel, equivalent hours.
func drownedShare(s Stand, wetH []float64) (risk, plants float64) {
	for _, g := range s.Groups {
		var years []fit.Year
		for _, h := range wetH {
			years = append(years, fit.Year{Wet: share(h, g.Plant.WetH), Deep: math.NaN(), Dry: math.NaN(), Cold: math.NaN()})
		}
		if r := fit.DefaultPredictor().YearlyRisk(years, &g.Plant); !math.IsNaN(r) {
			risk += r * float64(g.Count)
			plants += float64(g.Count)
		}
	}
	return risk / plants, plants
}

// seasons walks a stand through every year, by the week in which the water is let
// in and by year. Until then all weeks are alike, and are walked once.
func (l letIn) seasons(s Stand, rule Rule) [][]Season {
	weeks := l.bed.span()/weekDays + 1
	out := make([][]Season, weeks)
	band := l.closed.Weather.driest(s.Zone)
	if band < 0 {
		return out
	}
	open := l.bed.course(s, band, rule, len(l.from))
	shut := open
	shut.offeredMM = l.closed.Weather.Run.OfferedMM[band]
	same := slices.Equal(open.offeredMM, shut.offeredMM)
	for _, from := range l.from {
		to := from + l.bed.span()
		before := shut.begin(from, to)
		for week := range weeks {
			if same && week > 0 {
				out[week] = append(out[week], out[0][len(out[0])-1])
				continue
			}
			before.on(&shut, from+week*weekDays)
			after := before.again()
			after.on(&open, to)
			out[week] = append(out[week], after.ended(&open))
		}
	}
	return out
}

// wettest returns, for each year, the worst wet spell of a zone's lowest band
// from planting to rooted, with the water let in in a week: equivalent hours,
// divided by the share that plants bear at the end of the spell.
func (l letIn) wettest(zone string, week int) []float64 {
	out := make([]float64, len(l.from))
	band := wettest(l.open.Weather.Run.Bands, zone)
	if band < 0 || l.open.WetH[band] == nil {
		for i := range out {
			out[i] = math.NaN()
		}
		return out
	}
	for i, from := range l.from {
		opened, grown := from+week*weekDays, 0
		var run wetRun
		for d := from; d < from+l.bed.span(); d++ {
			hours := l.open.WetH[band][d]
			if d < opened {
				hours = l.closed.WetH[band][d]
			}
			weight := water.DormantShare
			if l.open.Weather.Growing[d] {
				weight = 1
				grown++
			}
			felt := run.day(hours, weight)
			rooted := Rooted(grown, l.open.Weather.GrowingDaysAYear, l.bed.Setting.RootingYears)
			out[i] = max(out[i], felt/Tolerance(youngShare, rooted))
		}
	}
	return out
}

// wetRun follows wet spells by the day, where only the wet hours of each day
// are known.
type wetRun struct{ whole, last float64 }

// day adds a day and returns the longest spell that may end in it: the hours
// of the day, with the whole days and the part of a day right before. Hours
// apart in one day are taken as one spell, which errs on the wet side.
func (r *wetRun) day(hours int, weight float64) float64 {
	h := weight * float64(hours)
	felt := r.last + r.whole + h
	if hours == 24 {
		r.whole += h
		return felt
	}
	r.whole, r.last = 0, h
	return felt
}

// rootedOn says how far roots have come on a day.
func (b *Bed) rootedOn(planted, day int) float64 {
	grown := 0
	for d := planted; d < day && d < len(b.Weather.Growing); d++ {
		if b.Weather.Growing[d] {
			grown++
		}
	}
	return Rooted(grown, b.Weather.GrowingDaysAYear, b.Setting.RootingYears)
}
