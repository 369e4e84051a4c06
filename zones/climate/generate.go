package climate

import (
	"math"
	"time"
)

// Years is how many years are made as a rule: one year in ten then rests on six.
const Years = 60

// Day is a day of weather.
type Day struct{ RainMM, TMaxC, TMinC float64 }

// How much colder the day and warmer the night of a wet day are than those of a
// dry one, in standard deviations: the means of seven records (0.42 and -0.40;
// summer days and deserts more, winters less).
const wetDayColder, wetNightWarmer = 0.4, 0.4

// maker makes day after day.
type maker struct {
	n                            Normals
	afterDry, afterWet, wetShare [yearDays]float64
	rain                         [yearDays]float64 // mean of a wet day
	high, low, highSD, lowSD     [yearDays]float64
	amount                       [12]*byScore

	*draw
	memory
	warmth
	wet bool
}

func (n Normals) by(figure func(m Month) float64) (out [12]float64) {
	for i, m := range n.Months {
		out[i] = figure(m)
	}
	return out
}

func newMaker(n Normals, seed uint64) *maker {
	const coldest = -273.15
	m := &maker{
		n:        n,
		afterDry: smooth(n.by(func(m Month) float64 { return m.WetAfterDry }), 0),
		afterWet: smooth(n.by(func(m Month) float64 { return m.WetAfterWet }), 0),
		wetShare: smooth(n.by(Month.WetShare), 0),
		rain:     smooth(n.by(func(m Month) float64 { return m.WetMM }), n.WetDayMM),
		high:     smooth(n.by(func(m Month) float64 { return m.TMaxC }), coldest),
		low:      smooth(n.by(func(m Month) float64 { return m.TMinC }), coldest),
		highSD:   smooth(n.by(func(m Month) float64 { return m.TMaxSD }), 0.1),
		lowSD:    smooth(n.by(func(m Month) float64 { return m.TMinSD }), 0.1),
		draw:     newDraw(seed),
	}
	tail := tails()
	for i, month := range n.Months {
		m.amount[i] = month.amounts(n.WetDayMM, tail)
	}
	return m
}

// Days makes the days of whole years, always the same for a seed. The mean rain of each
// month is exactly that of the normals; mean temperatures are within a tenth of a degree
// or so, as no night is warmer than its day.
func (n Normals) Days(firstYear, years int, seed uint64) []Day {
	m := newMaker(n, seed)
	start := time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC)
	end := start.AddDate(years, 0, 0)
	var days []Day
	for t := start.AddDate(-1, 0, 0); t.Before(end); t = t.AddDate(0, 0, 1) {
		if day := m.day(placeInYear(t), int(t.Month())-1); !t.Before(start) {
			days = append(days, day)
		}
	}
	n.settle(start, days)
	return days
}

// day makes the next day, which has a place in the year and a month.
func (m *maker) day(at, month int) Day {
	chance := m.afterDry[at]
	if m.wet {
		chance = m.afterWet[at]
	}
	m.wet = m.Float64() < chance
	score := m.memory.next(m.draw)
	m.warmth.next(m.draw)
	day, part := Day{}, m.wetShare[at] // how far a dry day is from the mean of all
	if m.wet {
		day.RainMM = m.amount[month].at(score) * (m.rain[at] / m.n.Months[month].WetMM)
		part--
	}
	vary := m.wetShare[at] * (1 - m.wetShare[at])
	day.TMaxC = m.high[at] + float64(m.highSD[at]*(float64(part*wetDayColder)+float64(math.Sqrt(1-float64(vary*wetDayColder*wetDayColder))*m.warmth.high)))
	day.TMinC = m.low[at] + float64(m.lowSD[at]*(float64(-part*wetNightWarmer)+float64(math.Sqrt(1-float64(vary*wetNightWarmer*wetNightWarmer))*coldEnd(m.warmth.low, m.low[at]))))
	return day
}

// coldEnd draws the cold end of a normal score in where nights are cold: below one
// standard deviation by a part that grows to a half from a mean night of -10 to one of
// -18 deg C. The coldest nights of a cold country have a floor that a normal law has not:
// International Falls -41.5 in one year of ten, -48 without this (TestColdest).
func coldEnd(score, meanC float64) float64 {
	if score >= -1 {
		return score
	}
	part := min(max((-10-meanC)/16, 0), 0.5)
	return -1 + float64((score+1)*(1-part))
}

// settle gives each month the mean rain and temperatures that it should have.
func (n Normals) settle(start time.Time, days []Day) {
	month := make([]int, len(days))
	var rain, count [12]float64
	for i, d := range days {
		month[i] = int(start.AddDate(0, 0, i).Month()) - 1
		rain[month[i]] += d.RainMM
		count[month[i]]++
	}
	for i := range days {
		if m := month[i]; rain[m] > 0 {
			days[i].RainMM *= n.Months[m].RainMM(count[m]) / rain[m]
		}
	}
	const near, rounds = 0.1, 20
	n.warm(days, month, count, 0)
	for round := 1; round < rounds && n.warm(days, month, count, near); round++ {
	}
}

// warm gives each month its mean temperatures, and each day a night that is colder
// by 1 deg C at least, unless no mean is off by more than near, in deg C.
func (n Normals) warm(days []Day, month []int, count [12]float64, near float64) (done bool) {
	var high, low [12]float64
	off := 0.0
	for i, d := range days {
		high[month[i]] += d.TMaxC
		low[month[i]] += d.TMinC
	}
	for m, of := range n.Months {
		high[m], low[m] = of.TMaxC-high[m]/count[m], of.TMinC-low[m]/count[m]
		off = max(off, math.Abs(high[m]), math.Abs(low[m]))
	}
	if off <= near {
		return false
	}
	for i := range days {
		d := &days[i]
		d.TMaxC += high[month[i]]
		d.TMinC += low[month[i]]
		if d.TMaxC < d.TMinC+1 {
			mid := (d.TMaxC + d.TMinC) / 2
			d.TMaxC, d.TMinC = mid+0.5, mid-0.5
		}
	}
	return true
}

// placeInYear is the place of a date in a leap year, from 0.
func placeInYear(t time.Time) int {
	at := t.YearDay() - 1
	if leap := time.Date(t.Year(), 12, 31, 0, 0, 0, 0, time.UTC).YearDay() == yearDays; !leap && at >= 59 {
		at++
	}
	return at
}
