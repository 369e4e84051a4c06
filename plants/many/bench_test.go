package many

import (
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// benchGardens works gardens out in both ways, in turn, and reports the ratio:
// by the time of the processor where the system tells it, which other programs
// on the machine do not lengthen, and by the clock.
func benchGardens(b *testing.B, what What) {
	const n = 12
	table := gardenRows(b, n)
	files := map[string][]byte{}
	for _, name := range []string{"garden.yaml", "plants.csv", "rain.csv"} {
		files[name] = readFile(b, name)
	}
	var plain, one, all spent
	timed := func(sum *spent, f func()) {
		begin, cpu := time.Now(), processor()
		f()
		sum.clock += time.Since(begin)
		sum.processor += processor() - cpu
	}
	batch := func(workers int) {
		s := New(shared(b, what, 0, nil))
		i := -1
		next := func() (Row, bool, error) { i++; return table[min(i, n-1)], i < n, nil }
		require.NoError(b, InOrder(workers, next, s.Answer, func(a Answer) error { return a.Err }))
	}
	for b.Loop() {
		timed(&plain, func() {
			for _, row := range table {
				require.NoError(b, single(row, what, files))
			}
		})
		timed(&one, func() { batch(1) })
		timed(&all, func() { batch(runtime.GOMAXPROCS(0)) })
	}
	each := 1000 / float64(n*b.N)
	b.ReportMetric(plain.processor.Seconds()*each, "plain-cpu-ms/garden")
	b.ReportMetric(one.processor.Seconds()*each, "batch-cpu-ms/garden")
	b.ReportMetric(plain.processor.Seconds()/one.processor.Seconds(), "times-plain-by-cpu")
	b.ReportMetric(plain.clock.Seconds()/one.clock.Seconds(), "times-plain-1-core")
	b.ReportMetric(plain.clock.Seconds()/all.clock.Seconds(), fmt.Sprintf("times-plain-%d-cores", runtime.GOMAXPROCS(0)))
}

type spent struct{ clock, processor time.Duration }

// single works a garden out as the commands for one garden do: every file is
// read for it alone.
func single(row Row, what What, files map[string][]byte) error {
	base, _, err := zones.ReadBase("garden.yaml", bytes.NewReader(files["garden.yaml"]))
	if err != nil {
		return err
	}
	g, err := base.With(row.Cells)
	if err != nil {
		return err
	}
	rec, err := site.ReadRecord("rain.csv", bytes.NewReader(files["rain.csv"]), g.Weather.Format, g.Site.LatitudeDeg)
	if err != nil {
		return err
	}
	lot, err := zones.Prepare(g, rec)
	if err != nil {
		return err
	}
	if what == Basin {
		_, err = lot.Perform()
		return err
	}
	e, err := lot.Expose()
	if err != nil {
		return err
	}
	if _, err = e.Perform(); err != nil || what == Zones {
		return err
	}
	table, err := catalogue.Read("plants.csv", bytes.NewReader(files["plants.csv"]))
	if err != nil {
		return err
	}
	_, err = plants.Choose(plants.NewJudge(e), table)
	return err
}

// BenchmarkGrowth works out tables of 8 to 512 gardens under one year of rain.
// The time of the processor for each garden must not grow with their number;
// that of the first few holds what is done once for all.
func BenchmarkGrowth(b *testing.B) {
	for _, n := range []int{8, 32, 128, 512} {
		b.Run(fmt.Sprintf("gardens=%d", n), func(b *testing.B) {
			table := gardenRows(b, n)
			s := shared(b, Zones, 1, nil)
			begin := processor()
			for b.Loop() {
				batch, i := New(s), -1
				next := func() (Row, bool, error) { i++; return table[min(i, n-1)], i < n, nil }
				require.NoError(b, InOrder(runtime.GOMAXPROCS(0), next, batch.Answer, func(a Answer) error { return a.Err }))
			}
			b.ReportMetric((processor()-begin).Seconds()*1000/float64(n*b.N), "cpu-ms/garden")
		})
	}
}

// BenchmarkRow is what a row costs before any water runs: its garden made from
// base and cells, and its digest.
func BenchmarkRow(b *testing.B) {
	s := shared(b, Zones, 1, nil)
	row, batch := gardenRows(b, 1)[0], New(s)
	b.Run("garden", func(b *testing.B) {
		for b.Loop() {
			_, err := s.Base.With(row.Cells)
			require.NoError(b, err)
		}
	})
	b.Run("digest", func(b *testing.B) {
		for b.Loop() {
			require.Len(b, batch.Digest(row), 64)
		}
	})
	b.Run("read", func(b *testing.B) {
		text := "id,roof.area,bed.length\n" + strings.Repeat("lot-1,90 m2,20 ft\n", 1000)
		for b.Loop() {
			require.Len(b, readAll(b, text), 1000)
		}
		b.ReportMetric(b.Elapsed().Seconds()*1e9/float64(1000*b.N), "ns/row")
	})
}
