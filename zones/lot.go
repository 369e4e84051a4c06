// Package zones reads the garden file and runs the pipeline from a garden and
// its weather record to the zones of the bed: how wet, how dry and how sunny
// each place gets.
package zones

import (
	"errors"
	"fmt"
	"math"

	"hollowbed/zones/basin"
	"hollowbed/zones/site"
	"hollowbed/zones/table"
	"hollowbed/zones/water"
)

// depletionFraction is the share of TAW that bed plants take without stress at
// 5 mm/d: the usual figure of FAO-56 Table 22 for crops that are neither
// drought-tender nor drought-hard [S1].
const depletionFraction = 0.5

// Lot is a garden with everything that follows from its file: the shape of
// the bed, its soils, what drains to it. Record is nil if there is none.
type Lot struct {
	Garden     *Garden
	Bed        *basin.Basin
	Native     NativeSoil
	Mix        site.Soil
	CatchM2    float64 // ground that drains to the bed, by plan area
	Catches    []water.Catch
	SurfaceWhy []string // how each other surface came by its curve number
	Record     *site.Record
	WayIn      WayIn
	Sun        Sun     // as stated, else worked out from what stands around; NaN if neither
	SunMap     *sunMap // nil if all sun is stated, or nothing is known of the shade

	climate *Climate // of Record, when it was prepared
}

// NativeSoil is the soil below the mix and the rates that are gone by.
type NativeSoil struct {
	FC, WP     float64 // volume fractions, for roots that reach below the mix
	TestedMMH  float64 // as tested, given or of the class: what plants, care and seasons go by
	RateMMH    float64 // that, divided by Factor: for size, drain time and overflow
	RawMMH     float64 // soak test: fall of the level; NaN if there was none
	CorrectMMH float64 // soak test: without the flow through the wall, or the rate as given
	Factor     float64 // safety factor applied
	SatMMH     float64 // saturated conductivity without any safety factor, for the soil group
	Texture    string  // class that FC and WP are taken from
	Source     string  // where the rate comes from
	Notes      []string
}

// Prepare works out bed and soils. rec may be nil; else its gaps in temperature are
// filled and ET0 computed where it has none.
func Prepare(g *Garden, rec *site.Record) (*Lot, error) {
	l, err := newLot(g)
	if err != nil {
		return nil, err
	}
	var c *Climate
	if rec != nil {
		if c, err = g.Climate(rec); err != nil {
			return nil, err
		}
	}
	return l, l.under(c)
}

// newLot is the bed, its soils and what drains to it, without weather.
func newLot(g *Garden) (*Lot, error) {
	l := &Lot{Garden: g}
	var err error
	if l.Bed, err = g.bed(); err != nil {
		return nil, err
	}
	if l.Native, err = nativeSoil(g.Soil); err != nil {
		return nil, g.misfit("soil", err)
	}
	if l.Mix, err = mixSoil(g.Mix); err != nil {
		return nil, g.misfit("mix", err)
	}
	if err := l.addCatches(); err != nil {
		return nil, g.misfit("roof.also", err)
	}
	return l, nil
}

// under adds what rests on the weather: the way in and the sun. c may be nil.
func (l *Lot) under(c *Climate) (err error) {
	if l.climate = c; c != nil {
		l.Record = c.record
	}
	if err := l.addWayIn(); err != nil {
		return err
	}
	if l.Sun = l.Garden.Sun; l.Garden.needSun() == nil {
		return nil
	}
	if l.SunMap, err = l.sunMap(); l.SunMap != nil {
		l.Sun = l.SunMap.sun()
	}
	return err
}

// NeedSun returns an error that says how to count the hours of sun, if none are known.
func (l *Lot) NeedSun() error {
	if l.SunMap != nil {
		return nil
	}
	return l.Garden.needSun()
}

// SunAt gives the hours of direct sun at a place, m as in the outline; NaN if not known.
func (l *Lot) SunAt(x, y float64) float64 {
	if l.SunMap != nil {
		return l.SunMap.hoursAt(x, y)
	}
	return l.Sun.Of(l.Bed.ZoneAt(x, y))
}

// misfit is a fault of figures that do not go together.
func (g *Garden) misfit(key string, err error) error {
	return table.Faults{g.Fault(key, "", err.Error())}
}

// bed makes the basin of the garden file.
func (g *Garden) bed() (*basin.Basin, error) {
	b, err := basin.New(g.spec(1, g.Bed.PondingDepthMM))
	if err == nil {
		return b, nil
	}
	var meet *basin.MeetError
	switch {
	case errors.As(err, &meet):
		return nil, g.misfit("bed.ponding_depth", errors.New(meet.Text(g.Units.lengthOfMM)))
	case g.Bed.Shape == "polygon":
		return nil, g.misfit("bed.points", err)
	}
	return nil, g.misfit("bed", err)
}

// Outline is the outer edge of the bed.
func (g *Garden) Outline() basin.Outline {
	return basin.Outline{Kind: g.Bed.Shape, LengthM: g.Bed.LengthM, WidthM: g.Bed.WidthM, Points: g.Bed.PointsM}
}

// spec gives the shape of the bed with the outline scaled and another depth.
func (g *Garden) spec(scale, pondingMM float64) basin.Spec {
	return basin.Spec{
		Outline: g.Outline().Scaled(scale), PondingMM: pondingMM, SideRun: g.Bed.SideSlope,
		RimWidthM: g.Bed.RimWidthM, FreeboardMM: g.Bed.FreeboardMM,
	}
}

// nativeOrganicPercent is that of the class table of Saxton and Rawls [S2].
const nativeOrganicPercent = 2.5

