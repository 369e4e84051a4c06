package care

import (
	"fmt"
	"math"
	"slices"
	"time"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/fit"
	"hollowbed/zones/site"
)

// MonthDay is a day of any year.
type MonthDay struct {
	Month time.Month
	Day   int
}

// longestGap is the gap between two waterings in a dry spell that is tried
// first: deep watering about once a week. Common practice, no source (and a
// Rhode Island DEM guide: weekly watering when the garden is first planted).
const longestGap = weekDays

// shortestGap is the last that is tried.
const shortestGap = 2

// seasonKey names seasons that were walked alike.
type seasonKey struct {
	band, gap int
	rootCM    float64
	soldAs    string
	rule      Rule
	planted   MonthDay
}

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

// seasons walks every year of the record for a plant. Only the ground that is watered
// differs between stands, so litres are those of 1 m2, all of it watered.
func (b *Bed) seasons(band int, rootCM float64, soldAs string, rule Rule, gap int, planted MonthDay) []Season {
	key := seasonKey{band, gap, rootCM, soldAs, rule, planted}
	if known, ok := b.known[key]; ok {
		return known
	}
	out := b.yearsOf(Stand{AreaM2: 1, Groups: []Group{{Plant: catalogue.Plant{SoldAs: soldAs}}}}, band, rootCM, rule, gap, planted)
	if b.known == nil {
		b.known = map[seasonKey][]Season{}
	}
	b.known[key] = out
	return out
}

// Plan is how one zone is watered until its plants have rooted, as the years
// of the record would have had it.
type Plan struct {
	Zone    string
	Band    int // that it goes by: the driest of the zone
	GapDays int
	GapWhy  string // why that gap
	RootCM  float64
	Years   []Season // by depletion, in order
	Typical int      // index in Years: the need nearest to the median
	Dry     int      // the need nearest to that passed in one year of ten
	ByRule  []RuleSum
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

// Plan works out the watering of one zone for a day of planting. The gap
// between waterings is the setting's or else the longest, from a week down to
// two days, at which the plants' yearly loss to drought stays within the risk
// put up with; if none does, the one with the least loss.
func (b *Bed) Plan(stand Stand, planted MonthDay) (*Plan, error) {
	if err := b.Setting.check(); err != nil {
		return nil, err
	}
	p := &Plan{Zone: stand.Zone, Band: b.Weather.driest(stand.Zone), RootCM: stand.rootCM(b.Ground)}
	if p.Band < 0 {
		return nil, fmt.Errorf("care: the bed has no zone %q", stand.Zone)
	}
	if len(b.starts(planted)) == 0 {
		return nil, &shortRecordError{Days: b.Weather.Known, Want: b.span()}
	}
	p.GapDays, p.GapWhy = b.gap(stand, p.Band, planted)
	for _, rule := range rules() {
		years := b.yearsOf(stand, p.Band, p.RootCM, rule, p.GapDays, planted)
		if rule == ByDepletion {
			p.Years = years
		}
		p.ByRule = append(p.ByRule, b.sum(stand, rule, years))
	}
	own := p.of(ByDepletion)
	var litres []float64
	for _, s := range p.Years {
		litres = append(litres, s.Litres)
	}
	p.Typical, p.Dry = nearest(litres, own.TypicalLitres), nearest(litres, own.DryLitres)
	return p, nil
}

// yearsOf walks a stand through every year of the record.
func (b *Bed) yearsOf(stand Stand, band int, rootCM float64, rule Rule, gap int, planted MonthDay) []Season {
	c := course{bed: b, offeredMM: b.Weather.Run.OfferedMM[band], stand: stand, rootCM: rootCM, rule: rule, gapDays: gap}
	var out []Season
	for _, from := range b.starts(planted) {
		out = append(out, c.walk(from, from+b.span()))
	}
	return out
}

func (b *Bed) gap(stand Stand, band int, planted MonthDay) (days int, why string) {
	if b.Setting.GapDays > 0 {
		return b.Setting.GapDays, "asked for"
	}
	best, least := longestGap, math.Inf(1)
	for gap := longestGap; gap >= shortestGap; gap-- {
		lost := b.lostToDrought(stand, b.yearsOf(stand, band, stand.rootCM(b.Ground), ByDepletion, gap, planted))
		if math.IsNaN(lost) {
			return longestGap, "nothing is known of the plants"
		}
		if lost <= b.Setting.RiskMax {
			return gap, "the longest that the plants bear"
		}
		if lost < least {
			best, least = gap, lost
		}
	}
	return best, "the least loss, though more than is put up with"
}

func (b *Bed) sum(stand Stand, rule Rule, years []Season) RuleSum {
	var litres, visits, spells []float64
	past := 0
	reference := fit.NewReference(stand.rootCM(b.Ground)) // the roots that the seasons were walked with
	for _, s := range years {
		litres = append(litres, s.Litres)
		visits = append(visits, float64(len(s.Waterings)))
		worst, hardest := math.NaN(), math.NaN()
		for _, g := range stand.Groups {
			days := reference.Days(s.Drought)
			if !(days <= worst) {
				worst = days
			}
			if sev := share(days, Young(g.Plant, 0).DryD); !math.IsNaN(sev) && !(sev <= hardest) {
				hardest = sev
			}
		}
		spells = append(spells, worst)
		if hardest > 1 {
			past++
		}
	}
	out := RuleSum{
		Rule: rule, TypicalLitres: site.QuantileWeibull(litres, 0.5), DryLitres: site.OneYearInTen(litres),
		Visits: site.QuantileWeibull(visits, 0.5), Lost: b.lostToDrought(stand, years), DrySpellD: math.NaN(), PastYears: past,
	}
	if len(stand.Groups) > 0 {
		out.DrySpellD = site.OneYearInTen(spells)
	}
	return out
}

// lostToDrought returns the share of a stand's plants that a year like those
// of the record costs by drought while they are young: the mean over the
// plants of fit's yearly risk, with what each bears young. NaN if no plant
// says what it bears.
func (b *Bed) lostToDrought(stand Stand, years []Season) float64 {
	total, n := 0.0, 0.0
	reference := fit.NewReference(stand.rootCM(b.Ground)) // the roots that the seasons were walked with
	for _, g := range stand.Groups {
		var found []fit.Year
		for _, s := range years {
			found = append(found, fit.Year{
				Wet: math.NaN(), Deep: math.NaN(), Cold: math.NaN(),
				Dry: share(reference.Days(s.Drought), Young(g.Plant, 0).DryD),
			})
		}
		if risk := fit.DefaultPredictor().YearlyRisk(found, assumed(g.Plant, fit.TooDry)); !math.IsNaN(risk) {
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

func assumed(p catalogue.Plant, limits ...fit.Limit) []fit.Limit {
	var out []fit.Limit
	for _, l := range limits {
		if slices.Contains(p.Assumed, l.Column()) {
			out = append(out, l)
		}
	}
	return out
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
