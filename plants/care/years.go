package care

import (
	"fmt"
	"math"
	"slices"
	"time"

	"hollowbed/plants/fit"
	"hollowbed/zones/site"
)

// MonthDay is a day of any year.
type MonthDay struct {
	Month time.Month
	Day   int
}

// shortestGap is the fewest days between two waterings. Plugs are watered twice a week
// or every three days at most (SOURCES.md [S40]); a day less for the hottest weeks is
// common practice, no source.
const shortestGap = 2

// span is how many days a plant takes from the pot to its mature roots.
func (b *Bed) span() int { return int(math.Ceil(daysAYear * b.Setting.RootingYears)) }

// starts returns the days of the run on which planting may have been, one for
// each year that the record follows to the end of rooting. 29 February is
// 1 March where there is none.
func (b *Bed) starts(planted MonthDay) []int {
	w := b.Weather
	var days []int
	for year := w.Start.Year(); ; year++ {
		d := w.DayOf(time.Date(year, planted.Month, planted.Day, 0, 0, 0, 0, w.Start.Location()))
		if d+b.span() > w.Known {
			return days
		}
		if d >= 0 {
			days = append(days, d)
		}
	}
}

// DaysFor returns how many days a record wants, so that it holds a first year from
// any day of the year; 0 if this one holds one from the day of planting.
func (b *Bed) DaysFor(planted MonthDay) int {
	if len(b.starts(planted)) > 0 {
		return 0
	}
	return 366 + b.span()
}

// shortRecordError says that a record holds no first year.
type shortRecordError struct{ Days, Want int }

func (e *shortRecordError) Error() string {
	return fmt.Sprintf("the record has %d days: want at least %d after the day of planting, to see a first year through; two calendar years hold them for any day", e.Days, e.Want)
}

// BadInput marks the error as one that the user can mend.
func (e *shortRecordError) BadInput() bool { return true }

// Plan is how one zone is watered until its plants have rooted, as the years
// of the record would have had it.
type Plan struct {
	Zone    string
	Band    int     // that it goes by: the driest of the zone
	GapDays [2]int  // fewest days between two waterings in any year, before and after half the way to rooted; 0 if there are none
	Sooner  []Group // who cannot wait for a week, and makes them go sooner
	RootCM  float64
	Years   []Season // by depletion, in order; empty ones if nobody waters
	Typical int      // index in Years: the need nearest to the median
	Dry     int      // the need nearest to that passed in one year of ten
	ByRule  []RuleSum

	helped []Season // as Years, also if nobody waters
}

// RuleSum is what a rule asks for and what it leaves.
type RuleSum struct {
	Rule          Rule
	TypicalLitres float64 // median of the years
	DryLitres     float64 // passed in one year of ten
	Visits        float64 // median
	Lost          float64 // share of plants lost to drought in the first year; NaN if not known
	DrySpellD     float64 // one year in ten: worst spell, as days without water on the reference ground; NaN without plants
	PastYears     int     // years in which the tenderest plants pass what they bear young
}

// Saved returns the litres that the plan by depletion spares in a typical year
// against another rule; below 0 if it asks for more.
func (p *Plan) Saved(rule Rule) float64 {
	return p.of(rule).TypicalLitres - p.of(ByDepletion).TypicalLitres
}

// of returns the sums of one rule.
func (p *Plan) of(rule Rule) RuleSum {
	i := slices.IndexFunc(p.ByRule, func(r RuleSum) bool { return r.Rule == rule })
	if i < 0 {
		panic("care: no rule " + string(rule))
	}
	return p.ByRule[i]
}