// nativeSoil takes the soak test before the rate and that before the texture. Water
// contents are those of the texture, or of loam; only roots below the mix meet them.
func nativeSoil(s Soil) (NativeSoil, error) {
	n := NativeSoil{RawMMH: math.NaN(), CorrectMMH: math.NaN(), Factor: 1, Texture: s.Texture}
	if n.Texture == "" {
		n.Texture = "loam"
		n.Notes = append(n.Notes, "no texture given: water below the mix is taken as that of loam")
	}
	water, err := site.MixSoil(n.Texture, nativeOrganicPercent)
	if err != nil {
		return n, err
	}
	n.FC, n.WP, n.SatMMH = water.FC, water.WP, water.KMMH
	switch {
	case s.SoakTest != nil:
		result, err := s.SoakTest.Result()
		if err != nil {
			return n, err
		}
		n.RawMMH, n.CorrectMMH, n.RateMMH, n.Factor = result.RawMMH, result.CorrectedMMH, result.DesignMMH, result.SafetyFactor
		n.Source = "soak test, flow through the wall taken out (" + result.Window + "), divided by the safety factor"
		n.TestedMMH, n.SatMMH = result.CorrectedMMH, result.CorrectedMMH
		n.Notes = append(n.Notes, result.Notes...)
	case !math.IsNaN(s.RateMMH):
		n.CorrectMMH, n.Factor = s.RateMMH, s.SafetyFactor
		n.RateMMH, n.TestedMMH, n.SatMMH = s.RateMMH/s.SafetyFactor, s.RateMMH, s.RateMMH
		n.Source = "rate given in the garden file, divided by the safety factor"
	default:
		class, err := site.NativeSoil(n.Texture)
		if err != nil {
			return n, err
		}
		n.RateMMH, n.TestedMMH = class.KMMH, class.KMMH
		n.Source = "texture class " + class.Texture + ", " + class.RateSource
		n.Notes = append(n.Notes, "the rate is that of a texture class: a soak test on the spot is better")
	}
	return n, nil
}

func mixSoil(m Mix) (site.Soil, error) {
	soil, err := site.MixSoil(m.Texture, 100*m.OrganicMatter)
	if err != nil {
		return soil, err
	}
	if !math.IsNaN(m.FieldCapacity) {
		soil.FC, soil.WP, soil.Sat = m.FieldCapacity, m.WiltingPoint, m.Saturation
		soil.WaterSource = "given in the garden file"
	}
	if !math.IsNaN(m.ConductivityMMH) {
		soil.KMMH, soil.RateSource = m.ConductivityMMH, "given in the garden file"
	}
	return soil, nil
}

// addCatches lists the roof and the other surfaces. Ground without a curve number gets
// that of its kind and hydrologic soil group; if the depth to water or rock is not given,
// as deep.
func (l *Lot) addCatches() error {
	r := l.Garden.Roof
	l.CatchM2 = r.AreaM2 * r.Share
	l.Catches = []water.Catch{{AreaM2: r.AreaM2 * r.Share, Coefficient: r.Coefficient, LossMM: r.InitialLossMM}}
	for _, s := range r.Also {
		number := s.CurveNumber
		if !(number > 0) {
			depthMM, how := 1000*lesser(l.Garden.Site.GroundwaterDepthM, l.Garden.Site.RockDepthM), ""
			if math.IsNaN(depthMM) {
				depthMM, how = math.Inf(1), ", ground taken as deep"
			}
			group := site.HydrologicGroup(l.Native.SatMMH, depthMM)
			var err error
			if number, err = site.CurveNumber(s.runoffSurface(), group); err != nil {
				return err
			}
			l.SurfaceWhy = append(l.SurfaceWhy, fmt.Sprintf("%s: curve number %.0f for soil group %s (TR-55 Table 2-2a%s)", s.Kind, number, group, how))
		}
		l.CatchM2 += s.AreaM2
		l.Catches = append(l.Catches, water.Catch{AreaM2: s.AreaM2, CurveNumber: number})
	}
	return nil
}

func (l *Lot) fillRecord() error {
	l.Record.FillTemperature()
	if months := l.Garden.Weather.ET0ByMonthMM; months != nil {
		var table [12]float64
		copy(table[:], months)
		l.Record.FillET0Monthly(table)
	}
	return l.Record.FillET0(l.Garden.Site.LatitudeDeg)
}

// setup gives the balance what it needs, for this bed or one like it.
func (l *Lot) setup(bed *basin.Basin) water.Setup {
	return water.Setup{
		Bed: bed, Catches: l.Catches, InletM3H: l.inletM3H(),
		MixFC: l.Mix.FC, MixWP: l.Mix.WP, MixSat: l.Mix.Sat,
		MixDepthMM: l.Garden.Mix.DepthMM, MixKMMH: l.Mix.KMMH, NativeKMMH: l.Native.TestedMMH,
		Kc: l.Garden.Bed.Kc, PTab: depletionFraction,
		LatitudeDeg: l.Garden.Site.LatitudeDeg, StepsPerH: 1, Weather: l.weather(),
	}
}

// sized is setup with the safety factor: for what a bed must hold and lose in time.
func (l *Lot) sized(bed *basin.Basin) water.Setup {
	s := l.setup(bed)
	s.NativeKMMH = l.Native.RateMMH
	return s
}

// Ground is what the soils of the bed hold for roots.
func (l *Lot) Ground() water.Ground {
	return water.Ground{
		MixFC: l.Mix.FC, MixWP: l.Mix.WP, MixDepthMM: l.Garden.Mix.DepthMM,
		NativeFC: l.Native.FC, NativeWP: l.Native.WP,
	}
}

// drainRateMMH is how fast a full pond sinks, with the safety factor.
func (l *Lot) drainRateMMH() float64 { return min(l.Mix.KMMH, l.Native.RateMMH) }
