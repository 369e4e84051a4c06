package catalogue

import (
	"encoding/json"
	"fmt"
	"math"
	"path"
	"strings"
)

// tableSchema follows the Table Schema specification, version 1 (Frictionless Data).
type tableSchema struct {
	Fields        []schemaField `json:"fields"`
	MissingValues []string      `json:"missingValues"`
	PrimaryKey    string        `json:"primaryKey"`
}

// schemaField describes one column.
type schemaField struct {
	Name        string            `json:"name"`
	Title       string            `json:"title,omitempty"`
	Description string            `json:"description"`
	Type        string            `json:"type"`
	RDFType     string            `json:"rdfType,omitempty"`
	Constraints schemaConstraints `json:"constraints"`
}

// schemaConstraints bound the values of one column.
type schemaConstraints struct {
	Required bool     `json:"required,omitempty"`
	Unique   bool     `json:"unique,omitempty"`
	Minimum  *float64 `json:"minimum,omitempty"`
	Maximum  *float64 `json:"maximum,omitempty"`
	Pattern  string   `json:"pattern,omitempty"`
	Enum     []string `json:"enum,omitempty"`
}

// Schema describes the plant table. A bound that may not be reached (a spread above 0) is
// given as the bound, since the specification has no other; Read refuses it.
func Schema() tableSchema {
	s := tableSchema{MissingValues: []string{""}, PrimaryKey: "id"}
	for _, c := range tableColumns() {
		s.Fields = append(s.Fields, c.field())
	}
	return s
}

func (c column) field() schemaField {
	f := schemaField{Name: c.Name, Description: c.Meaning, Type: "string"}
	if c.Unit != "" {
		f.Description += ", in " + c.Unit
	}
	f.Constraints.Required = c.Filled
	bound := func(v float64) *float64 {
		if math.IsNaN(v) {
			return nil
		}
		return &v
	}
	switch c.Kind {
	case identColumn:
		f.Constraints.Unique = true
		f.Constraints.Pattern = "^[a-z0-9]+(-[a-z0-9]+)*$"
	case numberColumn:
		f.Type = "number"
		f.Constraints.Minimum, f.Constraints.Maximum = bound(c.Low), bound(c.High)
	case monthColumn:
		f.Type = "integer"
		f.Constraints.Minimum, f.Constraints.Maximum = bound(1), bound(12)
	case choiceColumn:
		f.Constraints.Enum = valueNames(c.Choices)
	case manyColumn:
		names := valueNames(c.Choices)
		if c.Name == "assumed" {
			names = columnNames(tableColumns())
		}
		one := "(" + strings.Join(names, "|") + ")"
		f.Constraints.Pattern = "^" + one + `(\|` + one + ")*$"
	case tagsColumn:
		f.Description += ", with | between them"
	}
	switch c.Name {
	case "scientificName", "vernacularName":
		f.RDFType = "http://rs.tdwg.org/dwc/terms/" + c.Name
	}
	return f
}

// JSON is the schema as a file.
func (s tableSchema) JSON() []byte { return indented(s) }

// A DataPackage describes a file with a plant table after the Tabular Data
// Package specification, version 1 (Frictionless Data).
type DataPackage struct {
	Profile     string            `json:"profile"`
	Name        string            `json:"name"`
	Title       string            `json:"title"`
	Description string            `json:"description,omitempty"`
	Sources     []packageSource   `json:"sources,omitempty"`
	Resources   []packageResource `json:"resources"`
}

// packageSource names a table that the file was made of.
type packageSource struct {
	Title string `json:"title"`
}

// ImportedBy adds where a table comes from that was imported by m, and what the
// values assumed in it rest on, by the marks that stand in the file.
func (p *DataPackage) ImportedBy(m *Map) {
	p.Sources = append(p.Sources, packageSource{m.Source})
	bases := m.bases()
	if len(bases) == 0 {
		return
	}
	lines := []string{"Assumed by " + path.Base(m.Name) + ":"}
	for _, b := range bases {
		lines = append(lines, b.String())
	}
	p.Description = strings.TrimPrefix(p.Description+"\n"+strings.Join(lines, "\n"), "\n")
}

// packageResource describes the file.
type packageResource struct {
	Profile  string         `json:"profile"`
	Name     string         `json:"name"`
	Path     string         `json:"path"`
	Format   string         `json:"format"`
	Media    string         `json:"mediatype"`
	Encoding string         `json:"encoding"`
	Hash     string         `json:"hash,omitempty"`
	Dialect  packageDialect `json:"dialect"`
	Schema   tableSchema    `json:"schema"`
}

// packageDialect is how the file is written.
type packageDialect struct {
	Delimiter   string `json:"delimiter"`
	DoubleQuote bool   `json:"doubleQuote"`
	Header      bool   `json:"header"`
}

// Describe describes a file that Write has written, by its path from the description,
// without .., and the SHA-256 of its bytes in hexadecimal, or "".
func Describe(file, digest string) (DataPackage, error) {
	if file == "" || path.IsAbs(file) || strings.HasPrefix(file, "~") || strings.HasPrefix(file, ".") || strings.Contains(file, "..") {
		return DataPackage{}, fmt.Errorf("%q: want a path below the folder of the description", file)
	}
	name := IDFor(strings.TrimSuffix(path.Base(file), path.Ext(file)))
	if name == "" {
		name = "plants"
	}
	r := packageResource{
		Profile: "tabular-data-resource", Name: name, Path: file, Format: "csv", Media: "text/csv", Encoding: "utf-8",
		Dialect: packageDialect{Delimiter: ",", DoubleQuote: true, Header: true}, Schema: Schema(),
	}
	if digest != "" {
		r.Hash = "sha256:" + digest
	}
	return DataPackage{Profile: "tabular-data-package", Name: name, Title: "Plant table", Resources: []packageResource{r}}, nil
}

// JSON is the description as a file.
func (p DataPackage) JSON() []byte { return indented(p) }

func indented(v any) []byte {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		panic("catalogue: " + err.Error()) // plain structs of finite numbers
	}
	return append(data, '\n')
}
