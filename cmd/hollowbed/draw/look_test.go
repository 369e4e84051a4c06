package draw

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// luminance is the relative luminance of WCAG 2.2, W3C Recommendation of
// 12 December 2024, "relative luminance": 0.2126 R + 0.7152 G + 0.0722 B, each
// from sRGB by c/12.92 up to 0.04045, else ((c + 0.055)/1.055)^2.4.
func luminance(t require.TestingT, colour string) float64 {
	require.Regexp(t, `^#[0-9a-f]{6}$`, colour)
	sum := 0.0
	for i, w := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		require.NoError(t, err)
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += w * c
	}
	return sum
}

// contrast is WCAG's contrast ratio, (L1 + 0.05)/(L2 + 0.05).
func contrast(t require.TestingT, a, b string) float64 {
	la, lb := luminance(t, a), luminance(t, b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

// Black on white is 21:1 by the definition; #767676 on white is the lightest
// grey that passes 4.5, from memory.
func TestContrastFormula(t *testing.T) {
	assert.InDelta(t, 21, contrast(t, "#000000", "#ffffff"), 1e-9)
	assert.GreaterOrEqual(t, contrast(t, "#767676", "#ffffff"), 4.5)
	assert.Less(t, contrast(t, "#777777", "#ffffff"), 4.5)
}

// Every text stands out at 4.5:1 or more (WCAG 2.2, success criterion 1.4.3)
// against paper and against every wash that lies under it: its tone and the
// marks of its pattern.
func TestTextContrast(t *testing.T) {
	for name, svg := range pictures(t) {
		all := read(t, svg)
		patterns := map[string][]string{}
		id := ""
		for _, e := range all {
			if e.name == "pattern" {
				id = e.attr["id"]
			}
			if e.inside("pattern") {
				for _, a := range []string{"fill", "stroke"} {
					if strings.HasPrefix(e.attr[a], "#") {
						patterns[id] = append(patterns[id], e.attr[a])
					}
				}
			}
		}
		texts := 0
		for i, e := range all {
			if e.name != "text" {
				continue
			}
			texts++
			b, ok := e.box(t)
			if !ok {
				continue
			}
			for _, c := range backgrounds(t, all[:i], patterns, b) {
				assert.GreaterOrEqual(t, contrast(t, e.attr["fill"], c), 4.5, "%s: %q in %s over %s", name, e.text, e.attr["fill"], c)
			}
		}
		assert.NotZero(t, texts, name)
	}
}

// backgrounds are the colours that may lie under a box after all elements
// given are painted in turn. One that holds the whole box covers what was
// there, as far as it is opaque; any other adds its colour.
func backgrounds(t *testing.T, painted []*element, patterns map[string][]string, b box) []string {
	under := []string{"#ffffff"}
	for _, e := range painted {
		fill := e.attr["fill"]
		if e.inside("defs") || e.name == "text" || fill == "" || fill == "none" {
			continue
		}
		u, ok := e.box(t)
		if !ok || !u.meets(b) {
			continue
		}
		colours := []string{fill}
		if strings.HasPrefix(fill, "url(#") {
			colours = patterns[fill[5:len(fill)-1]]
			require.NotEmpty(t, colours)
		}
		opacity := 1.0
		if o := e.attr["fill-opacity"]; o != "" {
			var err error
			opacity, err = strconv.ParseFloat(o, 64)
			require.NoError(t, err)
		}
		var now []string
		if e.name != "rect" || !u.holds(b) {
			now = append(now, under...)
		}
		for _, below := range under {
			for _, c := range colours {
				now = append(now, blend(t, below, c, opacity))
			}
		}
		slices.Sort(now)
		under = slices.Compact(now)
	}
	return under
}

// blend lays a colour over another (source over, in sRGB as browsers do).
func blend(t *testing.T, below, above string, opacity float64) string {
	out := "#"
	for i := 1; i < 7; i += 2 {
		a, err := strconv.ParseUint(above[i:i+2], 16, 8)
		require.NoError(t, err)
		b, err := strconv.ParseUint(below[i:i+2], 16, 8)
		require.NoError(t, err)
		out += fmt.Sprintf("%02x", int(math.Round(opacity*float64(a)+(1-opacity)*float64(b))))
	}
	return out
}

// In grey print areas differ by their marks: no two washes of a drawing share
// a pattern, colours left out. One wash of each set may be blank.
func TestPatternsDiffer(t *testing.T) {
	zone := []wash{zoneWash("rim"), zoneWash("slope"), zoneWash("bottom")}
	for _, n := range []string{"keepout", "stones", "wall", "earth", "mix", "season", "water"} {
		zone = append(zone, otherWash(n))
	}
	var bloom []wash
	for _, n := range []string{"white", "cream", "yellow", "orange", "red", "pink", "purple", "lavender", "blue", "green", "brown", "anything else"} {
		bloom = append(bloom, bloomWash(n))
	}
	for _, set := range [][]wash{zone, bloom} {
		seen := map[string]string{}
		names := map[string]bool{}
		for _, w := range set {
			s := &svg{prefix: "p"}
			s.define(w)
			// what is drawn in a tile, whatever its size, width of line or colour
			marks := strings.Join(regexp.MustCompile(` (d|cx)="[^"]*"`).FindAllString(s.defs.String(), -1), "")
			assert.Empty(t, seen[marks], "%s and %s", seen[marks], w.name)
			seen[marks] = w.name
			assert.False(t, names[w.name], w.name)
			names[w.name] = true
			if marks != "" { // a mark has to show on its tone
				assert.NotEqual(t, w.tone, w.mark)
				assert.GreaterOrEqual(t, contrast(t, w.tone, w.mark), 1.25, w.name)
			}
		}
	}
}

// Levels, contours and figures differ by line style, colour left out.
func TestLinesDiffer(t *testing.T) {
	bare := regexp.MustCompile(`stroke="#[0-9a-f]{6}"`)
	seen := map[string]bool{}
	for i := range 4 {
		seen[bare.ReplaceAllString(levelLook(i), "")] = true
	}
	assert.Len(t, seen, 4)
	seen = map[string]bool{}
	for i := range 3 {
		seen[bare.ReplaceAllString(contourLook(i, 3), "")] = true
	}
	assert.Len(t, seen, 3)
	figures := map[string]bool{}
	for _, f := range formOrder() {
		s := &svg{}
		s.silhouette(f, 0, 0, 3, 3)
		figures[s.body.String()] = true
	}
	assert.Len(t, figures, len(formOrder())-1) // small trees and trees look alike
}

// Silhouettes keep to their height and spread: the curves reach the top and at
// least one side, and never leave the box by more than their control points
// may, which is a third.
func TestSilhouettesKeepTheirSize(t *testing.T) {
	for _, f := range formOrder() {
		s := &svg{}
		s.silhouette(f, 50, 40, 20, 30)
		all := read(t, []byte("<svg>"+s.body.String()+"</svg>"))
		b := curveBox(t, all[1].attr["d"])
		assert.InDelta(t, 10, b.y0, 1.6, "%s: height", f)
		assert.InDelta(t, 40, b.y1, 0.5, "%s: foot", f)
		assert.InDelta(t, 20, b.x1-b.x0, 3.5, "%s: spread", f)
		assert.True(t, box{39.9, 9.9, 60.1, 40.1}.holds(b), "%s: %v", f, b)
	}
}

// curveBox walks along the curves of a path.
func curveBox(t require.TestingT, d string) box {
	b := emptyBox()
	var x, y float64
	for _, cmd := range split(d) {
		n := numbers(t, cmd[1:])
		for i := range n {
			n[i] /= 10
		}
		step := map[byte]int{'M': 2, 'L': 2, 'Q': 4, 'C': 6, 'Z': 1}[cmd[0]]
		require.NotZero(t, step, "%q", cmd)
		for ; len(n) >= step; n = n[step:] {
			for k := range 51 {
				u := float64(k) / 50
				v := 1 - u
				switch cmd[0] {
				case 'M', 'L':
					b = b.with(n[0], n[1])
				case 'Q':
					b = b.with(v*v*x+2*v*u*n[0]+u*u*n[2], v*v*y+2*v*u*n[1]+u*u*n[3])
				case 'C':
					b = b.with(v*v*v*x+3*v*v*u*n[0]+3*v*u*u*n[2]+u*u*u*n[4], v*v*v*y+3*v*v*u*n[1]+3*v*u*u*n[3]+u*u*u*n[5])
				}
			}
			x, y = n[step-2], n[step-1]
		}
	}
	return b
}
