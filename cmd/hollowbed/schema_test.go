package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/report"
)

// schemaDocs are the documents that commands print with --json, each with what
// its schema says beyond its struct.
var schemaDocs = map[string]struct {
	title string
	doc   any
	rules node
}{
	"weather":  {"hollowbed weather FILE --json", report.Weather{}, node{}},
	"climates": {"hollowbed weather --near PLACE --json", report.Climates{}, node{}},
	"basin":    {"hollowbed basin --json", report.Basin{}, node{}},
	"zones":    {"hollowbed zones --json", report.Zones{}, node{}},
	"trace":    {"hollowbed zones --explain --json", report.Trace{}, node{}},
	"spread":   {"hollowbed zones --spread --json", report.Spread{}, node{}},
	"choose":   {"hollowbed choose --json", report.Choose{}, node{}},
	"why":      {"hollowbed choose --why --json", report.Why{}, node{}},
	"find":     {"hollowbed find --json", report.Find{}, node{}},
	"show":     {"hollowbed find --show NAME --json", report.Show{}, node{}},
	"place":    {"hollowbed place --json", report.Place{}, node{}},
	"care":     {"hollowbed care --json", report.Care{}, node{}},
	"note":     {"hollowbed note --json", report.Note{}, node{}},
	"move":     {"hollowbed move --json", report.Move{}, node{}},
	"ranked":   {"hollowbed move --plant STAKE --json", report.Ranked{}, node{}},
	"import":   {"hollowbed catalogue import --json", report.Import{}, node{}},
	"check": {"hollowbed catalogue check --json", report.Check{}, node{ // a table with faults is not counted
		If:   raw(`{"properties":{"plants":{"type":"null"}}}`),
		Then: raw(`{"properties":{"faults":{"minItems":1},"warnings":{"maxItems":0}}}`),
		Else: raw(`{"properties":{"faults":{"maxItems":0}}}`),
	}},
	"batch": {"hollowbed batch", report.BatchLine{}, node{ // a row with a fault has no results
		Dependent: raw(`{"error":{"properties":{"basin":false,"zones":false,"choose":false,"notes":false}}}`),
	}},
}

func raw(text string) json.RawMessage { return json.RawMessage(text) }

// TestSchemasAreMade holds data/schema to the structs. The tag `schema` says
// what a value may be (see rule), the tag `about` what it is.
func TestSchemasAreMade(t *testing.T) {
	for name, d := range schemaDocs {
		made := schemaOf(reflect.TypeOf(d.doc))
		made.Schema, made.Title = "https://json-schema.org/draft/2020-12/schema", d.title
		made.If, made.Then, made.Else, made.Dependent = d.rules.If, d.rules.Then, d.rules.Else, d.rules.Dependent
		var text bytes.Buffer
		enc := json.NewEncoder(&text)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		require.NoError(t, enc.Encode(made))
		file := filepath.Join("../../data/schema", name+".json")
		if os.Getenv("UPDATE_GOLDEN") != "" {
			require.NoError(t, os.WriteFile(file, text.Bytes(), 0o644))
		}
		kept, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(kept), text.String(), "%s: made anew with UPDATE_GOLDEN=1", file)
	}
	files, err := filepath.Glob("../../data/schema/*.json")
	require.NoError(t, err)
	assert.Len(t, files, len(schemaDocs), "a schema that no struct stands behind")
}

// node is a JSON Schema of draft 2020-12, in the order in which it is written.
type node struct {
	Schema       string          `json:"$schema,omitempty"`
	Title        string          `json:"title,omitempty"`
	AnyOf        []*node         `json:"anyOf,omitempty"`
	Type         any             `json:"type,omitempty"`
	Description  string          `json:"description,omitempty"`
	Enum         []string        `json:"enum,omitempty"`
	Pattern      string          `json:"pattern,omitempty"`
	MinLength    *int            `json:"minLength,omitempty"`
	Minimum      json.RawMessage `json:"minimum,omitempty"`
	AboveMinimum json.RawMessage `json:"exclusiveMinimum,omitempty"`
	Maximum      json.RawMessage `json:"maximum,omitempty"`
	Items        *node           `json:"items,omitempty"`
	MinItems     *int            `json:"minItems,omitempty"`
	MaxItems     *int            `json:"maxItems,omitempty"`
	UniqueItems  bool            `json:"uniqueItems,omitempty"`
	Properties   properties      `json:"properties,omitempty"`
	Required     []string        `json:"required,omitempty"`
	MinKeys      *int            `json:"minProperties,omitempty"`
	Additional   any             `json:"additionalProperties,omitempty"`
	If           json.RawMessage `json:"if,omitempty"`
	Then         json.RawMessage `json:"then,omitempty"`
	Else         json.RawMessage `json:"else,omitempty"`
	Dependent    json.RawMessage `json:"dependentSchemas,omitempty"`
}

type property struct {
	name string
	is   *node
}

// properties are written in their order.
type properties []property

