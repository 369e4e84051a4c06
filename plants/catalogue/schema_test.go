package catalogue

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"hollowbed/zones/table"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// safePath stands in for the one pattern of the published profile that needs
// look-ahead, which Go's regexp does not have: a path that does not begin with
// a point, slash or tilde and has no two points in a row.
type safePath struct{}

const safePathPattern = `^(?=^[^./~])(^((?!\.{2}).)*$).*$`

func (safePath) String() string { return safePathPattern }
func (safePath) MatchString(s string) bool {
	return s != "" && !strings.ContainsAny(s[:1], "./~") && !strings.Contains(s, "..") && !strings.Contains(s, "\n")
}

// profile compiles a published profile (testdata/frictionless, public domain).
func profile(t *testing.T, name string) *jsonschema.Schema {
	f, err := os.Open(filepath.Join(testdata, "frictionless", name))
	require.NoError(t, err)
	defer f.Close()
	doc, err := jsonschema.UnmarshalJSON(f)
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.UseRegexpEngine(func(s string) (jsonschema.Regexp, error) {
		if s == safePathPattern {
			return safePath{}, nil
		}
		return regexp.Compile(s)
	})
	require.NoError(t, c.AddResource("mem:///"+name, doc))
	sch, err := c.Compile("mem:///" + name)
	require.NoError(t, err)
	return sch
}

func parsed(t *testing.T, data []byte) any {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	require.NoError(t, err)
	return v
}

// TestSchemaConforms validates the schema and the package description with the
// profiles that Frictionless Data publishes for version 1.
func TestSchemaConforms(t *testing.T) {
	table := profile(t, "tableschema-1.0.json")
	require.NoError(t, table.Validate(parsed(t, Schema().JSON())))

	digest := strings.Repeat("0f", 32)
	pkg, err := Describe("plants/My plants.csv", digest)
	require.NoError(t, err)
	whole := profile(t, "datapackage-1.0.json")
	require.NoError(t, whole.Validate(parsed(t, pkg.JSON())))
	assert.Equal(t, "my-plants", pkg.Name)
	assert.Equal(t, "sha256:"+digest, pkg.Resources[0].Hash)

	// With the maps that the table was imported by, it tells where the table
	// comes from and what every mark in it stands for.
	m := openMap(t, "plant-characteristics.yaml")
	pkg.ImportedBy(m)
	pkg.ImportedBy(openMap(t, "wetland-status.yaml"))
	require.NoError(t, whole.Validate(parsed(t, pkg.JSON())))
	require.Len(t, pkg.Sources, 2)
	assert.Equal(t, "USDA, NRCS, The PLANTS Database", pkg.Sources[0].Title)
	lines := strings.Split(pkg.Description, "\n")
	assert.Equal(t, "Assumed by plant-characteristics.yaml:", lines[0])
	for i, b := range m.bases() {
		assert.Equal(t, b.String(), lines[1+i])
		assert.Equal(t, i+1, b.Mark)
	}
	assert.Equal(t, "Assumed by wetland-status.yaml:", lines[1+len(m.bases())])
	assert.Equal(t, "[1] zones from NE (FAC slope, FACU slope|rim, FACW bottom|slope, OBL bottom, UPL rim): by how often it is found in wetlands; assumed, no source", lines[2+len(m.bases())])

	// The profiles can refuse.
	bad := Schema()
	bad.Fields[5].Type = "hours"
	assert.Error(t, table.Validate(parsed(t, bad.JSON())))
	pkg.Resources[0].Path = "../plants.csv"
	assert.Error(t, whole.Validate(parsed(t, pkg.JSON())))
	pkg.Resources[0].Path, pkg.Sources[0].Title = "plants.csv", ""
	require.NoError(t, whole.Validate(parsed(t, pkg.JSON())), "an empty title is a title")
	pkg.Resources = nil
	assert.Error(t, whole.Validate(parsed(t, pkg.JSON())))
	for _, path := range []string{"", "/etc/plants.csv", "../plants.csv", "a/../plants.csv", "~/plants.csv", ".plants.csv"} {
		_, err := Describe(path, "")
		assert.Error(t, err, path)
	}
}

