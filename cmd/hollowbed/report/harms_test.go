package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/cmd/hollowbed/doc"
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
		"guessed":    {catalogue.Plant{Toxic: []string{"none"}, Wild: &catalogue.Wild{Guessed: true}}, "traits from its genus or form"},
	} {
		if said := harms(c.plant); assert.Len(t, said, 1, name) {
			assert.Contains(t, said[0], c.says, name)
		}
	}
	assert.Empty(t, harms(catalogue.Plant{Toxic: []string{"none"}}))
}

// What could stand in a plant's place says whom it harms, on every paper.
func TestNextBestNamesHarm(t *testing.T) {
	in := demoIn(t)
	harmful := *in.Planting.Lines[0].Next[0].Verdict
	harmful.Plant.Toxic, harmful.Plant.Spreads = []string{"pets"}, "runs"
	in.Planting.Lines[0].Next[0].Verdict = &harmful
	d := NewChoose(in.Garden, in.Catalogue, in.Planting, nil)
	for paper, blocks := range map[string][]doc.Block{"screen": d.Next, "report": d.Instead()} {
		var out strings.Builder
		doc.Terminal(&out, blocks)
		assert.Contains(t, strings.Join(strings.Fields(out.String()), " "), "harms pets; spreads by runners", paper)
	}
}
