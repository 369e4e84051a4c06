package basin

import (
	"fmt"
	"math"

	"hollowbed/zones/table"
)

// Spec is what a bed is made from.
type Spec struct {
	Outline     Outline
	PondingMM   float64 // depth of the bottom below the spill level
	SideRun     float64 // run of the sides per rise: 3 for 3:1; 0 for upright sides
	RimWidthM   float64 // width of the rim; 0 for none
	FreeboardMM float64 // height of the outer edge above the spill level
}

// Basin is a bed whose shape is known and whose level table is made.
type Basin struct {
	spec   Spec
	shape  shape
	bottom float64 // distance inward at which the bottom begins, m
	levels levels
}

// New makes a basin. It returns table.Faults if a figure of the spec cannot be,
// and a *MeetError if the sides meet before the ponding depth is reached, so
// that no bottom is left.
func New(s Spec) (*Basin, error) {
	f := s.faults()
	if err := s.Outline.Check(); err != nil {
		if o, ok := err.(table.Faults); ok {
			f = append(o, f...)
		}
	}
	if len(f) > 0 {
		return nil, f
	}
	b := &Basin{spec: s, shape: s.Outline.shape()}
	b.bottom = s.RimWidthM + s.SideRun*s.PondingMM/1000
	if !(b.shape.insetAreaM2(b.bottom) > 1e-12*b.shape.areaM2()) {
		return nil, s.meet(b.shape.inradiusM())
	}
	b.levels = newLevels(b.pondAreaM2, -s.PondingMM)
	return b, nil
}

func (s Spec) faults() table.Faults {
	var f table.Faults
	want := func(ok bool, name string, v float64, unit, right string) {
		if !ok || math.IsInf(v, 0) {
			f = append(f, table.Fault{Want: fmt.Sprintf("%s: %g%s: want %s", name, v, unit, right)})
		}
	}
	want(s.PondingMM > 0, "ponding depth", s.PondingMM, " mm", "a depth above 0")
	want(s.SideRun >= 0, "side slope", s.SideRun, ":1", "a run per rise of 0 or more")
	want(s.RimWidthM >= 0, "rim width", s.RimWidthM, " m", "a width of 0 or more")
	want(s.FreeboardMM >= 0, "freeboard", s.FreeboardMM, " mm", "a height of 0 or more")
	return f
}

// Spec returns what the basin was made from.
func (b *Basin) Spec() Spec { return b.spec }

// HeightMM is the height of the finished ground at (x, y) relative to the spill
// level, and whether the place lies inside the bed. With d the distance inward
// from the outline:
//
//	rim     d < rim width          freeboard (1 - d / rim width)
//	slope   then                   -1000 (d - rim width) / side run
//	bottom  the rest               -ponding depth
func (b *Basin) HeightMM(x, y float64) (heightMM float64, inside bool) {
	_, heightMM, inside = b.GroundAt(x, y)
	return heightMM, inside
}

// GroundAt is ZoneAt and HeightMM of a place at once.
func (b *Basin) GroundAt(x, y float64) (zone string, heightMM float64, inside bool) {
	d := b.shape.distanceM(x, y)
	if d < 0 {
		return "", 0, false
	}
	return b.zoneAt(d), b.heightAt(d), true
}

func (b *Basin) heightAt(d float64) float64 {
	s := b.spec
	switch {
	case d < s.RimWidthM:
		return s.FreeboardMM * (1 - d/s.RimWidthM)
	case d < b.bottom:
		return -1000 * (d - s.RimWidthM) / s.SideRun
	}
	return -s.PondingMM
}

// pondAreaM2 is the area of the water surface at a level from the bottom to the
// spill level. It leaves out a rim that lies flat at the spill level, so it has
// no step there.
func (b *Basin) pondAreaM2(levelMM float64) float64 {
	return b.shape.insetAreaM2(b.spec.RimWidthM - levelMM/1000*b.spec.SideRun)
}

// inwardM is the distance inward beyond which all ground lies at or below a
// level from the bottom up to the freeboard.
func (b *Basin) inwardM(levelMM float64) float64 {
	s := b.spec
	switch {
	case levelMM >= s.FreeboardMM:
		return 0
	case levelMM >= 0:
		return s.RimWidthM * (1 - levelMM/s.FreeboardMM)
	}
	return s.RimWidthM - levelMM/1000*s.SideRun
}

func (b *Basin) exactAreaM2(levelMM float64) float64 {
	if levelMM < -b.spec.PondingMM {
		return 0
	}
	return b.shape.insetAreaM2(b.inwardM(levelMM))
}
