package report

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"hollowbed/search"
	"hollowbed/zones"
)

// Find is the document of the command find.
type Find struct {
	Garden    Garden `json:"garden"`
	Catalogue string `json:"catalogue"`
	Query     string `json:"query"`
	In        string `json:"in"`
	*search.Result
	Facets []search.Facet `json:"facets"` // there even if none was asked for
}

// NewFind makes the document of a search; in is the zone or place searched
// for, "" if none.
func NewFind(g Garden, catalogueName, query, in string, r *search.Result) Find {
	return Find{Garden: g, Catalogue: catalogueName, Query: query, In: in, Result: r, Facets: orEmpty(r.Facets)}
}

// Text prints the hits, best first, each with why.
func (d Find) Text(w io.Writer) {
	for _, n := range d.Notes {
		fmt.Fprintln(w, Plain("Note: "+n+"."))
	}
	where := ""
	if d.In != "" {
		where = " that would live " + inAt(d.In)
	}
	asked := d.Query
	if asked == "" {
		asked = "all plants"
	}
	some := ""
	if d.Words == search.SomeWords {
		some = " with some of the words, none with all"
	}
	fmt.Fprintf(w, "%s in %s%s%s: %s\n", plural(d.Total, "plant", "plants"), Plain(d.Catalogue), where, some, Plain(asked))
	for _, u := range d.Unknown {
		fmt.Fprintf(w, "(%s)\n", u)
	}
	d.hits(w, d.Hits)
	if len(d.Also) > 0 {
		fmt.Fprintln(w, "\nWith some of the words only:")
		d.hits(w, d.Also)
	}
	if more := d.Total - len(d.Hits); more > 0 && len(d.Hits) > 0 {
		fmt.Fprintf(w, "\n%d more: --limit %d\n", more, d.Total)
	}
	for _, f := range d.Facets {
		var parts []string
		for _, v := range f.Values {
			parts = append(parts, fmt.Sprintf("%s %d", v.Value, v.Count))
		}
		if f.Unknown > 0 {
			parts = append(parts, fmt.Sprintf("not stated %d", f.Unknown))
		}
		wrap(w, f.Field+": ", "  ", Plain(strings.Join(parts, ", ")))
	}
	if d.NoHit != nil {
		d.noHit(w)
	}
}

func inAt(place string) string {
	if strings.HasPrefix(place, "at ") {
		return place
	}
	return "in the " + place
}

func (d Find) hits(w io.Writer, hits []search.Hit) {
	for _, h := range hits {
		head := Plain(named(h.VernacularName, h.ID))
		if h.Risk != nil {
			head += ", risk " + risk(*h.Risk, false) + " a year"
		}
		fmt.Fprintf(w, "\n%s\n", head)
		for _, r := range oneAWord(h.Why) {
			wrap(w, "  ", "    ", Plain(inUnits(d.Garden.Units, r.String())))
		}
	}
}

// inUnits writes the centimetres, millimetres and degrees Celsius of a reason,
// which are the plant table's, in the units of the garden.
func inUnits(u zones.Units, text string) string {
	if u == zones.UnitsMetric {
		return text
	}
	figure := regexp.MustCompile(`-?[0-9]+(?:\.[0-9]+)? (?:cm\b|mm\b|°C)`)
	return figure.ReplaceAllStringFunc(text, func(s string) string {
		number, unit, _ := strings.Cut(s, " ")
		v, err := strconv.ParseFloat(number, 64)
		if err != nil {
			return s
		}
		switch unit {
		case "cm":
			return u.Length(v / 100)
		case "mm":
			return u.Depth(v)
		}
		return u.Temp(v)
	})
}

// oneAWord keeps one reason for each word: the longest text that holds it,
// which says most.
func oneAWord(why []search.Reason) []search.Reason {
	best := map[string]int{}
	for i, r := range why {
		if r.Kind != "word" {
			continue
		}
		if j, ok := best[r.Asked]; !ok || len(r.Quote) > len(why[j].Quote) {
			best[r.Asked] = i
		}
	}
	var out []search.Reason
	for i, r := range why {
		if r.Kind != "word" || best[r.Asked] == i {
			out = append(out, r)
		}
	}
	return out
}

func (d Find) noHit(w io.Writer) {
	fmt.Fprintln(w, "What stood in the way:")
	for _, e := range d.NoHit.Excluded {
		fmt.Fprintf(w, "  - %s\n", Plain(e.String()))
	}
	if n := d.NoHit.Nearest; n != nil {
		wrap(w, "Nearest: ", "  ", Plain(fmt.Sprintf("%s (%s)", n.VernacularName, n.ID)))
		for _, r := range n.Missed {
			wrap(w, "  ", "    ", Plain(inUnits(d.Garden.Units, r.String())))
		}
	}
}
