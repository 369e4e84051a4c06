package draw

import (
	"fmt"
	"math"
	"strings"

	"github.com/stretchr/testify/require"

	"hollowbed/zones/basin"
)

// Beds and plants of the tests are invented, like the town of Quillmere.

func us() Units {
	return Units{
		Length: func(m float64) string {
			in := math.Round(m / 0.0254)
			if in < 24 {
				return fmt.Sprintf("%g in", in)
			}
			return fmt.Sprintf("%g ft %g in", math.Floor(in/12), math.Mod(in, 12))
		},
		Depth: func(mm float64) string { return fmt.Sprintf("%g in", math.Round(mm/25.4*10)/10) },
	}
}

func metric() Units { return Units{Metric: true} }

// bedOf is a bed with the heights of package basin.
func bedOf(t require.TestingT, o basin.Outline) Bed {
	spec := basin.Spec{Outline: o, PondingMM: 150, SideRun: 3, RimWidthM: 0.3, FreeboardMM: 50}
	b, err := basin.New(spec)
	require.NoError(t, err)
	var line []Point
	switch o.Kind {
	case "rectangle":
		line = Rectangle(o.LengthM, o.WidthM)
	case "oval":
		line = Oval(o.LengthM, o.WidthM)
	default:
		for _, p := range o.Points {
			line = append(line, Point{p[0], p[1]})
		}
	}
	return Bed{Outline: line, Height: b.HeightMM, BottomMM: -150, RimMM: 50}
}

func lShape() basin.Outline {
	return basin.Outline{Kind: "polygon", Points: [][2]float64{{0, 0}, {9, 0}, {9, 3.2}, {3.4, 3.2}, {3.4, 7}, {0, 7}}}
}

// kidney is a bent oval: r(a) = 2 + 0.5 cos 2a - 0.75 sin a, stretched along x.
func kidney() basin.Outline {
	o := basin.Outline{Kind: "polygon"}
	for i := range 72 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 72)
		r := 2 + 0.5*(c*c-s*s) - 0.75*s
		o.Points = append(o.Points, [2]float64{4 + 1.5*r*c, 3 + r*s})
	}
	return o
}

// species makes kinds that cycle through all growth forms.
func species(n int, spreadM float64) []Species {
	forms := formOrder()[:7] // trees have a scene of their own
	names := []string{"Low Brindlewisp", "Quillmere Tarrow", "Lesser Mossbell", "Copper Fennick", "Wend Sallow-rush", "Tall Oskerel", "Candle Dapplewort", "Hook-leaved Marl", "Night Pellin"}
	heights := []float64{0.6, 0.9, 0.5, 0.7, 0.2, 1.4, 1.1}
	var out []Species
	for i := range n {
		name := names[i%len(names)]
		if i >= len(names) {
			name += fmt.Sprintf(" from bank %d", i/len(names)+1)
		}
		key := fmt.Sprintf("%c%c", 'A'+i%26, 'A'+(i*7+i/26)%26)
		out = append(out, Species{Key: key, Name: name, Form: forms[i%len(forms)], SpreadM: spreadM * (0.8 + 0.1*float64(i%4)), HeightM: heights[i%len(heights)]})
	}
	return out
}

// planted sets n plants on a triangular lattice inside the bed, kind by kind,
// so that neighbours mostly are of one kind.
func planted(b Bed, sp []Species, n int, spreadM float64) []Plant {
	box := bounds(b.Outline)
	var spots []Point
	for row, y := 0, box.y0+spreadM; y < box.y1; row, y = row+1, y+spreadM*0.87 {
		for x := box.x0 + spreadM*(0.5+0.5*float64(row%2)); x < box.x1; x += spreadM {
			if _, in := b.Height(x, y); in && edgeDistance(b.Outline, Point{x, y}) > spreadM*0.55 {
				spots = append(spots, Point{x, y})
			}
		}
	}
	n = min(n, len(spots))
	var out []Plant
	for i := range n {
		s := i * len(sp) / n
		out = append(out, Plant{Species: s, Stake: fmt.Sprintf("%s%d", sp[s].Key, i%40+1), At: spots[i*len(spots)/n]})
	}
	return out
}

