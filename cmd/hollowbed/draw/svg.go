package draw

import (
	"bytes"
	"cmp"
	"math"
	"strconv"
	"strings"
)

// Sizes on paper, mm. 8 pt is 8 x 25.4/72 = 2.82 mm.
const (
	pageW     = 180.0
	margin    = 4.0
	small     = 2.9 // 8.2 pt
	normal    = 3.3 // 9.4 pt
	heading   = 5.4
	perMM     = 10.0 // units of the viewBox
	lineStep  = 4.3  // from one line of small text to the next
	headRule  = 18.5 // the rule under the heading
	bodyStart = headRule + 2
)

// The palette: a pencil and a few washes on paper.
const (
	paper  = "#fdfbf6"
	ink    = "#22302a"
	soft   = "#515d56" // second text, on paper only
	pencil = "#8b968d" // thin lines
	faint  = "#c9cec6" // rules and grids
)

// Font stacks of what systems bring along.
const (
	sans  = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, 'Liberation Sans', sans-serif"
	serif = "'Iowan Old Style', 'Palatino Linotype', Palatino, 'Book Antiqua', Georgia, 'Liberation Serif', serif"
)

// box is an upright rectangle on paper, mm, y down.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

func (b box) holds(o box) bool {
	return b.x0 <= o.x0 && o.x1 <= b.x1 && b.y0 <= o.y0 && o.y1 <= b.y1
}

