package report

import (
	"fmt"
	"io"
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
		fmt.Fprintln(w, Plain("Note: "+sentence(n)))
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
			wrap(w, "  ", "    ", Plain(r.Say(inUnits(d.Garden.Units))))
		}
	}
}

// sentence ends a text with a full stop unless it has an end.
func sentence(s string) string {
	if strings.HasSuffix(s, "?") || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// inUnits writes the lengths, depths and temperatures of a reason, which are
// in the plant table's units, in those of the garden.
func inUnits(u zones.Units) func(search.Quantity) string {
	return func(q search.Quantity) string {
		if u == zones.UnitsMetric {
			return q.String()
		}
		s := q.String()
		switch q.Unit {
		case "cm":
			s = u.Length(q.Value / 100)
		case "mm":
			s = u.Depth(q.Value)
		case "c":
			s = u.Temp(q.Value)
			if q.Difference {
				s = fmt.Sprintf("%.0f F", q.Value*1.8)
			}
		}
		if unit, nothing := strings.CutPrefix(s, "0 "); nothing && q.Difference && q.Value > 0 {
			return "less than 1 " + unit
		}
		return s
	}
}

// oneAWord keeps one reason for each word: where the plant has the word itself
// before what stands for it, then its name, then its notes, which say most.
func oneAWord(why []search.Reason) []search.Reason {
	best := map[string]int{}
	for i, r := range why {
		if r.Kind != "word" {
			continue
		}
		if j, ok := best[r.Asked]; !ok || says(r) > says(why[j]) {
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

// says is how much a reason for a word says, beside others for that word.
func says(r search.Reason) int {
	much := 0
	if r.ReadAs == "" {
		much = 10
	}
	switch {
	case r.Field == "vernacularName":
		much += 4
	case r.Field == "notes":
		much += 3
	case r.Field == "scientificName":
		much += 2
	case r.Quote != "":
		much++
	}
	return much
}

func (d Find) noHit(w io.Writer) {
	fmt.Fprintln(w, "What stood in the way:")
	for _, e := range d.NoHit.Excluded {
		fmt.Fprintf(w, "  - %s\n", Plain(e.String()))
	}
	if n := d.NoHit.Nearest; n != nil {
		wrap(w, "Nearest: ", "  ", Plain(fmt.Sprintf("%s (%s)", n.VernacularName, n.ID)))
		for _, r := range n.Missed {
			wrap(w, "  ", "    ", Plain(r.Say(inUnits(d.Garden.Units))))
		}
	}
}
