package zones

import (
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// spot is a place in the lines of a text, from 0, columns in characters.
type spot struct{ line, col int }

// span finds where a value begins and ends in the lines: a single value, or a
// list or mapping in brackets. ok is false for all else.
func (e *editor) span(n ast.Node) (from, to spot, ok bool) {
	switch n := n.(type) {
	case *ast.SequenceNode:
		ok = n.IsFlowStyle
	case *ast.MappingNode:
		ok = n.IsFlowStyle
	case *ast.NullNode:
	case ast.ScalarNode:
		ok = true
	}
	if !ok || n.GetToken() == nil || n.GetToken().Position == nil {
		return from, to, false
	}
	p := n.GetToken().Position
	from = spot{p.Line - 1, p.Column - 1}
	if from.line < 0 || from.line >= len(e.lines) || from.col < 0 || from.col >= len(e.lines[from.line]) {
		return from, to, false
	}
	switch e.lines[from.line][from.col] {
	case '[', '{':
		to, ok = e.bracketEnd(from)
	case '"', '\'':
		to, ok = e.quoteEnd(from)
	default:
		to = e.plainEnd(from)
	}
	return from, to, ok
}

// quoteEnd is the place after the quote that ends a text on the same line.
func (e *editor) quoteEnd(from spot) (spot, bool) {
	line := e.lines[from.line]
	quote := line[from.col]
	for i := from.col + 1; i < len(line); i++ {
		switch {
		case quote == '"' && line[i] == '\\':
			i++
		case line[i] == quote && quote == '\'' && i+1 < len(line) && line[i+1] == quote:
			i++
		case line[i] == quote:
			return spot{from.line, i + 1}, true
		}
	}
	return from, false
}

// plainEnd is the place after a text without quotes.
func (e *editor) plainEnd(from spot) spot {
	line := e.lines[from.line]
	inside := e.inBrackets(from)
	end := len(line)
	for i := from.col; i < len(line); i++ {
		if line[i] == '#' && i > 0 && (line[i-1] == ' ' || line[i-1] == '\t') || inside && strings.ContainsRune(",]}", line[i]) {
			end = i
			break
		}
	}
	for end > from.col && (line[end-1] == ' ' || line[end-1] == '\t') {
		end--
	}
	return spot{from.line, end}
}

// inBrackets says whether a place lies in brackets that are open there.
func (e *editor) inBrackets(at spot) bool {
	depth := 0
	for l := 0; l <= at.line; l++ {
		line := e.lines[l]
		stop := len(line)
		if l == at.line {
			stop = at.col
		}
		for i := 0; i < stop; i++ {
			switch r := line[i]; {
			case r == '#' && (i == 0 || line[i-1] == ' ' || line[i-1] == '\t'):
				i = stop
			case (r == '"' || r == '\'') && (i == 0 || strings.ContainsRune(" \t[{,:", line[i-1])):
				if to, ok := e.quoteEnd(spot{l, i}); ok {
					i = to.col - 1
				}
			case (r == '[' || r == '{') && (depth > 0 || i > 0 && strings.ContainsRune(" \t-:", line[i-1])):
				depth++
			case (r == ']' || r == '}') && depth > 0:
				depth--
			}
		}
	}
	return depth > 0
}

// bracketEnd is the place after the bracket that ends a list or mapping.
func (e *editor) bracketEnd(from spot) (spot, bool) {
	depth := 0
	for l := from.line; l < len(e.lines); l++ {
		line := e.lines[l]
		i := 0
		if l == from.line {
			i = from.col
		}
		for ; i < len(line); i++ {
			switch r := line[i]; {
			case r == '#' && (i == 0 || line[i-1] == ' ' || line[i-1] == '\t'):
				i = len(line)
			case (r == '"' || r == '\'') && (i == 0 || strings.ContainsRune(" \t[{,:", line[i-1])):
				if to, ok := e.quoteEnd(spot{l, i}); ok {
					i = to.col - 1
				}
			case r == '[' || r == '{':
				depth++
			case r == ']' || r == '}':
				if depth--; depth == 0 {
					return spot{l, i + 1}, true
				}
			}
		}
	}
	return from, false
}

// put writes a text where a value stands, on one line.
func (e *editor) put(n ast.Node, text string) error {
	from, to, ok := e.span(n)
	if !ok || from.line != to.line {
		return errNotEdited
	}
	line := e.lines[from.line]
	e.lines[from.line] = slices.Concat(line[:from.col], []rune(text), line[to.col:])
	return nil
}

// set writes another value in place of one that is there.
func (e *editor) set(n ast.Node, value string) error {
	switch n := n.(type) {
	case *ast.NullNode:
		from, to, ok := e.nullSpan(n.GetToken().Position.Line)
		if !ok {
			return errNotEdited
		}
		line := e.lines[from.line]
		e.lines[from.line] = slices.Concat(line[:from.col], []rune(" "+written(e.key, value)), line[to.col:])
		return nil
	case *ast.SequenceNode:
		if !n.IsFlowStyle {
			return e.setItems(n, value)
		}
	case *ast.MappingNode:
		if !n.IsFlowStyle {
			return errNotEdited
		}
	}
	return e.put(n, written(e.key, value))
}

// nullSpan finds where a key without a value ends, with a "null" or "~" there.
func (e *editor) nullSpan(line int) (from, to spot, ok bool) {
	if line < 1 || line > len(e.lines) {
		return from, to, false
	}
	text := string(e.lines[line-1])
	name := e.key[strings.LastIndex(e.key, ".")+1:] + ":"
	i := strings.Index(text, name)
	if i < 0 {
		return from, to, false
	}
	at := len([]rune(text[:i+len(name)]))
	end := at
	rest := string(e.lines[line-1][at:])
	for _, none := range []string{" null", " ~"} {
		if strings.HasPrefix(rest, none) {
			end += len(none)
		}
	}
	return spot{line - 1, at}, spot{line - 1, end}, true
}

// setItems writes a list that has each item on a line of its own: lines of
// items that stay are kept with their comments, new items come last.
func (e *editor) setItems(n *ast.SequenceNode, value string) error {
	want := itemsOf(value)
	if !slices.Contains(listKeys(), e.key) || len(n.Values) == 0 {
		return errNotEdited
	}
	first, indent := 0, 0
	var kept [][]rune
	last := 0
	for i, v := range n.Values {
		scalar, ok := v.(ast.ScalarNode)
		line, _ := position(v)
		if !ok || line <= last {
			return errNotEdited
		}
		if i == 0 {
			first = line
			indent = strings.IndexRune(string(e.lines[line-1]), '-')
		}
		for l := max(first, last+1); last > 0 && l < line; l++ { // comments between
			kept = append(kept, e.lines[l-1])
		}
		last = line
		if at := slices.Index(want, raw(scalar)); at >= 0 {
			kept = append(kept, e.lines[line-1])
			want = slices.Delete(want, at, at+1)
		}
	}
	if indent < 0 {
		return errNotEdited
	}
	for _, item := range want {
		kept = append(kept, []rune(strings.Repeat(" ", indent)+"- "+plainOrQuoted(item)))
	}
	e.lines = slices.Replace(e.lines, first-1, last, kept...)
	return nil
}

// remove takes a key out, and with it each key above that would be left empty.
func (e *editor) remove(body *ast.MappingNode, trail []*ast.MappingValueNode) error {
	last := len(trail) - 1
	for last > 0 && len(trail[last-1].Value.(*ast.MappingNode).Values) == 1 {
		last--
	}
	in := body
	if last > 0 {
		in = trail[last-1].Value.(*ast.MappingNode)
	}
	if in.IsFlowStyle {
		return e.removeFlow(in, trail[last])
	}
	line, _ := position(trail[last].Key)
	end := max(line, e.lastLine(trail[last].Value))
	e.lines = slices.Delete(e.lines, line-1, min(end, len(e.lines)))
	return nil
}

// removeFlow takes an entry out of a mapping in braces, with its comma.
func (e *editor) removeFlow(in *ast.MappingNode, entry *ast.MappingValueNode) error {
	p := entry.Key.GetToken().Position
	_, to, ok := e.span(entry.Value)
	if !ok || p.Line-1 != to.line {
		return errNotEdited
	}
	line := e.lines[to.line]
	from, end := p.Column-1, to.col
	if entry == in.Values[len(in.Values)-1] { // the last: the comma before it goes
		for from > 0 && (line[from-1] == ' ' || line[from-1] == ',') {
			from--
			if line[from] == ',' {
				break
			}
		}
	} else {
		for end < len(line) && (line[end] == ',' || line[end] == ' ') {
			end++
		}
	}
	e.lines[to.line] = slices.Concat(line[:from], line[end:])
	return nil
}
