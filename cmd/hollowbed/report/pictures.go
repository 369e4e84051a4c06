package report

import (
	"crypto/sha256"
	"fmt"
	"io"
	"slices"
	"strconv"

	"hollowbed/cmd/hollowbed/draw"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/zones"
	"hollowbed/zones/inlet"
	"hollowbed/zones/site"
)

// Drawing is draw.Drawing, for who may not import that.
type Drawing = draw.Drawing

// sheet is what every picture of a garden has.
func sheet(g Garden, prefix, title string) draw.Sheet {
	return draw.Sheet{
		Prefix: prefix, Title: title, Note: Plain(g.Name),
		Units: draw.Units{Metric: g.Units == zones.UnitsMetric, Length: g.Units.Length, Depth: g.Units.Depth},
	}
}

func point(p [2]float64) draw.Point { return draw.Point{X: p[0], Y: p[1]} }

func points(ps [][2]float64) []draw.Point {
	var out []draw.Point
	for _, p := range ps {
		out = append(out, point(p))
	}
	return out
}

func drawBed(l *zones.Lot) draw.Bed {
	spec := l.Bed.Spec()
	b := draw.Bed{Height: l.Bed.HeightMM, BottomMM: -spec.PondingMM, RimMM: spec.FreeboardMM}
	switch o := spec.Outline; o.Kind {
	case "oval":
		b.Outline = draw.Oval(o.LengthM, o.WidthM)
	case "rectangle":
		b.Outline = draw.Rectangle(o.LengthM, o.WidthM)
	default:
		b.Outline = points(o.Points)
	}
	return b
}

// drawn gives the plants of a placement as pictures show them: one species for
// each id, with the letters of its stakes as its key.
func drawn(p *plants.Placed) (species []draw.Species, standing []draw.Plant) {
	at, most := map[string]int{}, p.Planting.Exposure.Lot.Garden.Wishes.YearlyRiskMax
	for _, s := range p.Result.Plants {
		i, ok := at[s.ID]
		if !ok {
			i = len(species)
			at[s.ID] = i
			sp := draw.Species{Key: letters(s.Stake), Name: s.ID, SpreadM: s.SpreadCM / 100}
			if s.Line >= 0 {
				plant := p.Plants[s.Line]
				sp.Name, sp.Form, sp.HeightM = Plain(plant.VernacularName), plant.Form, plant.HeightCM/100
			}
			species = append(species, sp)
		}
		standing = append(standing, draw.Plant{Species: i, Stake: s.Stake, Drift: s.Drift, At: draw.Point{X: s.X, Y: s.Y}, Badge: badge(s.Risk, most)})
	}
	return species, standing
}

// badge marks a risk that is more than the wishes allow, or not known.
func badge(risk, most float64) draw.Badge {
	switch riskLevel(risk, most) {
	case levelHigh:
		return draw.Past
	case levelUnknown:
		return draw.Unknown
	}
	return draw.Fine
}

// letters is a stake without its number.
func letters(stake string) string {
	i := slices.IndexFunc([]rune(stake), func(r rune) bool { return r >= '0' && r <= '9' })
	if i <= 0 {
		return stake
	}
	return string([]rune(stake)[:i])
}

// PlanSVG draws the bed from above.
func PlanSVG(g Garden, p *plants.Placed) Drawing {
	in := planOf(g, p.Planting.Exposure.Lot)
	in.Species, in.Plants = drawn(p)
	return draw.Plan(in)
}

// revision is a short mark of the files that a plan rests on, which changes with any of
// them; "" where they are not known.
func revision(files []FileDigest) string {
	if len(files) == 0 {
		return ""
	}
	sum := sha256.New()
	for _, f := range files {
		io.WriteString(sum, f.SHA256)
	}
	return fmt.Sprintf("%.4x", sum.Sum(nil))
}

