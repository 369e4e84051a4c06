package fit

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/testdata/testenv"
	"hollowbed/zones/site"
)

// trial is a made-up plant in a band: its severity in every year of a record.
type trial struct {
	climate, plot string
	kind          string // how the plant was made up, see madeUp
	severity      []float64
}

const (
	spanning = "risks from 1 to 60 %" // the limit that counts is passed in so many years
	anyPlant = "any plant"            // limits scattered about what the place has, as in a catalogue
)

// blockYears are so many years of a record that they count as one independent
// sample of it, for the sampling error.
const blockYears = 40

// madeUp draws a plant for a band by kind, given the years of the band.
func madeUp(rng *rand.Rand, kind string, years []Year) catalogue.Plant {
	var wet, dry, cold []float64
	for _, y := range years {
		wet, dry, cold = append(wet, y.WetH), append(dry, y.DryD), append(cold, -y.MinC)
	}
	p := catalogue.Plant{RootCM: math.NaN()}
	if kind == anyPlant {
		p.WetH = max(1, quantile(wet, 0.5)) * math.Exp(1.1*rng.NormFloat64())
		p.DryD = quantile(dry, 0.5) * math.Exp(0.4+0.6*rng.NormFloat64())
		p.LowestC = -quantile(cold, 0.5) - 3 + 5*rng.NormFloat64()
		p.PondMM = 20 + 200*rng.Float64()
		return p
	}
	counts := rng.IntN(3)
	limit := func(i int, found []float64) float64 {
		risk := 0.01 * math.Pow(60, rng.Float64())
		if i != counts {
			risk *= rng.Float64() * rng.Float64()
		}
		return quantile(found, 1-risk)
	}
	// A grower's figure does not fall on an hour that many years share.
	p.WetH = max(1, limit(0, wet)*math.Exp(0.1*rng.NormFloat64()))
	p.DryD = limit(1, dry) * math.Exp(0.1*rng.NormFloat64())
	p.LowestC = -limit(2, cold)
	p.PondMM = 50 + 200*rng.Float64()
	return p
}

func quantile(x []float64, share float64) float64 {
	x = slices.Sorted(slices.Values(x))
	at := share * float64(len(x)-1)
	i := min(int(at), len(x)-2)
	return x[i] + (at-float64(i))*(x[i+1]-x[i])
}

// trials makes up plants of both kinds in four bands of a bed.
func trials(b *Bed, climate, plot string, each int, rng *rand.Rand) []trial {
	var out []trial
	for _, band := range []int{0, 2, 5, 11} {
		for i := range 2 * each {
			root := []float64{20, 45, 90}[rng.IntN(3)]
			nan := math.NaN()
			kind := []string{spanning, anyPlant}[i%2]
			p := madeUp(rng, kind, b.years(catalogue.Plant{RootCM: root, WetH: nan, PondMM: nan, DryD: nan, LowestC: nan}, band))
			p.RootCM = root
			tr := trial{climate: climate, plot: plot, kind: kind}
			for _, y := range b.years(p, band) {
				_, s := y.Worst()
				tr.severity = append(tr.severity, s)
			}
			if kind == spanning && past(tr.severity) > 0.65*float64(len(tr.severity)) {
				continue // two limits at once
			}
			out = append(out, tr)
		}
	}
	return out
}

// inventedTrials are made-up plants in three beds in three invented climates
// of 160 years.
func inventedTrials(t *testing.T) []trial {
	t.Helper()
	var all []trial
	const seed = 11 // other weather than that on which the scale was settled
	for i, c := range climates() {
		rec := c.invent(t, 4*blockYears, uint64(i+seed))
		for _, p := range plots() {
			all = append(all, trials(p.bed(t, rec, c.lat), c.name, p.name, 30, rand.New(rand.NewPCG(5, uint64(i))))...)
		}
	}
	return all
}

// score is how one estimator did: proper scores by block of years, and
// forecasts against what happened.
type score struct {
	brier, log, weight  map[string]float64 // by block
	said, came, in      [8]float64         // by bin of what was said
	lowSaid, lowCame, n float64            // of forecasts of at most the usual bar
}

// usualBar is the yearly risk over which plants are left out unless the garden
// file says otherwise.
const usualBar = 0.15

func bins() []float64 { return []float64{0.02, 0.05, 0.10, 0.20, 0.35, 0.50, 0.70, 1} }

func newScore() *score {
	return &score{brier: map[string]float64{}, log: map[string]float64{}, weight: map[string]float64{}}
}

