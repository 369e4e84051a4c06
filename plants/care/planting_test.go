package care

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// Months in which nothing new is set, by normals of 1991 to 2020 as remembered,
// rounded (National Weather Service; grass reference by FAO-56): Duluth's hard
// winter, Peoria's hot summer, Seattle's dry one, and a desert that is never wet.
func TestNotPlanted(t *testing.T) {
	months := func(low, mean, rain, et0 [12]float64) (out [13]Monthly) {
		for m := range 12 {
			out[m+1] = Monthly{low[m], mean[m], rain[m] / 30, et0[m] / 30}
		}
		return out
	}
	fit := func(why [13]NoPlanting) (out []time.Month) {
		for m := time.January; m <= time.December; m++ {
			if why[m] == "" {
				out = append(out, m)
			}
		}
		return out
	}
	duluth := NotPlanted(months(
		[12]float64{-17, -15, -8, -1, 5, 10, 13, 12, 8, 2, -5, -13}, [12]float64{-12, -10, -4, 4, 11, 16, 19, 18, 14, 7, -1, -9},
		[12]float64{25, 22, 40, 65, 85, 110, 105, 95, 100, 75, 50, 30}, [12]float64{12, 18, 40, 75, 110, 125, 135, 110, 75, 45, 20, 10}))
	assert.Equal(t, []time.Month{5, 6, 7, 8, 9}, fit(duluth))
	assert.Equal(t, []NoPlanting{frozenGround, lateFrosts, freezesSoon}, []NoPlanting{duluth[1], duluth[4], duluth[10]})
	peoria := NotPlanted(months(
		[12]float64{-8, -6, 0, 5, 11, 17, 19, 18, 13, 6, 1, -5}, [12]float64{-4, -2, 5, 11, 17, 22, 24, 23, 19, 12, 5, -2},
		[12]float64{45, 45, 65, 95, 110, 95, 95, 85, 85, 75, 65, 55}, [12]float64{20, 28, 60, 100, 135, 155, 160, 140, 105, 70, 38, 20}))
	assert.Equal(t, []time.Month{4, 5, 9, 10}, fit(peoria))
	assert.Equal(t, hotMonth, peoria[7])
	seattle := NotPlanted(months(
		[12]float64{3, 3, 4, 6, 9, 12, 14, 14, 12, 8, 5, 3}, [12]float64{6, 6, 8, 11, 14, 16, 19, 19, 17, 12, 8, 5},
		[12]float64{140, 95, 95, 70, 48, 38, 15, 25, 40, 90, 150, 150}, [12]float64{18, 25, 50, 75, 110, 125, 145, 125, 80, 42, 20, 15}))
	assert.Equal(t, []time.Month{1, 2, 3, 4, 9, 10, 11, 12}, fit(seattle), "autumn and the mild winter too, and not right before the drought")
	assert.Equal(t, heatSoon, seattle[5])
	melbourne := NotPlanted(months( // means of the city from memory
		[12]float64{14.3, 14.6, 13.2, 10.8, 8.6, 6.9, 6, 6.7, 8, 9.5, 11.2, 12.9}, [12]float64{20.1, 20.2, 18.5, 15.5, 12.6, 10.5, 9.8, 10.8, 12.6, 14.6, 16.6, 18.5},
		[12]float64{47, 48, 50, 57, 56, 49, 48, 50, 58, 66, 60, 59}, [12]float64{165, 138, 115, 70, 45, 32, 36, 52, 75, 110, 132, 155}))
	assert.Equal(t, []time.Month{3, 4, 5, 6, 7, 8, 9, 10, 11}, fit(melbourne), "the south: not in December, before the heat")
	assert.Equal(t, dryMonth, seattle[7])
	desert := NotPlanted(months(
		[12]float64{8, 9, 12, 15, 20, 25, 29, 28, 25, 18, 12, 8}, [12]float64{14, 16, 19, 23, 28, 33, 35, 34, 31, 25, 18, 13},
		[12]float64{22, 22, 25, 5, 3, 1, 23, 24, 14, 14, 14, 19}, [12]float64{70, 85, 135, 180, 230, 250, 250, 225, 180, 130, 85, 62}))
	assert.Equal(t, []time.Month{1, 11, 12}, fit(desert), "autumn and winter, dry as they are, not right before the dry spring")
	parched := NotPlanted(months(
		[12]float64{14, 15, 18, 21, 25, 28, 30, 30, 27, 23, 18, 15}, [12]float64{19, 21, 24, 28, 32, 35, 36, 36, 33, 29, 24, 20},
		[12]float64{5, 4, 4, 2, 1, 0, 0, 0, 0, 1, 2, 5}, [12]float64{95, 110, 160, 200, 250, 270, 270, 250, 200, 150, 110, 92}))
	assert.Equal(t, []time.Month{1, 12}, fit(parched), "the least dry months where none is fit")

	var frozen [13]Monthly
	for m := range frozen {
		frozen[m] = Monthly{-9, -5, 1, 0.1}
	}
	frozen[7].MeanC = -1
	assert.Equal(t, []time.Month{7}, fit(NotPlanted(frozen)), "an answer even there: the warmest")
}
