package zones

import (
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hollowbed/zones/table"

	"github.com/goccy/go-yaml/ast"
)

// errNotEdited says that only an editor can change how a key stands in the file.
var errNotEdited = errors.New("the garden file writes this in a way that only an editor can change")

// mostValue is how long a value may be, in bytes.
const mostValue = 2000

// KeyTexts gives the values of a garden file by key, as written; a list is "a, b", of
// pairs "0 ft, 0 ft; 9 ft, 3 ft", other entries are keys: "roof.also[1].area". The error
// is table.Faults.
func KeyTexts(text string) (map[string]string, error) {
	d := newDecoder("garden.yaml")
	body := d.parse([]byte(strings.TrimPrefix(text, "\ufeff")))
	if body == nil || len(d.faults) > 0 {
		return nil, d.sorted()
	}
	out := map[string]string{}
	flatten("", body, out)
	return out, nil
}

// flatten notes the values below a node.
func flatten(path string, n ast.Node, out map[string]string) {
	switch n := n.(type) {
	case *ast.MappingNode:
		for _, v := range n.Values {
			key := v.Key.GetToken().Value
			if path != "" {
				key = path + "." + key
			}
			flatten(key, v.Value, out)
		}
	case *ast.SequenceNode:
		if s, ok := listText(n); ok {
			out[path] = s
			return
		}
		for i, v := range n.Values {
			flatten(fmt.Sprintf("%s[%d]", path, i+1), v, out)
		}
	case *ast.NullNode:
		if n.GetToken() != nil && n.GetToken().Value != "null" {
			out[path] = ""
		}
	default:
		out[path] = raw(n)
	}
}

// listText writes a list of single values, or of pairs of them.
func listText(n *ast.SequenceNode) (string, bool) {
	var parts []string
	between := ", "
	for _, v := range n.Values {
		switch v := v.(type) {
		case ast.ScalarNode:
			parts = append(parts, raw(v))
		case *ast.SequenceNode:
			pair, ok := listText(v)
			if !ok {
				return "", false
			}
			parts, between = append(parts, pair), "; "
		default:
			return "", false
		}
	}
	return strings.Join(parts, between), true
}

// EditKey changes one value in the text of a garden file, or takes the key out if it is
// "". All else stays. The value need not be right. The error is errNotEdited, or
// table.Faults for a value that no file can hold.
func EditKey(text, key, value string) (string, error) {
	value = strings.TrimSpace(value)
	if value != printable(value) || len(value) > mostValue {
		return "", table.Faults{{Name: key, Want: fmt.Sprintf("want plain text on one line, of at most %d letters", mostValue)}}
	}
	before, err := KeyTexts(text)
	if err != nil {
		return "", err
	}
	had, ok := before[key]
	if !ok && allZones(key) != "" { // one figure for all zones
		had = before[allZones(key)]
	}
	if had == value {
		return text, nil
	}
	crlf := strings.Contains(text, "\r\n")
	e := &editor{key: key}
	out, err := e.edit(strings.ReplaceAll(text, "\r\n", "\n"), strings.Split(key, "."), value)
	if err != nil {
		return "", err
	}
	if crlf {
		out = strings.ReplaceAll(out, "\n", "\r\n")
	}
	return out, e.proved(before, out, value)
}

// proved makes sure that the key has its value now, and that no other changed.
func (e *editor) proved(before map[string]string, text, value string) error {
	after, err := KeyTexts(text)
	if err != nil || after[e.key] != value {
		return errNotEdited
	}
	before = maps.Clone(before)
	for _, m := range []map[string]string{before, after} {
		maps.DeleteFunc(m, func(k, v string) bool { return k == e.key || v == "" })
	}
	for _, k := range byZoneKeys() { // one figure for all zones may have been written out
		if v, ok := before[k]; ok && strings.HasPrefix(e.key, k+".") {
			delete(before, k)
			for _, zone := range []string{"bottom", "slope", "rim"} {
				if k+"."+zone != e.key {
					before[k+"."+zone] = v
				}
			}
		}
	}
	if !maps.Equal(before, after) {
		return errNotEdited
	}
	return nil
}

