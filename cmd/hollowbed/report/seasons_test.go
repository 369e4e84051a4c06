package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/draw"
	"hollowbed/plants/catalogue"
	"hollowbed/zones/site"
)

// Months by hand: a mild spring, a hard winter; south of the equator the year turns.
func TestTimesOfYear(t *testing.T) {
	var months [12]site.MonthMean
	for i, mean := range []float64{-4, -2, 4, 9, 15, 20, 22, 21, 16, 10, 4, -2} {
		months[i] = site.MonthMean{HighC: mean + 5, LowC: mean - 5}
	}
	north, south := timesOfYear(false), timesOfYear(true)
	assert.Equal(t, "Winter, Dec to Feb", north[3].words())
	assert.Equal(t, "Spring, Sep to Nov", south[0].words())
	leafy := func(all []timeOfYear) (out []bool) {
		for _, one := range all {
			out = append(out, one.inLeaf(months))
		}
		return out
	}
	assert.Equal(t, []bool{true, true, true, false}, leafy(north))
	assert.False(t, timeOfYear{"March", []int{3}}.inLeaf(months))
	months[0] = site.MonthMean{HighC: math.NaN(), LowC: math.NaN()} // not known bars no leaves
	assert.True(t, timeOfYear{"January", []int{1}}.inLeaf(months))
	months[0] = months[1]
	for _, one := range []struct {
		p             catalogue.Plant
		summer, winte string
	}{
		{catalogue.Plant{FlowerFrom: 8, FlowerTo: 9, FlowerColour: []string{"yellow"}, Evergreen: "no"}, "in flower yellow", "bare or cut back"},
		{catalogue.Plant{FlowerFrom: 11, FlowerTo: 1, Evergreen: "yes"}, "green", "in flower"},
		{catalogue.Plant{Evergreen: "semi"}, "green", "green"},
		{catalogue.Plant{FlowerFrom: 3, FlowerTo: 4}, "green", "leaves not known"},
	} {
		assert.Equal(t, one.summer, north[1].look(one.p, months).Words(), one.p)
		assert.Equal(t, one.winte, north[3].look(one.p, months).Words(), one.p)
	}
	assert.Equal(t, draw.Bare, south[1].look(catalogue.Plant{Evergreen: "no"}, [12]site.MonthMean{11: {HighC: -1, LowC: -9}, 0: {HighC: -1, LowC: -9}}).Leaf)
}

// The seasons of the demo name the kinds that its plant table has in flower, and each
// month of the page those of the bloom chart.
func TestSeasonsOfDemo(t *testing.T) {
	in := demoIn(t)
	views := NewScreenViews(in.Placed)
	require.Len(t, views, 16)
	species, _ := drawn(in.Placed)
	for i, v := range views {
		months := timesOfYear(false)[i%4].months
		if i >= 4 {
			months = []int{(i-4+2)%12 + 1}
		}
		count := 0
		for k, s := range species {
			var p catalogue.Plant
			for _, line := range in.Planting.Lines {
				if Plain(line.Plant.VernacularName) == s.Name {
					p = line.Plant
				}
			}
			flowers := false
			for m := p.FlowerFrom; p.FlowerFrom > 0; m = m%12 + 1 {
				flowers = flowers || slices.Contains(months, m)
				if m == p.FlowerTo {
					break
				}
			}
			assert.Equal(t, flowers, v.Looks[k].Look == "flower", v.Name+" "+s.Name)
			if flowers {
				count++
			}
		}
		assert.Contains(t, v.Words, fmt.Sprintf(": %d of %d kinds in flower", count, len(species)))
	}
	svg := string(SeasonsSVG(in.Garden, in.Placed).SVG())
	for _, name := range []string{"Spring, Mar to May", "Summer, Jun to Aug", "Autumn, Sep to Nov", "Winter, Dec to Feb"} {
		assert.Equal(t, 1, strings.Count(svg, fmt.Sprintf(">%s<", name)))
	}
}