// planOf is the plan of a lot without plants.
func planOf(g Garden, l *zones.Lot) draw.PlanIn {
	at := l.Places()
	layout := l.Garden.Layout
	in := draw.PlanIn{
		Sheet: sheet(g, "plan", "Plan"), Bed: drawBed(l), Cut: true, Block: draw.TitleBlock{Garden: Plain(g.Name), Revision: revision(g.Inputs)},
		Inlet:    &draw.Inlet{At: point(at.Inlet), SplashM: layout.SplashM, Name: inletName(l)},
		Overflow: &draw.Overflow{At: point(at.Overflow), Name: "spill"}, NorthDeg: l.Garden.Site.NorthDeg,
	}
	zs := l.Bed.Zones()
	for _, z := range slices.Backward(zs) {
		in.Zones = append(in.Zones, draw.Zone{Name: z.Zone, TopMM: z.TopMM, FootMM: z.FootMM})
	}
	for _, k := range layout.KeepFree {
		a := draw.Area{Name: k.Kind, RadiusM: k.RadiusM}
		if k.RadiusM > 0 {
			a.At = point(k.PointsM[0])
		} else {
			a.Corners = points(k.PointsM)
		}
		in.KeepOuts = append(in.KeepOuts, a)
	}
	for _, o := range l.Garden.Obstacles {
		in.Obstacles = append(in.Obstacles, obstacle(o))
	}
	fixed, names := l.FixedPoints()
	in.A = &draw.Mark{At: point(fixed[0]), Name: Plain(names[0])}
	in.B = &draw.Mark{At: point(fixed[1]), Name: Plain(names[1])}
	return in
}

// MovesSVG draws what lives in the bed from above, with the moves of a plan as
// arrows that bear its numbers.
func MovesSVG(g Garden, in MoveIn, rows []placement.Planted, c *catalogue.Catalogue) Drawing {
	plan := planOf(g, in.Exposure.Lot)
	plan.Title, plan.Cut = "Moves", false
	lives := map[string]bool{}
	for _, m := range slices.Concat(in.Plan.Moves, in.Plan.Stays) {
		lives[m.Stake] = true
	}
	at := map[string]int{}
	for i, k := range plants.Standing(rows, c) {
		if !lives[k.Stake] {
			continue
		}
		n, ok := at[k.ID]
		if !ok {
			n = len(plan.Species)
			at[k.ID] = n
			sp := draw.Species{Key: letters(k.Stake), Name: k.ID, SpreadM: k.SpreadCM / 100, HeightM: k.HeightCM / 100}
			if p, known := c.ByID(rows[i].ID); known {
				sp.Name, sp.Form = Plain(p.VernacularName), p.Form
			}
			plan.Species = append(plan.Species, sp)
		}
		plan.Plants = append(plan.Plants, draw.Plant{Species: n, Stake: k.Stake, At: draw.Point{X: k.X, Y: k.Y}})
	}
	for _, m := range in.Plan.Moves {
		move := draw.Move{From: draw.Point{X: m.From.X, Y: m.From.Y}, Words: strconv.Itoa(m.Group + 1)}
		if m.Action == plants.ActMove || m.Action == plants.ActSwap {
			move.To = draw.Point{X: m.To.X, Y: m.To.Y}
		} else {
			move.GiveUp = true
		}
		plan.Moves = append(plan.Moves, move)
	}
	return draw.Plan(plan)
}

func obstacle(o site.Obstacle) draw.Obstacle {
	if o.Kind == site.Tree {
		return draw.Obstacle{Kind: "crown", Area: draw.Area{Name: "tree", At: point(o.PointsM[0]), RadiusM: o.CrownM / 2}}
	}
	return draw.Obstacle{Kind: o.Kind, Area: draw.Area{Name: o.Kind, Corners: points(o.PointsM)}}
}

// SectionSVG draws a cut through the bed, with its water levels.
func SectionSVG(g Garden, p *plants.Placed) Drawing {
	e := p.Planting.Exposure
	l := e.Lot
	in := draw.SectionIn{Sheet: sheet(g, "section", "Section"), Bed: drawBed(l), MixDepthMM: l.Garden.Mix.DepthMM}
	in.Species, in.Plants = drawn(p)
	bottom := e.Bands[0]
	level := func(depth float64) float64 { return bottom.FootMM + depth }
	in.Levels = []draw.WaterLevel{
		{Name: "spill level", MM: 0},
		{Name: "deepest of one year in ten", MM: level(site.OneYearInTen(bottom.DeepestMMByYear))},
		{Name: "deepest of a usual year", MM: level(site.QuantileWeibull(bottom.DeepestMMByYear, 0.5))},
	}
	return draw.Section(in)
}

