package basin

import (
	"encoding/binary"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/zones/table"
)

func TestCheckTellsWhatIsWrong(t *testing.T) {
	p := func(xy ...float64) Outline {
		o := Outline{Kind: "polygon"}
		for i := 0; i < len(xy); i += 2 {
			o.Points = append(o.Points, [2]float64{xy[i], xy[i+1]})
		}
		return o
	}
	for _, c := range []struct {
		o    Outline
		want string // "" if it is fine
	}{
		{Outline{Kind: "rectangle", LengthM: 2, WidthM: 1}, ""},
		{p(0, 0, 2, 0, 2, 2), ""},
		{p(2, 2, 2, 0, 0, 0), ""},
		{p(0, 0, 1, 0, 2, 0, 2, 2), ""}, // a point on a straight side
		{Outline{Kind: "oval", LengthM: 2, WidthM: math.NaN()}, "width: NaN m: want a width above 0"},
		{Outline{Kind: "circle"}, `outline: "circle": want rectangle, oval or polygon`},
		{p(0, 0, 1, 1), "outline: 2 points: want at least 3"},
		{p(0, 0, 2, 0, 0, 0, 2, 2), "outline: points 1 and 3 are the same place: leave one out"},
		{p(0, 0, 2, 0, 2, 2, 0, 0), "outline: points 1 and 4 are the same place: leave one out"},
		{p(0, 0, 2, 2, 2, 0, 0, 2), "outline: the edge from point 1 to 2 meets the edge from point 3 to 4: want edges that do not cross or touch"},
		{p(0, 0, 4, 0, 4, 2, 2, 0, 0, 2), "outline: the edge from point 1 to 2 meets the edge from point 3 to 4: want edges that do not cross or touch\noutline: the edge from point 1 to 2 meets the edge from point 4 to 5: want edges that do not cross or touch"},
		{p(0, 0, 4, 0, 1, 0, 1, 2), "outline: the edge from point 1 to 2 meets the edge from point 2 to 3: want edges that do not cross or touch\noutline: the edge from point 1 to 2 meets the edge from point 3 to 4: want edges that do not cross or touch"},
		{p(0, 0, 1, 0, math.Inf(1), 3), "outline: point 3: (+Inf, 3): want metres within 1,000,000"},
	} {
		err := c.o.Check()
		if c.want == "" {
			assert.NoError(t, err, "%+v", c.o)
			continue
		}
		assert.EqualError(t, err, c.want)
	}
	err := p(0, 0, 1, 1, 2, 2).Check()
	assert.Error(t, err, "three points on one line")
}

// A polygon with very many crossings lists fifty and counts the rest.
func TestCheckCapsItsList(t *testing.T) {
	o := Outline{Kind: "polygon"}
	for i := range 40 {
		o.Points = append(o.Points, [2]float64{float64(i * 17 % 40), float64(i * i % 41)})
	}
	err := o.Check()
	require.ErrorAs(t, err, new(table.Faults))
	lines := strings.Split(err.Error(), "\n")
	require.Len(t, lines, 51)
	assert.Regexp(t, `^and \d+ more$`, lines[50])
}

// An outline keeps its measures when it is cut into more points along its
// sides, turned round, and moved; and scales as lengths do.
func TestInsetDoesNotDependOnHowPointsAreGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawPolygon(t, rapid.SampledFrom([]string{"star", "kidney", "L", "U"}).Draw(t, "kind"))
		r := o.inradiusM()
		d := r * rapid.Float64Range(0, .999).Draw(t, "share")
		want, near := o.InsetAreaM2(d), 1e-9*o.AreaM2()
		parts := rapid.IntRange(2, 4).Draw(t, "parts")
		var cut, back Outline
		cut.Kind, back.Kind = "polygon", "polygon"
		n := len(o.Points)
		for i, a := range o.Points {
			b := o.Points[(i+1)%n]
			for k := range parts {
				f := float64(k) / float64(parts)
				cut.Points = append(cut.Points, [2]float64{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])})
			}
			back.Points = append(back.Points, o.Points[n-1-i])
		}
		assert.InDelta(t, want, cut.InsetAreaM2(d), near)
		assert.InDelta(t, want, back.InsetAreaM2(d), near)
		assert.InDelta(t, r, cut.inradiusM(), 1e-9*r)
		f := rapid.Float64Range(.1, 10).Draw(t, "scale")
		s := o.Scaled(f)
		assert.InDelta(t, want*f*f, s.InsetAreaM2(d*f), near*f*f)
		x0, y0, x1, y1 := o.Bounds()
		sx0, sy0, sx1, sy1 := s.Bounds()
		assert.InDelta(t, (x1-x0)*f, sx1-sx0, 1e-9)
		assert.InDelta(t, (y1-y0)*f, sy1-sy0, 1e-9)
		assert.InDelta(t, x0, sx0, 1e-12)
		assert.InDelta(t, y0, sy0, 1e-12)
	})
}

