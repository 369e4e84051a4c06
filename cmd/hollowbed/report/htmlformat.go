package report

import (
	"fmt"
	"html/template"
	"math"
	"strconv"
	"strings"
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
		"spread": func(cm Number) string { return u.Length(float64(cm) / 100) },
		"sun":    sunText, "money": priced, "plain": shown, "base": base, "months": Months, "named": named, "plural": plural,
		"risk":  func(n Number, assumed int) string { return risk(float64(n), assumed > 0) },
		"about": func(n Number, assumed bool) string { return risk(float64(n), assumed) },
		"wet": func(z ZoneRow) string {
			return span(float64(z.Wet.MildestPlaceOneInH), float64(z.Wet.OneYearInTenH), spellText(u.Duration))
		},
		"deep": func(z ZoneRow) string { return spellText(u.Depth)(float64(z.Wet.DeepestMM)) },
		"dry": func(z ZoneRow) string {
			return span(float64(z.Dry.MildestPlaceOneInD), float64(z.Dry.OneYearInTenD), days)
		},
		"wetbar": func(z ZoneRow) template.HTML {
			return rangeBar(z.Wet.MildestPlaceOneInH, z.Wet.OneYearInTenH, p.longest(wettest))
		},
		"drybar": func(z ZoneRow) template.HTML {
			return rangeBar(z.Dry.MildestPlaceOneInD, z.Dry.OneYearInTenD, p.longest(driest))
		},
		"sunbar": func(z ZoneRow) template.HTML { return rangeBar(z.SunH, z.SunH, p.longest(sunniest)) },
		"planted": func(f Fill) string {
			if !(float64(f.AreaM2) > 0) {
				return "0 %"
			}
			return u.Percent(float64(f.PlantedM2) / float64(f.AreaM2))
		},
		"sunmark": sunMark, "suremark": sureMark, "rests": restsOn,
		"first": first, "less": func(a, b int) int { return a - b },
		"lines": p.linesOf, "rows": p.rowsOf, "zoned": p.zoneNames, "wrong": p.wrongLabels, "holds": holds,
		"bare": bare, "ref": notes.ref, "used": notes.lines, "css": css,
	}
}

// shown makes a text from a file safe for the page: what Plain takes out, and
// the code points that HTML forbids even when they are escaped. The template
// escapes the rest.
func shown(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 0xFDD0 && r <= 0xFDEF || r&0xFFFE == 0xFFFE {
			return '\ufffd'
		}
		return r
	}, Plain(s))
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

// first takes no more than n of the alternatives of a line.
func first(n int, all []Alternative) []Alternative { return all[:min(n, len(all))] }

// css is the style sheet, which holds nothing from any garden.
func css() (template.CSS, error) {
	text, err := pageFiles.ReadFile("page/page.css")
	return template.CSS(text), err
}

func wettest(z ZoneRow) Number  { return z.Wet.OneYearInTenH }
func driest(z ZoneRow) Number   { return z.Dry.OneYearInTenD }
func sunniest(z ZoneRow) Number { return z.SunH }

// longest gives the largest figure of a kind over the zones, the whole of its
// bars.
func (p Page) longest(of func(ZoneRow) Number) Number {
	most := 0.0
	for _, z := range p.Zones.Zones {
		if v := float64(of(z)); v > most {
			most = v
		}
	}
	return Number(most)
}

// rangeBar draws a figure that runs from mild to hard within a zone as a bar:
// dark up to the mildest place, light on to the hardest. The words beside it
// say the same, so screen readers pass it over.
func rangeBar(mild, hard, whole Number) template.HTML {
	if !(whole > 0) || !(hard >= 0) {
		return ""
	}
	width := func(n Number) float64 { return 98 * max(0, min(1, float64(n)/float64(whole))) }
	return template.HTML(fmt.Sprintf(`<svg class="bar" viewBox="0 0 100 9" width="100" height="9" aria-hidden="true">`+
		`<line x1="1" y1="8.5" x2="99" y2="8.5" stroke="#8b968d" stroke-width=".8"/>`+
		`<rect x="1" y="1" width="%.1f" height="7" fill="#dfe4da" stroke="#22302a" stroke-width=".8"/>`+
		`<rect x="1" y="1" width="%.1f" height="7" fill="#515d56"/></svg>`, width(hard), width(min(mild, hard))))
}

// zoneNames are the zones of the bed from the bottom up.
func (p Page) zoneNames() []string {
	var names []string
	for _, z := range p.Basin.Zones {
		names = append(names, z.Zone)
	}
	return names
}

func (p Page) linesOf(zone string) []Line {
	var out []Line
	for _, l := range p.Choose.Lines {
		if l.Zone == zone {
			out = append(out, l)
		}
	}
	return out
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

// wrongLabels are the plants that would not live in a zone they are sold for.
func (p Page) wrongLabels() []Disagree {
	var out []Disagree
	for _, l := range p.Choose.Labels {
		if l.Tagged {
			out = append(out, l)
		}
	}
	return out
}

// bare says why much of a zone stays bare, or "".
func bare(f Fill) string {
	if float64(f.PlantedM2) < 0.95*float64(f.AreaM2) {
		return f.Bare
	}
	return ""
}
