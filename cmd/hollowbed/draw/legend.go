package draw

import "strings"

// entry is one line of a legend: a small picture and words.
type entry struct {
	words string
	mark  func(x, y float64) // draws into 9 by 3.4 mm, whose left top is x, y
}

const (
	markW = 9.0
	markH = 3.4
)

// smallHead writes a heading of a part.
func (s *svg) smallHead(x, y float64, words string) {
	s.text(x, y, words, lettering{size: normal + 0.3, title: true})
}

// entries lays out a legend in columns, row by row, and returns where it ends.
func (s *svg) entries(y float64, items []entry, columns int) float64 {
	w := (pageW - 2*margin) / float64(columns)
	for i := 0; i < len(items); i += columns {
		most := 1
		for k, e := range items[i:min(i+columns, len(items))] {
			x := margin + float64(k)*w
			e.mark(x, y)
			lines := wrap(e.words, small, w-markW-4, 3)
			most = max(most, len(lines))
			for n, l := range lines {
				s.text(x+markW+2, y+2.7+float64(n)*3.7, l, lettering{size: small})
			}
		}
		y += 3.7*float64(most) + 1.5
	}
	return y
}

// swatch is an entry for an area.
func (s *svg) swatch(words, look string) entry {
	return entry{words, func(x, y float64) {
		s.rect(box{x, y, x + markW, y + markH}, look+` stroke="`+pencil+`" stroke-width="`+num(0.2)+`"`)
	}}
}

// sample is an entry for a line.
func (s *svg) sample(words, look string) entry {
	return entry{words, func(x, y float64) { s.line(x, y+markH/2, x+markW, y+markH/2, look) }}
}

// row is one line of the table of plants.
type row struct {
	key, name, last string
	mark            func(x, y float64) // centre
}

// table lays out plants in two columns, one after the other, and returns where it ends.
func (s *svg) table(y float64, rows []row, last string) float64 {
	const gap = 6
	w := (pageW - 2*margin - gap) / 2
	keyW, lastW := textWidth("Key", small)*1.13, textWidth(last, small)
	for i := range rows {
		rows[i].key = fit(rows[i].key, small, 22)
		rows[i].last = fit(rows[i].last, small, 42)
		keyW = max(keyW, textWidth(rows[i].key, small)*1.13)
		lastW = max(lastW, textWidth(rows[i].last, small))
	}
	half := (len(rows) + 1) / 2
	end := y
	for c, part := range [][]row{rows[:half], rows[half:]} {
		if len(part) == 0 {
			continue
		}
		x, at := margin+float64(c)*(w+gap), y
		right := x + w
		head := lettering{size: small, colour: soft}
		s.text(x+7, at+2.7, "Key", head)
		s.text(x+9+keyW, at+2.7, "Name", head)
		s.text(right, at+2.7, last, lettering{size: small, colour: soft, anchor: "end"})
		at += 4
		s.line(x, at, right, at, stroke(pencil, 0.2))
		at += 0.8
		for _, r := range part {
			lines := wrap(r.name, small, w-9-keyW-lastW-3, 2)
			r.mark(x+2.6, at+1.8)
			s.open("", r.name)
			s.text(x+7, at+2.8, r.key, lettering{size: small, bold: true})
			for n, l := range lines {
				s.text(x+9+keyW, at+2.8+3.7*float64(n), l, lettering{size: small})
			}
			s.end()
			s.text(right, at+2.8, r.last, lettering{size: small, anchor: "end"})
			at += 3.7*float64(len(lines)) + 0.7
			s.line(x, at-0.1, right, at-0.1, stroke(faint, 0.15))
			at += 0.2
		}
		end = max(end, at)
	}
	return end
}

// list joins words as a person would: "a, b and c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return figure(float64(n), 0) + " " + many
}
