package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants/care"
	"hollowbed/zones"
)

// careShow words figures in the garden's units.
func careShow(u zones.Units) care.Show {
	return care.Show{
		Litres:  func(l float64) string { return u.Water(l / 1000) },
		DepthMM: u.Depth,
		LongCM:  func(cm float64) string { return u.Length(cm / 100) },
	}
}

// careBasis says what today's words rest on.
func careBasis(in CareIn) string {
	if in.This != nil {
		return "this year"
	}
	return "a typical year"
}

// careTodayLines says in three lines what to do today, and what it rests on.
func careTodayLines(in CareIn, show care.Show) [3]string {
	lines := in.Today.Lines(show)
	rooted := !in.Today.Date.Before(in.RootedOn())
	switch {
	case in.Today.Date.Before(in.Planted):
		lines[0] = "Water: not yet, planting is on " + date(in.Planted) + "."
	case rooted:
		lines[0] = "Water: none, the plants have rooted."
		if in.Watering != nil {
			lines[0] = "Water: the plants have rooted; once a week in drought, as you said."
		}
	case in.Setting.Never:
		lines[0] = "Water: none, as you said (wishes.watering: none)."
	case in.This == nil:
		lines[0] += " So in a typical year; feel the soil first."
	}
	if in.This == nil {
		lines[1] = "Look: what fell is not known here (--so-far)."
		if in.HeavyMM > 0 {
			lines[1] = "Look: what fell is not known here (--so-far). After " + show.DepthMM(in.HeavyMM) + " in a day: inlet open, water gone, soil in place?"
		}
	}
	return lines
}

// TextToday prints three lines.
func (d Care) TextToday(w io.Writer) {
	for _, line := range careTodayLines(d.in, careShow(d.Garden.Units)) {
		fmt.Fprintln(w, Plain(line))
	}
}

// careEntry is one thing on one day: a watering or a task.
type careEntry struct {
	date                   time.Time
	key, title, note, task string
	visit                  *visit // of a watering
}

// entries lists waterings and tasks by date: waterings of this year if it is
// given, else of the typical year.
func (d Care) entries() []careEntry {
	in := d.in
	var out []careEntry
	for n, v := range visitsOf(in) {
		out = append(out, careEntry{
			date: v.date, key: fmt.Sprintf("water/%s/%d", date(in.Planted), n+1), title: v.title(), note: v.how(d.Garden.Units) + "; " + visitBasis(in, v.date), task: "water", visit: &v,
		})
	}
	if in.This != nil {
		for _, day := range in.This.Heavy {
			out = append(out, careEntry{date: day.AddDate(0, 0, 1), key: "look/" + date(day), title: "Look at the bed after heavy rain", note: lookNote(in), task: "heavy-rain"})
		}
	}
	for _, t := range d.due {
		out = append(out, careEntry{date: t.Date, key: "task/" + t.Task.ID + "/" + date(t.Date), title: t.Task.Title, note: t.Task.Do, task: t.Task.ID})
	}
	slices.SortStableFunc(out, func(a, b careEntry) int { return a.date.Compare(b.date) })
	return out
}

// visitBasis says what the day of a visit rests on.
func visitBasis(in CareIn, day time.Time) string {
	switch {
	case in.This == nil:
		plan := in.Plans[0]
		return "as in " + yearLike(in, "a typical year", plan.Years[plan.Typical].Year) + "; feel the soil first"
	case day.After(in.This.Known):
		return "by the forecast"
	}
	return "by the weather of this year"
}

func lookNote(in CareIn) string {
	for _, t := range in.Tasks {
		if t.ID == "heavy-rain" {
			return t.Do
		}
	}
	return ""
}

