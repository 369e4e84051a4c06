package search

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// kitten-sitting is the usual textbook pair; ca-abc is the pair that tells the
// optimal string alignment distance (3) from the unrestricted distance (2):
// Boytsov 2011, Indexing methods for approximate dictionary searching, ACM J.
// Exp. Algorithmics 16 (from memory).
func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3},
		{"ca", "abc", 3},
		{"ab", "ba", 1},
		{"", "abc", 3},
		{"blue", "blue", 0},
		{"bleu", "blue", 1},
		{"größe", "grosse", 3},
	} {
		assert.Equal(t, c.want, edits(c.a, c.b, 99), "%s %s", c.a, c.b)
	}
}

func TestEditsProperties(t *testing.T) {
	word := rapid.StringMatching(`[abc]{0,8}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := edits(a, b, 99)
		assert.Equal(t, d, edits(b, a, 99), "the same both ways")
		assert.Equal(t, a == b, d == 0)
		assert.GreaterOrEqual(t, d, max(len(a), len(b))-min(len(a), len(b)))
		assert.LessOrEqual(t, d, max(len(a), len(b)))
		limit := rapid.IntRange(1, 5).Draw(t, "limit")
		assert.Equal(t, min(d, limit), edits(a, b, limit), "told apart up to the limit")
	})
}

func TestNearest(t *testing.T) {
	got, ok := nearest("heigth", fieldNames())
	assert.True(t, ok)
	assert.Equal(t, "height", got)
	_, ok = nearest("xyzzy", fieldNames())
	assert.False(t, ok)
	_, ok = nearest("we", fieldNames())
	assert.False(t, ok, "two letters are too few to guess from")
}