// No place lies deeper than the inradius, and some place lies as deep. A
// distance changes by no more than the way gone, so that the search passes over
// nothing (Lipschitz bound).
func TestInradiusAgainstSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOutline(t)
		s := o.shape()
		x0, y0, x1, y1 := o.Bounds()
		const n = 20
		best := 0.0
		for i := range n {
			for j := range n {
				best = max(best, s.distanceM(x0+(float64(i)+.5)/n*(x1-x0), y0+(float64(j)+.5)/n*(y1-y0)))
			}
		}
		r := o.inradiusM()
		fine := .005 * r
		best = deepest(s, (x0+x1)/2, (y0+y1)/2, max(x1-x0, y1-y0)/2, best, fine)
		assert.LessOrEqual(t, best, r*(1+1e-9))
		assert.LessOrEqual(t, r, best+fine)
	})
}

// deepest returns the largest distance inward in the square of half side h about
// (x, y), to within fine, or best if that is more.
func deepest(s shape, x, y, h, best, fine float64) float64 {
	d := s.distanceM(x, y)
	best = max(best, d)
	if d+h*math.Sqrt2 <= best+fine {
		return best
	}
	h /= 2
	for _, q := range [][2]float64{{-h, -h}, {-h, h}, {h, -h}, {h, h}} {
		best = deepest(s, x+q[0], y+q[1], h, best, fine)
	}
	return best
}

func FuzzOutline(f *testing.F) {
	seed := func(o Outline) {
		var b []byte
		for _, p := range o.Points {
			b = binary.LittleEndian.AppendUint16(b, uint16(int16(p[0]*1000)))
			b = binary.LittleEndian.AppendUint16(b, uint16(int16(p[1]*1000)))
		}
		f.Add(b)
	}
	seed(kidneyOutline(12))
	seed(polygonOf([2]float64{0, 0}, [2]float64{4, 0}, [2]float64{4, 2}, [2]float64{2, 2}, [2]float64{2, 4}, [2]float64{0, 4}))
	f.Fuzz(func(t *testing.T, b []byte) {
		o := Outline{Kind: "polygon"}
		for ; len(b) >= 4 && len(o.Points) < 40; b = b[4:] {
			o.Points = append(o.Points, [2]float64{
				float64(int16(binary.LittleEndian.Uint16(b))) / 1000, float64(int16(binary.LittleEndian.Uint16(b[2:]))) / 1000})
		}
		if o.Check() != nil {
			return
		}
		// Rounding goes by the size of the whole: a needle 28 m long and a
		// millimetre wide is known to 1e-10 of 28 by 28 m, not of its own area.
		area, r := o.AreaM2(), o.inradiusM()
		x0, y0, x1, y1 := o.Bounds()
		hair := 1e-10 * (math.Pow(x1-x0, 2) + math.Pow(y1-y0, 2))
		if !(r > 0) {
			t.Fatalf("inradius %g of %v", r, o.Points)
		}
		last := area
		for i := 1; i <= 12; i++ {
			a := o.InsetAreaM2(r * float64(i) / 10)
			if !(a <= last+hair) || i > 10 && a > hair {
				t.Fatalf("inset %d/10 of the inradius: %g after %g, of %v", i, a, last, o.Points)
			}
			last = a
		}
	})
}
