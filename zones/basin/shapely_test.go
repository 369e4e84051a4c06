package basin

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/testdata/testenv"
)

// shapelyProgram answers in two ways for each polygon and distance: by
// subtracting every edge's capsule from the polygon, which is the definition of
// the inset, and by the library's own inward offset.
const shapelyProgram = `
import json, sys
from shapely.geometry import Polygon, LineString
from shapely.ops import unary_union
out = []
for q in json.load(sys.stdin):
    p = q["points"]
    g = Polygon(p)
    capsules = [LineString([p[i - 1], p[i]]).buffer(q["d"], resolution=200) for i in range(len(p))]
    out.append([g.difference(unary_union(capsules)).area, g.buffer(-q["d"], resolution=200).area, g.area, g.is_valid])
json.dump(out, sys.stdout)
`

// Second opinion: Shapely (GEOS), Debian package python3-shapely.
func TestInsetAreaAgainstShapely(t *testing.T) {
	second := testenv.Python(t, "shapely")
	type question struct {
		Kind   string       `json:"kind"`
		Points [][2]float64 `json:"points"`
		D      float64      `json:"d"`
	}
	var ask []question
	for _, kind := range []string{"star", "star", "kidney", "L", "U"} {
		for i := range 6 {
			o := rapid.Custom(func(t *rapid.T) Outline { return drawPolygon(t, kind) }).Example(len(ask) + i)
			for _, share := range []float64{0.15, 0.5, 0.8, 0.97} {
				ask = append(ask, question{kind, o.Points, share * o.inradiusM()})
			}
		}
	}
	in, err := json.Marshal(ask)
	require.NoError(t, err)
	python := exec.Command(second, "-c", shapelyProgram)
	python.Stdin = bytes.NewReader(in)
	python.Stderr = os.Stderr
	out, err := python.Output()
	require.NoError(t, err)
	var answers [][4]any
	require.NoError(t, json.Unmarshal(out, &answers))
	require.Len(t, answers, len(ask))
	worst, worstOffset := 0.0, 0.0
	for i, q := range ask {
		o := polygonOf(q.Points...)
		assert.Equal(t, true, answers[i][3], "shapely takes the polygon as valid")
		assert.InEpsilon(t, answers[i][2], o.AreaM2(), 1e-9)
		// Its arcs are polygons of 200 steps to a quarter, inside the true arc,
		// so an arc adds at most d^2 (pi/4)(pi/400)^2/6, and no more than one
		// quarter is seen to a corner.
		allowed := 1e-9*o.AreaM2() + float64(len(q.Points))*8.1e-6*q.D*q.D
		got := o.InsetAreaM2(q.D)
		assert.InDelta(t, answers[i][0], got, allowed, "%s %v d=%v", q.Kind, q.Points, q.D)
		worst = math.Max(worst, math.Abs(answers[i][0].(float64)-got)/o.AreaM2())
		// The library's own offset first thins out the outline by up to a
		// hundredth of d, so it is held to that only.
		var perimeter float64
		for _, e := range newPolygon(q.Points).edges {
			perimeter += e.n
		}
		assert.InDelta(t, answers[i][1], got, 0.01*q.D*perimeter+allowed, "%s %v d=%v", q.Kind, q.Points, q.D)
		worstOffset = math.Max(worstOffset, math.Abs(answers[i][1].(float64)-got)/o.AreaM2())
	}
	t.Logf("%d insets; largest difference as a share of the bed: capsules %.1e, offset %.1e", len(ask), worst, worstOffset)
}
