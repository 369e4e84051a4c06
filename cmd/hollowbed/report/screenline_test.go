package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// Each line of the page's list says height, flowers, risk and harm as list and table have
// them, and gives why apart.
func TestScreenLines(t *testing.T) {
	in := demoIn(t)
	list := NewChoose(in.Garden, in.Catalogue, in.Planting, nil)
	lines := NewScreenLines(list, in.Planting)
	assert.Len(t, lines, len(in.Planting.Lines))
	most := in.Lot.Garden.Wishes.YearlyRiskMax
	for i, l := range lines {
		of := in.Planting.Lines[i]
		assert.Equal(t, of.Zone, l.Zone)
		assert.Contains(t, l.Facts, in.Garden.Units.Length(of.Plant.HeightCM/100)+" high")
		assert.Contains(t, l.Facts, Months(monthsOf(of.Plant.FlowerFrom, of.Plant.FlowerTo)))
		assert.Equal(t, risk(of.Fit.YearlyRisk, len(of.Fit.Assumed) > 0)+" a year", l.Risk)
		assert.Equal(t, riskLevel(of.Fit.YearlyRisk, most), l.Level)
		assert.Contains(t, l.Why[1], list.Lines[i].Reason)
	}
	assert.Equal(t, "height not known; flowers not known", looksOf(zones.UnitsUS, math.NaN(), 0, 0, nil))
	assert.Equal(t, []string{"harms pets", "spreads by runners"}, mind(catalogue.Plant{Toxic: []string{"pets"}, Spreads: "runs"}))
	assert.Equal(t, []string{"not known whether it harms people or pets", "seeds itself"}, mind(catalogue.Plant{Spreads: "seeds"}))
	assert.Empty(t, mind(catalogue.Plant{Toxic: []string{"none"}, Spreads: "clumps"}))
}
