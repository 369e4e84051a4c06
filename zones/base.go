package zones

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"hollowbed/zones/table"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// Base is a garden file that many gardens are made from. Goroutines may share it.
type Base struct {
	file string
	keys map[string]Key
	body *ast.MappingNode
}

// Cell is what a row of a table states for one key of the garden file. Text is written as
// there; "[...]" and "{...}" as in YAML and JSON; "~" (null in JSON) leaves the key out.
type Cell struct {
	File      string
	Line, Col int
	Key       string // "roof.area"
	Text      string // "620 sq ft"
}

// ReadBase reads a garden file to make gardens from, which must be a whole garden itself.
func ReadBase(name string, r io.Reader) (*Base, *Garden, error) {
	text, err := readLimited(name, r)
	if err != nil {
		return nil, nil, err
	}
	d := newDecoder(name)
	body := d.parse(text)
	if body == nil || len(d.faults) > 0 {
		return nil, nil, d.sorted()
	}
	b := &Base{file: name, keys: keysByPath(), body: body}
	g, err := b.With(nil)
	return b, g, err
}

// With makes the garden of a row: the file's keys, and in their place what the cells
// state (see setAside). The error is table.Faults, at the cells where they are to blame.
func (b *Base) With(cells []Cell) (*Garden, error) {
	d := newDecoder(b.file)
	d.keys = b.keys
	g := d.garden(b.overlay(d, cells))
	if len(d.faults) > 0 || g == nil {
		return nil, locateAll(d.faults, cells)
	}
	g.cells = cells
	return g, nil
}

// CheckKeys returns a fault for every cell whose key no garden file can have,
// whatever its value; nil if there is none.
func (b *Base) CheckKeys(cells []Cell) table.Faults {
	var faults table.Faults
	for _, c := range cells {
		if strings.TrimSpace(c.Key) == "" {
			faults = append(faults, table.Fault{File: c.File, Line: c.Line, Column: c.Col, Want: "no name for this column: want a key of the garden file, such as roof.area"})
			continue
		}
		d := newDecoder(b.file)
		d.keys = b.keys
		c.Text = "?"
		d.garden(b.overlay(d, []Cell{c}))
		for _, f := range d.faults {
			if f.Line == cellLine(0) && strings.HasPrefix(f.Want, notAKey) {
				f.File, f.Line, f.Column = c.File, c.Line, c.Col
				faults = append(faults, f)
			}
		}
	}
	return faults
}

// setAside lists what a key of a row puts aside of the file, since without it the row
// would change nothing: a soak test counts before a rate, and a polygon has no length.
func setAside(key string) []string {
	switch {
	case key == "soil.texture":
		return []string{"soil.rate", "soil.soak_test"}
	case key == "soil.rate":
		return []string{"soil.soak_test"}
	case key == "mix.texture":
		return []string{"mix.wilting_point", "mix.field_capacity", "mix.saturation", "mix.conductivity"}
	case key == "bed.points":
		return []string{"bed.length", "bed.width"}
	case key == "bed.length" || key == "bed.width":
		return []string{"bed.points"}
	case key == "obstacles" || key == "site.open":
		return []string{"sun"}
	}
	return nil
}

// cellLine is the line that marks a node as that of a cell: lines of the file
// count from 1, cells from -1 down.
func cellLine(cell int) int { return -1 - cell }

// overlay puts the cells over the file's keys; the file's own nodes stay as they are.
func (b *Base) overlay(d *decoder, cells []Cell) *ast.MappingNode {
	body := b.body
	given := func(key string) bool {
		return slices.ContainsFunc(cells, func(c Cell) bool { return c.Key == key || strings.HasPrefix(c.Key, key+".") })
	}
	for i, c := range cells {
		for _, key := range setAside(c.Key) {
			if !given(key) {
				body = put(body, strings.Split(key, "."), nil, i)
			}
		}
	}
	for i, c := range cells {
		leaf, ok := d.cell(c, i)
		if ok {
			body = put(body, strings.Split(c.Key, "."), leaf, i)
		}
	}
	return body
}

