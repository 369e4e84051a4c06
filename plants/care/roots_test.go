package care

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Plugs root from 12.5 cm, gallon pots from 15: a plug's ball holds less, so that it is
// watered as soon or sooner, for less water each time; a stand goes by its shallowest.
func TestSmallerPotsAreWateredSooner(t *testing.T) {
	b, _ := realBed(t, realRecord(t, "New York", 40.7), 40, 15, 40.7)
	stand := func(sizes ...string) Stand {
		s := Stand{Zone: "rim", AreaM2: 10}
		for _, size := range sizes {
			p := plant(40, 1e9)
			p.SoldAs = size
			s.Groups = append(s.Groups, Group{Plant: p, Count: 10})
		}
		return s
	}
	assert.InDelta(t, 12.5, stand("gallon pot", "plug").potCM(b.Setting), 0)
	assert.InDelta(t, b.Setting.PotDepthCM, stand("").potCM(b.Setting), 0, "not said: the setting's")
	plug, err := b.Plan(stand("plug"), may1())
	require.NoError(t, err)
	pot, err := b.Plan(stand("gallon pot"), may1())
	require.NoError(t, err)
	for i := range plug.Years {
		first, other := plug.Years[i].Waterings[0], pot.Years[i].Waterings[0]
		assert.LessOrEqual(t, first.Day, other.Day)
		assert.Less(t, first.Litres, other.Litres)
		assert.Less(t, plug.Years[i].Litres, pot.Years[i].Litres, "narrower balls wet less ground")
	}
}
