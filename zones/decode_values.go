package zones

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"hollowbed/zones/table"

	"github.com/goccy/go-yaml/ast"
)

// bad notes a fault at the value of a key.
func (s *section) bad(key, value, want string) {
	at := s.d.at[s.name(key)]
	s.d.fault(at[0], at[1], s.name(key), value, want)
}

// quantity reads a figure with its unit, in SI.
func (s *section) quantity(key string) float64 {
	k := s.key(key)
	text, ok := s.scalar(key, k.want)
	if !ok {
		return s.fallback(key, k, k.of.parse)
	}
	v, want := k.of.within(s.d.units, text, k.lo, k.hi)
	if want != "" {
		s.bad(key, text, want)
	}
	return v
}

// figure reads a figure of a list; NaN, and a fault, if it is none or out of bounds.
func (d *decoder) figure(name string, n ast.Node, q quantity, want string, lo, hi float64) float64 {
	text, ok := d.scalar(name, n, want)
	if !ok {
		return math.NaN()
	}
	v, wrong := q.within(d.units, text, lo, hi)
	if wrong != "" {
		d.faultAt(n, name, text, wrong)
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

// fallback deals with a key that gave no value: its default, or NaN.
func (s *section) fallback(key string, k Key, read func(string) (v float64, wrong string)) float64 {
	switch {
	case s.has(key):
		return math.NaN()
	case k.Required:
		s.missing(key, k.want)
		return math.NaN()
	case k.Default == "":
		return math.NaN()
	}
	v, wrong := read(k.Default)
	if wrong != "" {
		panic("default of " + s.name(key) + ": " + wrong)
	}
	s.d.assumed = append(s.d.assumed, s.name(key)+": "+k.Default)
	return v
}

// number reads a bare number.
func (s *section) number(key string) float64 {
	k := s.key(key)
	read := func(text string) (float64, string) {
		v, ok := plainNumber(strings.TrimSpace(text))
		if !ok || !(v >= k.lo) || !(v <= k.hi) {
			return math.NaN(), k.want
		}
		return v, ""
	}
	text, ok := s.scalar(key, k.want)
	if !ok {
		return s.fallback(key, k, read)
	}
	v, wrong := read(text)
	if wrong != "" {
		s.bad(key, text, wrong)
	}
	return v
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// count reads a whole number; 0 if left out and optional.
func (s *section) count(key string) int {
	v := s.number(key)
	if math.IsNaN(v) {
		return 0
	}
	if v != math.Trunc(v) {
		what, _, _ := strings.Cut(s.key(key).want, " from ")
		s.bad(key, plain(v), what+", a whole number")
		return 0
	}
	return int(v)
}

// choice reads one of a few words.
func (s *section) choice(key string) string {
	k := s.key(key)
	if _, given := s.entries[key]; !given && !k.Required && k.Default != "" {
		s.d.assumed = append(s.d.assumed, s.name(key)+": "+k.Default)
		s.asked = append(s.asked, key)
		return k.Default
	}
	return s.oneOf(key, k.Choices)
}

// oneOf reads one of some words; "" if the key is left out or is none of them.
func (s *section) oneOf(key string, words []string) string {
	want := "want one of: " + strings.Join(words, ", ")
	text, ok := s.scalar(key, want)
	if !ok {
		if s.key(key).Required && !s.has(key) {
			s.missing(key, want)
		}
		return ""
	}
	word := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if slices.Contains(words, word) {
		return word
	}
	asked := ""
	if k := s.key(key); k.meant != nil {
		asked = k.meant(word)
	}
	s.bad(key, text, want+cmp.Or(asked, table.OrMeant("", word, words)))
	return ""
}

// text reads one line of free text.
func (s *section) text(key string) string {
	k := s.key(key)
	t, ok := s.scalar(key, k.want)
	if !ok {
		if k.Required && !s.has(key) {
			s.missing(key, k.want)
		}
		return ""
	}
	t = strings.TrimSpace(t)
	if most := int(k.hi); len([]rune(t)) > most {
		s.bad(key, t, "too long: want at most "+strconv.Itoa(most)+" letters")
		return ""
	}
	return t
}

// yes reads yes or no; no if left out.
func (s *section) yes(key string) bool {
	word := s.oneOf(key, []string{"yes", "no", "true", "false"})
	return word == "yes" || word == "true"
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
		s.d.faultAt(n, s.name(key), "", want)
		return nil, false
	}
	return []ast.Node{n}, true
}

// words reads a list of single values, each one of the key's choices if it has any.
func (s *section) words(key string) []string {
	want, words := s.key(key).want, s.key(key).Choices
	nodes, _ := s.items(key, want)
	var out []string
	for i, n := range nodes {
		name := s.name(key) + "[" + strconv.Itoa(i+1) + "]"
		text, ok := s.d.scalar(name, n, want)
		if !ok {
			continue
		}
		switch {
		case words != nil && !slices.Contains(words, text):
			s.d.faultAt(n, name, text, table.OrMeant("want one of: "+strings.Join(words, ", "), text, words))
		case slices.Contains(out, text):
			s.d.faultAt(n, name, text, "given twice: keep one of them")
		default:
			out = append(out, text)
		}
	}
	return out
}