// Plans makes one schedule of a bed for a day of planting: somebody goes out when the
// thirstiest plant asks for it (course.asks), and waters what else has used half of its
// easy water. Typical and Dry are the same year in all plans, by the litres of the whole
// bed. The answer is in the order of the stands.
func (b *Bed) Plans(stands []Stand, planted MonthDay) ([]*Plan, error) {
	if err := b.Setting.check(); err != nil {
		return nil, err
	}
	var plans []*Plan
	for _, s := range stands {
		p := &Plan{Zone: s.Zone, Band: b.Weather.driest(s.Zone), RootCM: s.rootCM(b.Ground)}
		if p.Band < 0 {
			return nil, fmt.Errorf("care: the bed has no zone %q", s.Zone)
		}
		plans = append(plans, p)
	}
	days := b.starts(planted)
	if len(days) == 0 {
		return nil, &shortRecordError{Days: b.Weather.Known, Want: b.span()}
	}
	for _, rule := range rules() {
		var courses []course
		for i, s := range stands {
			courses = append(courses, b.course(s, plans[i].Band, rule, len(days)))
		}
		years := make([][]Season, len(stands))
		for _, from := range days {
			for i, season := range together(courses, from, from+b.span()) {
				years[i] = append(years[i], season)
			}
		}
		for i, p := range plans {
			if rule == ByDepletion {
				p.helped = years[i]
			}
			if rule == b.Setting.rule() {
				p.Years = years[i]
			}
			p.ByRule = append(p.ByRule, b.sum(stands[i], rule, years[i]))
		}
	}
	litres := make([]float64, len(days))
	for i, p := range plans {
		p.gaps(b.course(stands[i], p.Band, ByDepletion, len(days)))
		for k, s := range p.Years {
			litres[k] += s.Litres
		}
	}
	for _, p := range plans {
		p.Typical, p.Dry = nearest(litres, site.QuantileWeibull(litres, 0.5)), nearest(litres, site.OneYearInTen(litres))
	}
	return plans, nil
}

// gaps finds how often a plan goes out in dry weather, once settled, and for whom.
func (p *Plan) gaps(c course) {
	sooner := make([]bool, len(c.kinds))
	for _, year := range p.Years {
		last := year.From
		for _, w := range year.Waterings {
			gap := int(math.Round(w.Date.Sub(last).Hours() / 24))
			half := 0
			if w.Rooted >= 0.5 {
				half = 1
			}
			if since := int(w.Date.Sub(year.From).Hours() / 24); since > c.bed.Setting.SettleDays && last != year.From && (p.GapDays[half] == 0 || gap < p.GapDays[half]) {
				p.GapDays[half] = gap
			}
			if last = w.Date; w.Sooner >= 0 {
				sooner[w.Sooner] = true
			}
		}
	}
	for i, g := range c.stand.Groups {
		if sooner[c.of[i]] {
			p.Sooner = append(p.Sooner, g)
		}
	}
}

// sum adds up what a rule asks for and leaves.
func (b *Bed) sum(stand Stand, rule Rule, years []Season) RuleSum {
	var litres, visits, spells []float64
	past := 0
	for _, s := range years {
		litres = append(litres, s.Litres)
		visits = append(visits, float64(len(s.Waterings)))
		var hardest Spell
		for i := range stand.Groups {
			if worst := s.Plants[i].Worst; worst.Share > hardest.Share || hardest.Days == 0 {
				hardest = worst
			}
		}
		spells = append(spells, hardest.Days)
		if hardest.Share > 1 {
			past++
		}
	}
	out := RuleSum{
		Rule: rule, TypicalLitres: site.QuantileWeibull(litres, 0.5), DryLitres: site.OneYearInTen(litres),
		Visits: site.QuantileWeibull(visits, 0.5), Lost: lostToDrought(stand, years), DrySpellD: math.NaN(), PastYears: past,
	}
	if len(stand.Groups) > 0 {
		out.DrySpellD = site.OneYearInTen(spells)
	}
	return out
}

// lostToDrought returns the share of a stand's plants that a year like those
// of the record costs by drought while they are young: the mean over the
// plants of fit's yearly risk, with what each bears at its age. NaN if no plant
// says what it bears.
func lostToDrought(stand Stand, years []Season) float64 {
	total, n := 0.0, 0.0
	for i, g := range stand.Groups {
		var found []fit.Year
		for _, s := range years {
			found = append(found, fit.Year{Wet: math.NaN(), Deep: math.NaN(), Cold: math.NaN(), Dry: s.Plants[i].Worst.Share})
		}
		if risk := fit.DefaultPredictor().YearlyRisk(found, &g.Plant); !math.IsNaN(risk) {
			total += risk * float64(g.Count)
			n += float64(g.Count)
		}
	}
	return total / n
}

// share returns what was found as a multiple of what is borne, which counts as
// a day or an hour at least, the least that the balance tells apart. NaN if
// that is not known.
func share(found, borne float64) float64 {
	if math.IsNaN(borne) {
		return math.NaN()
	}
	return found / max(borne, 1)
}

// nearest returns the year whose litres lie nearest to a figure; the first of
// equals.
func nearest(years []float64, litres float64) int {
	best := 0
	for i, l := range years {
		if math.Abs(l-litres) < math.Abs(years[best]-litres) {
			best = i
		}
	}
	return best
}
