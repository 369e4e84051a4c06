package report

import (
	"fmt"
	"math"
	"slices"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants/care"
	"hollowbed/zones"
)

// letInTable has what each week to let the water in risks.
func letInTable(u zones.Units, in CareIn) doc.Table {
	t := doc.Table{Caption: "Letting the roof water in", Know: "care", Columns: []doc.Column{
		{}, {Head: "week", Right: true}, {Head: "from"}, {Head: "drowned", Right: true}, {Head: "parched, watered", Right: true}, {Head: "parched, not watered", Right: true}, {Head: "hose", Right: true},
	}}
	for _, row := range []struct {
		name string
		week int
	}{{"earliest", in.LetIn.Earliest}, {"cautious", in.LetIn.Best}, {"latest", in.LetIn.Latest}, {"at planting", 0}} {
		if row.week < 0 {
			t.Rows = append(t.Rows, doc.Cells(row.name, "none", "", "", "", "", ""))
			continue
		}
		w := in.LetIn.Weeks[row.week]
		if row.name == "at planting" && in.LetIn.Earliest == 0 || row.name == "cautious" && row.week == in.LetIn.Earliest {
			continue // said as the earliest
		}
		t.Rows = append(t.Rows, doc.Cells(row.name, fmt.Sprint(w.Week), weekDate(in, w), risk(w.Drowned, false), risk(w.Watered, false), risk(w.Parched, false), litres(u, w.Litres)))
	}
	if in.Setting.Never { // neither water nor hose
		t.Columns = slices.Delete(t.Columns[:6], 4, 5)
		for i, row := range t.Rows {
			t.Rows[i] = slices.Delete(row[:6], 4, 5)
		}
	}
	return t
}

// weekDate is the day on which a week of the first year begins.
func weekDate(in CareIn, w care.LetInWeek) string {
	return date(in.Planted.AddDate(0, 0, weekDays*w.Week))
}

// letInAdvice says when to let the roof water in.
func letInAdvice(u zones.Units, in CareIn) string {
	l, most := in.LetIn, u.Percent(in.Setting.RiskMax)
	at := func(i int) (int, string) { return l.Weeks[i].Week, weekDate(in, l.Weeks[i]) }
	if l.Best < 0 {
		return "not known, the plant table does not say what these plants bear."
	}
	week, day := at(l.Best)
	switch {
	case l.Earliest < 0:
		return fmt.Sprintf("in no week of the first year do fewer than %s drown; week %d (%s) loses the fewest. Choose plants that bear more, or a bed that drains faster.", most, week, day)
	case l.Clash:
		week, day = at(l.Earliest)
		return fmt.Sprintf("not before week %d (%s), and water by hand until then: earlier more than %s would drown, and left dry more than that would parch.", week, day, most)
	case l.Earliest < l.Best:
		first, last, late := l.Weeks[l.Earliest], l.Weeks[l.Best], ""
		if l.Latest >= 0 && l.Latest < len(l.Weeks)-1 {
			late = fmt.Sprintf(" From week %d on, too many would parch without a hose.", l.Weeks[l.Latest].Week+1)
		}
		from := fmt.Sprintf("from week %d (%s) on", first.Week, weekDate(in, first))
		if first.Week == 0 {
			from = "from the day of planting"
		}
		if in.Setting.Never {
			return fmt.Sprintf("%s. Of 100 young plants %.0f are then lost, not watered, at most %.0f more than if you wait for week %d (%s).%s",
				from, math.Ceil(100*(first.Drowned+first.Watered)), 100*care.SmallLoss, week, day, late)
		}
		return fmt.Sprintf("%s. Of 100 young plants %.0f are then lost, watered, at most %.0f more than if you wait for week %d (%s); waiting takes %s more by hose.%s",
			from, math.Ceil(100*(first.Drowned+first.Watered)), 100*care.SmallLoss, week, day, litres(u, max(0, last.Litres-first.Litres)), late)
	case week == 0:
		return fmt.Sprintf("from the day of planting: %s would drown, and waiting would spare none.", risk(l.Weeks[l.Best].Drowned, false))
	case l.Latest < 0 || l.Latest == len(l.Weeks)-1:
		return fmt.Sprintf("best in week %d (%s): before, more young plants drown, and waiting costs hardly any, only hose water.", week, day)
	}
	return fmt.Sprintf("best in week %d (%s): before, more young plants drown; from week %d on, too many more would parch without a hose.", week, day, l.Weeks[l.Latest].Week+1)
}

// letInCautions say how to keep roof water out meanwhile, where it is to be, and how to
// let it in.
func letInCautions(l *care.LetIn) []string {
	all := []string{
		"Until you let it in, roof water goes where it goes now, away from foundations and neighbours. Leave the downspout as it is, or lay a pipe past the bed.",
		"Never plug a downspout without another way out.",
		"Open the inlet in dry weather, and watch the first rain.",
	}
	if l.Advised() == 0 {
		return all[1:]
	}
	return all
}

func newCareLetIn(in CareIn) careLetIn {
	l := in.LetIn
	out := careLetIn{
		Years: l.Years, Clash: l.Clash, Weeks: []careWeek{}, Cautions: letInCautions(l),
		WetFrom: int(l.WetSeason.From), WetShare: Number(l.WetSeason.Share), WetMarked: l.WetSeason.Marked,
	}
	for _, w := range l.Weeks {
		out.Weeks = append(out.Weeks, careWeek{
			w.Week, date(in.Planted.AddDate(0, 0, weekDays*w.Week)), Number(w.Rooted), Number(w.Drowned), Number(w.Parched), Number(w.Watered), Number(w.Litres),
		})
	}
	at := func(i int) *careWeek {
		if i < 0 {
			return nil
		}
		return &out.Weeks[i]
	}
	out.Earliest, out.Best, out.Latest = at(l.Earliest), at(l.Best), at(l.Latest)
	return out
}
