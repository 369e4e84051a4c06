package zones

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"hollowbed/zones/table"

	"github.com/goccy/go-yaml/ast"
)

// notAKey is how the fault of an unknown key begins.
const notAKey = "not a key of a garden file"

// section is one mapping of the file while its keys are asked for; without entries if the
// file leaves it out.
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
		if valueLine, valueCol := position(v.Value); valueLine != 0 {
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
	sub := s.d.open(s.name(key), n)
	for _, k := range s.keys {
		if k.GetToken().Value == key { // a missing key is noted at the name of its section
			sub.line, sub.col = position(k)
			break
		}
	}
	return sub
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

// key is the row of the table of keys for a key of this section.
func (s *section) key(key string) Key {
	path := key
	if s.path != "" {
		path = anyEntry(s.path) + "." + key
	}
	k, ok := s.d.keys[path]
	if !ok {
		panic("zones: not in the table of keys: " + path)
	}
	return k
}

// anyEntry turns "roof.also[2]" into "roof.also[]".
func anyEntry(path string) string {
	var b strings.Builder
	for from, to := 0, 0; from < len(path); from = to {
		if to = strings.IndexByte(path[from:], '['); to < 0 {
			b.WriteString(path[from:])
			break
		}
		b.WriteString(path[from:from+to] + "[]")
		to = from + to + strings.IndexByte(path[from+to:], ']') + 1
	}
	return b.String()
}

// done notes a fault for every key that nobody asked for.
func (s *section) done() {
	for _, k := range s.keys {
		key := k.GetToken().Value
		if slices.Contains(s.asked, key) {
			continue
		}
		want := notAKey
		if near := table.Nearest(key, s.asked); near != "" {
			want += "; did you mean " + near + "?"
		} else {
			want += "; want one of: " + strings.Join(slices.Compact(slices.Sorted(slices.Values(s.asked))), ", ")
		}
		s.d.faultAt(k, s.name(key), "", want)
	}
}

// missing notes a key that must be there.
func (s *section) missing(key, want string) {
	s.d.fault(s.line, s.col, s.name(key), "", "missing: "+want)
}

// scalar gives the text of a single value; want is for the fault if it is none.
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