func (p properties) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	for i, f := range p {
		value, err := json.Marshal(f.is)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "%c%q:%s", "{,"[min(i, 1)], f.name, value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// schemaOf is the schema of a type. A report.Number may be null, as it is for
// what is not known; a whole number is 0 or more; a pointer may be null; the
// tags of fields say where it is otherwise.
func schemaOf(t reflect.Type) *node {
	switch {
	case t == reflect.TypeFor[report.Number]():
		return &node{Type: []string{"number", "null"}}
	case t.Kind() == reflect.Pointer:
		return orNull(schemaOf(t.Elem()))
	}
	switch t.Kind() {
	case reflect.String:
		return &node{Type: "string"}
	case reflect.Bool:
		return &node{Type: "boolean"}
	case reflect.Int:
		return &node{Type: "integer", Minimum: raw("0")}
	case reflect.Float64:
		return &node{Type: "number"}
	case reflect.Slice, reflect.Array:
		return &node{Type: "array", Items: schemaOf(t.Elem())}
	case reflect.Map:
		return &node{Type: "object", Additional: schemaOf(t.Elem())}
	case reflect.Struct:
		n := &node{Type: "object", Additional: false}
		n.fields(t)
		return n
	}
	panic("no schema for " + t.String())
}

// orNull lets a value be null too.
func orNull(n *node) *node {
	if name, ok := n.Type.(string); ok && n.Properties == nil && n.Items == nil {
		n.Type = []string{name, "null"}
		return n
	}
	return &node{AnyOf: []*node{{Type: "null"}, n}}
}

// fields adds the fields of a struct as encoding/json writes them.
func (n *node) fields(t reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && name == "":
			if f.Type.Kind() == reflect.Pointer {
				f.Type = f.Type.Elem()
			}
			n.fields(f.Type)
			continue
		case !f.IsExported() || name == "-":
			continue
		}
		optional := strings.Contains(options, "omit")
		is := schemaOf(f.Type)
		if optional && f.Type.Kind() == reflect.Pointer { // left out, never null
			is = schemaOf(f.Type.Elem())
		}
		for rule := range strings.SplitSeq(f.Tag.Get("schema"), "; ") {
			is = is.rule(rule)
		}
		is.Description = f.Tag.Get("about")
		n.replace(name, is)
		if !optional {
			n.Required = append(n.Required, name)
		}
	}
}

// replace adds a property, or puts it in place of one that an embedded struct
// brought, as encoding/json does.
func (n *node) replace(name string, is *node) {
	for i, p := range n.Properties {
		if p.name == name {
			n.Properties[i].is = is
			return
		}
	}
	n.Properties = append(n.Properties, property{name, is})
}

// rule is one of:
//
//	known         a number that is never null
//	or null       what may be null all the same
//	any           a whole number below 0 too
//	0..1  0..  >0 least and most
//	some          at least one item, letter or key
//	len 2..3      so many items
//	unique        no item twice
//	one of a|b    one of these words
//	day, dated    a date; a date and what follows it; "day or none": or nothing
//	sha256        a digest in hexadecimal
//	each RULE     every item of a list
func (n *node) rule(rule string) *node {
	word, rest, _ := strings.Cut(rule, " ")
	one := 1
	switch {
	case rule == "":
	case rule == "known":
		n.Type = "number"
	case rule == "or null":
		return orNull(n)
	case rule == "any":
		n.Minimum = nil
	case rule == "unique":
		n.UniqueItems = true
	case rule == "some" && n.Items != nil:
		n.MinItems = &one
	case rule == "some" && n.Type == "object":
		n.MinKeys = &one
	case rule == "some":
		n.MinLength = &one
	case word == "len":
		least, most, _ := strings.Cut(rest, "..")
		n.MinItems, n.MaxItems = itemCount(least), itemCount(most)
	case rule == "day":
		n.Pattern = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
	case rule == "dated":
		n.Pattern = "^[0-9]{4}-[0-9]{2}-[0-9]{2}"
	case rule == "day or none":
		n.Pattern = "^([0-9]{4}-[0-9]{2}-[0-9]{2})?$"
	case rule == "sha256":
		n.Pattern = "^[0-9a-f]{64}$"
	case strings.HasPrefix(rule, "one of "):
		n.Type, n.Enum = nil, strings.Split(strings.TrimPrefix(rule, "one of "), "|")
	case word == "each":
		for _, r := range eachRules(rest) {
			n.Items = n.Items.rule(r)
		}
	case strings.HasPrefix(rule, ">"):
		n.AboveMinimum = raw(rule[1:])
	case strings.Contains(rule, ".."):
		least, most, _ := strings.Cut(rule, "..")
		n.Minimum, n.Maximum = orNone(least), orNone(most)
	default:
		panic("no such rule of a schema: " + rule)
	}
	return n
}

// eachRules are the rules for an item, which may be known and have bounds.
func eachRules(rest string) []string {
	if bounds, ok := strings.CutPrefix(rest, "known "); ok {
		return []string{"known", bounds}
	}
	return []string{rest}
}

func orNone(bound string) json.RawMessage {
	if bound == "" {
		return nil
	}
	return raw(bound)
}

func itemCount(text string) *int {
	if text == "" {
		return nil
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		panic(err)
	}
	return &n
}
