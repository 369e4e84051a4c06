package plants

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// Replayed is what the plants of a garden met up to every note on them.
type Replayed struct {
	Garden string
	Kept   []season.Kept // plants that stand, and those gone whose kind is known
	Cases  []season.Case // by plant and season
	Notes  []string      // what was found and done, for people to read

	failed  []placement.Planted // where plants died
	growing [366]bool           // by day of the year, in half of the years or more
}

// Replay runs the real weather through the balance of a lot and finds what each
// plant of planted.csv met up to every note of season.csv. weather is nil for
// the lot's own record; another one, such as that of this year, must begin
// before the plants' notes do. Plants whose kind is not in the catalogue are
// left out, and named.
func Replay(garden string, e *zones.Exposure, weather *site.Record, c *catalogue.Catalogue, rows []placement.Planted, rec *season.Notes) (*Replayed, error) {
	l := e.Lot
	out := &Replayed{Garden: garden, failed: rec.Failed(rows)}
	rec = rec.Guess(rows)
	if weather == nil {
		weather = l.Record
	}
	var cases []season.Case
	known := map[string]bool{}
	for _, s := range season.Stands(rows, rec) {
		known[s.Stake] = true
		plant, ok := c.ByID(s.ID)
		if !ok {
			out.Notes = append(out.Notes, fmt.Sprintf("%s: its kind %q is not in the plant table, so it is left out", s.Stake, s.ID))
			continue
		}
		out.Kept = append(out.Kept, season.Kept{Standing: s, Plant: sized(l.Garden.Wishes, plant), Spots: spots(e, s)})
		cases = append(cases, season.Seasons(garden, s, rec, l.Garden.Site.LatitudeDeg < 0)...)
	}
	for i := range cases {
		cases[i].GroundSD = l.Garden.Soil.KnownSD
	}
	out.tellStrange(rec, known)
	out.tellUnnamed(rec)
	if len(cases) == 0 {
		return out, nil
	}
	out.growing = growingDays(l.Record)
	windows := water.Windows(weather, season.Cuts(weather, cases))
	run, err := l.RunWindows(weather, windows)
	if err != nil {
		return nil, err
	}
	past := &season.Past{Care: careBed(l, run, weather), Fit: fitBed(e), Long: fitBed(e)}
	past.Fit.Watered, past.Long.Watered = false, false // notes say when it was watered
	past.Fit.Run, past.Fit.Start, past.Fit.Use, past.Fit.MinC = run, weather.Start, nil, nil
	for _, w := range windows {
		past.Fit.MinC = append(past.Fit.MinC, lowestC(weather, w))
	}
	out.Cases = past.MeetAll(rec, out.Kept, cases)
	out.tell(weather)
	return out, nil
}

// careBed puts a run of a lot beside what care needs, with the usual setting.
func careBed(l *zones.Lot, run *water.Result, rec *site.Record) *care.Bed {
	return &care.Bed{
		Weather: care.NewWeather(run, rec, care.GrowingDaysAYear(l.Record)),
		Ground:  l.Ground(),
		Setting: care.Default(),
	}
}

func lowestC(rec *site.Record, w site.Year) float64 {
	low := math.NaN()
	for _, d := range rec.Days[w.FromDay:w.ToDay] {
		if !math.IsNaN(d.TMinC) && !(d.TMinC >= low) {
			low = d.TMinC
		}
	}
	return low
}

// spots looks up where a plant stood.
func spots(e *zones.Exposure, s season.Standing) []season.Spot {
	var out []season.Spot
	for _, stay := range s.Stays {
		spot := season.Spot{Band: -1, SunH: math.NaN()}
		if band, ok := e.BandAt(stay.X, stay.Y); ok {
			spot = season.Spot{Zone: e.Bands[band].Zone, Band: band, SunH: e.Lot.SunAt(stay.X, stay.Y)}
		}
		out = append(out, spot)
	}
	return out
}

// tellStrange names notes on plants that nobody knows, and from before planting.
func (r *Replayed) tellStrange(rec *season.Notes, known map[string]bool) {
	said := map[string]bool{}
	for _, e := range rec.Current() {
		if e.Kind == season.Seen && !e.OfDrift() && !known[e.Stake] && !said[e.Stake] {
			said[e.Stake] = true
			r.Notes = append(r.Notes, fmt.Sprintf("%s: noted in entry %d, but no such stake stands in planted.csv, so the note is left out", e.Stake, e.Number))
		}
	}
	for _, k := range r.Kept {
		var early []string
		for _, e := range rec.About(k.Stake) {
			if e.Kind == season.Seen && k.Before(e.Date) {
				early = append(early, fmt.Sprintf("%d of %s", e.Number, e.Date.Format("2 Jan 2006")))
			}
		}
		switch len(early) {
		case 0:
		case 1:
			r.Notes = append(r.Notes, fmt.Sprintf("%s: entry %s is from before it was planted, so it is left out", k.Stake, early[0]))
		default:
			r.Notes = append(r.Notes, fmt.Sprintf("%s: entries %s are from before it was planted, so they are left out", k.Stake, strings.Join(early, ", ")))
		}
	}
}

// tellUnnamed names the drifts of which notes do not say which plants they mean.
func (r *Replayed) tellUnnamed(rec *season.Notes) {
	var drifts []string
	for _, e := range rec.Current() {
		if e.OfDrift() && (e.Among == nil || e.Some < len(e.Among)) && !slices.Contains(drifts, e.Stake) {
			drifts = append(drifts, e.Stake)
		}
	}
	if len(drifts) > 0 {
		r.Notes = append(r.Notes, "notes on some of drift "+strings.Join(drifts, ", ")+" do not say which: they teach what the kind tolerates, and no single plant is judged by them")
	}
}

