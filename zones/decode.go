package zones

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"unicode/utf8"

	"hollowbed/zones/table"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Limits that keep a hostile or broken file from costing more than a moment.
const (
	// MaxGardenBytes is the largest garden file that is read, bytes.
	MaxGardenBytes = 1 << 20
	maxNesting     = 20     // brackets open at once, dashes on a line
	maxIndent      = 2 * 20 // columns before a key
	maxKey         = 40     // letters of a key
	maxTokens      = 20_000 // words and marks
)

// ReadGarden reads and checks a garden file; name is the file's name as shown
// in messages. The file is one YAML document of plain keys and values. Keys
// not known, keys given twice, figures without their unit, figures no bed can
// have, and anchors, aliases, merges and tags are faults. All faults found
// are returned at once, as table.Faults, in the order of the file.
//
// It does not open the weather record, and does not check that the bed's
// sides fit in its outline: basin does.
func ReadGarden(name string, r io.Reader) (*Garden, error) {
	text, err := readLimited(name, r)
	if err != nil {
		return nil, err
	}
	d := newDecoder(name)
	d.keys = keysByPath()
	body := d.parse(text)
	if body == nil || len(d.faults) > 0 {
		return nil, d.sorted()
	}
	g := d.garden(body)
	if len(d.faults) > 0 {
		return nil, d.sorted()
	}
	return g, nil
}

// Fault returns a fault at the place where the file gives the key, such as
// "bed.ponding_depth"; without a place if the file leaves the key out.
func (g *Garden) Fault(key, value, want string) table.Fault {
	at := g.at[key]
	return locate(table.Fault{File: g.Source, Line: at[0], Column: at[1], Name: key, Value: value, Want: want}, g.cells)
}

// needSun returns an error that says how to count the hours of sun, if a zone
// has none given; the planting list needs them.
func (g *Garden) needSun() error {
	var lacking []string
	for _, zone := range []string{"bottom", "slope", "rim"} {
		if h := g.Sun.Of(zone); !(h >= 0) {
			lacking = append(lacking, zone)
		}
	}
	if len(lacking) == 0 {
		return nil
	}
	return table.Faults{g.Fault("sun", "", "missing for "+strings.Join(lacking, ", ")+": want hours of direct sun a day in the "+
		"growing season, such as sun: 6 h; look every hour on a clear day in June or July (south of the equator: "+
		"December or January) and count; or list what shades the bed under obstacles")}
}

// decoder collects what is wrong while a file is taken apart.
type decoder struct {
	file    string
	keys    map[string]Key
	units   Units
	faults  table.Faults
	assumed []string
	at      map[string][2]int
}

func (d *decoder) fault(line, col int, name, value, want string) {
	d.faults = append(d.faults, table.Fault{File: d.file, Line: line, Column: col, Name: name, Value: value, Want: want})
}

// faultAt notes a fault where a node begins.
func (d *decoder) faultAt(n ast.Node, name, value, want string) {
	line, col := position(n)
	d.fault(line, col, name, value, want)
}

func (d *decoder) sorted() table.Faults { return d.faults.Sorted() }

// parse returns the mapping at the top of the only document, or nil with
// faults noted.
func (d *decoder) parse(text []byte) *ast.MappingNode {
	switch {
	case len(text) > MaxGardenBytes:
		d.fault(0, 0, "", "", "too large: want a garden file of at most 1 MB")
		return nil
	case !utf8.Valid(text):
		line := 1 + bytes.Count(text[:firstInvalid(text)], []byte("\n"))
		d.fault(line, 0, "", "", "want text in UTF-8; save the file again with that encoding")
		return nil
	}
	tokens := lexer.Tokenize(string(text))
	if line, why := tooMuch(tokens); why != "" {
		d.fault(line, 0, "", "", why)
		return nil
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		d.syntax(err)
		return nil
	}
	if len(file.Docs) == 0 || file.Docs[0].Body == nil {
		d.fault(0, 0, "", "", "empty: want a garden file; begin one with: hollowbed start")
		return nil
	}
	ast.Walk(refuser{d}, file.Docs[0].Body)
	if len(d.faults) > 0 {
		return nil
	}
	if len(file.Docs) > 1 {
		line, col := 0, 0
		if start := file.Docs[1].Start; start != nil {
			line, col = start.Position.Line, start.Position.Column
		}
		d.fault(line, col, "", "---", "want one document in the file; remove this line and what follows it")
		return nil
	}
	body, ok := file.Docs[0].Body.(*ast.MappingNode)
	if !ok {
		d.faultAt(file.Docs[0].Body, "", "", "want keys with values, such as units: us")
	}
	return body
}