// allZones is the key that one figure for all zones would stand at; "" if there is none.
func allZones(key string) string {
	parent := key[:max(0, strings.LastIndex(key, "."))]
	if slices.Contains(byZoneKeys(), parent) {
		return parent
	}
	return ""
}

// byZoneKeys are the keys that take one value, or one for each zone.
func byZoneKeys() []string { return pathsOf(kindByZone) }

// listKeys are the keys that take a list of words.
func listKeys() []string { return pathsOf(kindWords) }

// written is a value as the file writes it.
func written(key, value string) string {
	places := key == "bed.points" || strings.HasPrefix(key, "layout.keep_free[")
	switch {
	case places && (key == "bed.points" || strings.Contains(value, ";")):
		var corners []string
		for corner := range strings.SplitSeq(value, ";") {
			corners = append(corners, flowList(corner))
		}
		return "[" + strings.Join(corners, ", ") + "]"
	case places, slices.Contains(pathsOf(kindPlace), key), slices.Contains(listKeys(), key):
		return flowList(value)
	}
	return plainOrQuoted(value)
}

func flowList(value string) string {
	items := itemsOf(value)
	for i, item := range items {
		items[i] = plainOrQuoted(item)
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// itemsOf are the items of "a, b".
func itemsOf(value string) []string {
	return slices.DeleteFunc(table.Trimmed(strings.Split(value, ",")), func(s string) bool { return s == "" })
}

// plainOrQuoted puts quotes round a text unless it needs none.
func plainOrQuoted(s string) string {
	if regexp.MustCompile(`^[0-9.]+:[0-9.]+$`).MatchString(s) { // a slope
		return s
	}
	return yamlText(s)
}

// editor changes the lines of a text.
type editor struct {
	key   string
	lines [][]rune
}

func (e *editor) text() string {
	out := make([]string, len(e.lines))
	for i, l := range e.lines {
		out[i] = string(l)
	}
	return strings.Join(out, "\n")
}

// edit does the change on a text with plain line ends.
func (e *editor) edit(text string, path []string, value string) (string, error) {
	bom := strings.HasPrefix(text, "\ufeff")
	text = strings.TrimPrefix(text, "\ufeff")
	d := newDecoder("garden.yaml")
	body := d.parse([]byte(text))
	if body == nil {
		return "", d.sorted()
	}
	for l := range strings.SplitSeq(text, "\n") {
		e.lines = append(e.lines, []rune(l))
	}
	err := e.change(body, path, value)
	if bom {
		return "\ufeff" + e.text(), err
	}
	return e.text(), err
}

// change finds the key from the top down, and sets it, adds it or takes it out.
func (e *editor) change(body *ast.MappingNode, path []string, value string) error {
	in, trail := body, []*ast.MappingValueNode{}
	for i, name := range path {
		if list, ok := itemOf(in, name); ok {
			in = list
			continue
		}
		entry := entryOf(in, name)
		if entry == nil {
			if value == "" {
				return nil
			}
			return e.add(in, trail, path[i:], value)
		}
		trail = append(trail, entry)
		if i == len(path)-1 {
			break
		}
		next, ok := entry.Value.(*ast.MappingNode)
		if !ok {
			return e.below(entry, path[i+1:], value)
		}
		in = next
	}
	if value == "" {
		return e.remove(body, trail)
	}
	return e.set(trail[len(trail)-1].Value, value)
}

// itemOf finds an entry of a list, "keep_free[1]".
func itemOf(m *ast.MappingNode, name string) (*ast.MappingNode, bool) {
	list, number, ok := strings.Cut(strings.TrimSuffix(name, "]"), "[")
	entry := entryOf(m, list)
	n, err := strconv.Atoi(number)
	if !ok || entry == nil || err != nil {
		return nil, false
	}
	items, ok := entry.Value.(*ast.SequenceNode)
	if !ok || n < 1 || n > len(items.Values) {
		return nil, false
	}
	item, ok := items.Values[n-1].(*ast.MappingNode)
	return item, ok
}

func entryOf(m *ast.MappingNode, name string) *ast.MappingValueNode {
	if i := indexOf(m, name); i >= 0 {
		return m.Values[i]
	}
	return nil
}

// below adds a key under one that has none yet, or one value for all zones.
func (e *editor) below(entry *ast.MappingValueNode, path []string, value string) error {
	if len(path) != 1 {
		return errNotEdited
	}
	if _, empty := entry.Value.(*ast.NullNode); empty {
		if value == "" {
			return nil
		}
		line, col := position(entry.Key)
		e.insert(line, strings.Repeat(" ", col+1)+path[0]+": "+written(e.key, value))
		return nil
	}
	if scalar, ok := entry.Value.(ast.ScalarNode); ok && allZones(e.key) != "" {
		var parts []string
		for _, zone := range []string{"bottom", "slope", "rim"} {
			v := raw(scalar)
			if zone == path[0] {
				v = value
			}
			if v != "" {
				parts = append(parts, zone+": "+plainOrQuoted(v))
			}
		}
		return e.put(scalar, "{"+strings.Join(parts, ", ")+"}")
	}
	return errNotEdited
}

// insert puts a line after one, which counts from 1.
func (e *editor) insert(after int, line string) {
	e.lines = slices.Insert(e.lines, min(after, len(e.lines)), []rune(line))
}

// add writes a new key at the end of a mapping.
func (e *editor) add(in *ast.MappingNode, trail []*ast.MappingValueNode, path []string, value string) error {
	text := written(e.key, value)
	for i := len(path) - 1; i > 0; i-- {
		if i == 1 && len(trail) == 0 { // a new section: its key on a line of its own
			text = "\n  " + path[i] + ": " + text
			continue
		}
		text = "{" + path[i] + ": " + text + "}"
	}
	entry := path[0] + ": " + text
	if strings.HasPrefix(text, "\n") {
		entry = path[0] + ":" + text
	}
	if in.IsFlowStyle {
		return e.addFlow(in, entry)
	}
	if len(in.Values) == 0 {
		return errNotEdited
	}
	_, col := position(in.Values[0].Key)
	last := e.lastLine(in)
	if len(trail) == 0 { // a new section stands at the end, after what comments are there
		last = len(e.lines)
		for last > 0 && strings.TrimSpace(string(e.lines[last-1])) == "" {
			last--
		}
	}
	for _, l := range slices.Backward(strings.Split(entry, "\n")) {
		e.insert(last, strings.Repeat(" ", col-1)+l)
	}
	if last+1 >= len(e.lines) || strings.TrimSpace(string(e.lines[len(e.lines)-1])) != "" {
		e.lines = append(e.lines, nil) // the file ends with a line end
	}
	return nil
}

// addFlow writes a new entry before the brace that ends a mapping.
func (e *editor) addFlow(in *ast.MappingNode, entry string) error {
	from, to, ok := e.span(in)
	if !ok || from.line != to.line {
		return errNotEdited
	}
	line := e.lines[to.line]
	at := to.col - 1
	for at > from.col+1 && line[at-1] == ' ' {
		at--
	}
	if len(in.Values) > 0 {
		entry = ", " + entry
	}
	e.lines[to.line] = slices.Concat(line[:at], []rune(entry), line[at:])
	return nil
}

// lastLine is the last line that a node reaches, counted from 1.
func (e *editor) lastLine(n ast.Node) int {
	last := 0
	ast.Walk(visitor(func(n ast.Node) {
		if t := n.GetToken(); t != nil && t.Position != nil {
			last = max(last, t.Position.Line)
		}
		if _, to, ok := e.span(n); ok {
			last = max(last, to.line+1)
		}
	}), n)
	return last
}

type visitor func(ast.Node)

// Visit implements ast.Visitor.
func (v visitor) Visit(n ast.Node) ast.Visitor {
	v(n)
	return v
}
