package search

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The scan finds the same plants and counts the same unknowns as putting every
// condition to every plant, whatever the conditions and their order.
func TestScanIsPlantByPlant(t *testing.T) {
	plants := synthetic(300, 9)
	plants[5].HeightCM, plants[6].WetH, plants[7].SunMinH = math.NaN(), math.NaN(), math.NaN()
	x := open(t, plants, Options{})
	all := strings.Split("sun:6|sun>=6|sun<4|sun:2..5|-sun:6|wet>=48|wet<20|wet>48|-wet:2d|pond>=6in|dry:3wk|cold:-20|height<100|height<=100|height:20..60|"+
		"height=100|-height<50|spread>30|price<=9|price>9|bloom:july|colour:blue,violet|zone:bottom|toxic|-toxic|evergreen|-spreads", "|")
	rapid.Check(t, func(t *rapid.T) {
		line := strings.Join(rapid.SliceOfN(rapid.SampledFrom(all), 0, 5).Draw(t, "conditions"), " ")
		q, err := Parse(line)
		require.NoError(t, err)
		conditions := prepare(q.Conditions)
		want, missing := []match{}, map[Unknown]int{}
		for row := range plants {
			fails, untold := false, make([]int, 0, len(conditions))
			for i, c := range conditions {
				switch c.ask(&plants[row]) {
				case no:
					fails = true
				case unknown:
					untold = append(untold, i)
				}
			}
			if !fails && len(untold) == 0 {
				want = append(want, match{row: int32(row)})
			}
			lacks := map[Unknown]bool{}
			for _, i := range untold {
				lacks[conditions[i].untold(&plants[row])] = true
			}
			for u := range lacks {
				if !fails {
					missing[u]++
				}
			}
		}
		got, untold := x.scan(conditions)
		assert.Equal(t, want, got, line)
		var told []Unknown // each column once, in the order of the conditions
		for _, c := range conditions {
			for _, column := range c.f.Columns {
				u := Unknown{Field: c.f.Name, Column: column}
				if n := missing[u]; n > 0 {
					delete(missing, u)
					u.Plants = n
					told = append(told, u)
				}
			}
		}
		assert.Equal(t, told, untold, line)
	})
}

// Every field answers to its name and to its columns, and reads the number of
// its own column.
func TestEveryFieldIsNamed(t *testing.T) {
	p := samplePlant()
	read := map[string]float64{"wet": 72, "pond": 150, "dry": 14, "cold": -20, "height": 90, "spread": 60, "price": 6.5}
	for _, f := range Fields() {
		for _, word := range append(f.Columns, f.Name, strings.ToUpper(f.Name)) {
			got, ok := fieldNamed(word)
			assert.True(t, ok, word)
			assert.Equal(t, f, got, word)
		}
		if f.kind == number {
			assert.Equal(t, read[f.Name], f.column.of(&p), f.Name)
			delete(read, f.Name)
		}
	}
	assert.Empty(t, read)
}
