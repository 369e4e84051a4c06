package doc

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

//go:embed blocks.html
var templates embed.FS

// HTML shows blocks in the printed report: as a section of its own where they
// begin with a heading, but for asides. know makes the mark that leads to how a
// thing is known.
func HTML(id string, blocks []Block, know func(key string) (template.HTML, error)) (template.HTML, error) {
	t, err := template.New("").Funcs(template.FuncMap{
		"shown": Shown, "raised": Raised, "capital": Capital, "bar": rangeBar, "bars": Table.bars, "class": class, "short": List.short,
		"comma": func(s string) string { return strings.TrimSuffix(s, ",") }, "rows": Table.of, "stacked": Table.stacked,
		"marks": func(keys string) (template.HTML, error) { return marks(keys, know) },
	}).ParseFS(templates, "blocks.html")
	if err != nil {
		return "", err
	}
	type part struct {
		ID, Title string
		Block     Block
	}
	var out bytes.Buffer
	blocks = ready(printed(blocks))
	title, section := blocks[0].(Heading)
	if section {
		blocks = blocks[1:]
		if err := t.ExecuteTemplate(&out, "section", part{ID: id, Title: string(title)}); err != nil {
			return "", err
		}
	}
	for i, b := range blocks {
		if l, list := b.(List); list && l.Aside {
			continue
		}
		if err := t.ExecuteTemplate(&out, b.kind(), part{ID: fmt.Sprintf("%s-%d", id, i), Block: b}); err != nil {
			return "", err
		}
	}
	if section {
		out.WriteString("</section>")
	}
	return template.HTML(out.String()), nil
}

// marks makes the marks of keys that stand apart by blanks.
func marks(keys string, know func(key string) (template.HTML, error)) (template.HTML, error) {
	var out template.HTML
	for key := range strings.FieldsSeq(keys) {
		mark, err := know(key)
		if err != nil {
			return "", err
		}
		out += mark
	}
	return out, nil
}

// Shown takes out of a text the code points that HTML forbids even when they
// are escaped. The template escapes the rest.
func Shown(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 0xFDD0 && r <= 0xFDEF || r&0xFFFE == 0xFFFE {
			return '\ufffd'
		}
		return r
	}, Plain(s))
}

// Raised sets the 2 of m2 and the 3 of m3 high.
func Raised(s string) string {
	s = regexp.MustCompile(`(\d m)2\b`).ReplaceAllString(Shown(s), "$1²")
	return regexp.MustCompile(`(\d m)3\b`).ReplaceAllString(s, "$1³")
}

// Capital begins a text with a large letter.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// short says whether the items of a list stand well in two columns.
func (l List) short() bool {
	return len(l.Items) > 5 && !slices.ContainsFunc(l.Items, func(s string) bool { return len(s) > 110 })
}

// class says how a cell looks.
func class(c Cell, in Column) string {
	out := c.Look
	if in.Right {
		out += " n"
	}
	return strings.TrimSpace(out)
}

// bars says whether a table holds bars, so that its caption can say what they
// show.
func (t Table) bars() bool {
	for _, row := range t.Rows {
		for _, c := range row {
			if c.Bar != nil {
				return true
			}
		}
	}
	return false
}

// of is how many rows belong to a row, itself among them.
func (t Table) of(i int) int {
	n := 1
	for i+n < len(t.Rows) && t.Rows[i+n][0].Words == "" {
		n++
	}
	return n
}

// stacked says whether a column holds words that need room.
func (t Table) stacked() bool {
	return slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Under })
}

// rangeBar draws a bar, dark up to its mild end, light on to the hard one. The
// words beside it say the same, so screen readers pass it over.
func rangeBar(b bar) template.HTML {
	return template.HTML(fmt.Sprintf(`<svg class="bar" viewBox="0 0 100 9" width="100" height="9" aria-hidden="true">`+
		`<line x1="1" y1="8.5" x2="99" y2="8.5" stroke="#8b968d" stroke-width=".8"/>`+
		`<rect x="1" y="1" width="%.1f" height="7" fill="#dfe4da" stroke="#22302a" stroke-width=".8"/>`+
		`<rect x="1" y="1" width="%.1f" height="7" fill="#515d56"/></svg>`, 98*b.Hard, 98*b.Mild))
}
