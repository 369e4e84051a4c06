package zones

import (
	"math"
	"sort"
	"strconv"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/ast"
)

// section is one mapping of the file while its keys are asked for. A section
// that the file leaves out has no entries, and every question to it gets the
// default.
type section struct {
	d         *decoder
	path      string // "bed"; "" at the top
	line, col int    // where it begins; 0 if left out
	entries   map[string]ast.Node
	keys      []ast.MapKeyNode
	asked     []string
}

// section opens a mapping.
func (d *decoder) open(path string, n ast.Node) *section {
	s := &section{d: d, path: path, entries: map[string]ast.Node{}}
	if n == nil {
		return s
	}
	s.line, s.col = position(n)
	m, ok := n.(*ast.MappingNode)
	if !ok {
		if _, empty := n.(*ast.NullNode); !empty {
			d.fault(s.line, s.col, path, raw(n), "want keys with values below this, each on its own line and two spaces further in")
		}
		return s
	}
	for _, v := range m.Values {
		key := v.Key.GetToken().Value
		line, col := position(v.Key)
		if first, twice := d.at[s.name(key)]; twice {
			d.fault(line, col, s.name(key), "", "given twice: keep one of them; the first is on line "+strconv.Itoa(first[0]))
			continue
		}
		d.at[s.name(key)] = [2]int{line, col}
		if valueLine, valueCol := position(v.Value); valueLine > 0 {
			d.at[s.name(key)] = [2]int{valueLine, valueCol}
		}
		s.entries[key] = v.Value
		s.keys = append(s.keys, v.Key)
	}
	return s
}

// sub opens the mapping below a key. A key without a value is an empty one.
func (s *section) sub(key string) *section {
	n, _ := s.node(key)
	return s.d.open(s.name(key), n)
}

func (s *section) name(key string) string {
	key = printable(key)
	if s.path == "" {
		return key
	}
	return s.path + "." + key
}

func (s *section) has(key string) bool {
	_, ok := s.entries[key]
	return ok
}

// node gives what stands behind a key and remembers that the key is known.
func (s *section) node(key string) (ast.Node, bool) {
	s.asked = append(s.asked, key)
	n, ok := s.entries[key]
	return n, ok
}

// done notes a fault for every key that nobody asked for.
func (s *section) done() {
	for _, k := range s.keys {
		key := k.GetToken().Value
		if place(s.asked, key) >= 0 {
			continue
		}
		want := "not a key of a garden file"
		if near := nearest(key, s.asked); near != "" {
			want += "; did you mean " + near + "?"
		} else {
			known := append([]string(nil), s.asked...)
			sort.Strings(known)
			want += "; want one of: " + strings.Join(known, ", ")
		}
		line, col := position(k)
		s.d.fault(line, col, s.name(key), "", want)
	}
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
		if n := editDistance(fold(word), fold(k)); n < least && n < len(k)-1 {
			best, least = k, n
		}
	}
	return best
}

// editDistance is the least number of letters to add, drop or change.
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// missing notes a key that must be there.
func (s *section) missing(key, want string) {
	s.d.fault(s.line, s.col, s.name(key), "", "missing: "+want)
}

// scalar gives the text of a single value; what is wanted is for the fault if
// it is a list, a mapping or empty.
func (s *section) scalar(key, want string) (text string, ok bool) {
	n, ok := s.node(key)
	if !ok {
		return "", false
	}
	return s.d.scalar(s.name(key), n, want)
}

func (d *decoder) scalar(name string, n ast.Node, want string) (string, bool) {
	line, col := position(n)
	switch n.(type) {
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NanNode, *ast.InfinityNode:
	case *ast.NullNode:
		d.fault(line, col, name, "", "no value: "+want+", or remove the line")
		return "", false
	default:
		d.fault(line, col, name, "", "want a single value here: "+want)
		return "", false
	}
	text := n.GetToken().Value
	if text != printable(text) {
		d.fault(line, col, name, text, "want plain text on one line, without control characters")
		return "", false
	}
	if strings.TrimSpace(text) == "" {
		d.fault(line, col, name, "", "no value: "+want+", or remove the line")
		return "", false
	}
	return text, true
}

// raw is the text of a value for a message; "" if it is not a single value.
func raw(n ast.Node) string {
	if _, ok := n.(ast.ScalarNode); ok && n.GetToken() != nil {
		return printable(n.GetToken().Value)
	}
	return ""
}

// printable leaves out what could disturb a terminal.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, s)
}

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
