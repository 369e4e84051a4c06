package draw

import (
	"bytes"
	"encoding/xml"
	"strings"
	"unicode"
)

// clean makes one line of any text: control characters become blanks, marks that turn the
// direction go, and no letter keeps more than two combining marks.
func clean(s string) string {
	var b strings.Builder
	marks := 0
	for _, r := range s {
		switch {
		case unicode.IsControl(r), r == '\u2028', r == '\u2029':
			r = ' '
		case r >= '\u202a' && r <= '\u202e', r >= '\u2066' && r <= '\u2069', r == '\u200e', r == '\u200f', r == '\ufeff':
			continue
		}
		if unicode.In(r, unicode.Mn, unicode.Me) {
			if marks++; marks > 2 {
				continue
			}
		} else {
			marks = 0
		}
		b.WriteRune(r)
	}
	return b.String()
}

// escape makes text safe inside an element. What XML 1.0 can't hold becomes U+FFFD.
func escape(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(clean(s))); err != nil {
		panic("draw: " + err.Error()) // a bytes.Buffer takes everything
	}
	return b.String()
}

// textWidth is how wide a line may get at most, mm: ASCII as in DejaVu Sans, the widest
// of the stack; beyond Latin, Greek and Cyrillic 1.3 of the size.
func textWidth(s string, size float64) float64 {
	ascii := asciiWidths()
	w := 0.0
	for _, r := range s {
		w += runeWidth(&ascii, r)
	}
	return w * size
}

// runeWidth is in parts of the font size.
func runeWidth(ascii *[95]uint16, r rune) float64 {
	switch {
	case r >= ' ' && r <= '~':
		return float64(ascii[r-' ']) / 1000
	case r == '\ufdfd', r >= 0x12000 && r <= 0x1254f: // one sign as wide as a sentence
		return 12
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0.1
	case r == '\u2013', r == '\u00b0':
		return 0.5
	case r == '\u00d7', r == '\u2212':
		return 0.84
	case r >= 0xa0 && r < 0x250: // accented Latin and fractions
		return 1.05
	case r >= 0x370 && r < 0x590: // Greek, Cyrillic, Armenian
		return 1.1
	}
	return 1.3
}

// asciiWidths are those of DejaVu Sans 2.37 from blank to tilde, in thousandths of the
// size. Source: measured in that font, free to use (Bitstream Vera licence).
func asciiWidths() [95]uint16 {
	return [95]uint16{
		318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
		636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
		1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
		603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
		500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
		635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
	}
}

// fit cuts a line that would be too wide and ends it with an ellipsis.
func fit(s string, size, width float64) string {
	s = clean(s)
	if textWidth(s, size) <= width {
		return s
	}
	room := width - textWidth("\u2026", size)
	ascii := asciiWidths()
	w := 0.0
	for i, r := range s {
		if w += runeWidth(&ascii, r) * size; w > room {
			return strings.TrimRight(s[:i], " ") + "\u2026"
		}
	}
	return s
}

// wrap breaks a text into at most n lines at blanks; what is too wide is cut.
func wrap(s string, size, width float64, n int) []string {
	var lines []string
	line := ""
	words := strings.Fields(clean(s))
	for i, w := range words {
		longer := w
		if line != "" {
			longer = line + " " + w
		}
		if line == "" || textWidth(longer, size) <= width {
			line = longer
			continue
		}
		if len(lines) == n-1 {
			line += " " + strings.Join(words[i:], " ")
			break
		}
		lines = append(lines, fit(line, size, width))
		line = w
	}
	return append(lines, fit(line, size, width))
}
