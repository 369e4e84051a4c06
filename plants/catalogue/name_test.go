package catalogue

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A name means the plants that have it, however it is written. What is left of a name
// in other letters, once these are taken out, is not the name of another plant.
func TestBearers(t *testing.T) {
	t.Parallel()
	plants := []Plant{
		{ID: "1", VernacularName: "Выдумка 1"}, {ID: "twin-a", VernacularName: "Twin"}, {ID: "twin-b", VernacularName: "twin"},
		{ID: "kell", VernacularName: "Kellö", ScientificName: "Madeupia ×una"},
		{ID: "pair", VernacularName: "Pair"}, {ID: "pair-b", VernacularName: "pair"},
		{ID: "fictia-prima", VernacularName: "Prim"}, {ID: "fictia-altera", VernacularName: "Alter", Wild: &Wild{Also: []string{"Fictia prima"}}},
	}
	for name, ids := range map[string][]string{
		"выдумка  1": {"1"}, "Небылица 1": nil, "1": {"1"}, "TWIN": {"twin-a", "twin-b"}, "Twin-A": {"twin-a"}, "KELLÖ": {"kell"}, "Kellä": nil,
		"madeupia una": {"kell"}, "Madeupia ×una": {"kell"}, "": nil, " - ": nil,
		"pair": {"pair"}, "PAIR": {"pair", "pair-b"}, "Pair-B": {"pair-b"}, "FICTIA prima": {"fictia-prima"}, "fictia altera": {"fictia-altera"},
	} {
		var got []string
		for _, p := range Bearers(plants, name) {
			got = append(got, p.ID)
		}
		assert.Equal(t, ids, got, name)
	}
}
