package placement

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestStakes(t *testing.T) {
	p := Problem{
		Lines: []Line{
			{ID: "tarnbell", Name: "Tarnbell", Zone: "rim"},
			{ID: "tarnbell", Name: "Tarnbell", Zone: "slope"},
			{ID: "tarragloss", Name: "Tarra gloss", Zone: "rim"},
			{ID: "elmquill", Name: "Élm's quill", Zone: "rim"},
			{ID: "x1", Name: "花", Zone: "rim"},
		},
		Kept:  []Kept{{Stake: "TAR7", ID: "tarragloss"}, {Stake: "by gate", ID: "x1"}},
		Taken: []string{"ELM4", "TAR9"},
	}
	plants := []Standing{{ID: "tarnbell"}, {ID: "tarragloss"}, {ID: "tarnbell"}, {ID: "elmquill"}, {ID: "x1"}, {Stake: "TAR7", ID: "tarragloss"}}
	p.stakes(plants)
	var got []string
	for _, s := range plants {
		got = append(got, s.Stake)
	}
	// TAR belongs to tarragloss, which stands with it; 8 and 9 are not given again.
	assert.Equal(t, []string{"TAN1", "TAR10", "TAN2", "ELM5", "XPX1", "TAR7"}, got)
}

func TestStakesOfManyLikeNames(t *testing.T) {
	var p Problem
	for i := range 3000 {
		p.Lines = append(p.Lines, Line{ID: string(rune('a'+i%26)) + string(rune('a'+i/26%26)) + string(rune('a'+i/676)), Name: "Aa"})
	}
	seen := map[string]bool{}
	for id, letters := range p.prefixes() {
		require.False(t, seen[letters], "%s of %s", letters, id)
		require.Empty(t, WrongStake(letters+"100"))
		seen[letters] = true
	}
	assert.Len(t, seen, 3000)
}

// The second choice of one species is not given again as the first of another.
func TestStakesOfLikeNames(t *testing.T) {
	p := Problem{Lines: []Line{{ID: "a", Name: "Tarn"}, {ID: "b", Name: "Tarn"}, {ID: "c", Name: "Tanner"}}}
	assert.Equal(t, map[string]string{"a": "TAR", "b": "TAN", "c": "TAE"}, p.prefixes())
}

// New plants of a species that stands count on in its letters, past those that
// are gone; another species gets letters of its own.
func TestNewStakes(t *testing.T) {
	kept := []Kept{{Stake: "TAR1", ID: "tarn"}, {Stake: "TAR4", ID: "tarn"}, {Stake: "OTT2", ID: "otter"}}
	got := NewStakes(kept, []string{"TAR7"}, []Line{{ID: "tarn", Name: "Tarnquill"}, {ID: "tare", Name: "Tare"}, {ID: "tarn", Name: "Tarnquill"}})
	assert.Equal(t, []string{"TAR8", "TAE1", "TAR9"}, got)
}
