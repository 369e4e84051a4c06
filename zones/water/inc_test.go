package water

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
	"hollowbed/zones/site"
)

// yes is 1 for true.
func yes(b bool) int {
	if b {
		return 1
	}
	return 0
}

// modelInput is what testdata/model.c reads of a lot with one roof.
func modelInput(s Setup, rec *site.Record, rounds int) *bytes.Buffer {
	st := newState(s)
	depth := s.Bed.Spec().PondingMM
	w, years := s.weather(rec), rec.Years(s.LatitudeDeg)
	var in bytes.Buffer
	fmt.Fprintln(&in, len(st.places), len(rec.Days), min(365, len(rec.Days)), len(years), rounds, st.mix.fieldMM, st.mix.satMM, st.mix.airMM, st.mix.tawMM, s.NativeKMMH, st.mixMMH, s.Kc,
		s.Bed.AreaAtOrBelowM2(-depth), s.Bed.AreaAtOrBelowM2(-depth/2), s.Bed.AreaAtOrBelowM2(0), depth, s.Catches[0].AreaM2, s.Catches[0].Coefficient, s.Catches[0].LossMM)
	for _, p := range st.places {
		fmt.Fprintln(&in, p.footMM, p.topMM, p.m3)
	}
	for _, y := range years {
		fmt.Fprintln(&in, y.ToDay)
	}
	for d := range rec.Days {
		et0, p := st.day(rec.Days[d])
		fmt.Fprintln(&in, et0, p, yes(w.growing[d]), yes(w.gapDay[d]))
		for i, share := range w.sun[d] {
			h := 24*d + i
			fmt.Fprintln(&in, rec.RainMM[h], et0*share, yes(rec.Missing[h]), yes(w.broken[h]))
		}
	}
	return &in
}

// spellSums are sums over bands and years of longest wet hours, all wet hours,
// longest dry hours, dry days, mm offered, hours above each level and longest hours short of air.
func (r *Result) spellSums() (sums [7]float64) {
	for b, years := range r.Exposure {
		for _, y := range years {
			for i, v := range []int{y.Wet.Hours, y.WetHours, y.Dry.Hours, y.DryDays} {
				sums[i] += float64(v)
			}
			sums[6] += float64(y.AirPoorH)
		}
		for _, mm := range r.OfferedMM[b] {
			sums[4] += mm
		}
	}
	for _, years := range r.Above {
		for _, h := range years {
			sums[5] += h
		}
	}
	return sums
}

// inC is what the balance in C, testdata/model.c, found, and its nanoseconds an
// hour without spells and with them.
type inC struct {
	plain, spells float64
	volumes       Balance
	sums          [7]float64
}

func buildC(t testing.TB) (program string) {
	t.Helper()
	cc := testenv.Tool(t, "gcc", "cc")
	program = filepath.Join(t.TempDir(), "model")
	out, err := exec.Command(cc, "-O2", "-Wall", "-Wextra", "-Werror", "-o", program, "testdata/model.c", "-lm").CombinedOutput()
	require.NoError(t, err, string(out))
	return program
}

func runC(t testing.TB, program string, s Setup, rec *site.Record, rounds int) (c inC) {
	t.Helper()
	cmd := exec.Command(program)
	cmd.Stdin = modelInput(s, rec, rounds)
	answer, err := cmd.Output()
	require.NoError(t, err)
	b := &c.volumes
	into := []any{&c.plain, &c.spells, &b.RainOnBedM3, &b.RunoffM3, &b.InfiltratedM3, &b.EvaporatedM3, &b.OverflowM3, &b.StoredChangeM3}
	for i := range c.sums {
		into = append(into, &c.sums[i])
	}
	_, err = fmt.Sscan(strings.ReplaceAll(string(answer), "\n", " "), into...)
	require.NoError(t, err)
	b.InflowM3 = b.RunoffM3
	return c
}