// BloomSVG draws who flowers when.
func BloomSVG(g Garden, p *plants.Planting) Drawing {
	w := p.Exposure.Lot.Garden.Wishes
	in := draw.BloomIn{Sheet: sheet(g, "bloom", "In flower, by month"), WantedFrom: w.BloomFrom, WantedTo: w.BloomTo}
	if p.Exposure.Lot.Garden.Site.LatitudeDeg < 0 {
		in.FirstMonth = 7
	}
	at := map[string]int{}
	for _, l := range p.Lines {
		i, ok := at[l.Plant.ID]
		if !ok {
			i = len(in.Blooms)
			at[l.Plant.ID] = i
			in.Blooms = append(in.Blooms, draw.Bloom{Name: Plain(l.Plant.VernacularName), From: l.Plant.FlowerFrom, To: l.Plant.FlowerTo, Colours: l.Plant.FlowerColour})
		}
		in.Blooms[i].Count += l.Count
	}
	return draw.BloomChart(in)
}

// RouteSVG draws the way in that is taken; if none is, or the one taken cannot
// be, the first that can. False: the garden file has no inlet section, or no
// way can be.
func RouteSVG(g Garden, l *zones.Lot) (Drawing, bool) {
	n, title := routeWay(l)
	if n < 0 {
		return Drawing{}, false
	}
	way := l.WayIn.Plan.Ways[n]
	spec, s := l.Bed.Spec(), way.Section
	in := draw.RouteIn{
		Sheet: sheet(g, "route", title), Kind: way.Kind, Foundation: l.Garden.Site.Foundation, ReachM: s.ReachM,
		BedEdgeM: s.BedEdgeM, OutletM: s.OutletM, RimMM: spec.FreeboardMM, RimWidthM: spec.RimWidthM, SideRun: spec.SideRun, BottomMM: s.BottomMM,
		Fall: way.Fall, CoverMM: s.CoverMM, LeastCoverMM: way.LeastCoverMM, LeastCoverAtM: way.LeastCoverAtM, DaylightM: s.DaylightM,
	}
	for _, p := range s.Points {
		in.Stations = append(in.Stations, draw.RouteStation{AtM: p.StationM, GroundMM: p.GroundMM, InvertMM: p.InvertMM, CrownMM: p.CrownMM, DugMM: p.DugMM, TopMM: p.TopMM})
	}
	for _, p := range l.Garden.Inlet.Ground {
		in.MeasuredM = append(in.MeasuredM, p.StationM)
	}
	return draw.Route(in), true
}

// routeWay is which of the ways to draw, with the heading that says why this
// one: that which is taken, else a sound one before one that has something to put
// right first; -1 if none can be.
func routeWay(l *zones.Lot) (int, string) {
	taken, first, ways := "", -1, l.WayIn.Plan.Ways
	if l.WayIn.Chosen != nil {
		taken = l.WayIn.Chosen.Kind
	}
	named := func(w inlet.Way) string {
		if w.Sound {
			return wayName(w.Kind)
		}
		return wayName(w.Kind) + ", not before it is put right"
	}
	for i, w := range ways {
		switch {
		case !w.Possible:
		case w.Kind == taken:
			return i, "The way in: " + named(w)
		case first < 0 || w.Sound && !ways[first].Sound:
			first = i
		}
	}
	switch {
	case first < 0:
		return first, ""
	case taken != "":
		return first, fmt.Sprintf("A %s; the %s taken is refused", named(ways[first]), taken)
	}
	return first, fmt.Sprintf("A %s; no way is taken yet", named(ways[first]))
}

// inletName words how the water comes in: by the way taken, or just the inlet.
func inletName(l *zones.Lot) string {
	if way := l.WayIn.Chosen; way != nil {
		return wayName(way.Kind) + " from the downspout"
	}
	return "inlet from the downspout"
}

// wayName words a way in.
func wayName(kind string) string {
	switch kind {
	case "swale":
		return "lined swale"
	case "surface":
		return "surface extension"
	}
	return "buried pipe"
}
