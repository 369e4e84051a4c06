package report

import (
	"html/template"
	"math"
	"strconv"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
)

// functions are what the templates print figures with: the units of the
// garden, and the marks that lead to "how we know".
func (p Page) functions(notes *footnotes) template.FuncMap {
	u := p.Garden.Units
	metric := func(print func(float64) string) func(Number) string {
		return func(n Number) string { return raised(print(float64(n))) }
	}
	return template.FuncMap{
		"area": metric(u.Area), "volume": metric(u.Volume), "depth": metric(u.Depth), "length": metric(u.Length),
		"duration": metric(u.Duration), "rate": metric(u.Rate), "percent": metric(u.Percent),
		"level": func(n Number) string { return signed(u.Depth, float64(n)) },
		"levelor": func(n Number) string {
			if math.IsNaN(float64(n)) {
				return "–"
			}
			return signed(u.Depth, float64(n))
		},
		"flow": func(n Number) string { return u.Flow(float64(n)) }, "yes": yesNo,
		"sun": sunText, "money": priced, "plain": doc.Shown, "base": base, "plural": plural,
		"about": func(n Number, assumed bool) string { return risk(float64(n), assumed) },
		"rows":  p.rowsOf, "zoned": p.zoneNames, "holds": holds, "ref": notes.ref, "used": notes.lines, "css": css,
		"blocks": func(id string, blocks []doc.Block) (template.HTML, error) { return doc.HTML(id, blocks, notes.ref) },
	}
}

// base is the last part of a file's name: where the file lies on this machine
// is nobody else's business.
func base(file string) string { return file[strings.LastIndexAny(file, `/\`)+1:] }

// raised sets the 2 of m2 and the 3 of m3 high.
func raised(s string) string {
	if strings.HasSuffix(s, " m2") || strings.HasSuffix(s, " m3") {
		return strings.NewReplacer(" m2", " m²", " m3", " m³").Replace(s)
	}
	return s
}

// figure prints a plain number with no more than two decimals.
func figure(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}

// priced prints a price, or says that there is none.
func priced(n Number) string {
	if math.IsNaN(float64(n)) {
		return "not given"
	}
	return money(n)
}

// holds says in a word how a check came out.
func holds(known, ok bool) string {
	switch {
	case !known:
		return "not known"
	case ok:
		return "yes"
	}
	return "no"
}

// css is the style sheet, which holds nothing from any garden.
func css() (template.CSS, error) {
	text, err := pageFiles.ReadFile("page/page.css")
	return template.CSS(text), err
}

// zoneNames are the zones of the bed from the bottom up.
func (p Page) zoneNames() []string {
	var names []string
	for _, z := range p.Basin.Zones {
		names = append(names, z.Zone)
	}
	return names
}

func (p Page) rowsOf(zone string) []PlaceRow {
	var out []PlaceRow
	for _, r := range p.Place.Plants {
		if r.Zone == zone {
			out = append(out, r)
		}
	}
	return out
}
