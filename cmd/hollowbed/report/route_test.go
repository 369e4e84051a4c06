package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/zones"
	"hollowbed/zones/inlet"
)

// Where no way is taken, or the one taken cannot be, a sound one is drawn before one
// that has something to put right; the heading of any other says so.
func TestRouteDrawnIsSound(t *testing.T) {
	thin := inlet.Way{Kind: inlet.Pipe, Possible: true}
	sound := inlet.Way{Kind: inlet.Swale, Possible: true, Sound: true}
	none := inlet.Way{Kind: inlet.Surface}
	for _, c := range []struct {
		ways  []inlet.Way
		taken *inlet.Way
		at    int
		words string
	}{
		{[]inlet.Way{thin, sound, none}, nil, 1, "A lined swale; no way is taken yet"},
		{[]inlet.Way{thin, sound, none}, &none, 1, "A lined swale; the surface taken is refused"},
		{[]inlet.Way{thin, sound, none}, &sound, 1, "The way in: lined swale"},
		{[]inlet.Way{thin, sound, none}, &thin, 0, "The way in: buried pipe, not before it is put right"},
		{[]inlet.Way{thin, none, none}, nil, 0, "A buried pipe, not before it is put right; no way is taken yet"},
		{[]inlet.Way{none, none, none}, nil, -1, ""},
	} {
		l := &zones.Lot{WayIn: zones.WayIn{Given: true, Plan: inlet.Plan{Ways: c.ways}, Chosen: c.taken}}
		at, words := routeWay(l)
		assert.Equal(t, c.at, at, c.words)
		assert.Equal(t, c.words, words)
	}
}
