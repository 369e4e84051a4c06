package water

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"hollowbed/zones/site"
)

// hoursRun is how many hours a run works through: the record, and before it
// its first year.
func hoursRun(rec *site.Record) int { return len(rec.RainMM) + 24*min(365, len(rec.Days)) }

// BenchmarkRun reports nanoseconds per hour worked through, for the whole run
// with spells, and the same per band. Read it beside BenchmarkYardstick, from
// the same run of the same machine.
func BenchmarkRun(b *testing.B) {
	for _, real := range realRecords(b)[:3] {
		b.Run(real.name, func(b *testing.B) {
			s := roughLot(b, 6, real.lat)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Run(s, real.rec); err != nil {
					b.Fatal(err)
				}
			}
			perHour := float64(b.Elapsed().Nanoseconds()) / float64(b.N) / float64(hoursRun(real.rec))
			b.ReportMetric(perHour, "ns/hour")
			b.ReportMetric(perHour/float64(len(s.Bed.Bands())), "ns/hour/band")
		})
	}
}

// weather returns the rain and ET0 of every hour, for the yardsticks.
func weather(rec *site.Record, lat float64) (rain, et0 []float64) {
	sun := sunTable(lat)
	for h := range rec.RainMM {
		day := rec.Start.AddDate(0, 0, h/24).YearDay()
		et0 = append(et0, rec.Days[h/24].ET0MM*sun[day-1][h%24])
	}
	return rec.RainMM, et0
}

// yardstick is one store without bands or spells, in explicit hourly steps:
// what a simple balance costs.
func yardstick(rain, et0 []float64) (seeped, used, spilled float64) {
	const fc, sat, taw, k, mix, area, roof, most, n, p = 81.0, 202.0, 44.0, 6.0, 50.0, 12.0, 100.0, 150.0, 12.4, 0.5
	held, pond, loss := fc, 0.0, 1.0
	for h := range rain {
		wet := min(loss, rain[h])
		pond += rain[h] + (rain[h]-wet)*0.95*roof/area
		loss = min(1, loss-wet+et0[h])
		in := min(pond, mix, sat-held+k)
		out := 0.0
		if held > fc {
			out = min(k, mix*math.Pow(held/sat, n))
		}
		pond -= in
		held = min(held+in-out, sat)
		ks := 1.0
		if gone := fc - held; gone > p*taw {
			ks = max(0, (taw-gone)/((1-p)*taw))
		}
		held -= et0[h] * ks
		if pond > most {
			spilled += pond - most
			pond = most
		}
		seeped += out
		used += et0[h] * ks
	}
	return seeped * area / 1000, used * area / 1000, spilled * area / 1000
}

func BenchmarkYardstick(b *testing.B) {
	real := realRecords(b)[0]
	rain, et0 := weather(real.rec, real.lat)
	sum := 0.0
	b.ResetTimer()
	for b.Loop() {
		s, _, _ := yardstick(rain, et0)
		sum += s
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(rain)), "ns/hour")
	if !(sum > 0) {
		b.Fatal("nothing seeped")
	}
}

// BenchmarkYardstickC is the same loop in C, so far as there is a compiler.
func BenchmarkYardstickC(b *testing.B) {
	cc, err := exec.LookPath("cc")
	if err != nil {
		b.Skip("no C compiler: the yardstick in C is left out")
	}
	program := filepath.Join(b.TempDir(), "balance")
	out, err := exec.Command(cc, "-O2", "-o", program, "testdata/balance.c", "-lm").CombinedOutput()
	require.NoError(b, err, string(out))
	real := realRecords(b)[0]
	rain, et0 := weather(real.rec, real.lat)
	var input bytes.Buffer
	for h := range rain {
		fmt.Fprintln(&input, rain[h], et0[h])
	}
	cmd := exec.Command(program)
	cmd.Stdin = &input
	answer, err := cmd.Output()
	require.NoError(b, err)
	var ns, seeped, used, spilled float64
	_, err = fmt.Sscan(string(answer), &ns, &seeped, &used, &spilled)
	require.NoError(b, err)
	s, u, o := yardstick(rain, et0)
	require.InDelta(b, 0, math.Abs(s-seeped)+math.Abs(u-used)+math.Abs(o-spilled), 0.3, "both do the same")
	b.ReportMetric(ns, "ns/hour")
	b.ReportMetric(0, "ns/op")
}
