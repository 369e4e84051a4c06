package zones

import (
	"os"
	"strings"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func demoText(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../data/garden.yaml")
	require.NoError(t, err)
	return string(text)
}

// lineDiff gives the lines that only one of two texts has.
func lineDiff(a, b string) (gone, come []string) {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for len(x) > 0 && len(y) > 0 && x[0] == y[0] {
		x, y = x[1:], y[1:]
	}
	for len(x) > 0 && len(y) > 0 && x[len(x)-1] == y[len(y)-1] {
		x, y = x[:len(x)-1], y[:len(y)-1]
	}
	return x, y
}

// One value changes, and of the file only its own line.
func TestEditKeyDemo(t *testing.T) {
	for _, c := range []struct{ key, value, gone, come string }{
		{"bed.length", "22 ft", "  length: 20 ft", "  length: 22 ft"},
		{"bed.side_slope", "4:1", "  side_slope: 3:1          # run to rise; steeper sides wash and slip", "  side_slope: 4:1          # run to rise; steeper sides wash and slip"},
		{"name", "Rue de l'Été", "name: The corner lot, Quillmere", "name: 'Rue de l''Été'"},
		{"wishes.height_max.slope", "5 ft", "  height_max: {bottom: 4 ft, slope: 4 ft, rim: 3 ft}", "  height_max: {bottom: 4 ft, slope: 5 ft, rim: 3 ft}"},
		{"wishes.height_max.slope", "", "  height_max: {bottom: 4 ft, slope: 4 ft, rim: 3 ft}", "  height_max: {bottom: 4 ft, rim: 3 ft}"},
		{"wishes.height_max.rim", "", "  height_max: {bottom: 4 ft, slope: 4 ft, rim: 3 ft}", "  height_max: {bottom: 4 ft, slope: 4 ft}"},
		{"wishes.bloom.to", "September", "  bloom: {from: April, to: October}", "  bloom: {from: April, to: September}"},
		{"wishes.no_toxic_to", "people", "  no_toxic_to: [people, pets]", "  no_toxic_to: [people]"},
		{"wishes.native_to", "Quillmere, Salt Fen, a]b", "  native_to: [Quillmere]   # regions as the plant table writes them", "  native_to: [Quillmere, Salt Fen, 'a]b']   # regions as the plant table writes them"},
		{"wishes.wanted", "low-brindlewisp, lean-tarrow", "", "  wanted: [low-brindlewisp, lean-tarrow]"},
		{"target.event", "1.5 in", "", "  event: 1.5 in"},
		{"soil.rate", "0.5 in/h", "", "  rate: 0.5 in/h"},
		{"wishes.budget", "", "  budget: 900              # in the currency of the plant table", ""},
	} {
		before := demoText(t)
		after, err := EditKey(before, c.key, c.value)
		require.NoError(t, err, c.key)
		gone, come := lineDiff(before, after)
		assert.Equal(t, c.gone, strings.Join(gone, "\n"), c.key)
		assert.Equal(t, c.come, strings.Join(come, "\n"), c.key)
		texts, err := KeyTexts(after)
		require.NoError(t, err)
		assert.Equal(t, c.value, texts[c.key])
	}
}

// Files in other shapes than the demo's.
func TestEditKeyShapes(t *testing.T) {
	for _, c := range []struct{ name, text, key, value, want string }{
		{"one sun for all zones", "sun: 6 h  # June\n", "sun.slope", "7 h", "sun: {bottom: 6 h, slope: 7 h, rim: 6 h}  # June\n"},
		{"sun for all, one taken out", "sun: 6 h\n", "sun.rim", "", "sun: {bottom: 6 h, slope: 6 h}\n"},
		{"section without keys", "sun:   # by hand\nname: x\n", "sun.rim", "6 h", "sun:   # by hand\n  rim: 6 h\nname: x\n"},
		{"key without value", "bed:\n  length:   # not yet\n", "bed.length", "3 m", "bed:\n  length: 3 m   # not yet\n"},
		{"no section", "name: x\n# end\n", "wishes.bloom.from", "May", "name: x\n# end\nwishes:\n  bloom: {from: May}\n"},
		{"no line end", "name: x", "units", "metric", "name: x\nunits: metric\n"},
		{"a section in braces", "bed: {length: 3 m}  # small\n", "bed.width", "2 m", "bed: {length: 3 m, width: 2 m}  # small\n"},
		{"braces with blanks", "bed: { length: 3 m }\n", "bed.width", "2 m", "bed: { length: 3 m, width: 2 m }\n"},
		{"empty braces", "bed: {}\n", "bed.width", "2 m", "bed: {width: 2 m}\n"},
		{"in quotes", "name: \"a \\\" # b\"  # c\n", "name", "d # e", "name: 'd # e'  # c\n"},
		{"items on lines", "wishes:\n  wanted:\n    - a-b   # the blue one\n    # why not\n    - c-d\n  seed: 1\n", "wishes.wanted", "a-b, e-f", "wishes:\n  wanted:\n    - a-b   # the blue one\n    # why not\n    - e-f\n  seed: 1\n"},
		{"the last key of a section", "a: 1\nbed:\n  length: 3 m\n# end\n", "bed.length", "", "a: 1\n# end\n"},
		{"corners", "bed:\n  points: [[0 ft, 0 ft], [9 ft, 0 ft], [9 ft, 9 ft]]\n", "bed.points", "0 m, 0 m; 3 m, 0 m; 3 m, 3 m", "bed:\n  points: [[0 m, 0 m], [3 m, 0 m], [3 m, 3 m]]\n"},
		{"behind wide letters", "wishes: {native_to: [\"Æ, ø\", \"ü\"], seed: 1}\n", "wishes.seed", "2", "wishes: {native_to: [\"Æ, ø\", \"ü\"], seed: 2}\n"},
		{"a mark at the start", "\ufeffname: x\n", "name", "y", "\ufeffname: y\n"},
		{"nothing to take out", "name: x\n", "bed.length", "", "name: x\n"},
	} {
		for _, end := range []string{"\n", "\r\n"} {
			if c.name == "no line end" && end != "\n" { // it says nothing of how lines end
				continue
			}
			got, err := EditKey(strings.ReplaceAll(c.text, "\n", end), c.key, c.value)
			require.NoError(t, err, c.name)
			assert.Equal(t, strings.ReplaceAll(c.want, "\n", end), got, c.name)
		}
	}
}

// What cannot be changed without harm is refused, and what no file can hold.
func TestEditKeyRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, key, value string }{
		{"a list over lines", "wishes:\n  wanted: [a,\n    b]\n", "wishes.wanted", "c"},
		{"a text over lines", "name: a\n  b\n", "name", "c"},
		{"a value where keys are wanted", "bed: 3\n", "bed.length", "3 m"},
		{"a section where a value is wanted", "name:\n  a: 1\n", "name", "c"},
	} {
		_, err := EditKey(c.text, c.key, c.value)
		assert.ErrorIs(t, err, errNotEdited, c.name)
	}
	for _, value := range []string{"a\nb: 1", "a\x00", "\u202e", strings.Repeat("x", 3000)} {
		_, err := EditKey("name: x\n", "name", value)
		assert.ErrorAs(t, err, new(table.Faults), "%q", value)
	}
}

