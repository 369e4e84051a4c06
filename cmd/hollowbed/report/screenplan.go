package report

import (
	"math"

	"hollowbed/cmd/hollowbed/draw"
	"hollowbed/zones"
)

// ScreenPlan is the ground of a bed for drawing: metres in the coordinates of
// the outline, y up the page.
type ScreenPlan struct {
	Outline   [][2]Number    `json:"outline"`
	Box       [4]Number      `json:"box"`
	Bands     []screenBand   `json:"bands"` // from the outside in
	NorthDeg  Number         `json:"north_deg"`
	Inlet     screenFlow     `json:"inlet"`
	Overflow  screenFlow     `json:"overflow"`
	KeepFree  []screenArea   `json:"keep_free"`
	Obstacles []screenArea   `json:"obstacles"`
	Fixed     []screenArea   `json:"fixed"`
	Scale     []screenScale  `json:"scale"`
	Cut       screenCut      `json:"cut"`
	Handles   []ScreenHandle `json:"handles"`
}

// screenCut is the bed cut open along the line of the section, from left to right.
type screenCut struct {
	From   [2]Number `json:"from"`
	To     [2]Number `json:"to"`
	Ground []Number  `json:"ground"` // mm from the spill level, at even steps
	Inside []bool    `json:"inside"`
	MixMM  Number    `json:"mix_mm"`
}

// cutSteps is how finely a cut is followed.
const cutSteps = 160

func newScreenCut(l *zones.Lot, bed draw.Bed) screenCut {
	p, _ := draw.ProfileOf(bed, cutSteps)
	at := func(p draw.Point) [2]Number { return [2]Number{Number(p.X), Number(p.Y)} }
	out := screenCut{From: at(p.From), To: at(p.To), Inside: p.Inside, MixMM: Number(l.Garden.Mix.DepthMM)}
	for _, mm := range p.GroundMM {
		out.Ground = append(out.Ground, Number(math.Round(10*mm)/10))
	}
	return out
}

// screenBand is the ground up to the top of an elevation band: painted in
// order, each over the one before, they give the bed.
type screenBand struct {
	Zone   string        `json:"zone"`
	FootMM Number        `json:"foot_mm"`
	TopMM  Number        `json:"top_mm"`
	Words  string        `json:"words"`
	Rings  [][][2]Number `json:"rings"`
	Band   int           `json:"-"` // index in Exposure.Bands
}

// screenArea is a disc, or a polygon if it has points.
type screenArea struct {
	Name    string      `json:"name"`
	XM      Number      `json:"x_m"`
	YM      Number      `json:"y_m"`
	RadiusM Number      `json:"radius_m"`
	Points  [][2]Number `json:"points,omitempty"`
}

// screenFlow is where water comes or goes, with the direction out of the bed there.
type screenFlow struct {
	screenArea
	Out [2]Number `json:"out"`
}

// screenScale is a length to draw a scale bar of.
type screenScale struct {
	M     Number `json:"m"`
	Words string `json:"words"`
}

// NewScreenPlan draws the ground.
func NewScreenPlan(l *zones.Lot) ScreenPlan {
	u := l.Garden.Units
	bed := drawBed(l)
	x0, y0, x1, y1 := l.Bed.Spec().Outline.Bounds()
	out := ScreenPlan{
		Outline: ring(bed.Outline), Box: [4]Number{Number(x0), Number(y0), Number(x1), Number(y1)}, Bands: screenBands(l, bed),
		NorthDeg: Number(l.Garden.Site.NorthDeg), KeepFree: []screenArea{}, Obstacles: []screenArea{}, Scale: scaleLengths(u), Cut: newScreenCut(l, bed), Handles: NewScreenHandles(l),
	}
	at, layout := l.Places(), l.Garden.Layout
	flow := func(name string, at [2]float64, radiusM float64) screenFlow {
		away := draw.Outward(bed.Outline, point(at))
		return screenFlow{screenArea{Name: name, XM: Number(at[0]), YM: Number(at[1]), RadiusM: Number(radiusM)}, [2]Number{Number(away.X), Number(away.Y)}}
	}
	out.Inlet, out.Overflow = flow(inletName(l), at.Inlet, layout.SplashM), flow("spill", at.Overflow, layout.OverflowFree)
	for _, k := range layout.KeepFree {
		a := screenArea{Name: k.Kind, RadiusM: Number(k.RadiusM)}
		if k.RadiusM > 0 {
			a.XM, a.YM = Number(k.PointsM[0][0]), Number(k.PointsM[0][1])
		} else {
			a.Points = ring(points(k.PointsM))
		}
		out.KeepFree = append(out.KeepFree, a)
	}
	for _, o := range l.Garden.Obstacles {
		d := obstacle(o)
		a := screenArea{Name: d.Name, XM: Number(d.At.X), YM: Number(d.At.Y), RadiusM: Number(d.RadiusM)}
		if len(d.Corners) > 0 {
			a.Points = ring(d.Corners)
		}
		out.Obstacles = append(out.Obstacles, a)
	}
	fixed, names := l.FixedPoints()
	for i := range fixed {
		out.Fixed = append(out.Fixed, screenArea{Name: Plain(names[i]), XM: Number(fixed[i][0]), YM: Number(fixed[i][1])})
	}
	return out
}

// screenBands gives the ground of the bands from the outside in; bands without
// ground are left out.
func screenBands(l *zones.Lot, bed draw.Bed) []screenBand {
	var out []screenBand
	var tops []float64
	bands := l.Bed.Bands()
	for i := len(bands) - 1; i >= 0; i-- {
		b := bands[i]
		if !(b.AreaM2 > 0) {
			continue
		}
		top := b.TopMM
		if b.TopMM <= bed.BottomMM { // the flat bottom: the line where it begins to rise
			top = bed.BottomMM * bottomLine
		}
		tops = append(tops, top)
		out = append(out, screenBand{Zone: b.Zone, FootMM: Number(b.FootMM), TopMM: Number(b.TopMM), Words: heightWords(l.Garden.Units, (b.FootMM+b.TopMM)/2), Band: i})
	}
	for i, rings := range draw.Rings(bed, tops) {
		out[i].Rings = [][][2]Number{}
		for _, r := range rings {
			out[i].Rings = append(out[i].Rings, ring(r))
		}
	}
	return out
}

// bottomLine is the share of the ponding depth at which the line round the flat
// bottom is drawn: a little above it, where the line can be found.
const bottomLine = 0.999

// ring writes points to a tenth of a millimetre.
func ring(points []draw.Point) [][2]Number {
	out := make([][2]Number, len(points))
	for i, p := range points {
		out[i] = [2]Number{Number(math.Round(p.X*1e4) / 1e4), Number(math.Round(p.Y*1e4) / 1e4)}
	}
	return out
}

// scaleLengths are round lengths to draw a scale bar of.
func scaleLengths(u zones.Units) []screenScale {
	metres := []float64{0.5, 1, 2, 5, 10, 20, 50, 100}
	if u != zones.UnitsMetric {
		const mPerFt = 0.3048 // exact
		metres = []float64{mPerFt, 2 * mPerFt, 5 * mPerFt, 10 * mPerFt, 20 * mPerFt, 50 * mPerFt, 100 * mPerFt, 200 * mPerFt}
	}
	var out []screenScale
	for _, m := range metres {
		out = append(out, screenScale{Number(m), u.Length(m)})
	}
	return out
}
