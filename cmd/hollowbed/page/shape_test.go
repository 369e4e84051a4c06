package page_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type shaped struct {
	Words   string
	Doubts  []string
	Outline [][2]float64
}

// A handle says what the bed would be, warns of what comes to lie on the wrong side of
// the edge, and changes that key of the garden file alone. 20 ft are 6.096 m.
func TestShape(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	first := w.placed()
	for _, c := range []struct {
		handle string
		x, y   float64
		words  string
		doubt  string
	}{
		{"length", 6.096 + 0.9144, 1, "bed 23 ft long", "spill inside the pond"},
		{"width", 1, 4.5, "bed 14 ft 9 in wide", ""},
		{"corner", 6.4, 4.5, "bed 21 ft by 14 ft 9 in", ""},
		{"inlet", -1, 2.1336, "Inlet: -3 ft 3 in along, 7 ft across", "inlet 3 ft 3 in outside the bed"},
		{"spill", 3, 2, "Spill: 9 ft 10 in along", "spill inside the pond"},
		{"kept 1", 9, 9, "Boulder: 29 ft 6 in along", "outside the bed"},
		{"width", 1, 0.7, "Not like this", "meet"},
	} {
		got := post[shaped](w, "/api/shape", changes{"handle": c.handle, "x_m": c.x, "y_m": c.y})
		assert.Contains(t, got.Words, c.words, c.handle)
		if c.doubt == "" {
			assert.Empty(t, got.Doubts, c.handle)
		} else {
			require.NotEmpty(t, got.Doubts, c.handle)
			assert.Contains(t, got.Doubts[0], c.doubt, c.handle)
		}
		assert.Len(t, got.Outline, 180, c.handle)
	}
	assert.Equal(t, first.Version, get[shown](w, "/api/state").Version, "to ask changes nothing")
	s := post[shown](w, "/api/shape", changes{"handle": "length", "x_m": 6.4, "y_m": 1, "keep": true, "version": first.Version})
	assert.Equal(t, "21 ft", s.field("bed.length"))
	assert.Equal(t, first.field("bed.width"), s.field("bed.width"))
	assert.Equal(t, "length back to its place", s.Undo)
	w.refused(http.StatusConflict, "/api/shape", changes{"handle": "length", "x_m": 7, "y_m": 1, "keep": true, "version": first.Version})
	w.refused(http.StatusBadRequest, "/api/shape", changes{"handle": "lengths", "x_m": 7, "y_m": 1})
	w.refused(http.StatusBadRequest, "/api/shape", changes{"handle": "length", "x_m": 1e9, "y_m": 1})
	kept := post[shown](w, "/api/shape", changes{"handle": "kept 1", "x_m": 3, "y_m": 2, "keep": true, "version": s.Version})
	assert.Greater(t, kept.Version, s.Version)
	assert.Empty(t, kept.Faults)
}

// A polygon begins as the shape there was, and goes back to its length and width.
func TestPolygonBegins(t *testing.T) {
	t.Parallel()
	w := call(t, smallGarden(t))
	s := w.placed()
	poly := w.try(s.Version, map[string]string{"bed.shape": "polygon"})
	assert.Empty(t, poly.Faults)
	assert.Contains(t, poly.field("bed.points"), "20 ft, 7 ft; ")
	assert.Empty(t, poly.field("bed.length"))
	moved := post[shown](w, "/api/shape", changes{"handle": "corner 1", "x_m": 6.6, "y_m": 2.1336, "keep": true, "version": poly.Version})
	assert.Contains(t, moved.field("bed.points"), "21 ft 8 in, 7 ft; ")
	back := w.try(moved.Version, map[string]string{"bed.shape": "rectangle"})
	assert.Empty(t, back.Faults)
	assert.Equal(t, "21 ft 8 in", back.field("bed.length"))
	assert.Equal(t, "14 ft", back.field("bed.width"))
	assert.Empty(t, back.field("bed.points"))
}
