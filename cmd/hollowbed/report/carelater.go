package report

import (
	"fmt"
	"strings"

	"hollowbed/plants/care"
)

// careLater is what some years after the first ask for.
type careLater struct {
	ID     string   `json:"id" schema:"some"`
	Title  string   `json:"title" schema:"some"`
	Do     string   `json:"do" schema:"some"`
	Years  []int    `json:"years" schema:"some; each 2..5"`
	Months []int    `json:"months" schema:"some; each 1..12"`
	Plants []string `json:"plants" schema:"each some"` // names; none: the bed itself
	Source string   `json:"source" schema:"some"`
}

func newLaters(all []care.Later) (out []careLater) {
	for _, l := range all {
		row := careLater{ID: l.ID, Title: l.Title, Do: l.Do, Years: l.Years, Months: []int{}, Plants: l.Plants, Source: l.Source}
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
func laterYears(all []care.Later) []string {
	var out []string
	for _, l := range all {
		years := "each year"
		if first := l.Years[0]; first > 2 {
			years = fmt.Sprintf("from year %d", first)
		}
		item := fmt.Sprintf("%s, %s: %s", yearMonths(l.Months), years, lowerFirst(l.Title))
		if len(l.Plants) > 0 {
			item += " (" + strings.Join(l.Plants, ", ") + ")"
		}
		out = append(out, item+". "+l.Do)
	}
	return out
}
