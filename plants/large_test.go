package plants

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/testdata/growth/varied"
)

// The generated table has no fault, is the same each time, and its plants differ.
func TestVariedTable(t *testing.T) {
	text := varied.Table(300, 1)
	assert.Equal(t, text, varied.Table(300, 1))
	assert.True(t, bytes.HasPrefix(varied.Table(400, 1), text))
	assert.NotEqual(t, text, varied.Table(300, 2))
	c, err := catalogue.Read("plants.csv", bytes.NewReader(text))
	require.NoError(t, err)
	assert.Empty(t, c.Warnings)
	require.Len(t, c.Plants, 300)
	needs := map[[5]float64]bool{}
	for _, p := range c.Plants {
		needs[[5]float64{p.WetH, p.PondMM, p.DryD, p.SpreadCM, p.Price}] = true
	}
	assert.Len(t, needs, 300)
}
