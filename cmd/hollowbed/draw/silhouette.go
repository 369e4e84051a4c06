package draw

import (
	"cmp"
	"fmt"
	"math"
	"strings"
)

// silhouette draws a plant from the side in a box of w by h mm that stands on
// (x, y) with the middle of its foot.
func (s *svg) silhouette(form string, x, y, w, h float64) {
	line := framed(paper, ink, 0.25) + ` fill-opacity="0.8" stroke-linejoin="round"`
	switch formWord(form) {
	case "grass-like", "climber", "forb":
		line = stroke(ink, 0.25)
	case "fern-like":
		line = stroke(ink, 0.22)
	}
	s.path(figureOf(form, x, y, w, h), line)
}

// Figure is the path of a plant from the side by its growth form, in a box from
// (-50, -100) to (50, 0).
func Figure(form string) string { return figureOf(form, 0, 0, 10, 10) }

// figureOf is the path of a plant in a box of w by h mm above (x, y). Each growth form
// has a figure of its own; the figures are ours.
func figureOf(form string, x, y, w, h float64) string {
	var b strings.Builder
	at := func(cmd string, side, up float64) { // side -1 to 1, up 0 to 1
		b.WriteString(cmd + num(x+side*w/2) + " " + num(y-up*h))
	}
	then := func(side, up float64) { at(" ", side, up) }
	switch form {
	case "grass-like":
		grassPath(at, then)
	case "fern-like":
		fernPath(at, then)
	case "bulb": // two leaves and one stem with a bud
		traced(at, `M-.1,0 Q-.55,.75 -1,.5 Q-.4,.5 0,0 M.1,0 Q.55,.75 1,.5 Q.4,.5 0,0
			M0,0 L0,.72 M0,.72 Q-.42,.85 0,1 Q.42,.85 0,.72`)
	case "groundcover":
		coverPath(at, then)
	case "climber":
		climberPath(at, then)
	case "shrub": // a cloud on three stems
		traced(at, `M-.125,0 L-.25,.3 M0,0 L0,.3 M.125,0 L.25,.3
			M-.6,.22 C-1,.2 -.9936,.6 -.72,.62 C-.8,.95 -.3,1 -.15,.88
			C.1,.9984 .75,.98 .66,.66 C1,.62 1,.22 .6,.22 Q0,.1 -.6,.22`)
	case "small tree", "tree": // a crown on one stem
		traced(at, `M-.06,0 L-.05,.4 L.05,.4 L.06,0
			M-.7,.4 C-1,.42 -1,.75 -.62,.76 C-.6,1 0,1 .05,.92
			C.4,1 .8,.9 .66,.72 C1,.72 1,.42 .7,.4 Q0,.3 -.7,.4`)
	default:
		forbPath(at, then)
	}
	return b.String()
}

// grassPath is a tuft of nine blades.
func grassPath(at func(string, float64, float64), then func(float64, float64)) {
	for i := -4; i <= 4; i++ {
		f := float64(i) / 4
		at("M", f*0.12, 0)
		at("Q", f*0.3, 1-0.35*f*f)
		then(f, 1-0.55*f*f)
	}
}

// fernPath is five fronds with leaflets.
func fernPath(at func(string, float64, float64), then func(float64, float64)) {
	for i := -2; i <= 2; i++ {
		f := float64(i) / 2
		at("M", 0, 0)
		at("Q", f*0.5, 1.0)
		then(f, 0.95-0.45*math.Abs(f))
		for k := 1; k <= 4; k++ {
			t := 0.2 + 0.19*float64(k)
			px, py := 2*(1-t)*t*f*0.5+t*t*f, 2*(1-t)*t+t*t*(0.95-0.45*math.Abs(f))
			r := 0.13 * (1.1 - t)
			at("M", math.Max(-1, px-r), py*0.96)
			at("L", px, math.Min(1, py))
			at("L", math.Min(1, px+r), py*0.96)
		}
	}
}

// traced draws a path that is written as in SVG, in the box from -1,0 to 1,1 with y up.
func traced(at func(string, float64, float64), path string) {
	for _, point := range strings.Fields(path) {
		xy := strings.TrimLeft(point, "MLQC")
		var side, up float64
		if _, err := fmt.Sscanf(xy, "%g,%g", &side, &up); err != nil {
			panic("draw: figure at " + point)
		}
		at(cmp.Or(point[:len(point)-len(xy)], " "), side, up)
	}
}

// coverPath is five low mounds in a row.
func coverPath(at func(string, float64, float64), then func(float64, float64)) {
	at("M", -1, 0)
	for i := range 5 {
		f := -1 + 0.4*float64(i)
		at("C", f, 4./3)
		then(f+0.4, 4./3)
		then(f+0.4, 0)
	}
}

// climberPath is a winding stem with four leaves.
func climberPath(at func(string, float64, float64), then func(float64, float64)) {
	at("M", 0, 0)
	for i := range 4 {
		side := 0.8 - 1.6*float64(i%2)
		at("Q", side, float64(i)/4+0.125)
		then(0, float64(i)/4+0.25)
	}
	for i := range 4 {
		f, side := float64(i)/4+0.125, 0.4-0.8*float64(i%2)
		at("M", side, f)
		at("Q", side*1.6, f+0.09)
		then(side*2.4, f)
		at("Q", side*1.6, f-0.09)
		then(side, f)
	}
}

// forbPath is a fan of five stems, each with a leaf and a round head.
func forbPath(at func(string, float64, float64), then func(float64, float64)) {
	for i := -2; i <= 2; i++ {
		f := float64(i) / 2
		tip := 0.92 - 0.22*f*f
		at("M", f*0.08, 0)
		at("Q", f*0.3, tip*0.7)
		then(f*0.86, tip-0.05)
		at("M", f*0.86-0.1, tip)
		at("Q", f*0.86, tip+0.14*0.55)
		then(f*0.86+0.1, tip)
		at("Q", f*0.86, tip-0.14)
		then(f*0.86-0.1, tip)
		side := 0.22
		if i < 0 {
			side = -0.22
		}
		at("M", f*0.25, tip*0.35)
		at("Q", f*0.25+side*0.4, tip*0.55)
		then(f*0.25+side, tip*0.42)
		at("Q", f*0.25+side*0.5, tip*0.34)
		then(f*0.25, tip*0.35)
	}
}
