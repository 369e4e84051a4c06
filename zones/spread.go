package zones

import (
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"hollowbed/zones/site"
	"hollowbed/zones/water"
)

// Doubt says how uncertain three things are that a lot rests on.
type Doubt struct {
	// SoilFactor: in nine cases of ten the soil takes water at a rate within
	// this factor of the tested one, either way; 1 is sure. ln of the rate is
	// taken as normal.
	SoilFactor float64
	SoilWhy    string
	// RoofPart: what the roof sends is right within this part of it, either
	// way, all values alike; 0 is sure.
	RoofPart float64
	// Years: the next years are others than those on record, drawn from them.
	Years bool
}

// The usual doubts. Assumptions, no source beyond what is said at UsualDoubt.
const (
	testedSoilFactor = 2   // one hole, or one stated rate, for a whole bed
	classSoilFactor  = 4   // a texture class
	usualRoofPart    = 0.1 // a roof measured from the ground or a map
)

// UsualDoubt returns how uncertain a lot is unless somebody knows better: a measured rate
// is right within a factor of 2, widened by what three or more readings differ among
// themselves (Student's t of their logarithms); a texture class within 4, as neighbouring
// rates lie 2 to 4 apart [S3]. Assumptions, no source.
func (l *Lot) UsualDoubt() Doubt {
	d := Doubt{SoilFactor: testedSoilFactor, SoilWhy: "one measurement stands for the whole bed", RoofPart: usualRoofPart, Years: true}
	s := l.Garden.Soil
	switch {
	case s.SoakTest != nil:
		result, err := s.SoakTest.Result()
		if err != nil || !(result.LogSD > 0) {
			break
		}
		n := float64(result.Intervals)
		t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(0.95)
		d.SoilFactor = math.Exp(math.Hypot(math.Log(testedSoilFactor), t*result.LogSD/math.Sqrt(n)))
		d.SoilWhy = fmt.Sprintf("one hole stands for the whole bed; its %d readings differ among themselves", result.Intervals)
	case math.IsNaN(s.RateMMH):
		d.SoilFactor, d.SoilWhy = classSoilFactor, "the rate is that of a texture class"
	}
	return d
}

// Sample is one way that things may be: factors on the rate of the soil and on
// what the roof sends, and the years, as places in Exposure.Whole.
type Sample struct {
	Soil, Roof float64
	Years      []int // nil: the years on record
}

// Samples draws n ways that things may be; years is how many whole ones the record has.
func (d Doubt) Samples(n, years int, seed uint64) []Sample {
	points := latinHypercube(n, 2, seed)
	draws := make([][]int, n)
	if d.Years {
		draws = balancedBootstrap(n, years, seed)
	}
	out := make([]Sample, n)
	for i, p := range points {
		out[i] = Sample{Soil: d.soil(p[0]), Roof: d.roof(p[1]), Years: draws[i]}
	}
	return out
}

// soil turns a chance into a factor on the rate of the soil.
func (d Doubt) soil(p float64) float64 {
	return math.Exp(math.Log(d.SoilFactor) * normalQuantile(p) / inNineOfTen())
}

// roof turns a chance into a factor on what the roof sends.
func (d Doubt) roof(p float64) float64 { return 1 + d.RoofPart*(2*p-1) }

// inCase returns the exposure as it would be in one such case. Years are drawn from
// the run over the whole record, so that each keeps the wetness it began with.
func (e *Exposure) inCase(s Sample) (*Exposure, error) {
	lot := *e.Lot
	lot.Native.RateMMH *= s.Soil
	lot.Native.TestedMMH *= s.Soil
	lot.Catches = slices.Clone(lot.Catches)
	lot.CatchM2 += (s.Roof - 1) * lot.Catches[0].AreaM2
	lot.Catches[0].AreaM2 *= s.Roof
	out := *e
	out.Lot = &lot
	if s.Soil != 1 || s.Roof != 1 {
		run, err := water.Run(lot.setup(lot.Bed), lot.Record)
		if err != nil {
			return nil, err
		}
		out.Run = run
	}
	if s.Years != nil {
		out.Whole = make([]int, len(s.Years))
		for i, y := range s.Years {
			out.Whole[i] = e.Whole[y]
		}
	}
	out.sumUp()
	return &out, nil
}

