package draw

// Profile is the ground along the section, at even steps from its left end.
type Profile struct {
	From, To Point
	GroundMM []float64 // finished ground; of the rim where the line leaves the bed
	Inside   []bool
}

// ProfileOf follows the line of Section in so many steps; false if there is no ground
// inside.
func ProfileOf(b Bed, steps int) (Profile, bool) {
	from, to, ok := cut(b.Outline, b.Height)
	p := Profile{From: from, To: to}
	for i := range steps + 1 {
		t := float64(i) / float64(steps)
		h, in := b.Height(from.X+t*(to.X-from.X), from.Y+t*(to.Y-from.Y))
		if !in {
			h = b.RimMM
		}
		p.GroundMM, p.Inside = append(p.GroundMM, h), append(p.Inside, in)
	}
	return p, ok
}
