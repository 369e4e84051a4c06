package inlet

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestGroundWithinTheBed(t *testing.T) {
	in := demo()
	for station, want := range map[float64]float64{16.5: 1, 17: 0, 17.75: -3, 18.5: -6, 30: -6, 8: 2 + 0.03*8*12, 0: 7.76} {
		assert.InDelta(t, want, in.groundMM(station*footM)/inch, 1e-9, "at %g ft", station)
	}
}
