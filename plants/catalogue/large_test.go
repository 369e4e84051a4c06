package catalogue

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// large is the USDA PLANTS characteristics (testdata/records/SOURCES-plants.md)
// over and over, as a file of n rows each with a symbol of its own.
func large(t testing.TB, n int) []byte {
	f, err := os.Open(filepath.Join(testdata, "records", "plant-characteristics-2162.csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	symbol := -1
	for i, h := range rows[0] {
		if h == "symbol" {
			symbol = i
		}
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	require.NoError(t, w.Write(rows[0]))
	for i := range n {
		row := rows[1+i%(len(rows)-1)]
		was := row[symbol]
		row[symbol] = fmt.Sprintf("%s%d", was, i)
		require.NoError(t, w.Write(row))
		row[symbol] = was
	}
	w.Flush()
	return out.Bytes()
}

// kept is what is still in use after the garbage is gone, in MB.
func kept() float64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // the first may leave what has a finalizer
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc) / megabyte
}

// TestHundredThousandRows imports 100,000 real rows (20,000 in an ordinary run),
// writes them and reads them back the same. The bounds on memory are a good tenth above what was measured
// (Go 1.26 on a 64-bit machine), so that a second copy of the table shows.
func TestHundredThousandRows(t *testing.T) {
	n := testenv.Of(20_000, 100_000)
	m := openMap(t, "plant-characteristics.yaml")
	data := large(t, n)
	before := kept()
	table, err := ReadTableFor("large.csv", bytes.NewReader(data), m)
	require.NoError(t, err)
	held := kept() - before
	plants, r, err := Import(table, m)
	require.NoError(t, err)
	require.Len(t, plants, n)
	assert.Equal(t, n, r.Passed)
	input := float64(len(data)) / megabyte
	runtime.KeepAlive(table)
	table = nil
	imported := kept() - before
	var out bytes.Buffer
	require.NoError(t, Write(&out, plants))
	written := float64(out.Len()) / megabyte
	before = kept()
	c, err := Read("out.csv", bytes.NewReader(out.Bytes()))
	require.NoError(t, err)
	read := kept() - before
	runtime.KeepAlive(&out)
	require.Len(t, c.Plants, n)
	for i := range plants {
		same(t, plants[i], c.Plants[i])
	}
	t.Logf("in MB: %.0f to import, table %.0f, plants %.0f; written %.0f; read %.0f", input, held, imported, written, read)
	share := float64(n) / 100_000
	assert.Less(t, held, input+42*share)
	assert.Less(t, imported, 45*share) // 16 bytes a plant are of sold_as
	assert.Less(t, written, 26*share)
	assert.Less(t, read, 48*share)
	runtime.KeepAlive(data)
}

// peak samples the heap, garbage and all, until the function it returns is
// called; that tells the most there was, in MB.
func peak() func() float64 {
	most := make(chan float64)
	stop := make(chan struct{})
	go func() {
		sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		top := uint64(0)
		for {
			metrics.Read(sample)
			top = max(top, sample[0].Value.Uint64())
			select {
			case <-stop:
				most <- float64(top) / megabyte
				return
			case <-time.After(time.Millisecond):
			}
		}
	}()
	return func() float64 { close(stop); return <-most }
}

// BenchmarkHundredThousandRows tells the time for 100,000 rows and the largest
// heap on the way, above what was there before. The file to import is a file
// on disk, as in use.
func BenchmarkHundredThousandRows(b *testing.B) {
	const n = 100_000
	m := openMap(b, "plant-characteristics.yaml")
	name := filepath.Join(b.TempDir(), "large.csv")
	require.NoError(b, os.WriteFile(name, large(b, n), 0o644))
	var plants []Plant
	run := func(name string, f func()) {
		b.Run(name, func(b *testing.B) {
			before, most := kept(), 0.0
			for b.Loop() {
				runtime.GC()
				top := peak()
				f()
				most = max(most, top())
			}
			b.ReportMetric(most-before, "MB-peak")
		})
	}
	run("import", func() {
		f, err := os.Open(name)
		require.NoError(b, err)
		defer f.Close()
		table, err := ReadTableFor(name, f, m)
		require.NoError(b, err)
		plants, _, err = Import(table, m)
		require.NoError(b, err)
	})
	out := filepath.Join(b.TempDir(), "out.csv")
	run("write", func() {
		f, err := os.Create(out)
		require.NoError(b, err)
		defer f.Close()
		require.NoError(b, Write(f, plants))
	})
	plants = nil
	run("read", func() {
		f, err := os.Open(out)
		require.NoError(b, err)
		defer f.Close()
		c, err := Read(out, f)
		require.NoError(b, err)
		require.Len(b, c.Plants, n)
	})
}
