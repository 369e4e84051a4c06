package zones

import (
	"math"

	"github.com/goccy/go-yaml/ast"
)

func readBed(s *section) Bed {
	defer s.done()
	b := Bed{
		Shape:          s.choice("shape"),
		LengthM:        math.NaN(),
		WidthM:         math.NaN(),
		PondingDepthMM: s.quantity("ponding_depth"),
		SideSlope:      s.slope("side_slope"),
		RimWidthM:      s.quantity("rim_width"),
		FreeboardMM:    s.quantity("freeboard"),
		Kc:             s.number("kc"),
	}
	switch b.Shape {
	case "polygon":
		b.PointsM = s.corners("points", 3, maxBedM)
		for _, key := range []string{"length", "width"} {
			if _, ok := s.node(key); ok {
				s.bad(key, "", "a polygon has points instead; remove this line")
			}
		}
	default:
		b.LengthM = s.quantity("length")
		b.WidthM = s.quantity("width")
		if _, ok := s.node("points"); ok && b.Shape != "" {
			s.bad("points", "", "only a polygon has points: want length and width, or shape: polygon")
		}
	}
	return b
}

// slope reads run to rise.
func (s *section) slope(key string) float64 {
	k := s.key(key)
	text, ok := s.scalar(key, k.want)
	if !ok {
		return s.fallback(key, k, parseSlope)
	}
	v, wrong := parseSlope(text)
	if wrong == "" && (!(v >= k.lo) || !(v <= k.hi)) {
		wrong = "want from " + plain(k.lo) + ":1 (steep) to " + plain(k.hi) + ":1 (gentle)"
	}
	if wrong != "" {
		s.bad(key, text, wrong)
		return math.NaN()
	}
	return v
}

func readTarget(s *section) Target {
	defer s.done()
	return Target{
		Capture:      s.quantity("capture"),
		EventMM:      s.quantity("event"),
		DrainWithinH: s.quantity("drain_within"),
	}
}

// readSun reads one figure for the whole bed, or one for each zone.
func readSun(top *section) Sun {
	n, ok := top.node("sun")
	if _, zones := n.(*ast.MappingNode); !ok || zones {
		s := top.sub("sun")
		defer s.done()
		return Sun{BottomH: s.quantity("bottom"), SlopeH: s.quantity("slope"), RimH: s.quantity("rim")}
	}
	if _, empty := n.(*ast.NullNode); empty {
		return Sun{BottomH: math.NaN(), SlopeH: math.NaN(), RimH: math.NaN()}
	}
	h := top.quantity("sun")
	return Sun{BottomH: h, SlopeH: h, RimH: h}
}