func firstInvalid(text []byte) int {
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(text)
}

// tooMuch looks for what no garden file has before the parser sees it, which looks back
// over all keys for every key: a small hostile file could hold it for hours.
func tooMuch(tokens token.Tokens) (line int, why string) {
	count, depth, dashes, dashLine := 0, 0, 0, 0
	for _, t := range tokens {
		line = t.Position.Line
		switch t.Type {
		case token.CommentType:
			continue
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		case token.SequenceEntryType, token.MappingKeyType:
			if line != dashLine {
				dashes, dashLine = 0, line
			}
			dashes++
		case token.MappingValueType:
			if depth == 0 && t.Position.Column > maxIndent+maxKey {
				return line, "want keys further to the left: this is nested too deeply for a garden file"
			}
		}
		if depth > maxNesting || dashes > maxNesting {
			return line, "nested too deeply for a garden file"
		}
		if count++; count > maxTokens {
			return line, "too many keys and values for a garden file"
		}
	}
	return 0, ""
}

// syntax turns the parser's error into a fault in our words.
func (d *decoder) syntax(err error) {
	var located yaml.Error
	if !errors.As(err, &located) || located.GetToken() == nil {
		d.fault(0, 0, "", "", "not readable as YAML: "+oneLine(err.Error()))
		return
	}
	message := located.GetMessage()
	at := located.GetToken().Position
	switch {
	case strings.Contains(message, "found character '\t'"):
		message = "begin the line with spaces: YAML does not take tabs there"
	case strings.Contains(message, "mapping value is not allowed"):
		message = "want one key and one value on a line, each key as far in as its neighbours; " +
			"put quotes around a text that holds a colon and a space"
	default:
		message = "not readable as YAML: " + oneLine(message)
	}
	d.fault(at.Line, at.Column, "", "", message)
}

func oneLine(s string) string {
	s, _, _ = strings.Cut(s, "\n")
	return printable(s)
}

// refuser notes the parts of YAML that a garden file does not use.
type refuser struct{ d *decoder }

// Visit implements ast.Visitor.
func (r refuser) Visit(n ast.Node) ast.Visitor {
	what := ""
	switch n := n.(type) {
	case *ast.AnchorNode:
		what = "anchors (&) are not used in a garden file; write the value out where it is needed"
	case *ast.AliasNode:
		what = "aliases (*) are not used in a garden file; write the value out, or put quotes around a text that begins with a star"
	case *ast.MergeKeyNode:
		what = "merge keys (<<) are not used in a garden file; write the keys out"
	case *ast.TagNode:
		what = "tags (!) are not used in a garden file; write the value alone"
	case *ast.DirectiveNode:
		what = "directives (%) are not used in a garden file; remove the line"
	case *ast.LiteralNode:
		what = "want the text on one line, without | or >"
	case *ast.MappingKeyNode:
		what = "want a plain key, without a question mark before it"
	case *ast.MappingValueNode:
		if n.Key == nil || n.Value == nil {
			return nil
		}
	}
	if what != "" {
		r.d.faultAt(n, "", "", what)
		return nil
	}
	return r
}

// position is where a node begins: a mapping at its first key, not at the colon.
func position(n ast.Node) (line, col int) {
	switch m := n.(type) {
	case *ast.MappingNode:
		if !m.IsFlowStyle && len(m.Values) > 0 {
			return position(m.Values[0].Key)
		}
	case *ast.MappingValueNode:
		return position(m.Key)
	}
	if n == nil || n.GetToken() == nil || n.GetToken().Position == nil {
		return 0, 0
	}
	p := n.GetToken().Position
	return p.Line, p.Column
}
