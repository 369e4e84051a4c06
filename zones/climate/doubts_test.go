package climate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// Where mountains or a far station are warned of, a station tells less of its neighbour than elsewhere:
// each station against the nearest other by distance and height.
func TestMountainsDiffer(t *testing.T) {
	all, towns := Stations(), places()
	var square, beyond, n [2]float64 // elsewhere, in mountains
	for i := 0; i < len(all); i += testenv.Of(6, 1) {
		s := all[i]
		near, rank := Near{}, math.Inf(1)
		for _, o := range all {
			if o.ID == s.ID || math.Abs(o.LatDeg-s.LatDeg) > 2 || o.warmNights() {
				continue
			}
			if n := o.From(Spot{LatDeg: s.LatDeg, LonDeg: s.LonDeg, ElevationM: s.ElevationM}); n.KM > 1 && n.rank() < rank {
				near, rank = n, n.rank()
			}
		}
		if near.ID == "" || s.warmNights() {
			continue
		}
		k := 0
		if near.far() || near.mountains(all, towns) {
			k = 1
		}
		d := math.Log(near.YearRainMM() / s.YearRainMM())
		n[k]++
		square[k] += d * d
		if math.Abs(d) > math.Log(1.3) {
			beyond[k]++
		}
	}
	for k, where := range []string{"elsewhere", "in mountains"} {
		t.Logf("%s: %.0f stations, root mean square %.2f, over 30 %% off %.2f", where, n[k], math.Sqrt(square[k]/n[k]), beyond[k]/n[k])
	}
	require.Greater(t, n[1], 10.0)
	assert.Greater(t, square[1]/n[1], 2*square[0]/n[0])
	assert.InDelta(t, 0.4, beyond[1]/n[1], 0.1, "as Doubts says")
}
