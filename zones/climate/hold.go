package climate

import (
	"slices"

	"hollowbed/zones/site"
)

// apart is how far a record and a climate disagree.
type apart struct {
	Rain, WetDays float64 // record over climate, of a mean year
	TempC         float64 // record less climate
	Taken         float64 // part of the difference that is taken over
}

// taken is how much of a difference of so many years is taken for the place's own:
// n / (n + 4), the usual weight of two independent figures where yearly rain varies by
// a fifth of its mean from year to year and neighbours differ by a tenth. Common
// practice, no source for the two.
func taken(years int) float64 { return float64(years) / (float64(years) + 4) }

// Hold moves a climate towards the record of some whole years: the rain of a wet day
// and the share of wet days by the year's ratio, temperatures by each month's
// difference. ok is false if the record has too few days.
func Hold(n Normals, rec *site.Record, years int) (Normals, apart, bool) {
	rec = &site.Record{Start: rec.Start, RainMM: rec.RainMM, Missing: rec.Missing, Days: rec.Days}
	own, ok := Fit(rec, n.WetDayMM)
	if !ok || years < 1 {
		return n, apart{}, false
	}
	a := apart{Taken: taken(years)}
	a.Rain = own.YearRainMM() / n.YearRainMM()
	a.WetDays = own.wetDays() / n.wetDays()
	wetter := exp(float64(a.Taken * ln(a.WetDays)))
	deeper := exp(float64(a.Taken * ln(a.Rain/a.WetDays)))
	for m := range n.Months {
		month, there := &n.Months[m], own.Months[m]
		share, stay := min(month.WetShare()*wetter, 0.95), month.WetAfterWet-month.WetAfterDry
		month.WetAfterDry = float64(share * (1 - stay))
		month.WetAfterWet = month.WetAfterDry + stay
		month.WetMM *= deeper
		month.WetSDMM *= deeper
		high, low := there.TMaxC-month.TMaxC, there.TMinC-month.TMinC
		a.TempC += (high + low) / 24
		month.TMaxC += float64(a.Taken * high)
		month.TMinC += float64(a.Taken * low)
	}
	return n, a, true
}

func (n Normals) wetDays() float64 {
	sum := 0.0
	for i, days := range monthDays() {
		sum += float64(float64(days) * n.Months[i].WetShare())
	}
	return sum
}

// Before returns a record with so many made years before it, up to its first day.
func (n Normals) Before(rec *site.Record, years int, seed uint64, pattern string) *site.Record {
	first := rec.Start.Year() - years
	made := n.record(first, years+1, seed, pattern)
	made.Days = made.Days[:int(rec.Start.Sub(made.Start).Hours()/24+0.5)]
	hours := 24 * len(made.Days)
	out := *rec
	out.Start = rec.Start.AddDate(0, 0, -len(made.Days))
	out.RainMM = slices.Concat(made.RainMM[:hours], rec.RainMM)
	out.Missing = slices.Concat(made.Missing[:hours], rec.Missing)
	out.Days = slices.Concat(made.Days, rec.Days)
	return &out
}