// growingDays says of each day of the year whether it is in the growing season
// in half of the years or more.
func growingDays(rec *site.Record) (days [366]bool) {
	var yes, all [366]int
	for d, g := range rec.Growing() {
		at := rec.Start.AddDate(0, 0, d).YearDay() - 1
		all[at]++
		if g {
			yes[at]++
		}
	}
	for d := range days {
		days[d] = all[d] == 0 || 2*yes[d] >= all[d]
	}
	if last := len(days) - 1; all[last] == 0 { // no leap year on record
		days[last] = days[last-1]
	}
	return days
}

// settledDays is how long after growth begins a plant shows what became of it.
// Common practice, no source: four weeks.
const settledDays = 28

// lookOn puts a day on which to look again into the growing season.
func (r *Replayed) lookOn(day time.Time) time.Time {
	grows := func(t time.Time) bool { return r.growing[t.YearDay()-1] }
	if day.IsZero() || grows(day) || !slices.Contains(r.growing[:], true) {
		return day
	}
	for !grows(day) {
		day = day.AddDate(0, 0, 1)
	}
	return day.AddDate(0, 0, settledDays)
}

// inBloom puts a day on which to look for flowers into the months in which a
// plant has them, if these are known.
func inBloom(p catalogue.Plant, day time.Time) time.Time {
	blooms := func(m time.Month) bool {
		return (int(m)-p.FlowerFrom+12)%12 <= (p.FlowerTo-p.FlowerFrom+12)%12
	}
	if day.IsZero() || bloomMiddle(p) < 0 || blooms(day.Month()) {
		return day
	}
	for day = day.AddDate(0, 0, 15-day.Day()); !blooms(day.Month()); day = day.AddDate(0, 1, 0) {
	}
	return day
}

// tell notes which cases rest on an ordinary year, which plants stand outside
// the bed, and of which nobody wrote down when they were planted.
func (r *Replayed) tell(weather *site.Record) {
	reaches := fmt.Sprintf("the record is of %s to %s", weather.Start.Format("2 Jan 2006"), weather.Start.AddDate(0, 0, len(weather.Days)-1).Format("2 Jan 2006"))
	if lost := weather.MissingHours(); lost >= 24 {
		reaches += fmt.Sprintf(" and lacks the rain of %d days", lost/24)
	}
	ordinary := 0
	for _, c := range r.Cases {
		if c.Ordinary {
			ordinary++
		}
	}
	if ordinary > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("no weather for %d of %d plants and seasons (%s): judged by an ordinary year, and nothing is learned from them", ordinary, len(r.Cases), reaches))
	}
	undated := 0
	for _, k := range r.Kept {
		if _, seen := r.last(k.Stake); seen && k.Planted.IsZero() {
			undated++
		}
	}
	if undated > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("the planting day of %d of the plants noted is not known: they are judged as grown, though young plants tolerate far less. Write the day into planted.csv, column planted", undated))
	}
	for _, k := range r.Kept {
		if slices.ContainsFunc(k.Spots, func(s season.Spot) bool { return s.Band < 0 }) {
			r.Notes = append(r.Notes, k.Stake+": stands outside the bed, or nobody wrote down where: what it met there is not known")
		}
	}
}

// diagnose weighs the causes of every plant in its last season, in the order of
// the plants. What was noted before its last move is about a place that it left,
// and says nothing of how it does now. learned may be nil.
func (r *Replayed) diagnose(m season.Model, t *season.Table, learned *season.Learned) []season.Diagnosis {
	var out []season.Diagnosis
	for _, k := range r.Kept {
		c, ok := r.last(k.Stake)
		if moved := ok && k.Stays[len(k.Stays)-1].From.After(c.To); ok && !moved && k.Gone.IsZero() {
			c.Rests, c.NoPond = !r.growing[c.To.YearDay()-1] && slices.Contains(r.growing[:], true), c.Dose[1].Severity == 0
			d := m.Diagnose(t, c, r.bearing(m, c, learned))
			d.LookOn = r.lookOn(d.LookOn)
			if d.Wait && d.Next != nil && d.Next.Sign == season.FewFlowers {
				d.LookOn = inBloom(k.Plant, d.LookOn)
			}
			out = append(out, d)
		}
	}
	return out
}

// last is the last case of a plant; ok is false if it has none.
func (r *Replayed) last(stake string) (c season.Case, ok bool) {
	for _, x := range r.Cases {
		if season.SameStake(x.Plant, stake) && (!ok || x.To.After(c.To)) {
			c, ok = x, true
		}
	}
	return c, ok
}

func (r *Replayed) bearing(m season.Model, c season.Case, learned *season.Learned) season.Bearing {
	if learned == nil {
		return m.Unlearned(c)
	}
	if b, ok := learned.Bearing(c.Garden, c.Plant); ok {
		return b.Before
	}
	return learned.Expect(m, c.Garden, c.Species, c.Assumed)
}

// MoveInput learns from the notes of the garden and from cases of others, weighs
// why each plant does as it does, and gives what Relocate needs.
func (r *Replayed) MoveInput(j *Judge, t *season.Table, c *catalogue.Catalogue, rows []placement.Planted, others []season.Case, on time.Time) MoveInput {
	in := MoveInput{Judge: j, Catalogue: c, Standing: rows, Failed: r.failed, Garden: r.Garden, Model: season.Witnesses(), On: on}
	if cases := slices.Concat(r.Cases, others); len(cases) > 0 {
		in.Learned = in.Model.Learn(t, cases)
	}
	in.Diagnoses = r.diagnose(in.Model, t, in.Learned)
	for _, k := range r.Kept {
		in.Stands = append(in.Stands, k.Standing)
	}
	return in
}