// rowSchema turns the constraints of the table schema into a JSON Schema for
// one row, so that another program's reading of them can be set against ours.
func rowSchema(t *testing.T) *jsonschema.Schema {
	properties := map[string]any{}
	var required []any
	for _, f := range Schema().Fields {
		p := map[string]any{"type": f.Type}
		data, err := json.Marshal(f.Constraints)
		require.NoError(t, err)
		for k, v := range parsed(t, data).(map[string]any) {
			if k != "required" && k != "unique" {
				p[k] = v
			}
		}
		if f.Constraints.Required {
			required = append(required, f.Name)
		}
		properties[f.Name] = p
	}
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("mem:///row", map[string]any{
		"type": "object", "properties": properties, "required": required, "additionalProperties": false,
	}))
	sch, err := c.Compile("mem:///row")
	require.NoError(t, err)
	return sch
}

// rowObject is a row of a table as JSON; empty cells are left out.
func rowObject(t *testing.T, table *table.Table, i int) map[string]any {
	m := map[string]any{}
	for _, f := range Schema().Fields {
		if table.Column(f.Name) < 0 {
			continue
		}
		cell := table.Rows[i][table.Column(f.Name)]
		switch {
		case cell == "":
		case f.Type == "string":
			m[f.Name] = cell
		default:
			m[f.Name] = json.Number(cell)
		}
	}
	return m
}

// TestRowsConform: every row of the demo table conforms to the schema, and
// what Read refuses for its bounds, enumerations and patterns the schema does
// too.
func TestRowsConform(t *testing.T) {
	sch := rowSchema(t)
	f, err := os.Open("../../data/plants.csv")
	require.NoError(t, err)
	defer f.Close()
	table, err := table.Read("plants.csv", f)
	require.NoError(t, err)
	var names []string
	for _, f := range Schema().Fields {
		names = append(names, f.Name)
	}
	names = slices.DeleteFunc(names, func(n string) bool { return n == "tags" }) // the demo has none
	require.Equal(t, names, table.Header)
	for i := range table.Rows {
		require.NoError(t, sch.Validate(any(rowObject(t, table, i))), "row %d", i)
	}
	for column, values := range map[string][]string{
		"id": {"", "A", "a--b", "-a"}, "vernacularName": {""}, "form": {"moss"}, "zones": {"rim,slope", "rim|", "hill"},
		"sun_min_h": {"25", "-1"}, "wet_h": {"9000"}, "spread_cm": {"-1"}, "lowest_c": {"-91"}, "flower_from": {"13", "1.5"},
		"evergreen": {"true"}, "spreads": {"fast"}, "toxic": {"dogs", "pets||skin"}, "price": {"-1"}, "assumed": {"wet"},
	} {
		for _, v := range values {
			row := table.Rows[0]
			old := row[table.Column(column)]
			row[table.Column(column)] = v
			assert.Error(t, sch.Validate(any(rowObject(t, table, 0))), "%s %q", column, v)
			text := strings.Join(table.Header, ",") + "\n\"" + strings.Join(row, `","`) + "\"\n"
			_, err := Read("p.csv", strings.NewReader(text))
			assert.Error(t, err, "%s %q", column, v)
			row[table.Column(column)] = old
		}
	}
}

// many is the demo table over and over, as a file of n rows.
func many(b *testing.B, n int) []byte {
	demo := demo(b).Plants
	plants := make([]Plant, n)
	for i := range plants {
		plants[i] = demo[i%len(demo)]
		plants[i].ID += fmt.Sprintf("-%d", i)
		plants[i].VernacularName += fmt.Sprintf(" %d", i)
		plants[i].SpreadCM = math.Round(plants[i].SpreadCM)
	}
	var out bytes.Buffer
	require.NoError(b, Write(&out, plants))
	return out.Bytes()
}

func BenchmarkRead(b *testing.B) {
	for _, n := range []int{1000, 100000} {
		data := many(b, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			var c *Catalogue
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			for b.Loop() {
				var err error
				c, err = Read("p.csv", bytes.NewReader(data))
				require.NoError(b, err)
				require.Len(b, c.Plants, n)
			}
			runtime.GC()
			runtime.ReadMemStats(&after)
			b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/1e6, "MB-kept")
			runtime.KeepAlive(c)
		})
	}
}

func BenchmarkWrite(b *testing.B) {
	c, err := Read("p.csv", bytes.NewReader(many(b, 100000)))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, Write(&bytes.Buffer{}, c.Plants))
	}
}

func BenchmarkImport(b *testing.B) {
	table, m := openTable(b, "plant-characteristics-2162.csv"), openMap(b, "plant-characteristics.yaml")
	b.ReportAllocs()
	for b.Loop() {
		_, _, err := Import(table, m)
		require.NoError(b, err)
	}
}
