package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/plants/catalogue"
)

// What is not known to be harmless is not passed over in silence.
func TestHarms(t *testing.T) {
	for name, c := range map[string]struct {
		plant catalogue.Plant
		says  string
	}{
		"not stated": {catalogue.Plant{}, "not known whether it harms"},
		"assumed":    {catalogue.Plant{Toxic: []string{"none"}, Assumed: []string{"toxic"}}, "not known whether it harms"},
		"harms":      {catalogue.Plant{Toxic: []string{"pets", "skin"}}, "harmful to pets and skin"},
		"in part":    {catalogue.Plant{Toxic: []string{"livestock"}, Assumed: []string{"toxic"}}, "harmful to livestock, not known whether to people or pets too. Plant it out of reach and wear gloves."},
	} {
		if said := harms(c.plant); assert.Len(t, said, 1, name) {
			assert.Contains(t, said[0], c.says, name)
		}
	}
	assert.Empty(t, harms(catalogue.Plant{Toxic: []string{"none"}}))
}