func (b box) grown(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

func (b box) with(x, y float64) box {
	return box{math.Min(b.x0, x), math.Min(b.y0, y), math.Max(b.x1, x), math.Max(b.y1, y)}
}

func (b box) centre() (x, y float64) { return (b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2 }

// emptyBox holds nothing; with makes it grow.
func emptyBox() box { return box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

// svg gathers the elements of one picture, given in mm and written in tenths.
type svg struct {
	body   bytes.Buffer
	defs   bytes.Buffer
	prefix string
	width  float64 // mm; 0: the whole page
	texts  []box   // of every text so far
}

// num prints mm in units of the viewBox, two decimals at most, no negative zero.
func num(mm float64) string {
	s := strconv.FormatFloat(steady(mm*perMM), 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// steady takes off the noise of processors that fuse a product and a sum, so that a half
// stays one.
func steady(v float64) float64 { return math.Round(v*1e8) / 1e8 }

// figure prints a plain number with at most the decimals given.
func figure(v float64, decimals int) string {
	s := strconv.FormatFloat(steady(v), 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// stroke is the look of a line: colour, width in mm, dashes in mm.
func stroke(colour string, width float64, dashes ...float64) string {
	s := ` fill="none" stroke="` + colour + `" stroke-width="` + num(width) + `"`
	if len(dashes) > 0 {
		d := make([]string, len(dashes))
		for i, v := range dashes {
			d[i] = num(v)
		}
		s += ` stroke-dasharray="` + strings.Join(d, " ") + `"`
	}
	return s
}

// filled is the look of an area without a line.
func filled(colour string) string { return ` fill="` + colour + `"` }

// framed is the look of an area with a line.
func framed(fill, colour string, width float64) string {
	return ` fill="` + fill + `" stroke="` + colour + `" stroke-width="` + num(width) + `"`
}

// attrs writes names and lengths in turn.
func (s *svg) attrs(names []string, mm ...float64) {
	for i, n := range names {
		s.body.WriteString(` ` + n + `="` + num(mm[i]) + `"`)
	}
}

func (s *svg) line(x1, y1, x2, y2 float64, look string) {
	s.body.WriteString(`<line`)
	s.attrs([]string{"x1", "y1", "x2", "y2"}, x1, y1, x2, y2)
	s.body.WriteString(look + "/>\n")
}

func (s *svg) circle(x, y, r float64, look string) {
	s.body.WriteString(`<circle`)
	s.attrs([]string{"cx", "cy", "r"}, x, y, r)
	s.body.WriteString(look + "/>\n")
}

func (s *svg) rect(b box, look string) {
	s.body.WriteString(`<rect`)
	s.attrs([]string{"x", "y", "width", "height"}, b.x0, b.y0, b.x1-b.x0, b.y1-b.y0)
	s.body.WriteString(look + "/>\n")
}

func (s *svg) path(d, look string) {
	s.body.WriteString(`<path d="` + d + `"` + look + "/>\n")
}

// open starts a group; name, if any, is what a screen reader or a resting pointer gets.
func (s *svg) open(look, name string) {
	s.body.WriteString(`<g` + look + `>`)
	if name != "" {
		s.body.WriteString(`<title>` + escape(name) + `</title>`)
	}
	s.body.WriteString("\n")
}

func (s *svg) end() { s.body.WriteString("</g>\n") }

// lettering is how a text looks.
type lettering struct {
	size   float64 // mm
	anchor string  // "start", "middle" or "end"; "" is start
	colour string  // "" is ink
	bold   bool
	title  bool // in the serif of headings
}

// text writes one line with its baseline at y and remembers its box.
func (s *svg) text(x, y float64, words string, l lettering) box {
	words = clean(words)
	b := l.box(x, y, words)
	s.texts = append(s.texts, b)
	s.body.WriteString(`<text`)
	s.attrs([]string{"x", "y", "font-size"}, x, y, l.size)
	if l.anchor != "" && l.anchor != "start" {
		s.body.WriteString(` text-anchor="` + l.anchor + `"`)
	}
	if l.bold {
		s.body.WriteString(` font-weight="600"`)
	}
	if l.title {
		s.body.WriteString(` font-family="` + serif + `" font-style="italic"`)
	}
	s.body.WriteString(` fill="` + cmp.Or(l.colour, ink) + `">` + escape(words) + "</text>\n")
	return b
}

// box is the room that a text takes in the widest usual font.
func (l lettering) box(x, y float64, words string) box {
	w := textWidth(words, l.size)
	if l.bold {
		w *= 1.13 // DejaVu Sans Bold is at most that much wider
	}
	if l.title {
		w *= 0.92 // the italics of the stack are narrower
	}
	switch l.anchor {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return box{x, y - 0.78*l.size, x + w, y + 0.24*l.size}
}

// Drawing is a picture of a size of its own.
type Drawing struct {
	WidthMM, HeightMM float64
	rest              []byte // all but the size
}

// SVG is the picture at its own size.
func (d Drawing) SVG() []byte { return d.Scaled(1) }

// Scaled is the picture at a share of its own size.
func (d Drawing) Scaled(share float64) []byte {
	return append([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="`+figure(d.WidthMM*share, 2)+`mm" height="`+figure(d.HeightMM*share, 2)+`mm"`), d.rest...)
}

// picture puts the parts together. height is in mm.
func (s *svg) picture(height float64, title, desc string) Drawing {
	var out bytes.Buffer
	id, wide := s.prefix, cmp.Or(s.width, pageW)
	out.WriteString(` viewBox="0 0 ` + num(wide) + ` ` + num(height) + `" role="img" aria-labelledby="` + id + `-title ` + id +
		`-desc" font-family="` + sans + `">` + "\n")
	out.WriteString(`<title id="` + id + `-title">` + escape(title) + "</title>\n")
	out.WriteString(`<desc id="` + id + `-desc">` + escape(desc) + "</desc>\n")
	out.WriteString("<defs>\n")
	out.Write(s.defs.Bytes())
	out.WriteString("</defs>\n")
	out.WriteString(`<rect width="` + num(wide) + `" height="` + num(height) + `" fill="` + paper + "\"/>\n")
	out.Write(s.body.Bytes())
	out.WriteString("</svg>\n")
	return Drawing{WidthMM: wide, HeightMM: height, rest: out.Bytes()}
}

// newSVG begins a picture with its heading. name is the drawing's own name,
// for ids; facts is the line under the title.
func newSVG(in Sheet, name, title string, facts ...string) (*svg, string) {
	s := &svg{prefix: idPrefix(in.Prefix, name)}
	if strings.TrimSpace(clean(in.Title)) != "" {
		title = clean(in.Title)
	}
	s.text(margin, 9, fit(title, heading, pageW-2*margin-18), lettering{size: heading, title: true})
	if n := strings.TrimSpace(clean(in.Note)); n != "" {
		facts = append(facts[:len(facts):len(facts)], n)
	}
	for i, l := range facts[:min(2, len(facts))] {
		s.text(margin, 13.2+float64(i)*3.7, fit(l, small, pageW-2*margin-2), lettering{size: small, colour: soft})
	}
	s.line(margin, headRule, pageW-margin, headRule, stroke(pencil, 0.25))
	s.line(margin, headRule+0.7, pageW-margin, headRule+0.7, stroke(faint, 0.2))
	return s, title
}

// idPrefix keeps what an id may hold.
func idPrefix(wish, name string) string {
	var b strings.Builder
	for _, r := range wish {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			b.WriteRune(r)
		}
	}
	if id := b.String(); id != "" && (id[0] < '0' || id[0] > '9') && id[0] != '-' {
		return id
	}
	return name
}
