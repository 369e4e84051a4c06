package zones

import (
	"cmp"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// single says whether a key stands once in a garden file.
func single(k Key) bool { return !strings.Contains(k.Path, "[]") && k.kind != kindGroup }

// A default that is written out changes nothing, so that what template, page
// and reference show is what the decoder takes.
func TestDefaultsAreTheDecoders(t *testing.T) {
	whole := little + "inlet:\n  ground: [{at: 0 ft, level: 6 in}, {at: 16 ft, level: 0 in}]\n  downspout: 3 in\n"
	left, err := read(whole)
	require.NoError(t, err)
	left.at, left.Assumed = nil, nil
	n := 0
	for _, k := range Keys() {
		if k.Default == "" || !single(k) {
			continue
		}
		text, err := EditKey(whole, k.Path, k.Default)
		require.NoError(t, err, k.Path)
		require.NotEqual(t, whole, text, k.Path)
		g, err := read(text)
		require.NoError(t, err, k.Path)
		g.at, g.Assumed = nil, nil
		assert.Equal(t, fmt.Sprint(*left), fmt.Sprint(*g), "%s: %s", k.Path, k.Default)
		for _, u := range []Units{UnitsUS, UnitsMetric} {
			if k.kind != kindQuantity {
				continue
			}
			v, wrong := k.of.parse(k.DefaultIn(u))
			require.Empty(t, wrong, k.Path)
			said, _ := k.of.parse(k.Default)
			assert.InEpsilon(t, said+1e-9, v+1e-9, 0.02, "%s: %s is shown as %s", k.Path, k.Default, k.DefaultIn(u))
		}
		n++
	}
	assert.Greater(t, n, 25)
}

// The decoder knows every key of the table, and no key that is not in it.
func TestEveryKeyIsRead(t *testing.T) {
	b, _, err := ReadBase("garden.yaml", strings.NewReader(little))
	require.NoError(t, err)
	for _, k := range Keys() {
		if strings.Contains(k.Path, "[]") {
			continue
		}
		assert.Empty(t, b.CheckKeys([]Cell{{Key: k.Path}}), k.Path)
		wrong := k.Path + "zz"
		assert.Len(t, b.CheckKeys([]Cell{{Key: wrong}}), 1, wrong)
	}
}

// data/GARDEN-FILE.md is the table of keys for people.
func TestReference(t *testing.T) {
	const file = "../data/GARDEN-FILE.md"
	made := reference()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(file, []byte(made), 0o644))
	}
	kept, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(kept), made, "made anew with UPDATE_GOLDEN=1 go test ./zones -run TestReference")
}

func reference() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# The garden file\n\nEvery key of garden.yaml, made from the table in zones/keytable.go. A quantity carries its unit, such as `%s`. `hollowbed start` writes a file with a comment at every key.\n", strings.ReplaceAll(FigureSamples, ", ", "`, `"))
	for _, s := range Sections() {
		fmt.Fprintf(&b, "\n## %s\n\n| key | what to write | left out | |\n| --- | --- | --- | --- |\n", cmp.Or(s.Name, "At the top"))
		for _, k := range s.Keys {
			left := k.Default
			if k.Required {
				left = "must be there"
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", k.Path, k.Writing(), left, k.Note())
		}
	}
	return b.String()
}

// Without any of the needed keys a garden file is refused, by the name of the
// key; with these and a soil it is read.
func TestNeededKeys(t *testing.T) {
	var needed []string
	for _, k := range Keys() {
		if k.Needed() {
			needed = append(needed, k.Path)
			name := k.Path[strings.LastIndex(k.Path, ".")+1:]
			_, err := read(regexp.MustCompile(`(?m)^ *`+name+`: .*\n`).ReplaceAllString(little, ""))
			assert.ErrorContains(t, err, k.Path)
		}
	}
	assert.Equal(t, []string{"hollowbed", "site.latitude", "site.time_zone", "roof.area", "bed.shape", "bed.length", "bed.width", "bed.ponding_depth"}, needed)
	assert.Equal(t, len(needed)+1, len(regexp.MustCompile(`(?m): .`).FindAllString(little, -1)), "the rest of it is the soil")
}
