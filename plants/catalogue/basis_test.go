package catalogue

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestOneValueForAll: a size or limit that a map gives to every plant is a
// guess and is marked so; a price and a word are not.
func TestOneValueForAll(t *testing.T) {
	const table = "n\na\nb\n"
	plants, r, err := importText(t, table, smallMap+"  spread_cm: {value: \"45\"}\n  price: {value: \"4\"}\n  form: {value: forb}\n")
	require.NoError(t, err)
	for _, p := range plants {
		assert.Equal(t, []float64{45, 4}, []float64{p.SpreadCM, p.Price})
		assert.Equal(t, []string{"spread_cm"}, p.Assumed)
		assert.Equal(t, "s; assumed by m.yaml [1]", p.Source)
	}
	require.Len(t, r.Bases, 1)
	assert.Equal(t, "[1] spread_cm, the same for all: one value for every plant, from the map", r.Bases[0].String())
	assert.Equal(t, 2, r.Bases[0].Plants)

	plants, r, err = importText(t, table, smallMap+"  spread_cm: {value: \"45\", assumed: true, basis: a look over the fence}\n  form: {value: forb, assumed: true, basis: b}\n")
	require.NoError(t, err)
	assert.Equal(t, []string{"form", "spread_cm"}, plants[0].Assumed)
	assert.Equal(t, "[2] spread_cm, the same for all: a look over the fence", r.Bases[1].String())
}
