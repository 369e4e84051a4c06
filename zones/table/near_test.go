package table

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// kitten-sitting and Saturday-Sunday are the usual textbook pairs; ca-abc is
// the pair that tells the optimal string alignment distance (3) from the
// unrestricted distance (2): Boytsov 2011, Indexing methods for approximate
// dictionary searching, ACM J. Exp. Algorithmics 16 (from memory).
func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"saturday", "sunday", 3}, {"ca", "abc", 3}, {"ab", "ba", 1},
		{"", "abc", 3}, {"clay", "", 4}, {"blue", "blue", 0}, {"bleu", "blue", 1}, {"größe", "grosse", 3},
	} {
		assert.Equal(t, c.want, Edits(c.a, c.b), "%s %s", c.a, c.b)
	}
}

func TestEditsProperties(t *testing.T) {
	word := rapid.StringMatching(`[abcé]{0,8}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := Edits(a, b)
		assert.Equal(t, d, Edits(b, a), "the same both ways")
		assert.Equal(t, a == b, d == 0)
		long, short := max(len([]rune(a)), len([]rune(b))), min(len([]rune(a)), len([]rune(b)))
		assert.GreaterOrEqual(t, d, long-short)
		assert.LessOrEqual(t, d, long)
	})
}

func TestNearest(t *testing.T) {
	names := []string{"height_cm", "spread_cm", "wet_h", "sun", "Été", "bc"}
	for wrong, want := range map[string]string{
		"heigth_cm": "height_cm", // neighbours swapped
		"Height CM": "height_cm", // other dress
		"height":    "height_cm", // the beginning
		"spred_cm":  "spread_cm",
		"ete":       "Été",
		"xyzzy":     "",
		"we":        "", // too few letters to guess from
		"":          "",
		"-_-":       "",
		"snu":       "sun",
		"hsun":      "sun",
		"abc":       "", // of two letters, one would be enough to have none in common
	} {
		assert.Equal(t, want, Nearest(wrong, names), "%q", wrong)
	}
	assert.Equal(t, "want a name; did you mean sun?", OrMeant("want a name", "sunn", names))
	assert.Equal(t, "want a name", OrMeant("want a name", "xyzzy", names))
}