// TestSameInC: the same model written in another language gives the same
// volumes, within what the digits of the level table leave, and the same spells
// but for an hour in a thousand that ends at the very brink.
func TestSameInC(t *testing.T) {
	program := buildC(t)
	for _, real := range realRecords(t)[:3] {
		for _, rate := range []float64{0.5, 6, 40} {
			s := roughLot(t, rate, real.lat)
			c := runC(t, program, s, real.rec, 1)
			r, err := Run(s, real.rec)
			require.NoError(t, err)
			ours, theirs := r.Balance, c.volumes
			in := ours.RainOnBedM3 + ours.InflowM3
			for name, pair := range map[string][2]float64{
				"rain": {ours.RainOnBedM3, theirs.RainOnBedM3}, "runoff": {ours.RunoffM3, theirs.RunoffM3}, "infiltrated": {ours.InfiltratedM3, theirs.InfiltratedM3},
				"evaporated": {ours.EvaporatedM3, theirs.EvaporatedM3}, "overflow": {ours.OverflowM3, theirs.OverflowM3}, "stored": {ours.StoredChangeM3, theirs.StoredChangeM3},
			} {
				assert.InDelta(t, 0, (pair[0]-pair[1])/in, 1e-7, "%s at %g mm/h: %s of %g m3: %g here, %g in C", real.name, rate, name, in, pair[0], pair[1])
			}
			for i, want := range r.spellSums() {
				assert.InEpsilon(t, 1+want, 1+c.sums[i], 1e-3, "%s at %g mm/h: sum %d", real.name, rate, i)
			}
		}
	}
}

// BenchmarkAgainstC runs the balance here and in C by turns, with spells, as
// people run it, and without, and reports medians of processor time and their
// ratios.
func BenchmarkAgainstC(b *testing.B) {
	const rounds = 15
	for _, real := range realRecords(b)[:3] {
		b.Run(real.name, func(b *testing.B) {
			program, s := buildC(b), roughLot(b, 6, real.lat)
			s.Weather = NewWeather(real.rec, s.LatitudeDeg) // C is given it too
			var plain, spells, plainC, spellsC []float64
			timed := func(into *[]float64, run func() error) {
				before := processor()
				require.NoError(b, run())
				*into = append(*into, float64((processor()-before).Nanoseconds())/float64(hoursRun(real.rec)))
			}
			for b.Loop() {
				c := runC(b, program, s, real.rec, rounds)
				plainC, spellsC = append(plainC, c.plain), append(spellsC, c.spells)
				for range rounds {
					timed(&plain, func() error { _, err := Volumes(s, real.rec); return err })
					timed(&spells, func() error { _, err := Run(s, real.rec); return err })
				}
			}
			for _, all := range [][]float64{plain, spells, plainC, spellsC} {
				slices.Sort(all)
			}
			median := func(all []float64) float64 { return all[len(all)/2] }
			b.ReportMetric(median(plain), "ns/hour")
			b.ReportMetric(median(spells), "ns/hour-with-spells")
			b.ReportMetric(median(plain)/median(plainC), "ratio")
			b.ReportMetric(median(spells)/median(spellsC), "ratio-with-spells")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// An hour of the balance makes no garbage, with a pond or without.
func TestHourAllocatesNothing(t *testing.T) {
	real := realRecords(t)[0]
	st := newState(roughLot(t, 6, real.lat))
	hours, ponds := 0, 0
	assert.Zero(t, testing.AllocsPerRun(20_000, func() {
		day := real.rec.Days[hours/24]
		et0, p := st.day(day)
		st.hour(real.rec.RainMM[hours], et0/24, p)
		if st.hasPond() {
			ponds++
		}
		hours++
	}))
	assert.Greater(t, ponds, 500, "and there were some of both kinds")
	assert.Greater(t, hours-ponds, 500)
}

// BenchmarkGrowthBands cuts every band of a lot in 1, 2, 4 and 8: the time of an
// hour must grow no faster than their number.
func BenchmarkGrowthBands(b *testing.B) {
	real := realRecords(b)[0]
	sun := sunTable(real.lat)
	for _, parts := range []int{1, 2, 4, 8} {
		b.Run(fmt.Sprintf("bands=%d", 12*parts), func(b *testing.B) {
			begin := func() *state {
				st := newState(roughLot(b, 6, real.lat))
				var cut []place
				for _, p := range st.places {
					for k := range parts {
						q := p
						rise := (p.topMM - p.footMM) / float64(parts)
						q.footMM, q.topMM, q.m3 = p.footMM+float64(k)*rise, p.footMM+float64(k+1)*rise, p.m3/float64(parts)
						cut = append(cut, q)
					}
				}
				st.places = cut
				return st
			}
			least := math.Inf(1)
			for b.Loop() {
				st, start := begin(), time.Now()
				for h, rain := range real.rec.RainMM {
					et0, p := st.day(real.rec.Days[h/24])
					st.hour(rain, et0*sun[real.rec.Start.AddDate(0, 0, h/24).YearDay()-1][h%24], p)
				}
				least = min(least, float64(time.Since(start).Nanoseconds())/float64(len(real.rec.RainMM)))
			}
			b.ReportMetric(least, "ns/hour")
			b.ReportMetric(least/float64(12*parts), "ns/hour/band")
			b.ReportMetric(0, "ns/op")
		})
	}
}
