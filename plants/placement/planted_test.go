package placement

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const tables = "../../testdata/placement"

// Every table in the folder named bad-*.csv is refused with exactly the faults
// in the file of its name that ends in .txt; every good-*.csv is read.
func TestPlantedTables(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(tables, "*.csv"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			plants, _, err := ReadPlanted("planted.csv", bytes.NewReader(data))
			if strings.HasPrefix(filepath.Base(file), "good-") {
				require.NoError(t, err)
				require.Len(t, plants, 2)
				assert.Equal(t, Planted{Stake: "TAR3", ID: "tarnbell", X: 1.25, Y: -0.5, Planted: "2026-04-30", Zone: "slope", Line: 2}, plants[0])
				return
			}
			want, e := os.ReadFile(strings.TrimSuffix(file, ".csv") + ".txt")
			require.NoError(t, e)
			require.Error(t, err)
			assert.Equal(t, strings.TrimSpace(string(want)), err.Error())
			bad, ok := err.(interface{ BadInput() bool })
			assert.True(t, ok && bad.BadInput())
		})
	}
}

func TestPlantedWarnsOfOtherColumns(t *testing.T) {
	_, warnings, err := ReadPlanted("planted.csv", strings.NewReader("stake,id,x_m,y_m,mood\nA1,b,1,2,fair\n"))
	require.NoError(t, err)
	require.Len(t, warnings, 1)
	assert.Equal(t, `planted.csv:1:18: "mood": not a column of ours: passed over`, warnings[0].String())
}

// A gardener's own columns stay, in order, with their cells by stake; so do
// separator, line ends and byte-order mark, as a spreadsheet writes them.
func TestWritePlantedKeepsOwnColumns(t *testing.T) {
	old := "\ufeffprice;stake;x_m;id;Mood;y_m;;mood\r\n4,50;a1;1.250;b;=fair;2;\"say \"\"so\"\"\";\r\n;A2;3;b;x;4;;sad\r\n7;A3;3;b;x;4;;gone\r\n"
	plants, _, err := ReadPlanted("planted.csv", strings.NewReader(old))
	require.NoError(t, err)
	plants[1].X, plants[1].Zone, plants[1].Drift = 5, "rim", "C"
	rows := append([]Planted{{Stake: "A9", ID: "c", Planted: "2026-04-30"}}, plants[1], plants[0]) // A3 is gone
	var b bytes.Buffer
	require.NoError(t, WritePlanted(&b, []byte(old), rows))
	assert.Equal(t, "\ufeffprice;stake;x_m;id;Mood;y_m;;mood;planted;zone;drift\r\n;A9;0;c;;0;;;2026-04-30;;\r\n;A2;5;b;x;4;;sad;;rim;C\r\n4,50;a1;1.25;b;=fair;2;\"say \"\"so\"\"\";;;;\r\n", b.String())
	again, _, err := ReadPlanted("planted.csv", &b)
	require.NoError(t, err)
	for i := range again {
		again[i].Line, rows[i].Line = 0, 0
	}
	assert.Equal(t, rows, again)
	assert.Error(t, WritePlanted(&bytes.Buffer{}, []byte("stake,id\n"), rows), "no header of ours: nothing is written over it")
}

// What a spreadsheet wrote in another encoding stays in it, cells of others'
// columns included; what the encoding lacks is refused.
func TestWritePlantedKeepsTheEncoding(t *testing.T) {
	for _, name := range []string{"good-latin1.csv", "good-utf16.csv"} {
		old, err := os.ReadFile(filepath.Join(tables, name))
		require.NoError(t, err)
		plants, _, err := ReadPlanted(name, bytes.NewReader(old))
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, WritePlanted(&b, old, plants))
		want := bytes.ReplaceAll(bytes.ReplaceAll(old, []byte("1,25"), []byte("1.25")), []byte("0,5"), []byte("0.5"))
		want = bytes.ReplaceAll(bytes.ReplaceAll(want, []byte("1\x00,\x002"), []byte("1\x00.\x002")), []byte("0\x00,\x005"), []byte("0\x00.\x005"))
		assert.Equal(t, string(want), b.String(), name)
	}
	old, err := os.ReadFile(filepath.Join(tables, "good-latin1.csv"))
	require.NoError(t, err)
	err = WritePlanted(&bytes.Buffer{}, old, []Planted{{Stake: "A1", ID: "日本"}})
	require.ErrorContains(t, err, "the file is Windows-1252 (Latin-1), which does not have every character")
	var bad interface{ BadInput() bool }
	assert.True(t, errors.As(err, &bad) && bad.BadInput())
}

func TestPlantedRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 20).Draw(t, "n")
		var plants []Planted
		for i := range n {
			plants = append(plants, Planted{
				Stake:   rapid.StringMatching(`[A-Z]{2,3}`).Draw(t, "letters") + string(rune('a'+i)),
				ID:      rapid.StringMatching(`['=+@-]{0,2}[a-zé,;" ]{0,5}[a-z]`).Filter(func(s string) bool { return s == strings.TrimSpace(s) }).Draw(t, "id"),
				X:       float64(rapid.IntRange(-100000, 100000).Draw(t, "x")) / 1000,
				Y:       rapid.Float64Range(-1e6, 1e6).Draw(t, "y"),
				Planted: rapid.SampledFrom([]string{"", "2024-02-29", "1999-12-31"}).Draw(t, "date"),
				Zone:    rapid.SampledFrom([]string{"", "rim", "bottom"}).Draw(t, "zone"),
				Line:    i + 2,
			})
		}
		var b bytes.Buffer
		if err := WritePlanted(&b, nil, plants); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(b.String()) {
			for _, cell := range strings.Split(line, ",") {
				if c := strings.Trim(cell, "\"\r\n"); strings.HasPrefix(c, "=") || strings.HasPrefix(c, "+") || strings.HasPrefix(c, "@") {
					t.Fatalf("a spreadsheet would run %q", cell)
				}
			}
		}
		again, warnings, err := ReadPlanted("planted.csv", &b)
		if err != nil || len(warnings) > 0 {
			t.Fatal(err, warnings)
		}
		assert.Equal(t, plants, again)
	})
}

func TestWritePlantedRefuses(t *testing.T) {
	for name, p := range map[string]Planted{
		"stake": {Stake: "=A1", ID: "b"}, "id": {Stake: "A1"},
		"date": {Stake: "A1", ID: "b", Planted: "May"}, "zone": {Stake: "A1", ID: "b", Zone: "edge"},
		"place": {Stake: "A1", ID: "b", X: 2e6},
	} {
		assert.Error(t, WritePlanted(&bytes.Buffer{}, nil, []Planted{p}), name)
	}
	assert.Error(t, WritePlanted(&bytes.Buffer{}, nil, []Planted{{Stake: "A1", ID: "b"}, {Stake: "a1", ID: "b"}}))
}

func FuzzReadPlanted(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(tables, "*.csv"))
	require.NoError(f, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		plants, _, err := ReadPlanted("planted.csv", bytes.NewReader(data))
		if err != nil {
			require.IsType(t, table.Faults{}, err)
			require.NotEmpty(t, err.Error())
			return
		}
		var b bytes.Buffer
		if err := WritePlanted(&b, data, plants); err != nil { // an encoding with a damaged end: read, but never changed
			require.False(t, utf8.Valid(data))
			require.IsType(t, table.Faults{}, err)
			return
		}
		again, _, err := ReadPlanted("planted.csv", &b)
		require.NoError(t, err)
		require.Len(t, again, len(plants))
		for i := range again {
			again[i].Line = plants[i].Line
		}
		require.Equal(t, plants, again)
	})
}

// A gardener's column that stands twice is told, as in every other table: its
// cells could not be kept apart.
func TestPlantedTellsSlipsAsOtherTablesDo(t *testing.T) {
	for text, want := range map[string]string{
		"stake,id,x_m,y_m,memo,memo\nA1,a,1,2,x,y\n":  "p.csv:1:23: memo: this column stands twice in the header: want it once",
		"stake,id,x_m,y_m\nA1,a 6\" tall,1,x\n":       "p.csv:2:16: y_m: \"x\": want a number of metres", // a quote within a cell is text
		"stake|id|x_m|y_m\nA1|größe|1|x\n":            "p.csv:2:12: y_m: \"x\": want a number of metres",
		"stake,id,x_m,y_m\nA1,\"a\"b,1,2\nA2,a,1,2\n": "p.csv:2:7: text behind a closing quote: want quotes inside a cell doubled",
		"stake,id,x_m,y_m\nA1,\"x\ty\",1,2\n":         "p.csv:2:4: id: \"x\\ty\": want the id of a plant in the plant table",
	} {
		_, _, err := ReadPlanted("p.csv", strings.NewReader(text))
		assert.EqualError(t, err, want)
	}
}