// Whatever is written into whichever key of the demo: either it is refused, or
// that key reads back as it was written, all others as before, no comment is
// lost but that of a line taken out, and changing back gives the file again.
func TestEditKeyProperty(t *testing.T) {
	before := demoText(t)
	had, err := KeyTexts(before)
	require.NoError(t, err)
	keys := []string{"name", "bed.length", "bed.kc", "roof.share", "sun.rim", "wishes.wanted", "wishes.native_to", "wishes.bloom.from", "wishes.height_max.rim", "target.event", "soil.rate", "wishes.weights.bloom", "mix.conductivity", "layout.view_from"}
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.SampledFrom(keys).Draw(t, "key")
		value := strings.TrimSpace(rapid.OneOf(rapid.StringMatching(`[ -~]{0,12}`), rapid.String(), rapid.SampledFrom([]string{"", "yes", "null", "~", "- a", "a: b", "#x", "'", "\"", "{a", "[a", "*a", "&a", "!a", "1:2", "0x1", "1e3", "---", "?", "| a"})).Draw(t, "value"))
		after, err := EditKey(before, key, value)
		if err != nil {
			return
		}
		has, err := KeyTexts(after)
		if err != nil {
			t.Fatalf("%v", err)
		}
		if has[key] != value {
			t.Fatalf("%s is %q", key, has[key])
		}
		for k, v := range had {
			if k != key && has[k] != v {
				t.Fatalf("%s was %q, is %q", k, v, has[k])
			}
		}
		if value != "" && strings.Count(after, "#") < strings.Count(before, "#") {
			t.Fatalf("a comment is gone")
		}
		back, err := EditKey(after, key, had[key])
		if err != nil {
			t.Fatalf("back: %v", err)
		}
		if value != "" && back != before && strings.Contains(before, ": "+written(key, had[key])) && had[key] != "" {
			t.Fatalf("changed back, the file is not as it was")
		}
	})
}
