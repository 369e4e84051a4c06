package draw

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"
)

// element is one element of a picture as a reader of XML sees it.
type element struct {
	name string
	attr map[string]string
	text string
	in   []string // names of the elements around it
}

// read parses a picture; it fails on anything that is not well-formed.
func read(t require.TestingT, svg []byte) []*element {
	var out, open []*element
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		switch x := token.(type) {
		case xml.StartElement:
			e := &element{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			for _, o := range open {
				e.in = append(e.in, o.name)
			}
			out, open = append(out, e), append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text += string(x)
			}
		}
	}
	require.Empty(t, open)
	require.Equal(t, "svg", out[0].name)
	return out
}

func (e *element) inside(name string) bool {
	for _, n := range e.in {
		if n == name {
			return true
		}
	}
	return false
}

// mm is a number of the picture in mm on paper.
func (e *element) mm(t require.TestingT, name string) float64 {
	if e.attr[name] == "" {
		return 0
	}
	v, err := strconv.ParseFloat(e.attr[name], 64)
	require.NoError(t, err, "%s of %s", name, e.name)
	return v / 10
}

// box is what an element covers, from its numbers alone; text as wide as in
// the widest font. False: it covers nothing.
func (e *element) box(t require.TestingT) (box, bool) {
	switch e.name {
	case "rect":
		x, y := e.mm(t, "x"), e.mm(t, "y")
		return box{x, y, x + e.mm(t, "width"), y + e.mm(t, "height")}, true
	case "circle":
		x, y, r := e.mm(t, "cx"), e.mm(t, "cy"), e.mm(t, "r")
		return box{x - r, y - r, x + r, y + r}, true
	case "line":
		return emptyBox().with(e.mm(t, "x1"), e.mm(t, "y1")).with(e.mm(t, "x2"), e.mm(t, "y2")), true
	case "path":
		return pathBox(t, e.attr["d"]), true
	case "text":
		l := lettering{size: e.mm(t, "font-size"), anchor: e.attr["text-anchor"], bold: e.attr["font-weight"] != "", title: e.attr["font-style"] != ""}
		return l.box(e.mm(t, "x"), e.mm(t, "y"), e.text), strings.TrimSpace(e.text) != ""
	}
	return box{}, false
}

// pathBox holds every point of a path, controls of curves included.
func pathBox(t require.TestingT, d string) box {
	b := emptyBox()
	var x, y float64
	for _, cmd := range split(d) {
		n := numbers(t, cmd[1:])
		switch cmd[0] {
		case 'M', 'L', 'Q', 'C':
			for i := 0; i+1 < len(n); i += 2 {
				x, y = n[i]/10, n[i+1]/10
				b = b.with(x, y)
			}
		case 'H':
			x = n[0] / 10
			b = b.with(x, y)
		case 'V':
			y = n[0] / 10
			b = b.with(x, y)
		case 'A': // small bulges, less than their radius beyond their ends
			x, y = n[5]/10, n[6]/10
			b = b.with(x, y)
		case 'Z':
		default:
			require.Fail(t, "command of a path", "%q", cmd)
		}
	}
	return b
}

func split(d string) []string {
	var out []string
	for _, r := range d {
		if r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' {
			out = append(out, "")
		}
		out[len(out)-1] += string(r)
	}
	return out
}

func numbers(t require.TestingT, s string) []float64 {
	var out []float64
	for _, f := range strings.Fields(s) {
		v, err := strconv.ParseFloat(f, 64)
		require.NoError(t, err)
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0))
		out = append(out, v)
	}
	return out
}
