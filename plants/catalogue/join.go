package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"hollowbed/zones/table"
)

// A Joining tells what Join did.
type Joining struct {
	Of        int // plants of the first table
	Matched   int // of these, those that are in the second
	Filled    []ColumnReport
	Ambiguous []string // names that the second table has more than once; not used
}

// Join fills what is unknown in base with what is known of the same plants in extra. by
// is id, scientificName or vernacularName, whatever the case, blank space and authors.
// What base knows stays, except that a plant is harmless where extra says whom it harms,
// and that tags are put together. What was filled is named in Source, and in Assumed
// where extra assumed it. base itself is left as it is.
func Join(base, extra []Plant, by string) ([]Plant, Joining) {
	if !slices.Contains([]string{"id", "scientificName", "vernacularName"}, by) {
		panic("catalogue: plants cannot be joined by " + by)
	}
	j := Joining{Of: len(base)}
	key := func(p *Plant) string {
		name := strings.Join(strings.Fields(p.text(by)), " ")
		if by == "scientificName" {
			name = withoutAuthors(name)
		}
		return strings.ToLower(name)
	}
	index := make(map[string]int, len(extra))
	for i := range extra {
		k := key(&extra[i])
		if k == "" {
			continue
		}
		if _, twice := index[k]; twice {
			if !slices.Contains(j.Ambiguous, k) {
				j.Ambiguous = append(j.Ambiguous, k)
			}
			continue
		}
		index[k] = i
	}
	for _, k := range j.Ambiguous {
		delete(index, k)
	}
	count := map[string]*ColumnReport{}
	out := slices.Clone(base)
	for i := range out {
		if n, ok := index[key(&out[i])]; ok {
			j.Matched++
			out[i].fill(&extra[n], count)
		}
	}
	for _, c := range tableColumns() {
		if r := count[c.Name]; r != nil {
			j.Filled = append(j.Filled, *r)
		}
	}
	return out, j
}

// withoutAuthors is a scientific name alone: "Acer rubrum L. var. drummondii
// (Hook. & Arn. ex Nutt.) Sarg." is "Acer rubrum var. drummondii".
func withoutAuthors(name string) string {
	words := strings.Fields(name)
	var keep []string
	for i := 0; i < len(words); i++ {
		w := words[i]
		sign := w == "×" || w == "x" || w == "X"
		switch {
		case len(keep) == 0:
			keep = append(keep, w)
		case sign && len(keep) == 1 && i+1 < len(words):
			i++
			keep = append(keep, "×"+words[i])
		case len(keep) == 1 && (unicode.IsLower(table.FirstRune(w)) || strings.HasPrefix(w, "×") || strings.ToUpper(name) == name):
			keep = append(keep, w)
		case len(keep) >= 2 && slices.Contains([]string{"var.", "ssp.", "subsp.", "f.", "VAR.", "SSP.", "SUBSP.", "F."}, w) && i+1 < len(words) && unicode.IsLower(table.FirstRune(words[i+1])) != (strings.ToUpper(name) == name):
			keep = append(keep, strings.Replace(strings.ToLower(w), "subsp.", "ssp.", 1), words[i+1])
			i++
		}
	}
	return strings.Join(keep, " ")
}

// fill takes from q what p does not know.
func (p *Plant) fill(q *Plant, count map[string]*ColumnReport) {
	var filled []string
	took := func(column string) {
		filled = append(filled, column)
		if count[column] == nil {
			count[column] = &ColumnReport{Name: column}
		}
		count[column].Filled++
		if slices.Contains(q.Assumed, column) {
			count[column].Assumed++
			p.Assumed = append(slices.Clip(p.Assumed), column)
		}
	}
	number := func(column string, to *float64, from float64) {
		if math.IsNaN(*to) && !math.IsNaN(from) {
			*to = from
			took(column)
		}
	}
	word := func(column string, to *string, from string) {
		if *to == "" && from != "" {
			*to = from
			took(column)
		}
	}
	list := func(column string, to *[]string, from []string) {
		if len(*to) == 0 && len(from) > 0 {
			*to = slices.Clone(from)
			took(column)
		}
	}
	word("scientificName", &p.ScientificName, q.ScientificName)
	word("form", &p.Form, q.Form)
	list("zones", &p.Zones, q.Zones)
	number("sun_min_h", &p.SunMinH, q.SunMinH)
	number("sun_max_h", &p.SunMaxH, q.SunMaxH)
	number("wet_h", &p.WetH, q.WetH)
	number("pond_mm", &p.PondMM, q.PondMM)
	number("dry_d", &p.DryD, q.DryD)
	number("lowest_c", &p.LowestC, q.LowestC)
	number("root_cm", &p.RootCM, q.RootCM)
	number("height_cm", &p.HeightCM, q.HeightCM)
	number("spread_cm", &p.SpreadCM, q.SpreadCM)
	if p.FlowerFrom == 0 && q.FlowerFrom != 0 { // both months or none
		p.FlowerFrom, p.FlowerTo = q.FlowerFrom, q.FlowerTo
		took("flower_from")
		took("flower_to")
	}
	list("flower_colour", &p.FlowerColour, q.FlowerColour)
	word("evergreen", &p.Evergreen, q.Evergreen)
	list("native_to", &p.NativeTo, q.NativeTo)
	word("spreads", &p.Spreads, q.Spreads)
	if slices.Equal(p.Toxic, []string{harmless}) && len(q.Toxic) > 0 && !slices.Contains(q.Toxic, harmless) {
		p.Toxic, p.Assumed = nil, slices.DeleteFunc(slices.Clone(p.Assumed), func(column string) bool { return column == "toxic" })
	}
	list("toxic", &p.Toxic, q.Toxic)
	if math.IsNaN(p.Price) {
		word("sold_as", &p.SoldAs, q.SoldAs)
	}
	number("price", &p.Price, q.Price)
	if more := slices.DeleteFunc(slices.Clone(q.Tags), func(t string) bool { return slices.Contains(p.Tags, t) }); len(more) > 0 {
		p.Tags = append(slices.Clip(p.Tags), more...)
		took("tags")
	}
	word("notes", &p.Notes, q.Notes)
	if len(filled) > 0 {
		more := fmt.Sprintf("%s: %s", strings.Join(filled, ", "), q.Source)
		p.Source = strings.TrimPrefix(p.Source+"; "+more, "; ")
	}
}
