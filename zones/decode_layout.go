package zones

import (
	"math"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// Layout is where water comes and goes, what ground is kept free, and how plants are set
// out, m as in the outline. For defaults see Lot.Places.
type Layout struct {
	InletM       [2]float64 // where water enters; NaN: the middle of the left side
	SplashM      float64    // radius of the stones round it
	OverflowM    [2]float64 // where it leaves; NaN: the middle of the right side
	OverflowFree float64    // radius kept free of plants round it, m
	KeepFree     []KeepFree
	View         string     // "all round", a side ("left", "right", "front", "back") or "point"
	ViewM        [2]float64 // for "point"
	Overlap      float64    // share by which mature spreads may overlap
	MarginM      float64    // kept free along the outer edge
	FixedM       [2][2]float64
	FixedNames   [2]string // of the two fixed points to measure from; "" if not given
}

// KeepFree is ground without plants: a polygon, or a disc if RadiusM is above 0.
type KeepFree struct {
	Kind    string // "bench", "boulder", "path" or "other"
	PointsM [][2]float64
	RadiusM float64
}

// views lists the sides a bed can be seen from, beside a point.
func views() []string { return []string{"all round", "left", "right", "front", "back"} }

// keepFreeKinds lists what ground can be kept free for.
func keepFreeKinds() []string { return []string{"bench", "boulder", "path", "other"} }

func readLayout(s *section) Layout {
	defer s.done()
	l := Layout{
		InletM: s.place("inlet"), OverflowM: s.place("overflow"),
		SplashM:      s.quantity("splash"),
		OverflowFree: s.quantity("overflow_free"),
		Overlap:      s.quantity("overlap"),
		MarginM:      s.quantity("margin"),
	}
	for _, e := range s.sections("keep_free") {
		if k, ok := readKeepFree(e); ok {
			l.KeepFree = append(l.KeepFree, k)
		}
	}
	l.View, l.ViewM = s.view("view_from")
	if f := s.sub("fixed_points"); s.has("fixed_points") {
		want := s.key("fixed_points").want
		if len(f.keys) != 2 {
			s.bad("fixed_points", "", want)
		}
		for i, k := range f.keys[:min(2, len(f.keys))] {
			name := k.GetToken().Value
			l.FixedNames[i] = printable(name)
			l.FixedM[i] = f.placeWanted(name, want)
		}
		f.asked = nil
		for _, k := range f.keys {
			f.asked = append(f.asked, k.GetToken().Value)
		}
	}
	return l
}

// place reads a pair of lengths; NaN if the file leaves it out.
func (s *section) place(key string) [2]float64 { return s.placeWanted(key, s.key(key).want) }

func (s *section) placeWanted(key, want string) [2]float64 {
	unknown := [2]float64{math.NaN(), math.NaN()}
	n, ok := s.node(key)
	if !ok {
		return unknown
	}
	if p, ok := s.d.pair(s.name(key), n, want, maxAwayM); ok {
		return p
	}
	return unknown
}

// view reads a side, or a point.
func (s *section) view(key string) (string, [2]float64) {
	n, ok := s.node(key)
	if !ok {
		return "all round", [2]float64{}
	}
	if _, list := n.(*ast.SequenceNode); list {
		return "point", s.placeWanted(key, "want where you look from, such as [10 ft, -12 ft]")
	}
	if text := strings.Join(strings.Fields(raw(n)), " "); slices.Contains(views(), text) {
		return text, [2]float64{}
	}
	s.bad(key, raw(n), "want one of: "+strings.Join(views(), ", ")+"; or a place such as [10 ft, -12 ft]")
	return "all round", [2]float64{}
}

// readKeepFree reads one piece of ground; not ok if it has a fault.
func readKeepFree(s *section) (KeepFree, bool) {
	before := len(s.d.faults)
	k := KeepFree{Kind: s.kind(keepFreeKinds()...)}
	if k.Kind == "" {
		return k, false
	}
	defer s.done()
	if s.has("radius") {
		k.RadiusM = s.quantity("radius")
		p := s.placeWanted(k.Kind, "want the middle of the round, such as [5 ft, 6 ft]")
		k.PointsM = [][2]float64{p}
	} else {
		k.PointsM = s.corners(k.Kind, 3, maxAwayM)
	}
	return k, len(s.d.faults) == before
}
