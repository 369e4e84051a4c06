package inlet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTakeOff(t *testing.T) {
	pipe, swale, surface := ways(t, demo())
	find := func(w Way, name string) Item {
		for _, i := range w.Items {
			if strings.HasPrefix(i.Name, name) {
				return i
			}
		}
		t.Fatalf("no %s in the %s", name, w.Kind)
		return Item{}
	}
	assert.InDelta(t, 17, find(pipe, "pipe").Net/footM, 0.01)
	assert.InEpsilon(t, find(pipe, "pipe").Net*1.05, find(pipe, "pipe").Order, 1e-12)
	assert.Equal(t, 2.0, find(pipe, "sticks").Order, "17.9 ft from sticks of 10 ft")
	assert.Equal(t, 1.0, find(pipe, "standpipe").Order)
	assert.InDelta(t, 14, find(swale, "liner").Net/sqftM2, 1e-9, "2 ft by 7 ft")
	assert.InDelta(t, 0.762, find(swale, "liner").SizeMM, 1e-12, "30 mil")
	assert.Equal(t, 2.0, find(surface, "strap").Order)
	for _, w := range []Way{pipe, swale, surface} {
		for _, i := range w.Items {
			assert.Equal(t, practice, i.Source)
			assert.GreaterOrEqual(t, i.Order, i.Net)
			assert.Contains(t, []string{"m", "m2", "m3", "pieces"}, i.Unit)
		}
	}
}

// Waste can ask for one stick more: 19.5 ft and 5 % are 20.5 ft.
func TestSticks(t *testing.T) {
	in := demo()
	in.Ground[1].StationM = 18.5 * footM
	pipe, _, _ := ways(t, in)
	assert.Equal(t, 3.0, pipe.Items[1].Order)
}
