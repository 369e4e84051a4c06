package report

import (
	"html/template"
	"math"
	"strconv"
	"strings"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/plants"
)

// functions are what the templates print figures with: the units of the
// garden, and the marks that lead to "how we know".
func (p Page) functions(notes *footnotes) template.FuncMap {
	u := p.Garden.Units
	metric := func(print func(float64) string) func(Number) string {
		return func(n Number) string { return doc.Raised(print(float64(n))) }
	}
	return template.FuncMap{
		"pictures": p.pictures, "depth": metric(u.Depth), "mulch": func() string { return doc.Raised(u.Depth(plants.MulchMM)) }, "duration": metric(u.Duration),
		"money": priced, "plain": doc.Shown, "base": base, "plural": plural, "capital": doc.Capital, "raised": doc.Raised,
		"ref": notes.ref, "used": notes.lines, "css": css,
		"blocks": func(id string, blocks []doc.Block) (template.HTML, error) { return doc.HTML(id, blocks, notes.ref) },
	}
}

// base is the last part of a file's name: where the file lies on this machine
// is nobody else's business.
func base(file string) string { return file[strings.LastIndexAny(file, `/\`)+1:] }

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

// css is the style sheet, which holds nothing from any garden.
func css() (template.CSS, error) {
	text, err := pageFiles.ReadFile("page/page.css")
	return template.CSS(text), err
}
