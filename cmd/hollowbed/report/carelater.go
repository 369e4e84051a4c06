package report

import (
	"fmt"
	"slices"
	"strings"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// careLater is what some years after the first ask for.
type careLater struct {
	ID     string   `json:"id" schema:"some"`
	Title  string   `json:"title" schema:"some"`
	Do     string   `json:"do" schema:"some"`
	Years  []int    `json:"years" schema:"some; each 2..5"`
	Months []int    `json:"months" schema:"some; each 1..12"`
	Plants []string `json:"plants" schema:"each some"` // names; none: the bed itself
	Noted  string   `json:"noted" about:"what the garden's notes say of it"`
	Source string   `json:"source" schema:"some"`
}

func newLaters(in CareIn) (out []careLater) {
	for _, l := range in.Laters {
		row := careLater{ID: l.ID, Title: l.Title, Do: l.Do, Years: l.Years, Months: []int{}, Plants: l.Plants, Noted: l.Noted, Source: l.Source}
		for _, m := range l.Months {
			row.Months = append(row.Months, int(m))
		}
		if row.Plants == nil {
			row.Plants = []string{}
		}
		out = append(out, row)
	}
	return out
}

// laterYears words what the years after the first ask for, an item each.
func laterYears(in CareIn) []string {
	var out []string
	for _, l := range in.Laters {
		years := "each year"
		switch first := l.Years[0]; {
		case len(l.Years) == 1:
			years = fmt.Sprintf("year %d", first)
		case first > 2:
			years = fmt.Sprintf("from year %d", first)
		}
		item := fmt.Sprintf("%s, %s: %s", yearMonths(l.Months), years, lowerFirst(l.Title))
		if names := inDrifts(in.Noted, l.Plants); len(names) > 0 {
			item += " (" + strings.Join(names, "; ") + ")"
		}
		if l.Noted != "" {
			item += "; " + l.Noted
		}
		out = append(out, item+". "+l.Do)
	}
	return out
}

// inDrifts names the drifts of kinds that grow in drifts alone.
func inDrifts(n care.Noted, kinds []string) []string {
	out := slices.Clone(kinds)
	for i, name := range out {
		if drifts := n.Drifts[name]; drifts != "" {
			out[i] = name + ", " + drifts
		}
	}
	return out
}

// less says what small sizes tolerate of drought where that is less than half; "" where there are none.
func less(u zones.Units, all []string) string {
	var out []string
	for _, size := range []string{"plug", "small pot"} {
		if slices.Contains(all, size) {
			out = append(out, size+"s "+u.Percent(care.Young(catalogue.Plant{SoldAs: size, DryD: 1}, 0).DryD))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "; of drought, " + strings.Join(out, " and ")
}