// cell turns the text of a cell into what the parser would make of it; nil: leave it out.
func (d *decoder) cell(c Cell, index int) (leaf ast.Node, ok bool) {
	text := strings.TrimSpace(c.Text)
	at := &token.Position{Line: cellLine(index), Column: 1}
	switch {
	case text == "~":
		return nil, true
	case text == "" || text[0] != '[' && text[0] != '{':
		return ast.String(token.String(text, text, at)), true
	}
	inner := newDecoder(d.file)
	body := inner.parse([]byte("cell: " + text))
	for _, f := range inner.faults {
		d.fault(at.Line, 1, c.Key, c.Text, f.Want)
	}
	if body == nil || len(inner.faults) > 0 {
		return nil, false
	}
	if len(body.Values) != 1 {
		d.fault(at.Line, 1, c.Key, c.Text, "want one value on one line")
		return nil, false
	}
	ast.Walk(mover{at}, body.Values[0].Value)
	return body.Values[0].Value, true
}

// mover gives every node of a cell the place of the cell.
type mover struct{ at *token.Position }

// Visit implements ast.Visitor.
func (m mover) Visit(n ast.Node) ast.Visitor {
	if t := n.GetToken(); t != nil {
		t.Position = m.at
	}
	return m
}

// put returns the mapping with a leaf at a path, or without what is there if leaf is nil.
func put(m *ast.MappingNode, path []string, leaf ast.Node, cell int) *ast.MappingNode {
	at := &token.Position{Line: cellLine(cell), Column: 1}
	out := *m
	out.Values = slices.Clone(m.Values)
	i := indexOf(m, path[0])
	if len(path) > 1 {
		sub := ast.Mapping(token.MappingStart("{", at), true)
		if i >= 0 {
			if below, ok := out.Values[i].Value.(*ast.MappingNode); ok {
				sub = below
			} else if leaf == nil {
				return m
			}
		} else if leaf == nil {
			return m
		}
		leaf = put(sub, path[1:], leaf, cell)
	}
	switch {
	case leaf == nil && i >= 0:
		out.Values = slices.Delete(out.Values, i, i+1)
	case leaf == nil:
		return m
	case i >= 0:
		value := *out.Values[i]
		value.Value = leaf
		out.Values[i] = &value
	default:
		key := ast.String(token.String(path[0], path[0], at))
		out.Values = append(out.Values, ast.MappingValue(token.MappingValue(at), key, leaf))
	}
	return &out
}

// indexOf finds a key in a mapping; -1 if it is not there.
func indexOf(m *ast.MappingNode, key string) int {
	return slices.IndexFunc(m.Values, func(v *ast.MappingValueNode) bool { return v.Key.GetToken().Value == key })
}

// locate moves a fault from the mark of a cell to its place in the table. A
// fault that names a whole section is shown at the first cell within it.
func locate(f table.Fault, cells []Cell) table.Fault {
	cell := -1 - f.Line
	if f.Line >= 0 {
		cell = slices.IndexFunc(cells, func(c Cell) bool { return f.Name != "" && strings.HasPrefix(c.Key, f.Name+".") })
		if cell < 0 {
			return f
		}
	}
	f.File, f.Line, f.Column = cells[cell].File, cells[cell].Line, cells[cell].Col
	return f
}

func locateAll(faults table.Faults, cells []Cell) table.Faults {
	out := make(table.Faults, 0, len(faults))
	for _, f := range faults {
		out = append(out, locate(f, cells))
	}
	inFile := func(f table.Fault) int { // those of the table first
		if len(cells) > 0 && f.File == cells[0].File {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(out, func(a, b table.Fault) int {
		return cmp.Or(cmp.Compare(inFile(a), inFile(b)), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return out
}

func readLimited(name string, r io.Reader) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxGardenBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return []byte(strings.TrimPrefix(string(text), "\ufeff")), nil
}

func newDecoder(name string) *decoder {
	return &decoder{file: name, units: UnitsUS, at: map[string][2]int{}}
}