// add books a forecast for years of which a share came past a limit. The log
// score holds forecasts between 0.2 and 99.8 %, or a plain count of none would
// cost without end.
func (s *score) add(block string, said, came float64) {
	held := min(max(said, 0.002), 0.998)
	s.brier[block] += said*said - 2*said*came + came
	s.log[block] -= came*math.Log(held) + (1-came)*math.Log(1-held)
	s.weight[block]++
	bin := slices.IndexFunc(bins(), func(top float64) bool { return said <= top })
	s.said[bin] += said
	s.came[bin] += came
	s.in[bin]++
	s.n++
	if said <= usualBar {
		s.lowSaid += said
		s.lowCame += came
	}
}

// calibrationError is the mean of |what was said - what came| by bin.
func (s *score) calibrationError() float64 {
	sum := 0.0
	for i := range s.in {
		sum += math.Abs(s.said[i] - s.came[i])
	}
	return sum / s.n
}

func mean(byBlock, weight map[string]float64) float64 {
	sum, n := 0.0, 0.0
	for _, block := range slices.Sorted(maps.Keys(weight)) {
		sum += byBlock[block]
		n += weight[block]
	}
	return sum / n
}

// worse returns how much worse a does than b by a score, with its standard
// error from one block to the next: the blocks are different years of
// different climates, while plants of one block share their weather.
func worse(a, b, weight map[string]float64) (by, err float64) {
	var d []float64
	for _, block := range slices.Sorted(maps.Keys(weight)) {
		d = append(d, (a[block]-b[block])/weight[block])
		by += d[len(d)-1]
	}
	n := float64(len(d))
	by /= n
	for _, x := range d {
		err += (x - by) * (x - by)
	}
	return by, math.Sqrt(err / (n - 1) / n)
}

// scoreOf lets an estimator see n years in a row, and holds what it says
// against all other years of the record.
func scoreOf(e estimator, all []trial, kind string, n int) *score {
	s := newScore()
	for _, tr := range all {
		if kind != "" && tr.kind != kind {
			continue
		}
		years, total := len(tr.severity), past(tr.severity)
		for from := 0; from+n <= years; from += 10 {
			block := from / blockYears
			if (from+n-1)/blockYears != block {
				continue
			}
			seen := tr.severity[from : from+n]
			came := (total - past(seen)) / float64(years-n)
			s.add(fmt.Sprint(tr.climate, block), e.risk(seen), came)
		}
	}
	return s
}

// TestCalibration decides which estimator fit uses: the chosen one must be no
// worse than any other within the sampling error over all made-up plants, and
// what it says must come true. The table that it logs (go test -v -run
// Calibration) is the ground for DefaultPredictor.
func TestCalibration(t *testing.T) {
	testenv.Sweep(t)
	testenv.NotRaced(t)
	all := inventedTrials(t)
	for _, kind := range []string{spanning, anyPlant} {
		for _, n := range []int{4, 8, 12, 20} {
			t.Run(fmt.Sprintf("%s, %d years", kind, n), func(t *testing.T) {
				scores := map[string]*score{}
				for _, e := range estimators() {
					scores[e.name] = scoreOf(e, all, kind, n)
				}
				logTable(t, scores)
				best := scores[chosen]
				assert.Greater(t, best.n, 1000.0)
				checkReliable(t, best, n)
			})
		}
	}
	checkNoWorse(t, all)
}

// checkReliable holds what the chosen one says against what came. On average
// it may be out by half the usual bar (by 0.10 with four years, where a count
// knows four values only), and plants that pass the bar may die a fifth more
// often than was said: less than the assumptions about limits are worth.
func checkReliable(t *testing.T, s *score, n int) {
	most := usualBar / 2
	if n == 4 {
		most = 0.10
	}
	assert.Less(t, s.calibrationError(), most)
	assert.Less(t, s.lowCame/s.lowSaid, 1.2, "plants under the bar come past a limit more often than was said")
	assert.Greater(t, s.lowCame/s.lowSaid, 0.7, "plants under the bar do better than was said: good ones are kept out")
}

