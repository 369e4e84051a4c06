package catalogue

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"hollowbed/zones/table"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// A Map says how the rows of another table become rows of the plant table. It
// is written as a YAML file:
//
//	source: where the table comes from; stands in the source of every plant
//	missing: [NA, "-9999"]            # texts that mean that nothing is known
//	pivot: {row: name, across: region, value: status}
//	where: [{column: region, in: [NE]}]
//	group: name                       # several rows speak of one plant
//	join: scientificName              # how plants of two tables are matched
//	sheet: Plants                     # of a workbook; the first, unless written
//	tags: [salinity_tolerance]        # "High" becomes the tag "salinity tolerance high"
//	ragged: skip                      # pass over rows of another width than the header
//	columns:
//	  id: {from: symbol}
//	  height_cm: {from: height, unit: ft, take: larger, strip: [up to]}  # "2-3 ft", "up to 3'"
//	  flower_from: {from: bloom}      # "May-June"
//	  flower_colour: {from: colour, translate: {Yellow: yellow}, otherwise: ""}
//	  native_to: {from: states, separator: ","}
//	  wet_h: {from: flooding, basis: "assumed, no source",
//	    classes: {High: 72, Low: {is: 6, basis: some handbook}}}
//	  source: {value: the book}
type Map struct {
	Name    string          `yaml:"-"`
	Source  string          `yaml:"source"`
	Missing []string        `yaml:"missing"`
	Pivot   *pivot          `yaml:"pivot"`
	Where   []condition     `yaml:"where"`
	Group   string          `yaml:"group"`
	Join    string          `yaml:"join"`
	Sheet   string          `yaml:"sheet"`
	Tags    []string        `yaml:"tags"`
	Ragged  string          `yaml:"ragged"`
	Columns map[string]from `yaml:"columns"`

	file *ast.File
}

// pivot turns a table with several lines for a plant into one with a line for
// each: Row names the column that tells the plants apart, and the values of
// Across become columns that hold Value. Of the other columns the first line
// of each plant counts.
type pivot struct {
	Row    string `yaml:"row"`
	Across string `yaml:"across"`
	Value  string `yaml:"value"`
}

// condition lets a row pass. It is looked at after the pivot. An empty text
// in a list stands for a cell that is empty or missing.
type condition struct {
	Column string   `yaml:"column"`
	In     []string `yaml:"in"`
	NotIn  []string `yaml:"not_in"`
}

// from says where the cells of one of our columns come from.
type from struct {
	From      string            `yaml:"from"`
	Value     string            `yaml:"value"`     // the same in every row, instead of from
	Missing   []string          `yaml:"missing"`   // texts that mean unknown here, beside those of the map
	Unit      string            `yaml:"unit"`      // of the source, if it is not ours
	Separator string            `yaml:"separator"` // between values of a list in the source
	Case      string            `yaml:"case"`      // "sentence": NAMES IN CAPITALS to Names in capitals
	Strip     []string          `yaml:"strip"`     // texts left out of a cell before it is read
	Take      string            `yaml:"take"`      // of a range or several numbers: larger, smaller or mean; of several texts: first
	Otherwise *string           `yaml:"otherwise"` // for what translate and classes leave out; empty is unknown
	Translate map[string]string `yaml:"translate"` // the same thing in our words
	Classes   map[string]class  `yaml:"classes"`   // a value assumed for each class
	Basis     string            `yaml:"basis"`     // what the assumed values rest on
	Assumed   bool              `yaml:"assumed"`   // a number that means something a little different
}

// class is the value assumed for a class; a bare value rests on the Basis of its column.
type class struct {
	Is    string
	Basis string
}

// UnmarshalYAML reads both ways of writing a class.
func (c *class) UnmarshalYAML(unmarshal func(any) error) error {
	var full struct {
		Is    string `yaml:"is"`
		Basis string `yaml:"basis"`
	}
	if err := unmarshal(&c.Is); err == nil {
		return nil
	}
	if err := unmarshal(&full); err != nil {
		return err
	}
	c.Is, c.Basis = full.Is, full.Basis
	return nil
}

