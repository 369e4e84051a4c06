package zones

import (
	"math"

	"github.com/goccy/go-yaml/ast"
)

func readBed(s *section) Bed {
	defer s.done()
	b := Bed{
		Shape:          s.choice("shape", required, []string{"rectangle", "oval", "polygon"}),
		LengthM:        math.NaN(),
		WidthM:         math.NaN(),
		PondingDepthMM: s.quantity("ponding_depth", depthMM(), required, 10, 1000),
		SideSlope:      s.slope("side_slope", "3:1", 0.5, 20),
		RimWidthM:      s.quantity("rim_width", lengthM(), "1 ft", 0, 5),
		FreeboardMM:    s.quantity("freeboard", depthMM(), "2 in", 0, 500),
		Kc:             s.number("kc", "the crop coefficient of the planting,", "1.0", 0.1, 1.5),
	}
	switch b.Shape {
	case "polygon":
		b.PointsM = s.corners("points", "want the corners in order, each as - [12 ft, 3 ft 6 in]: how far along and how far across from one fixed spot", 3, maxBedM)
		for _, key := range []string{"length", "width"} {
			if _, ok := s.node(key); ok {
				s.bad(key, "", "a polygon has points instead; remove this line")
			}
		}
	default:
		b.LengthM = s.quantity("length", lengthM(), required, 0.5, maxBedM)
		b.WidthM = s.quantity("width", lengthM(), required, 0.5, maxBedM)
		if _, ok := s.node("points"); ok && b.Shape != "" {
			s.bad("points", "", "only a polygon has points: want length and width, or shape: polygon")
		}
	}
	return b
}

// slope reads run to rise.
func (s *section) slope(key, fallback string, lo, hi float64) float64 {
	const want = "want the slope of the sides, run to rise, such as 3:1"
	text, ok := s.scalar(key, want)
	if !ok {
		return s.fallback(key, want, fallback, func(text string) float64 {
			v, wrong := parseSlope(text)
			if wrong != "" {
				panic("default of " + s.name(key))
			}
			return v
		})
	}
	v, wrong := parseSlope(text)
	if wrong == "" && (!(v >= lo) || !(v <= hi)) {
		wrong = "want from " + plain(lo) + ":1 (steep) to " + plain(hi) + ":1 (gentle)"
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
		Capture:      s.quantity("capture", fraction(), "80 %", 0.01, 1),
		EventMM:      s.quantity("event", depthMM(), optional, 1, 1000),
		DrainWithinH: s.quantity("drain_within", timeH(), "24 h", 1, 14*24),
	}
}

// readSun reads one figure for the whole bed, or one for each zone.
func readSun(top *section) Sun {
	hours := func(s *section, key string) float64 { return s.quantity(key, timeH(), optional, 0, 24) }
	n, ok := top.node("sun")
	if _, zones := n.(*ast.MappingNode); !ok || zones {
		s := top.sub("sun")
		defer s.done()
		return Sun{BottomH: hours(s, "bottom"), SlopeH: hours(s, "slope"), RimH: hours(s, "rim")}
	}
	if _, empty := n.(*ast.NullNode); empty {
		return Sun{BottomH: math.NaN(), SlopeH: math.NaN(), RimH: math.NaN()}
	}
	h := hours(top, "sun")
	return Sun{BottomH: h, SlopeH: h, RimH: h}
}
