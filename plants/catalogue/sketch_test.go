package catalogue

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/zones/table"
)

func sketched(t *testing.T, name, text string) (*table.Table, *Map, string) {
	t.Helper()
	raw, err := table.Read(name, strings.NewReader(text))
	require.NoError(t, err)
	draft := Sketch(raw)
	m, err := ReadMap("draft.yaml", strings.NewReader(draft))
	require.NoError(t, err, draft)
	return raw, m, draft
}

// A draft of a nursery's table imports it as it stands: names, sizes with their
// units, months, words that are ours; what classes are worth is left to a person.
func TestSketch(t *testing.T) {
	t.Parallel()
	raw, m, draft := sketched(t, "nursery.csv", `Botanical name,Common name,Height (ft),Width,Bloom,Color,Type,Drought tolerance,Shelf,Rows
Madeupia una,First Madeup,2-3,18 in - 2 ft,May-July,white/pink,Forb,High,A1,7
Madeupia dua,Second Madeup,6,N/A,,blue,Shrub,Low,B2,8
Madeupia dua,Second Madeup,6,,September,,Shrub,Low,B3,9
`)
	plants, _, err := Import(raw, m)
	require.NoError(t, err, draft)
	require.Len(t, plants, 2, "two rows of one plant")
	p := plants[0]
	assert.Equal(t, []string{"madeupia-una", "Madeupia una", "First Madeup", "forb"}, []string{p.ID, p.ScientificName, p.VernacularName, p.Form})
	assert.Equal(t, []float64{91.4, 61}, []float64{p.HeightCM, p.SpreadCM})
	assert.Equal(t, []int{5, 7}, []int{p.FlowerFrom, p.FlowerTo})
	assert.Equal(t, []string{"white", "pink"}, p.FlowerColour)
	assert.True(t, p.DryD != p.DryD)
	assert.Equal(t, []string{"shelf b2", "shelf b3"}, plants[1].Tags, "what its two rows say")
	assert.Equal(t, []int{9, 9}, []int{plants[1].FlowerFrom, plants[1].FlowerTo})
	for _, line := range []string{
		`missing: ["N/A"]`, `group: "Botanical name"`, `height_cm: {from: "Height (ft)", take: larger, unit: ft}`,
		`dry_d: {from: "Drought tolerance", basis: "assumed, no source", classes: {"High": "", "Low": ""}}`, `# not used: "Rows": "7", "8", "9"`, `tags: ["Shelf"]`,
	} {
		assert.Contains(t, draft, line)
	}
}

// A draft takes of a range the end that asks more of a lot or bears less: a plant
// that lives to "-20 to -10 F" is held to -10.
func TestSketchIsCareful(t *testing.T) {
	t.Parallel()
	_, _, draft := sketched(t, "n.csv", "name,sun,hardy,flooding,drought,depth,width,toxicity\nA,4-6,-20 to -10 F,1-2 days,2-3 weeks,3-4,2-3 ft,None\n")
	for column, take := range map[string]string{"sun_min_h": "larger", "lowest_c": "larger", "wet_h": "smaller", "dry_d": "smaller", "spread_cm": "larger"} {
		assert.Regexp(t, column+": {[^}]*take: "+take, draft)
	}
	assert.Contains(t, draft, `toxic: {from: "toxicity", otherwise: "", translate: {"None": ""`)
}

// A draft of the table of 2,162 species can be read and imports it.
func TestSketchOfRealTable(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join(testdata, "records", "plant-characteristics-2162.csv"))
	require.NoError(t, err)
	raw, m, draft := sketched(t, "plants.csv", string(text))
	plants, _, err := Import(raw, m)
	require.NoError(t, err)
	require.Len(t, plants, 2162)
	assert.Equal(t, 5029.2, plants[0].HeightCM, draft)
	assert.Contains(t, draft, `root_cm: {from: "root_depth_minimum", missing: ["0"]} # in centimetres? else add unit:`)
	assert.NotContains(t, draft, `"none"`, "None is not known to be harmless")
}

// Whatever stands in a table, its draft is a map that can be read: the Big List of
// Naughty Strings as names of columns and as cells (testdata/naughty-strings).
func TestSketchNaughty(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join(testdata, "naughty-strings", "blns.json"))
	require.NoError(t, err)
	var all []string
	require.NoError(t, json.Unmarshal(text, &all))
	read := 0
	for _, s := range all {
		var b strings.Builder
		w := csv.NewWriter(&b)
		require.NoError(t, w.WriteAll([][]string{{"name", "type", "drought", "zones", s}, {"A", s, s, s, s}, {"B", "shrub", "High", "rim/slope", s}}))
		raw, err := table.Read("n.csv", strings.NewReader(b.String()))
		if err != nil {
			continue
		}
		read++
		draft := Sketch(raw)
		_, err = ReadMap("draft.yaml", strings.NewReader(draft))
		require.NoError(t, err, "%q\n%s", s, draft)
	}
	assert.Greater(t, read, 400)
}
