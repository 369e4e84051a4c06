package draw

import "strings"

// wash is a tone with a pattern of its own, so that areas stay apart in grey print too.
type wash struct {
	name string
	tone string
	mark string // colour of the pattern
	w, h float64
	d    string // strokes of one tile, in tenths of a mm; "" for none
	dots [][3]float64
	line float64 // width of the strokes, mm
}

// zoneWash is how a zone looks. Any other name gets the last.
func zoneWash(zone string) wash {
	switch zone {
	case "bottom": // short level strokes, as water is drawn
		return wash{name: "bottom", tone: "#cfe0e3", mark: "#86a7af", w: 6, h: 3.6, line: 0.22, d: "M3 9H27M33 27H57"}
	case "slope": // dots
		return wash{name: "slope", tone: "#e6ead6", mark: "#94a27b", w: 3.2, h: 3.2, dots: [][3]float64{{0.8, 0.8, 0.2}, {2.4, 2.4, 0.2}}}
	}
	// slanted lines
	return wash{name: "rim", tone: "#f4ead4", mark: "#cdb98f", w: 2.6, h: 2.6, line: 0.18, d: "M-5 5L5 -5M0 26L26 0M21 31L31 21"}
}

// otherWash is how things that are no zone look.
func otherWash(name string) wash {
	switch name {
	case "keepout": // crossed lines
		return wash{name: name, tone: "#eeece6", mark: "#a4a79e", w: 2.4, h: 2.4, line: 0.18, d: "M0 0L24 24M0 24L24 0"}
	case "stones": // rings
		return wash{name: name, tone: "#e4e6e4", mark: "#8d9793", w: 3.4, h: 3, line: 0.2, d: "M5 8a4 3 0 1 0 8 0a4 3 0 1 0 -8 0M21 22a5 4 0 1 0 10 0a5 4 0 1 0 -10 0"}
	case "wall": // close slanted lines
		return wash{name: name, tone: "#dcdad2", mark: "#7d827a", w: 1.6, h: 1.6, line: 0.22, d: "M-2 2L2 -2M0 16L16 0M14 18L18 14"}
	case "earth": // strokes in threes, as old ground is drawn
		return wash{name: name, tone: "#efe8da", mark: "#b3a487", w: 6.4, h: 4.8, line: 0.2, d: "M4 20L16 8M8 23L20 11M12 26L24 14M36 44L48 32M40 47L52 35"}
	case "mix": // dots and short strokes
		return wash{name: name, tone: "#eadfcd", mark: "#a08c68", w: 4, h: 4, line: 0.22, d: "M23 9L29 7M7 31L12 33", dots: [][3]float64{{0.9, 0.9, 0.19}, {3, 2.6, 0.19}}}
	case "season": // wide upright lines
		return wash{name: name, tone: "#f0f3e6", mark: "#cfd8b8", w: 2, h: 2, line: 0.18, d: "M10 0V20"}
	case "rain": // solid
		return wash{name: name, tone: "#6f93a3"}
	}
	// "water": level lines
	return wash{name: "water", tone: "#bcd5dc", mark: "#7fa5b2", w: 4, h: 1.2, line: 0.16, d: "M0 6H40"}
}

// bloomWash is how a bloom colour looks. All words of one look stand in one row here.
func bloomWash(word string) wash {
	w := wash{w: 2.4, h: 1.2, line: 0.2, mark: "#5d665f"} // low tiles: a stripe of a third of a bar holds one whole
	switch strings.ToLower(strings.TrimSpace(word)) {
	case "white":
		w.name, w.tone, w.mark = "white", "#ffffff", "#ffffff"
	case "cream", "ivory":
		w.name, w.tone, w.dots = "cream", "#f7efd0", [][3]float64{{1.2, 0.6, 0.2}}
	case "yellow", "gold":
		w.name, w.tone, w.d = "yellow", "#f3dc7a", "M6 3V9M18 3V9"
	case "orange":
		w.name, w.tone, w.d = "orange", "#f0b67a", "M0 6H24"
	case "red", "crimson", "scarlet":
		w.name, w.tone, w.d = "red", "#e39b90", "M0 12L12 0M12 12L24 0"
	case "pink", "rose":
		w.name, w.tone, w.dots = "pink", "#f1c6cf", [][3]float64{{0.6, 0.3, 0.2}, {1.8, 0.9, 0.2}}
	case "purple", "violet", "magenta":
		w.name, w.tone, w.d = "purple", "#c7b0d8", "M0 0L12 12M12 0L24 12"
	case "lavender", "lilac", "mauve":
		w.name, w.tone, w.d = "lavender", "#ddd0ea", "M3 3L9 9M18 3L12 9"
	case "blue":
		w.name, w.tone, w.d = "blue", "#a9c3e2", "M12 0V12"
	case "green":
		w.name, w.tone, w.d = "green", "#bcd6a8", "M0 0L12 12L24 0M0 12L12 0L24 12"
	case "brown", "bronze":
		w.name, w.tone, w.d = "brown", "#cdb091", "M12 0V12M0 6H24"
	default:
		w.name, w.tone, w.d = "other", "#e9e7df", "M4 9L12 3L20 9"
	}
	return w
}

// define writes the pattern once and returns the look that fills with it.
func (s *svg) define(w wash) string {
	if w.d == "" && len(w.dots) == 0 {
		return filled(w.tone)
	}
	id := s.prefix + "-" + w.name
	if !strings.Contains(s.defs.String(), `id="`+id+`"`) {
		s.defs.WriteString(`<pattern id="` + id + `" width="` + num(w.w) + `" height="` + num(w.h) + `" patternUnits="userSpaceOnUse">`)
		s.defs.WriteString(`<rect width="` + num(w.w) + `" height="` + num(w.h) + `" fill="` + w.tone + `"/>`)
		if w.d != "" {
			s.defs.WriteString(`<path d="` + w.d + `"` + stroke(w.mark, w.line) + `/>`)
		}
		for _, d := range w.dots {
			s.defs.WriteString(`<circle cx="` + num(d[0]) + `" cy="` + num(d[1]) + `" r="` + num(d[2]) + `" fill="` + w.mark + `"/>`)
		}
		s.defs.WriteString("</pattern>\n")
	}
	return ` fill="url(#` + id + `)"`
}

// clip defines an area that drawings are cut to and returns the attribute.
func (s *svg) clip(name, d string) string {
	id := s.prefix + "-" + name
	s.defs.WriteString(`<clipPath id="` + id + `"><path d="` + d + `" clip-rule="evenodd"/></clipPath>` + "\n")
	return ` clip-path="url(#` + id + `)"`
}
