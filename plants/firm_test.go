package plants

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

// wild makes a real plant of an invented one.
func wild(p catalogue.Plant, w catalogue.Wild) catalogue.Plant {
	nan := math.NaN()
	p.NativeTo = []string{"IL"}
	w.State, w.Sold, w.RainMinMM, w.RainMaxMM, w.FrostFreeD, w.PHMin, w.PHMax = "IL", "routinely", nan, nan, nan, nan, nan
	p.Wild = &w
	return p
}

// A list that would rest on doubtful plants alone takes in a surer one in each zone
// where one would live, at a cost that is told, and keeps to the rules; what is
// wanted by name stays. Where none is surer, that is said.
func TestNoZoneRestsOnDoubtfulPlantsAlone(t *testing.T) {
	t.Parallel()
	e := expose(t, map[string]string{"sun": "{bottom: 6 h, slope: 6 h, rim: 6 h}", "wishes": "{yearly_risk_max: 50 %, smallest_group: 3, share_cap: 40 %, wanted: [p-0]}"}, someYears(6))
	plants := many(4, wild(hardy("p"), catalogue.Wild{Grade: catalogue.Doubtful}))
	surer := wild(with(hardy("surer"), func(p *catalogue.Plant) {
		p.SunMinH, p.FlowerFrom, p.FlowerTo = 7, 0, 0 // no bargain: its sun is an hour off
	}), catalogue.Wild{Grade: catalogue.Possible})
	for _, with := range []bool{false, true} {
		table := tableOf(plants...)
		if with {
			table.Plants = append(table.Plants, surer)
		}
		j := NewJudge(e)
		p, err := Choose(j, table)
		require.NoError(t, err)
		notes := strings.Join(p.Notes, "\n")
		planted, firm, wanted := map[string]float64{}, map[string]bool{}, false
		for _, l := range p.Lines {
			planted[l.Zone] += l.AreaM2
			firm[l.Zone] = firm[l.Zone] || l.Plant.ID == "surer"
			wanted = wanted || l.Plant.ID == "p-0"
			assert.GreaterOrEqual(t, l.Count, 3)
		}
		assert.True(t, wanted)
		assert.LessOrEqual(t, p.Objective, p.Bound)
		assert.Equal(t, with, strings.Contains(notes, "the bottom rested on doubtful plants alone: Test surer is planted there instead of Test p"), notes)
		for _, z := range p.Zones {
			assert.Equal(t, with, firm[z.Zone], z.Zone)
			assert.LessOrEqual(t, planted[z.Zone], z.AreaM2*(1+1e-6))
			if !with {
				assert.Contains(t, notes, "the "+z.Zone+" rests on doubtful plants alone: no surer one would live there")
			}
		}
	}
}
