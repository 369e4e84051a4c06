package water

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/internal/testenv"
	"hollowbed/zones/site"
)

// inC runs the balance in C, testdata/model.c, on a lot with one roof, and
// returns its nanoseconds an hour and its volumes.
func inC(t testing.TB, s Setup, rec *site.Record) (ns float64, b Balance) {
	t.Helper()
	cc := testenv.Tool(t, "gcc", "cc")
	program := filepath.Join(t.TempDir(), "model")
	out, err := exec.Command(cc, "-O2", "-Wall", "-Wextra", "-Werror", "-o", program, "testdata/model.c", "-lm").CombinedOutput()
	require.NoError(t, err, string(out))
	st := newState(s)
	depth := s.Bed.Spec().PondingMM
	var input bytes.Buffer
	fmt.Fprintln(&input, len(st.places), len(rec.RainMM), 24*min(365, len(rec.Days)), st.mix.fieldMM, st.mix.satMM, st.mix.tawMM, st.mix.seepMMH, st.mixMMH, s.Kc,
		s.Bed.AreaAtOrBelowM2(-depth), s.Bed.AreaAtOrBelowM2(-depth/2), s.Bed.AreaAtOrBelowM2(0), depth, s.Catches[0].AreaM2, s.Catches[0].Coefficient, s.Catches[0].LossMM)
	for _, p := range st.places {
		fmt.Fprintln(&input, p.footMM, p.topMM, p.m3)
	}
	sun := sunTable(s.LatitudeDeg)
	for h := range rec.RainMM {
		et0, p := st.day(rec.Days[h/24])
		share := sun[rec.Start.AddDate(0, 0, h/24).YearDay()-1][h%24]
		fmt.Fprintln(&input, rec.RainMM[h], et0*share, p)
	}
	cmd := exec.Command(program)
	cmd.Stdin = &input
	answer, err := cmd.Output()
	require.NoError(t, err)
	_, err = fmt.Sscan(string(answer), &ns, &b.RainOnBedM3, &b.RunoffM3, &b.InfiltratedM3, &b.EvaporatedM3, &b.OverflowM3, &b.StoredChangeM3)
	require.NoError(t, err)
	b.InflowM3 = b.RunoffM3
	return ns, b
}

// TestSameInC: the same model written in another language gives the same
// volumes, within what the digits of the level table leave.
func TestSameInC(t *testing.T) {
	for _, real := range realRecords(t)[:3] {
		for _, rate := range []float64{0.5, 6, 40} {
			s := roughLot(t, rate, real.lat)
			_, c := inC(t, s, real.rec)
			ours, err := Volumes(s, real.rec)
			require.NoError(t, err)
			in := ours.RainOnBedM3 + ours.InflowM3
			for name, pair := range map[string][2]float64{
				"rain": {ours.RainOnBedM3, c.RainOnBedM3}, "runoff": {ours.RunoffM3, c.RunoffM3}, "infiltrated": {ours.InfiltratedM3, c.InfiltratedM3},
				"evaporated": {ours.EvaporatedM3, c.EvaporatedM3}, "overflow": {ours.OverflowM3, c.OverflowM3}, "stored": {ours.StoredChangeM3, c.StoredChangeM3},
			} {
				assert.InDelta(t, 0, (pair[0]-pair[1])/in, 1e-7, "%s at %g mm/h: %s of %g m3: %g here, %g in C", real.name, rate, name, in, pair[0], pair[1])
			}
		}
	}
}

// BenchmarkAgainstC runs the balance here and in C by turns, in this one
// process' time, and reports both and their ratio: the best of several runs of
// each, since a busy machine only ever adds.
func BenchmarkAgainstC(b *testing.B) {
	for _, real := range realRecords(b)[:3] {
		b.Run(real.name, func(b *testing.B) {
			s := roughLot(b, 6, real.lat)
			ours, theirs := math.Inf(1), math.Inf(1)
			for b.Loop() {
				ns, _ := inC(b, s, real.rec)
				theirs = min(theirs, ns)
				for range 15 {
					begin := time.Now()
					if _, err := Volumes(s, real.rec); err != nil {
						b.Fatal(err)
					}
					ours = min(ours, float64(time.Since(begin).Nanoseconds())/float64(hoursRun(real.rec)))
				}
			}
			b.ReportMetric(ours, "ns/hour")
			b.ReportMetric(theirs, "ns/hour-in-C")
			b.ReportMetric(ours/theirs, "ratio")
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
