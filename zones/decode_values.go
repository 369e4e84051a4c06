package zones

import (
	"math"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"hollowbed/zones/site"
)

// bad notes a fault at the value of a key.
func (s *section) bad(key, value, want string) {
	at := s.d.at[s.name(key)]
	s.d.fault(at[0], at[1], s.name(key), value, want)
}

// What to do when a key is left out: required, optional (NaN), or a default
// written as a person would write it.
const (
	required = "!"
	optional = ""
)

// quantity reads a figure with its unit, within lo to hi (SI).
func (s *section) quantity(key string, q quantity, fallback string, lo, hi float64) float64 {
	text, ok := s.scalar(key, q.wanted())
	if !ok {
		return s.fallback(key, q.wanted(), fallback, func(text string) float64 {
			v, wrong := q.parse(text)
			if wrong != "" {
				panic("default of " + s.name(key) + ": " + wrong)
			}
			return v
		})
	}
	v, want := q.within(s.d.units, text, lo, hi)
	if want != "" {
		s.bad(key, text, want)
	}
	return v
}

// within reads a figure and holds it between lo and hi.
func (q quantity) within(u Units, text string, lo, hi float64) (float64, string) {
	v, wrong := q.parse(text)
	if wrong != "" {
		return math.NaN(), wrong
	}
	const slack = 1e-9 // so that a bound written in feet is itself allowed
	if !(v >= lo*(1-slack)-1e-12) || !(v <= hi*(1+slack)) {
		if lo < 0 {
			return math.NaN(), "want from " + q.show(u, lo) + " to " + q.show(u, hi)
		}
		if !(v >= lo) {
			return math.NaN(), "too small: want at least " + q.show(u, lo)
		}
		return math.NaN(), "too large: want at most " + q.show(u, hi)
	}
	return v, ""
}

// fallback deals with a key that gave no value. A key that is there without
// one is already a fault.
func (s *section) fallback(key, want, fallback string, read func(string) float64) float64 {
	if s.has(key) || fallback == optional {
		return math.NaN()
	}
	if fallback == required {
		s.missing(key, want)
		return math.NaN()
	}
	s.d.assumed = append(s.d.assumed, s.name(key)+": "+fallback)
	return read(fallback)
}

// number reads a bare number within lo to hi.
func (s *section) number(key, what, fallback string, lo, hi float64) float64 {
	want := "want " + what + " from " + plain(lo) + " to " + plain(hi)
	text, ok := s.scalar(key, want)
	if !ok {
		return s.fallback(key, want, fallback, func(text string) float64 {
			v, ok := plainNumber(text)
			if !ok {
				panic("default of " + s.name(key))
			}
			return v
		})
	}
	v, ok := plainNumber(strings.TrimSpace(text))
	if !ok || !(v >= lo) || !(v <= hi) {
		s.bad(key, text, want)
		return math.NaN()
	}
	return v
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// count reads a whole number; 0 if left out and optional.
func (s *section) count(key, what, fallback string, lo, hi int) int {
	v := s.number(key, what, fallback, float64(lo), float64(hi))
	if math.IsNaN(v) {
		return 0
	}
	if v != math.Trunc(v) {
		s.bad(key, plain(v), "want "+what+", a whole number")
		return 0
	}
	return int(v)
}

// choice reads one of a few words.
func (s *section) choice(key, fallback string, words []string) string {
	want := "want one of: " + strings.Join(words, ", ")
	text, ok := s.scalar(key, want)
	if !ok {
		if s.has(key) || fallback == optional {
			return ""
		}
		if fallback == required {
			s.missing(key, want)
			return ""
		}
		s.d.assumed = append(s.d.assumed, s.name(key)+": "+fallback)
		return fallback
	}
	word := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if place(words, word) >= 0 {
		return word
	}
	if near := nearest(word, words); near != "" {
		want += "; did you mean " + near + "?"
	}
	s.bad(key, text, want)
	return ""
}

// text reads one line of free text.
func (s *section) text(key, fallback, want string, most int) string {
	t, ok := s.scalar(key, want)
	if !ok {
		if fallback == required && !s.has(key) {
			s.missing(key, want)
		}
		return ""
	}
	t = strings.TrimSpace(t)
	if len([]rune(t)) > most {
		s.bad(key, t, "too long: want at most "+strconv.Itoa(most)+" letters")
		return ""
	}
	return t
}

// yes reads yes or no; no if left out.
func (s *section) yes(key string) bool {
	switch s.choice(key, optional, []string{"yes", "no", "true", "false"}) {
	case "yes", "true":
		return true
	}
	return false
}

// items gives the values of a list; a single value is a list of one.
func (s *section) items(key, want string) ([]ast.Node, bool) {
	n, ok := s.node(key)
	if !ok {
		return nil, false
	}
	switch n := n.(type) {
	case *ast.SequenceNode:
		return n.Values, true
	case *ast.MappingNode, *ast.NullNode:
		line, col := position(n)
		s.d.fault(line, col, s.name(key), "", want)
		return nil, false
	}
	return []ast.Node{n}, true
}

// words reads a list of single values, each one of the words if words is not
// nil.
func (s *section) words(key, want string, words []string) []string {
	nodes, _ := s.items(key, want)
	var out []string
	for i, n := range nodes {
		name := s.name(key) + "[" + strconv.Itoa(i+1) + "]"
		text, ok := s.d.scalar(name, n, want)
		if !ok {
			continue
		}
		line, col := position(n)
		switch {
		case words != nil && place(words, text) < 0:
			more := ""
			if near := nearest(text, words); near != "" {
				more = "; did you mean " + near + "?"
			}
			s.d.fault(line, col, name, text, "want one of: "+strings.Join(words, ", ")+more)
		case place(out, text) >= 0:
			s.d.fault(line, col, name, text, "given twice: keep one of them")
		default:
			out = append(out, text)
		}
	}
	return out
}

// nearest is the known word closest to the one written, or "" if none is
// close: at most two letters wrong, fewer in a short word.
func nearest(word string, known []string) string {
	fold := func(w string) string {
		return strings.ToLower(strings.NewReplacer("-", "", "_", "", " ", "").Replace(w))
	}
	best, least := "", 3
	if len(word) <= 4 {
		least = 2
	}
	if len(word) > 40 {
		return ""
	}
	for _, k := range known {
		if n := site.EditDistance(fold(word), fold(k)); n < least && n < len(k)-1 {
			best, least = k, n
		}
	}
	return best
}