// scene is a plan with everything in it.
func scene(t require.TestingT, o basin.Outline, u Units, kinds, n int, spreadM float64) PlanIn {
	bed := bedOf(t, o)
	b := bounds(bed.Outline)
	w, h := b.x1-b.x0, b.y1-b.y0
	sp := species(kinds, spreadM)
	in := PlanIn{
		Sheet:     Sheet{Title: "Quillmere, bed by the porch", Units: u},
		Bed:       bed,
		Species:   sp,
		Plants:    planted(bed, sp, n, spreadM),
		Inlet:     &Inlet{At: Point{b.x0 + 0.5*w, b.y1 - 0.25}, Flow: Point{0.2, -1}, SplashM: 0.45, Name: "buried pipe from the downspout"},
		Overflow:  &Overflow{At: Point{b.x1 - 0.03*w, b.y0 + 0.45*h}, Name: "stone-lined spillway"},
		KeepOuts:  []Area{{Name: "bench", Corners: []Point{{b.x0 + 0.6*w, b.y0 + 0.1*h}, {b.x0 + 0.6*w + 1.2, b.y0 + 0.1*h}, {b.x0 + 0.6*w + 1.2, b.y0 + 0.1*h + 0.45}, {b.x0 + 0.6*w, b.y0 + 0.1*h + 0.45}}}, {Name: "boulder", At: Point{b.x0 + 0.25*w, b.y0 + 0.6*h}, RadiusM: 0.35}},
		Obstacles: []Obstacle{{Kind: "house", Area: Area{Name: "house", Corners: []Point{{b.x0 - 4, b.y1 + 1.4}, {b.x1 + 1, b.y1 + 1.4}, {b.x1 + 1, b.y1 + 6}, {b.x0 - 4, b.y1 + 6}}}}, {Kind: "crown", Area: Area{Name: "old pear tree", At: Point{b.x1 + 1.2, b.y0}, RadiusM: 1.7}}},
		NorthDeg:  -25,
		A:         &Mark{Point{b.x0, b.y1 + 1.4}, "peg at the downspout"},
		B:         &Mark{Point{b.x1 + 1, b.y1 + 1.4}, "corner of the house"},
		Cut:       true,
	}
	var clear []Plant
	for _, p := range in.Plants {
		r := sp[p.Species].SpreadM / 2
		bench := in.KeepOuts[0].Corners
		if dist(p.At, in.Inlet.At) > r+0.45 && dist(p.At, in.KeepOuts[1].At) > r+0.35 && edgeDistance(bench, p.At) > r && !inPolygon(bench, p.At) {
			clear = append(clear, p)
		}
	}
	in.Plants = clear
	return in
}

// plans are the plans of the golden files.
func plans(t require.TestingT) map[string]PlanIn {
	empty := scene(t, basin.Outline{Kind: "rectangle", LengthM: 6, WidthM: 4}, metric(), 3, 3, 0.5)
	empty.Plants, empty.Title, empty.A, empty.B = nil, "", nil, nil
	long := scene(t, basin.Outline{Kind: "oval", LengthM: 6, WidthM: 4.2}, us(), 7, 14, 0.6)
	for i := range long.Species {
		long.Species[i].Name += ", the one with the very long name that the grower along the upper Wend insists upon writing out in full on each label"
	}
	far := scene(t, basin.Outline{Kind: "oval", LengthM: 5, WidthM: 3.6}, metric(), 1, 3, 0.7)
	far.A.At, far.B.At = Point{-14, 9}, Point{19, 11}
	moving := scene(t, basin.Outline{Kind: "oval", LengthM: 6, WidthM: 4.2}, us(), 8, 40, 0.55)
	a, b, c, e := moving.Plants[2], moving.Plants[25], moving.Plants[11], moving.Plants[30]
	moving.Moves = []Move{
		{From: a.At, To: b.At, Words: "1"}, {From: b.At, To: a.At, Words: "1"}, // a swap
		{From: c.At, To: Point{c.At.X + 0.7, c.At.Y + 0.3}, Words: "2"}, {From: e.At, GiveUp: true, Words: "3"},
	}
	return map[string]PlanIn{
		"plan-moves":         moving,
		"plan-oval-40":       scene(t, basin.Outline{Kind: "oval", LengthM: 6, WidthM: 4.2}, us(), 8, 40, 0.55),
		"plan-rectangle-3":   scene(t, basin.Outline{Kind: "rectangle", LengthM: 5, WidthM: 3}, metric(), 3, 3, 0.6),
		"plan-kidney-300":    scene(t, kidney(), us(), 18, 300, 0.3),
		"plan-l-120":         scene(t, lShape(), metric(), 9, 120, 0.45),
		"plan-empty":         empty,
		"plan-long-names":    long,
		"plan-far-marks":     far,
		"plan-rectangle-300": scene(t, basin.Outline{Kind: "rectangle", LengthM: 12, WidthM: 5}, metric(), 24, 300, 0.4),
	}
}

