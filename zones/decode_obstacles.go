package zones

import (
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"hollowbed/zones/site"
	"hollowbed/zones/table"
)

const maxObstacles = 100

// readObstacles reads what keeps the sun off the bed. latDeg decides the
// season of leaf that a tree has if the file gives none.
func readObstacles(top *section, latDeg float64) []site.Obstacle {
	var out []site.Obstacle
	entries := top.sections("obstacles")
	if len(entries) > maxObstacles {
		top.bad("obstacles", strconv.Itoa(len(entries))+" of them", "want at most "+strconv.Itoa(maxObstacles))
		return nil
	}
	for _, e := range entries {
		if o, ok := readObstacle(e, latDeg); ok {
			out = append(out, o)
		}
	}
	return out
}

// readObstacle reads one entry; not ok if it has a fault.
func readObstacle(s *section, latDeg float64) (site.Obstacle, bool) {
	before := len(s.d.faults)
	o := site.Obstacle{Kind: s.kind(site.Wall, site.Fence, site.House, site.Tree)}
	switch o.Kind {
	case site.Wall, site.Fence:
		o.PointsM = s.corners(o.Kind, 2, maxAwayM)
		if o.Kind == site.Fence {
			o.Light = s.quantity("light")
		}
	case site.House:
		o.PointsM = s.corners(o.Kind, 3, maxAwayM)
	case site.Tree:
		s.tree(&o, latDeg)
	}
	if o.Kind != "" && o.Kind != site.Tree {
		o.HeightM = s.quantity("height")
		if _, given := s.node("light"); given && o.Kind != site.Fence {
			s.bad("light", "", "only a fence lets light through: remove this, or make it a fence")
		}
	}
	if o.Kind != "" || len(s.d.faults) == before {
		s.done()
	}
	return o, len(s.d.faults) == before
}

// kind finds which of the kinds an entry is, "" with a fault if it is none or several.
func (s *section) kind(kinds ...string) string {
	found := ""
	for _, k := range kinds {
		if !s.has(k) {
			continue
		}
		if found != "" {
			s.asked = append(s.asked, found, k)
			s.bad(k, "", "want one thing in each entry: this one has "+found+" and "+k)
			return ""
		}
		found = k
	}
	if found != "" {
		return found
	}
	want := "want one of: " + strings.Join(kinds, ", ") + ", with where it stands"
	for _, k := range s.keys {
		if near := table.Nearest(k.GetToken().Value, kinds); near != "" {
			s.d.faultAt(k, s.name(k.GetToken().Value), "", "not one of: "+strings.Join(kinds, ", ")+"; did you mean "+near+"?")
			return ""
		}
	}
	s.d.fault(s.line, s.col, s.path, "", want)
	return ""
}

// tree reads the crown of a tree and its season of leaf.
func (s *section) tree(o *site.Obstacle, latDeg float64) {
	if n, ok := s.node(site.Tree); ok {
		if p, ok := s.d.pair(s.name(site.Tree), n, s.key(site.Tree).want, maxAwayM); ok {
			o.PointsM = [][2]float64{p}
		}
	}
	o.CrownM = s.quantity("crown")
	o.BaseM = s.quantity("base")
	o.HeightM = s.quantity("top")
	if o.BaseM >= o.HeightM {
		s.bad("base", s.d.units.Length(o.BaseM), "want the base of the crown below its top")
	}
	o.LeafFrom, o.LeafTo = s.leaf("leaf", latDeg)
	o.LightInLeaf = s.quantity("light_in_leaf")
	o.LightBare = s.quantity("light_bare")
}

// leaf reads from which month to which a tree is in leaf, or "all year"; left out April
// to October, in the south October to April (common practice, no source).
func (s *section) leaf(key string, latDeg float64) (from, to int) {
	n, ok := s.node(key)
	if !ok {
		from, to = 4, 10
		text := "April to October"
		if latDeg < 0 {
			from, to, text = 10, 4, "October to April"
		}
		s.d.assumed = append(s.d.assumed, s.name(key)+": "+text)
		return from, to
	}
	const want = "want {from: April, to: October}, or all year"
	if _, mapping := n.(*ast.MappingNode); !mapping {
		if !strings.EqualFold(strings.Join(strings.Fields(raw(n)), " "), "all year") {
			s.bad(key, raw(n), want)
		}
		return 1, 12
	}
	m := s.sub(key)
	defer m.done()
	for _, end := range []string{"from", "to"} {
		if !m.has(end) {
			m.missing(end, want)
		}
	}
	return m.month("from"), m.month("to")
}

// corners reads a list of at least so many pairs of lengths within reach of the origin.
func (s *section) corners(key string, least int, reach float64) [][2]float64 {
	want := s.key(key).want
	if !s.has(key) {
		s.missing(key, want)
	}
	nodes, _ := s.items(key, want)
	if s.has(key) && len(nodes) > 0 && len(nodes) < least {
		s.bad(key, "", "want at least "+strconv.Itoa(least)+" corners")
	}
	if len(nodes) > 500 {
		s.bad(key, "", "want at most 500 corners")
		return nil
	}
	if n, ok := s.entries[key].(*ast.SequenceNode); ok && len(n.Values) == 0 {
		s.bad(key, "", want)
	}
	var out [][2]float64
	for i, n := range nodes {
		name := s.name(key) + "[" + strconv.Itoa(i+1) + "]"
		line, col := position(n)
		s.d.at[name] = [2]int{line, col}
		if p, ok := s.d.pair(name, n, want, reach); ok {
			out = append(out, p)
		}
	}
	return out
}

// pair reads two lengths, each of which may be below zero.
func (d *decoder) pair(name string, n ast.Node, want string, reach float64) ([2]float64, bool) {
	var p [2]float64
	two, ok := n.(*ast.SequenceNode)
	if !ok || len(two.Values) != 2 {
		d.faultAt(n, name, raw(n), want)
		return p, false
	}
	q := lengthM()
	q.signed = true
	for j, v := range two.Values {
		p[j] = d.figure(name, v, q, q.wanted(), -reach, reach)
	}
	return p, true
}
