package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

// The column that is named is the one that is blank: of sun the least, the most, or
// none where what was asked does not hang on it.
func TestBlankColumnIsNamed(t *testing.T) {
	none := math.NaN()
	plant := func(id string, low, high float64) catalogue.Plant {
		return catalogue.Plant{ID: id, VernacularName: id, SunMinH: low, SunMaxH: high, WetH: none, HeightCM: 30}
	}
	x, err := New([]catalogue.Plant{plant("a", 4, none), plant("b", none, 8), plant("c", 4, 12), plant("d", 5, none)}, Options{})
	require.NoError(t, err)
	for line, want := range map[string][]Unknown{
		"sun:6":       {{"sun", "sun_min_h", 1}, {"sun", "sun_max_h", 2}},
		"sun>=6":      {{"sun", "sun_max_h", 2}},
		"sun<=6":      {{"sun", "sun_min_h", 1}},
		"sun:3":       {{"sun", "sun_min_h", 1}}, // too little for the others, whatever their most
		"wet:5":       {{"wet", "wet_h", 4}},
		"height:30cm": nil,
	} {
		q, err := Parse(line)
		require.NoError(t, err)
		r, err := x.Find(q)
		require.NoError(t, err)
		assert.Equal(t, want, r.Unknown, line)
	}
}

// A plant whose source names only some of those it harms is none that harms no
// others: that is not known. Nor is one harmless that is only taken for it.
func TestSomeHarmIsNotAllHarm(t *testing.T) {
	plant := func(id string, toxic, assumed []string) catalogue.Plant {
		return catalogue.Plant{ID: id, VernacularName: id, Toxic: toxic, Assumed: assumed}
	}
	taken := []string{"toxic"}
	x, err := New([]catalogue.Plant{plant("some", []string{"livestock"}, taken), plant("all", []string{"livestock"}, nil), plant("taken", []string{"none"}, taken), plant("none", []string{"none"}, nil)}, Options{})
	require.NoError(t, err)
	for line, want := range map[string]struct {
		ids     []string
		unknown int
	}{
		"-toxic:pets":     {[]string{"all", "none"}, 2},
		"toxic:pets":      {nil, 2},
		"toxic:livestock": {[]string{"some", "all"}, 1},
		"toxic":           {[]string{"some", "all"}, 1},
		"-toxic":          {[]string{"none"}, 1},
		"safe for dogs":   {[]string{"none"}, 1},
		"toxic:none,pets": {[]string{"none"}, 2},
	} {
		q, err := Parse(line)
		require.NoError(t, err)
		r, err := x.Find(q)
		require.NoError(t, err)
		assert.ElementsMatch(t, want.ids, ids(r.Hits), line)
		require.Len(t, r.Unknown, 1, line)
		assert.Equal(t, want.unknown, r.Unknown[0].Plants, line)
	}
}

// Words shut nobody out: plants lack them. What is said holds where they do, and is
// not said where it is a condition.
func TestNoHitSaysWhatLacks(t *testing.T) {
	x := likeIndex(t)
	for line, want := range map[string][]string{
		"zyzzyva height>1":       {"8 lack the word zyzzyva; without it: 8", "height>1 shuts out 0; without it: 0"},
		"zyzzyva xylocope wet:1": {"8 have none of the words zyzzyva xylocope; without these: 8"},
		"height>999":             {"height>999 shuts out 8; without it: 8"},
	} {
		q, err := Parse(line)
		require.NoError(t, err)
		r, err := x.Find(q)
		require.NoError(t, err)
		require.NotNil(t, r.NoHit, line)
		var said []string
		for _, e := range r.NoHit.Excluded {
			said = append(said, e.String())
		}
		for _, w := range want {
			assert.Contains(t, said, w, line)
		}
		assert.NotContains(t, said, "shuts out the", line)
	}
}
