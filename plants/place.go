package plants

import (
	"errors"
	"math"
	"slices"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
)

// Placed is a planting whose plants have their places.
type Placed struct {
	Planting *Planting
	*placement.Result
	Lines  []placement.Line  // that Result.Plants point at
	Plants []catalogue.Plant // of each line
	// Bare are places where a plant died and that no plant covers now.
	Bare []placement.Kept
}

// Grown is what grows in a bed already, and what is gone from it.
type Grown struct {
	Kept   []placement.Kept
	Failed []placement.Kept // where plants died: their species is not set there again
	Taken  []string         // stakes and letters of drifts that were in use: not given again
}

// GrownOf tells which of the rows of planted.csv still grow, by the notes.
func GrownOf(rows []placement.Planted, rec *season.Notes, c *catalogue.Catalogue) Grown {
	g := Grown{Kept: Standing(rec.Alive(rows), c), Failed: Standing(rec.Failed(rows), c), Taken: rec.Stakes()}
	for _, row := range rows {
		g.Taken = append(g.Taken, row.Stake, row.Drift)
	}
	return g
}

// Place gives every plant of a planting its place in the bed.
func Place(j *Judge, p *Planting, c *catalogue.Catalogue, grown Grown) (*Placed, error) {
	return PlaceEarly(j, p, c, grown, nil)
}

// PlaceEarly is Place for those who watch: early, if not nil, is given the
// plants' places as soon as they are found, before they are compared with chance.
// Seldom are others taken in the end. Only its plants are filled in.
func PlaceEarly(j *Judge, p *Planting, c *catalogue.Catalogue, grown Grown, early func(*Placed)) (*Placed, error) {
	l := j.Exposure.Lot
	out := &Placed{Planting: p}
	for _, line := range p.Lines {
		out.add(line.Plant, line.Zone, line.Count)
	}
	for _, k := range grown.Kept { // a plant that stands, and is not on the list: a line of its own
		plant, ok := c.ByID(k.ID)
		zone := l.Bed.ZoneAt(k.X, k.Y)
		if ok && zone != "" && out.line(k.ID, zone) < 0 {
			out.add(plant, zone, 0)
		}
	}
	for i := range out.Lines { // those that stand count towards their line, and are never too many
		standing := 0
		for _, k := range grown.Kept {
			if k.ID == out.Lines[i].ID && l.Bed.ZoneAt(k.X, k.Y) == out.Lines[i].Zone {
				standing++
			}
		}
		out.Lines[i].Count = max(out.Lines[i].Count, standing)
	}
	layout := l.Garden.Layout
	risks := newRiskMap(j, out.Plants)
	var first func([]placement.Standing)
	if early != nil {
		first = func(at []placement.Standing) {
			risks.here(at)
			early(&Placed{Planting: p, Result: &placement.Result{Plants: at}, Lines: out.Lines, Plants: out.Plants})
		}
	}
	result, err := placement.Solve(placement.Problem{
		Bed: l.Bed, KeepOuts: keepOuts(l), MarginM: layout.MarginM, Overhang: usualOverhang, View: view(layout),
		Lines: out.Lines, Risk: risks.risk, Kept: grown.Kept, Failed: grown.Failed, Taken: grown.Taken, Overlap: layout.Overlap,
		Seed: uint64(l.Garden.Wishes.Seed), Stop: j.Stop, Early: first,
	})
	if errors.Is(err, placement.ErrStopped) {
		err = errStopped
	}
	if out.Result = result; err == nil {
		risks.here(result.Plants)
		out.Bare = slices.DeleteFunc(slices.Clone(grown.Failed), func(k placement.Kept) bool {
			return slices.ContainsFunc(result.Plants, func(s placement.Standing) bool {
				return math.Hypot(s.X-k.X, s.Y-k.Y) < s.SpreadCM/200
			})
		})
	}
	return out, err
}

// usualOverhang is the share of a plant's radius that may reach over the outer
// edge of the bed.
const usualOverhang = 0.5

func (p *Placed) add(plant catalogue.Plant, zone string, count int) {
	p.Plants = append(p.Plants, plant)
	p.Lines = append(p.Lines, placement.Line{
		ID: plant.ID, Name: plant.VernacularName, Zone: zone, Count: count,
		SpreadCM: plant.SpreadCM, HeightCM: orDefault(plant.HeightCM, 0), Under: plant.Form == bulb,
	})
}

func (p *Placed) line(id, zone string) int {
	return slices.IndexFunc(p.Lines, func(l placement.Line) bool { return l.ID == id && l.Zone == zone })
}