// checkNoWorse compares over both kinds of plants and all lengths at once: one
// figure by estimator and score, so that nothing is picked. Three standard
// errors, as twenty comparisons are made from twelve blocks (a t of 11 degrees
// passes 3.2 with a chance of one in 240).
func checkNoWorse(t *testing.T, all []trial) {
	total := map[string]*score{}
	for _, e := range estimators() {
		sum := newScore()
		for _, n := range []int{4, 8, 12, 20} {
			s := scoreOf(e, all, "", n)
			for block, w := range s.weight { // every length counts alike
				sum.brier[block] += s.brier[block] / w
				sum.log[block] += s.log[block] / w
				sum.weight[block]++
			}
		}
		total[e.name] = sum
	}
	ours := total[chosen]
	for _, e := range estimators() {
		theirs := total[e.name]
		brier, brierErr := worse(ours.brier, theirs.brier, ours.weight)
		logs, logErr := worse(ours.log, theirs.log, ours.weight)
		t.Logf("%-28s Brier %.4f, chosen less by %.4f +- %.4f; log %.4f, chosen less by %.4f +- %.4f", e.name,
			mean(theirs.brier, theirs.weight), -brier, brierErr, mean(theirs.log, theirs.weight), -logs, logErr)
		assert.LessOrEqual(t, brier, 3*brierErr, "Brier score against %s", e.name)
		assert.LessOrEqual(t, logs, 3*logErr, "log score against %s", e.name)
	}
	require.Len(t, ours.weight, 12)
}

func logTable(t *testing.T, scores map[string]*score) {
	var out strings.Builder
	fmt.Fprintf(&out, "\n%-28s  Brier     log   out by  came/said under the bar\n", "")
	for _, e := range estimators() {
		s := scores[e.name]
		fmt.Fprintf(&out, "%-28s  %.4f  %.4f  %.4f  %.2f\n", e.name, mean(s.brier, s.weight), mean(s.log, s.weight),
			s.calibrationError(), s.lowCame/s.lowSaid)
	}
	s := scores[chosen]
	fmt.Fprintf(&out, "chosen, said -> came (forecasts):")
	for i := range s.in {
		fmt.Fprintf(&out, "  %.3f -> %.3f (%.0f)", s.said[i]/s.in[i], s.came[i]/s.in[i], s.in[i])
	}
	t.Log(out.String())
}

// Records that the project did not draw for this test: the demo's 24 years
// (invented) and four real years each of Seattle and New York. They are too
// short to tell estimators apart: all plants of a record share its weather.
// What can be asked is that nothing is badly out.
func TestCalibrationOnGivenRecords(t *testing.T) {
	for _, r := range []struct {
		name, file string
		format     site.Format
		lat        float64
		lengths    []int
	}{
		{"demo", "../../data/rain.csv", site.Format{}, 41.5, []int{4, 8, 12, 20}},
		{"Seattle", realDaily, site.Format{Where: map[string]string{"location": "Seattle"}, RainUnit: "mm", TempUnit: "C"}, 47.6, []int{3}},
		{"New York", realDaily, site.Format{Where: map[string]string{"location": "New York"}, RainUnit: "mm", TempUnit: "C"}, 40.7, []int{3}},
	} {
		t.Run(r.name, func(t *testing.T) {
			rec := readRecord(t, r.file, r.format, r.lat)
			var all []trial
			for i, p := range plots() {
				all = append(all, trials(p.bed(t, rec, r.lat), r.name, p.name, 30, rand.New(rand.NewPCG(6, uint64(i))))...)
			}
			for _, n := range r.lengths {
				scores := map[string]*score{}
				for _, e := range estimators() {
					scores[e.name] = leaveOut(e, all, n)
				}
				t.Logf("%d years seen", n)
				logTable(t, scores)
				assert.Less(t, scores[chosen].calibrationError(), 0.15)
				assert.Less(t, mean(scores[chosen].log, scores[chosen].weight), mean(scores["count k/n"].log, scores["count k/n"].weight))
			}
		})
	}
}

const realDaily = "../../testdata/records/seattle-newyork-daily-2012-2015.csv"

func readRecord(t testing.TB, file string, format site.Format, lat float64) *site.Record {
	t.Helper()
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	rec, err := site.ReadRecord(file, f, format, lat)
	require.NoError(t, err)
	rec.FillTemperature()
	require.NoError(t, rec.FillET0(lat))
	return rec
}

// leaveOut lets an estimator see every run of n years, the record taken as a
// ring, and holds what it says against the other years.
func leaveOut(e estimator, all []trial, n int) *score {
	s := newScore()
	for _, tr := range all {
		years, total := len(tr.severity), past(tr.severity)
		ring := slices.Concat(tr.severity, tr.severity)
		for from := range years {
			seen := ring[from : from+n]
			s.add("one", e.risk(seen), (total-past(seen))/float64(years-n))
		}
	}
	return s
}