// eachCase works out the cases on all cores; see is called by several goroutines at once.
func (e *Exposure) eachCase(samples []Sample, see func(i int, e *Exposure) error) error {
	var wait sync.WaitGroup
	wrong := make([]error, len(samples))
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), len(samples)) {
		wait.Go(func() {
			for i := range next {
				there, err := e.inCase(samples[i])
				if err == nil {
					err = see(i, there)
				}
				wrong[i] = err
			}
		})
	}
	for i := range samples {
		next <- i
	}
	close(next)
	wait.Wait()
	return errors.Join(wrong...)
}

// Range is a figure over the cases: as planned, and what 5 %, half and 95 % of
// the cases stay at or below.
type Range struct{ Plan, Low, Middle, High float64 }

// zoneSpread is how far the figures of a zone may be off.
type zoneSpread struct {
	Zone string
	WetH Range // longest wet spell of one year in ten, wettest place
	DryD Range // longest dry spell of one year in ten, driest place
	// Rank correlations of the two with the rate of the soil and with what the
	// roof sends; NaN where nothing varies. What they leave over is the years'.
	WetBySoil, WetByRoof, DryBySoil, DryByRoof float64
}

// Spread is how far the figures of a lot may be off.
type Spread struct {
	Doubt    Doubt
	Cases    int
	Captured Range
	Zones    []zoneSpread
}

// Spread works the cases out and sums them up. The captured fraction of a case
// is that of its years. also, unless it is nil, sees each case too: see
// eachCase.
func (e *Exposure) Spread(d Doubt, samples []Sample, also func(i int, e *Exposure) error) (*Spread, error) {
	n, z := len(samples), len(e.Zones)
	wet, dry, captured := matrix(z, n), matrix(z, n), make([]float64, n)
	err := e.eachCase(samples, func(i int, there *Exposure) error {
		for k := range there.Zones {
			wet[k][i], dry[k][i] = there.hardest(k)
		}
		captured[i] = there.capturedInYears()
		if also == nil {
			return nil
		}
		return also(i, there)
	})
	if err != nil {
		return nil, err
	}
	soil, roof := make([]float64, n), make([]float64, n)
	for i, s := range samples {
		soil[i], roof[i] = s.Soil, s.Roof
	}
	out := &Spread{Doubt: d, Cases: n, Captured: NewRange(e.capturedInYears(), captured)}
	for k, zone := range e.Zones {
		wetH, dryD := e.hardest(k)
		out.Zones = append(out.Zones, zoneSpread{
			Zone: zone.Zone, WetH: NewRange(wetH, wet[k]), DryD: NewRange(dryD, dry[k]),
			WetBySoil: rankCorrelation(soil, wet[k]), WetByRoof: rankCorrelation(roof, wet[k]),
			DryBySoil: rankCorrelation(soil, dry[k]), DryByRoof: rankCorrelation(roof, dry[k]),
		})
	}
	return out, nil
}

// hardest returns the one-year-in-ten spells of a zone at its hardest places.
func (e *Exposure) hardest(zone int) (wetH, dryD float64) {
	z := e.Zones[zone]
	return e.Bands[z.Wettest].WetOneInTenH, e.Bands[z.Driest].DryOneInTenD
}

// capturedInYears is the captured fraction over the years that count.
func (e *Exposure) capturedInYears() float64 {
	var sum water.Balance
	for _, y := range e.Whole {
		b := e.Run.ByYear[y]
		sum.RunoffM3 += b.RunoffM3
		sum.BypassM3 += b.BypassM3
		sum.OverflowM3 += b.OverflowM3
	}
	return sum.CapturedFraction()
}

func matrix(rows, columns int) [][]float64 {
	out := make([][]float64, rows)
	for i := range out {
		out[i] = make([]float64, columns)
	}
	return out
}

// NewRange sums the cases up; NaN but for the plan where one is not known.
func NewRange(plan float64, values []float64) Range {
	if slices.ContainsFunc(values, math.IsNaN) {
		return Range{plan, math.NaN(), math.NaN(), math.NaN()}
	}
	return Range{plan, site.QuantileWeibull(values, 0.05), site.QuantileWeibull(values, 0.5), site.QuantileWeibull(values, 0.95)}
}