// mapBytes and mapNesting bound what a map can cost to read.
const (
	mapBytes   = 256_000
	mapNesting = 20
)

// ReadMap reads a Map. The error is Faults when the map is wrong.
func ReadMap(name string, r io.Reader) (*Map, error) {
	data, err := io.ReadAll(io.LimitReader(r, mapBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(data) > mapBytes {
		return nil, table.Faults{{File: name, Want: "want a file of at most " + table.InBytes(mapBytes)}}
	}
	data, _ = table.Decode(data)
	if f := table.NotUTF8(name, data, 1); f != nil {
		return nil, table.Faults{*f}
	}
	if f := tooDeep(name, data); f != nil {
		return nil, f
	}
	file, err := parser.ParseBytes(data, 0)
	if err != nil {
		return nil, yamlFault(name, err)
	}
	if len(file.Docs) != 1 || file.Docs[0].Body == nil {
		return nil, table.Faults{{File: name, Want: fmt.Sprintf("want one YAML document, not %d", len(file.Docs))}}
	}
	var aliases aliasFinder
	ast.Walk(&aliases, file.Docs[0].Body)
	if aliases.at != nil {
		at := aliases.at.GetToken().Position
		return nil, table.Faults{{File: name, Line: at.Line, Column: at.Column, Want: "want plain values without anchors and aliases"}}
	}
	m := &Map{Name: name, file: file}
	if err := yaml.NodeToValue(file.Docs[0].Body, m, yaml.Strict()); err != nil {
		return nil, yamlFault(name, err)
	}
	if faults := m.check(); len(faults) > 0 {
		return nil, faults.Sorted()
	}
	return m, nil
}

// aliasFinder finds what could make a small file large.
type aliasFinder struct{ at ast.Node }

// Visit notes the first anchor, alias or merge.
func (a *aliasFinder) Visit(n ast.Node) ast.Visitor {
	switch n.(type) {
	case *ast.AnchorNode, *ast.AliasNode, *ast.MergeKeyNode:
		if a.at == nil {
			a.at = n
		}
	}
	return a
}

// tooDeep refuses brackets in brackets beyond all reason, and lines as far in.
func tooDeep(name string, data []byte) table.Faults {
	depth, line, indent := 0, 1, 0
	for _, b := range data {
		switch b {
		case '\n':
			line, indent = line+1, 0
			continue
		case '[', '{':
			depth++
		case ']', '}':
			depth = max(0, depth-1)
		case ' ', '-', '?', ':':
			indent++
			continue
		}
		if depth > mapNesting || indent > 2000 {
			return table.Faults{{File: name, Line: line, Want: "nested too deeply to be a map"}}
		}
	}
	return nil
}

func yamlFault(name string, err error) table.Faults {
	var ye yaml.Error
	if !errors.As(err, &ye) {
		return table.Faults{{File: name, Want: err.Error()}}
	}
	f := table.Fault{File: name, Want: ye.GetMessage()}
	if tok := ye.GetToken(); tok != nil && tok.Position != nil {
		f.Line, f.Column = tok.Position.Line, tok.Position.Column
		f.Value = tok.Value
	}
	return table.Faults{f}
}

// fault places a fault at a key of the map, or as near above it as can be.
func (m *Map) fault(want, value string, keys ...string) table.Fault {
	f := table.Fault{File: m.Name, Name: strings.Join(keys, "."), Value: value, Want: want}
	if m.file != nil {
		f.Line, f.Column = placeOfKey(m.file.Docs[0].Body, keys)
	}
	return f
}

func placeOfKey(node ast.Node, keys []string) (line, column int) {
	for _, key := range keys {
		var found *ast.MappingValueNode
		for _, v := range mappingValues(node) {
			if k, ok := v.Key.(ast.ScalarNode); ok && fmt.Sprint(k.GetValue()) == key {
				found = v
			}
		}
		if found == nil {
			return line, column
		}
		at := found.Key.GetToken().Position
		line, column, node = at.Line, at.Column, found.Value
	}
	return line, column
}

func mappingValues(node ast.Node) []*ast.MappingValueNode {
	switch n := node.(type) {
	case *ast.MappingNode:
		return n.Values
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{n}
	}
	return nil
}

// check tells what is wrong with a map whatever table it is used on.
func (m *Map) check() table.Faults {
	var faults table.Faults
	add := func(want, value string, keys ...string) { faults = append(faults, m.fault(want, value, keys...)) }
	cols := tableColumns()
	names := columnNames(cols)
	for _, name := range sortedKeys(m.Columns) {
		if !slices.Contains(names, name) {
			add(table.OrMeant("want one of our columns", name, names), "", "columns", name)
		}
	}
	if strings.TrimSpace(m.Source) == "" {
		add("want where the table comes from", "", "source")
	}
	if m.Ragged != "" && m.Ragged != "skip" {
		add("expected ragged: skip, or none", m.Ragged, "ragged")
	}
	joins := []string{"id", "scientificName", "vernacularName"}
	if m.Join != "" && !slices.Contains(joins, m.Join) {
		add("want one of "+strings.Join(joins, ", "), m.Join, "join")
	}
	for _, t := range m.Tags {
		if tellsHarm(t) || t == m.Columns["toxic"].From {
			add("expected it under columns, toxic: a tag must not tell whom a plant harms", t, "tags")
		}
	}
	if p := m.Pivot; p != nil && (p.Row == "" || p.Across == "" || p.Value == "") {
		add("want row, across and value", "", "pivot")
	}
	for _, w := range m.Where {
		if w.Column == "" || (len(w.In) == 0) == (len(w.NotIn) == 0) {
			add("want a column, and either in or not_in", w.Column, "where")
		}
	}
	for _, col := range cols {
		f, ok := m.Columns[col.Name]
		if !ok {
			if col.Filled {
				add("want "+col.Name+", since no plant can be without it", "", "columns")
			}
			continue
		}
		if want := f.wrong(col); want != "" {
			add(want, "", "columns", col.Name)
		}
	}
	return faults
}

// wrong tells what is wrong with where a column comes from, or "".
func (f from) wrong(col column) string {
	switch {
	case (f.From == "") == (f.Value == ""):
		return "want either from or value"
	case col.Name == "assumed":
		return "want nothing here, since the import itself tells what is assumed"
	case len(f.Classes) > 0 && len(f.Translate) > 0:
		return "want either classes or translate"
	case f.Basis == "" && f.Assumed:
		return `want the basis of what is assumed; where there is none, "assumed, no source"`
	case f.Unit != "" && col.Kind != numberColumn:
		return "want a unit only for a column of numbers"
	case f.Separator != "" && col.Kind != manyColumn && col.Kind != tagsColumn && col.Kind != monthColumn && !(col.Kind == numberColumn && f.Take != ""):
		return "want a separator only for a column of several values, or a number with take: larger, smaller or mean"
	case f.Take != "" && !slices.Contains(takes(col), f.Take):
		return table.OrMeant("expected take: "+strings.Join(takes(col), ", "), f.Take, takes(col))
	case f.Otherwise != nil && len(f.Classes) == 0 && len(f.Translate) == 0:
		return "expected otherwise only beside translate or classes"
	case f.Otherwise != nil && *f.Otherwise == harmless && col.Name == "toxic":
		return `expected otherwise: "": what the map does not name is not known to be harmless`
	case f.Otherwise != nil && *f.Otherwise != "" && len(f.Classes) > 0 && f.Basis == "":
		return `expected the basis of what is assumed otherwise; where there is none, "assumed, no source"`
	case f.Case != "" && f.Case != "sentence":
		return "want case: sentence, or none"
	}
	for _, name := range sortedKeys(f.Classes) {
		if f.Classes[name].Basis == "" && f.Basis == "" {
			return `want the basis of what is assumed for ` + name + `; where there is none, "assumed, no source"`
		}
	}
	if f.Unit != "" {
		if _, ok := convert(0, f.Unit, col); !ok {
			return "want one of the units " + strings.Join(unitsFor(col), ", ")
		}
	}
	return ""
}