// keepOuts is the ground without plants: stones at the inlet, the way out, and
// what the garden file keeps free.
func keepOuts(l *zones.Lot) []placement.KeepOut {
	at := l.Places()
	layout := l.Garden.Layout
	var out []placement.KeepOut
	if layout.SplashM > 0 {
		out = append(out, placement.KeepOut{Kind: "inlet splash", X: at.Inlet[0], Y: at.Inlet[1], R: layout.SplashM})
	}
	if layout.OverflowFree > 0 {
		out = append(out, placement.KeepOut{Kind: "overflow", X: at.Overflow[0], Y: at.Overflow[1], R: layout.OverflowFree})
	}
	for _, k := range layout.KeepFree {
		o := placement.KeepOut{Kind: k.Kind, R: k.RadiusM}
		if k.RadiusM > 0 {
			o.X, o.Y = k.PointsM[0][0], k.PointsM[0][1]
		} else {
			o.Points = k.PointsM
		}
		out = append(out, o)
	}
	return out
}

// KeptFree says what a place is kept free of plants for; "" where it is not.
func KeptFree(l *zones.Lot, x, y float64) string {
	for _, k := range keepOuts(l) {
		if k.Reach(x, y) <= 0 {
			return k.Kind
		}
	}
	return ""
}

// view says which way one looks at the bed.
func view(l zones.Layout) placement.View {
	switch l.View {
	case "left":
		return placement.View{Kind: "side", X: 1}
	case "right":
		return placement.View{Kind: "side", X: -1}
	case "front":
		return placement.View{Kind: "side", Y: 1}
	case "back":
		return placement.View{Kind: "side", Y: -1}
	case "point":
		return placement.View{Kind: "point", X: l.ViewM[0], Y: l.ViewM[1]}
	}
	return placement.View{Kind: "all round"}
}

// sunStep is how finely the sun of a place is told apart, h.
const sunStep = 0.25

// riskMap remembers the risks of lines by band and sun: places alike share one.
type riskMap struct {
	judge  *Judge
	plants []catalogue.Plant
	sun    map[[2]int]float64    // by square of 10 cm
	at     map[[2]float64]*alike // by place; nil outside the bed
	known  map[alikeKey]*alike
}

type alikeKey struct {
	band int
	sun  float64
}

// alike is places of one band and one amount of sun.
type alike struct {
	alikeKey
	risk []float64 // by line; NaN if not asked for yet
}

func newRiskMap(j *Judge, lines []catalogue.Plant) *riskMap {
	return &riskMap{judge: j, plants: lines, sun: map[[2]int]float64{}, at: map[[2]float64]*alike{}, known: map[alikeKey]*alike{}}
}

// risk is the chance that a year kills a line's plant at a place, sun included;
// certain outside the bed.
func (r *riskMap) risk(line int, x, y float64) float64 {
	a, ok := r.at[[2]float64{x, y}]
	if !ok {
		a = r.alike(x, y)
		r.at[[2]float64{x, y}] = a
	}
	if a == nil {
		return 1
	}
	return r.of(line, a)
}

func (r *riskMap) of(line int, a *alike) float64 {
	if math.IsNaN(a.risk[line]) {
		f := r.judge.bed.InBand(r.plants[line], a.band, a.sun)
		a.risk[line] = orDefault(1-f.Survival(), 1)
	}
	return a.risk[line]
}

// here gives plants that were placed by the squares of a search, where they have a
// risk, that of their very place: the one that Judge.At finds.
func (r *riskMap) here(plants []placement.Standing) {
	for i := range plants {
		s := &plants[i]
		if spot, ok := r.judge.SpotAt(s.X, s.Y); ok && !math.IsNaN(s.Risk) {
			s.Risk = r.of(s.Line, r.same(alikeKey{spot.Band, spot.SunH}))
		}
	}
}

func (r *riskMap) alike(x, y float64) *alike {
	band, ok := r.judge.Exposure.BandAt(x, y)
	if !ok {
		return nil
	}
	square := [2]int{int(math.Floor(x * 10)), int(math.Floor(y * 10))}
	sun, ok := r.sun[square]
	if !ok {
		sun = math.Round(r.judge.Exposure.Lot.SunAt(x, y)/sunStep) * sunStep
		r.sun[square] = sun
	}
	return r.same(alikeKey{band, sun})
}

// same is what all places of one kind share.
func (r *riskMap) same(key alikeKey) *alike {
	if r.known[key] == nil {
		r.known[key] = &alike{key, slices.Repeat([]float64{math.NaN()}, len(r.plants))}
	}
	return r.known[key]
}

// Standing turns the rows of planted.csv into plants that stand already.
// Plants that the catalogue does not have keep their place with a spread of
// unknownSpreadCM.
func Standing(rows []placement.Planted, c *catalogue.Catalogue) []placement.Kept {
	var kept []placement.Kept
	for _, r := range rows {
		k := placement.Kept{Stake: r.Stake, ID: r.ID, Drift: r.Drift, X: r.X, Y: r.Y, SpreadCM: unknownSpreadCM}
		if p, ok := c.ByID(r.ID); ok {
			k.SpreadCM, k.HeightCM, k.Under = orDefault(p.SpreadCM, unknownSpreadCM), orDefault(p.HeightCM, 0), p.Form == bulb
		}
		kept = append(kept, k)
	}
	return kept
}

// unknownSpreadCM is the ground kept for a plant that stands and whose spread
// is not known. Assumption, no source.
const unknownSpreadCM = 45