// CSV prints the dates of the first year: waterings and tasks. Without the
// weather of this year the waterings are those of a typical year, and after
// them, under a task of their own, those of a dry one.
func (d Care) CSV(w io.Writer) error {
	var t doc.Table
	for _, head := range []string{"date", "zone", "task", "litres", "minutes", "note"} {
		t.Columns = append(t.Columns, doc.Column{Head: head})
	}
	tenths := func(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
	for _, e := range d.entries() {
		if e.visit == nil {
			t.Rows = append(t.Rows, doc.Cells(date(e.date), "", e.task, "", "", e.title+": "+e.note))
			continue
		}
		for _, z := range e.visit.zones {
			t.Rows = append(t.Rows, doc.Cells(date(e.date), z.zone, e.task, tenths(z.Litres), tenths(z.Minutes),
				fmt.Sprintf("Water the %s: soak to %s; %s", z.zone, d.Garden.Units.Length(z.RootCM/100), visitBasis(d.in, e.date))))
		}
	}
	for i, s := range d.in.Stands {
		if d.in.This != nil {
			break
		}
		dry := d.in.Plans[i].Years[d.in.Plans[i].Dry]
		for _, v := range dry.For(d.in.Planted) {
			t.Rows = append(t.Rows, doc.Cells(date(v.Date), s.Zone, "water-dry-year", tenths(v.Litres), tenths(v.Minutes),
				fmt.Sprintf("Water the %s: in place of the above in %s", s.Zone, yearLike(d.in, "a dry year", dry.Year))))
		}
	}
	return doc.CSV(w, t)
}

// ICal writes the calendar: the dates of the first year, then the standing
// tasks, which come again every year, and those of years two to five. Its stamp is the day that it was worked
// out for, not the clock: the same input gives the same bytes.
func (d Care) ICal(w io.Writer) error {
	u := d.Garden.Units
	var events []calendarDay
	for _, e := range d.entries() {
		day := calendarDay{Key: e.key, Date: e.date, Summary: e.title, Text: e.note, Category: "Bed"}
		if e.visit != nil {
			day.Summary, day.Category = visitLine(u, e), "Watering"
		}
		events = append(events, day)
	}
	for _, t := range d.dueAfter {
		events = append(events, calendarDay{
			Key: "yearly/" + t.Task.ID + "/" + t.Date.Format("01-02"), Date: t.Date, Summary: t.Task.Title, Text: t.Task.Do, Category: "Bed", Yearly: true,
		})
	}
	for _, l := range d.in.Laters {
		text := strings.TrimRight(strings.Join([]string{l.Do, l.Noted, strings.Join(inDrifts(d.in.Noted, l.Plants), "; ")}, "\n"), "\n")
		for _, day := range l.Dates(d.in.Planted) {
			events = append(events, calendarDay{Key: "later/" + l.ID + "/" + date(day), Date: day, Summary: l.Title, Text: text, Category: "Bed"})
		}
	}
	return iCal(w, d.Garden.Name, d.Record.abroad(), d.in.Today.Date, events)
}

// visitLine is an entry's title, of a visit with what it takes.
func visitLine(u zones.Units, e careEntry) string {
	if e.visit == nil {
		return e.title
	}
	sum, minutes := e.visit.sum()
	return fmt.Sprintf("%s: %s, %s", e.title, litres(u, sum), careMinutes(minutes))
}

func careMinutes(m float64) string { return fmt.Sprintf("%.0f min", max(1, m)) }

// TextChecklist prints a list with boxes to tick.
func (d Care) TextChecklist(w io.Writer) {
	u := d.Garden.Units
	var made *Record
	if d.Record.Climate != "" {
		made = &d.Record
	}
	out := append(opening(d.Garden, "Checklist of the first year", made),
		doc.Text{Words: fmt.Sprintf("Planted %s, hose %s. %s", d.Planted, hoseRate(u, d.in.Setting.HoseLMin), careDatesFrom(d.in))})
	month := ""
	for _, e := range d.entries() {
		if m := e.date.Format("January 2006"); m != month {
			out = append(out, doc.Line(""), doc.Line(m))
			month = m
		}
		out = append(out, doc.Line("[ ] "+date(e.date)+"  "+visitLine(u, e)))
	}
	out = append(out, doc.Line(""))
	for _, t := range d.in.Tasks {
		if t.Day == 0 {
			out = append(out, doc.Text{Lead: "After heavy rain", Words: rainFrom(u, t) + ". " + t.Do, Hang: 2},
				doc.Line("[ ] ____-__-__  [ ] ____-__-__  [ ] ____-__-__  [ ] ____-__-__"))
		}
	}
	out = append(out, doc.Line(""), doc.List{Title: "Years two to five", Items: laterYears(d.in)}, doc.Line(""))
	for _, c := range d.Cautions {
		out = append(out, doc.Text{Words: c})
	}
	doc.Terminal(w, out)
}

// careDatesFrom says what the dates rest on.
func careDatesFrom(in CareIn) string {
	if in.This == nil {
		return "Dates are those of a typical year of the record: rain moves them, so feel the soil first."
	}
	s := "Dates by the weather of this year up to " + date(in.This.Known)
	if in.Forecast != "" {
		s += ", then the forecast to " + date(in.This.To)
	}
	return s + "."
}

// hoseRate prints what a hose gives, a minute.
func hoseRate(u zones.Units, lMin float64) string { return u.Water(lMin/1000) + "/min" }