// section cuts a plan's bed, on ground that falls gently along x.
func section(p PlanIn) SectionIn {
	return SectionIn{
		Sheet: p.Sheet, Bed: p.Bed, Species: p.Species, Plants: p.Plants, MixDepthMM: 450,
		OldGround: func(x, _ float64) float64 { return 30 - 8*x },
		Levels:    []WaterLevel{{"spill level", 0}, {"one year in ten", -35}, {"typical storm", -104}},
	}
}

// forms is a section in which one plant of each form stands.
func forms(t require.TestingT) SectionIn {
	bed := bedOf(t, basin.Outline{Kind: "rectangle", LengthM: 12, WidthM: 4})
	in := section(PlanIn{Bed: bed, Sheet: Sheet{Units: metric()}})
	at := 0.5
	for i, f := range formOrder() {
		size := []struct{ high, wide float64 }{{0.7, 0.5}, {1, 0.7}, {0.6, 0.7}, {0.6, 0.4}, {0.2, 0.6}, {1.4, 0.6}, {1.3, 1.4}, {3.2, 2.2}, {4, 3}}[i]
		at += size.wide / 2
		in.Species = append(in.Species, Species{Key: string(rune('A' + i)), Name: "Invented " + f, Form: f, SpreadM: size.wide, HeightM: size.high})
		in.Plants = append(in.Plants, Plant{Species: i, At: Point{at, 2}})
		at += size.wide/2 + 0.1
	}
	return in
}

func sections(t require.TestingT) map[string]SectionIn {
	out := map[string]SectionIn{}
	for from, to := range map[string]string{"plan-oval-40": "section-oval-40", "plan-l-120": "section-l-120", "plan-empty": "section-empty", "plan-long-names": "section-long-names", "plan-kidney-300": "section-kidney-300"} {
		out[to] = section(plans(t)[from])
	}
	bare := out["section-empty"]
	bare.OldGround, bare.MixDepthMM, bare.Levels = nil, 0, []WaterLevel{{"spill level", 0}, {"one year in ten", math.NaN()}}
	out["section-empty"] = bare
	out["section-forms"] = forms(t)
	return out
}

func blooms() map[string]BloomIn {
	in := BloomIn{Sheet: Sheet{Title: "Bloom in the porch bed"}, WantedFrom: 4, WantedTo: 10, Blooms: []Bloom{
		{"Low Brindlewisp", 5, 7, []string{"blue"}, 12}, {"Marsh Brindlewisp", 6, 8, []string{"blue", "white"}, 7},
		{"Quillmere Tarrow", 7, 8, []string{"yellow"}, 5}, {"Copper Fennick", 7, 9, []string{"orange", "red", "yellow"}, 5},
		{"Lesser Mossbell", 0, 0, nil, 9}, {"Wend Sallow-rush", 5, 6, []string{"green"}, 14}, {"Tall Oskerel", 8, 9, []string{"purple"}, 3},
		{"Candle Dapplewort", 6, 6, []string{"pink"}, 6}, {"Night Pellin", 11, 2, []string{"cream"}, 2}, {"Hook-leaved Marl", 8, 8, []string{"lavender"}, 4},
		{"Grey Sedgewick", 9, 9, []string{"brown"}, 4}, {"Storm Lantern", 4, 5, []string{"glowing"}, 1},
	}}
	gap := in
	gap.Title, gap.FirstMonth, gap.WantedFrom, gap.WantedTo = "", 7, 9, 4
	gap.Blooms = append([]Bloom{}, in.Blooms[8:11]...)
	gap.Blooms[0].Name = strings.Repeat("A very long name indeed ", 6)
	return map[string]BloomIn{"bloom-porch": in, "bloom-south": gap, "bloom-empty": {}}
}

// inPolygon counts crossings of a ray to the right (even-odd rule).
func inPolygon(poly []Point, p Point) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}
