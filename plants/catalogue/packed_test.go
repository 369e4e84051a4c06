package catalogue

import (
	"bytes"
	"encoding/binary"
	"encoding/gob"
	"fmt"
	"hash/crc32"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// demoOf is a table of n rows: the demo's plants again and again, and a column
// that is not ours.
func demoOf(t testing.TB, n int) []byte {
	raw, err := os.ReadFile(filepath.Join("..", "..", "data", "plants.csv"))
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(raw)), "\n")
	var out strings.Builder
	fmt.Fprintln(&out, lines[0]+",shelf")
	for i := range n {
		fmt.Fprintf(&out, "n%d-%s,\"a\nb\"\n", i, lines[1+i%(len(lines)-1)])
	}
	return []byte(out.String())
}

func TestPackedComesBackTheSame(t *testing.T) {
	c, err := Read("plants.csv", bytes.NewReader(demoOf(t, 500)))
	require.NoError(t, err)
	require.NotEmpty(t, c.Warnings)
	for _, w := range c.Warnings {
		require.Equal(t, c.Name, w.File, "only one name is given back")
	}
	back, err := Unpack("plants.csv", string(c.Pack()))
	require.NoError(t, err)
	back.byID = c.byID
	assert.Equal(t, fmt.Sprintf("%#v", c), fmt.Sprintf("%#v", back)) // NaN is not equal to itself
	other, err := Unpack("other.csv", string(c.Pack()))
	require.NoError(t, err)
	assert.Equal(t, "other.csv", other.Name)
	assert.Equal(t, "other.csv", other.Warnings[0].File)
	p, ok := other.ByID(c.Plants[3].ID)
	assert.True(t, ok)
	assert.Equal(t, c.Plants[3].VernacularName, p.VernacularName)
}

// Every field of a plant is packed: each is set to something of its own.
func TestEveryFieldIsPacked(t *testing.T) {
	var p Plant
	v := reflect.ValueOf(&p).Elem()
	for i := range v.NumField() {
		switch f := v.Field(i); f.Kind() {
		case reflect.String:
			f.SetString(fmt.Sprint("text ", i))
		case reflect.Float64:
			f.SetFloat(float64(i) + 0.1)
		case reflect.Int:
			f.SetInt(int64(i))
		case reflect.Pointer: // Wild belongs to the built-in table, which is not packed
		default:
			f.Set(reflect.ValueOf([]string{fmt.Sprint("one ", i), ""}))
		}
	}
	back, err := Unpack("", string((&Catalogue{Plants: []Plant{p, {}}}).Pack()))
	require.NoError(t, err)
	assert.Equal(t, []Plant{p, {}}, back.Plants)
}

func TestUnpackTakesNothingOnTrust(t *testing.T) {
	c, err := Read("plants.csv", bytes.NewReader(demoOf(t, 40)))
	require.NoError(t, err)
	packed := c.Pack()
	r := rand.New(rand.NewPCG(5, 6))
	for n := range packed {
		_, err := Unpack("", string(packed[:n]))
		require.Error(t, err, "the first %d bytes", n)
		if short := bytes.Clone(packed[:n:n]); n >= 4 { // with a sum that is right
			binary.LittleEndian.PutUint32(short, crc32.Checksum(short[4:], crc32.MakeTable(crc32.Castagnoli)))
			_, err = Unpack("", string(short[:n:n]))
			require.Error(t, err, "the first %d bytes", n)
		}
	}
	_, err = Unpack("", string(append(bytes.Clone(packed), 0)))
	require.Error(t, err)
	for range 2000 {
		bad := bytes.Clone(packed)
		bad[r.IntN(len(bad))] ^= 1 << r.IntN(8)
		_, err := Unpack("", string(bad))
		require.Error(t, err)
	}
	var before, after runtime.MemStats
	refused := 0
	for range 2000 { // with a sum that is right: no panic, no memory without end
		bad := bytes.Clone(packed)
		for range 1 + r.IntN(3) {
			bad[4+r.IntN(len(bad)-4)] = byte(r.Uint32())
		}
		if r.IntN(4) == 0 {
			bad = append(bad[:4+r.IntN(len(bad)-4)], binary.AppendUvarint(nil, math.MaxUint64)...)
		}
		binary.LittleEndian.PutUint32(bad, crc32.Checksum(bad[4:], crc32.MakeTable(crc32.Castagnoli)))
		runtime.ReadMemStats(&before)
		_, err := Unpack("", string(bad))
		runtime.ReadMemStats(&after)
		require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(40*len(packed)))
		if err != nil {
			refused++
		}
	}
	assert.Greater(t, refused, 200)
}

// ReadKnown asks by the digest of the very bytes, and believes what it is given.
func TestReadKnown(t *testing.T) {
	raw := demoOf(t, 3)
	c, err := Read("plants.csv", bytes.NewReader(raw))
	require.NoError(t, err)
	asked := ""
	given := &Catalogue{}
	got, err := ReadKnown("plants.csv", bytes.NewReader(raw), func(digest string, lines int) *Catalogue {
		asked = fmt.Sprint(digest, " ", lines)
		return given
	})
	require.NoError(t, err)
	assert.Same(t, given, got)
	assert.Equal(t, fmt.Sprint(c.Digest, " ", bytes.Count(raw, []byte("\n"))), asked)
	got, err = ReadKnown("plants.csv", bytes.NewReader(raw), func(string, int) *Catalogue { return nil })
	require.NoError(t, err)
	assert.Equal(t, fmt.Sprintf("%#v", c), fmt.Sprintf("%#v", got))
	_, err = ReadKnown("plants.csv", bytes.NewReader([]byte("id\n\xff")), func(string, int) *Catalogue { return nil })
	assert.ErrorContains(t, err, "plants.csv:2:1")
}

// BenchmarkUnpack is what a packed table takes to come back, against
// encoding/gob with the same plants and against reading the CSV, in the same run.
func BenchmarkUnpack(b *testing.B) {
	for _, n := range []int{1000, 5000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			raw := demoOf(b, n)
			c, err := Read("", bytes.NewReader(raw))
			require.NoError(b, err)
			packed := c.Pack()
			var gobbed bytes.Buffer
			require.NoError(b, gob.NewEncoder(&gobbed).Encode(c.Plants))
			var ours, bare, read time.Duration
			clock := func(sum *time.Duration, do func() error) {
				runtime.GC()
				begin := time.Now()
				require.NoError(b, do())
				*sum += time.Since(begin)
			}
			for b.Loop() {
				clock(&ours, func() error { _, err := Unpack("", string(packed)); return err })
				clock(&bare, func() error { var p []Plant; return gob.NewDecoder(bytes.NewReader(gobbed.Bytes())).Decode(&p) })
				clock(&read, func() error { _, err := Read("", bytes.NewReader(raw)); return err })
			}
			b.ReportMetric(0, "ns/op")
			b.ReportMetric(float64(ours.Microseconds())/1e3/float64(b.N), "ms-packed")
			b.ReportMetric(bare.Seconds()/ours.Seconds(), "gob/packed")
			b.ReportMetric(read.Seconds()/ours.Seconds(), "csv/packed")
			b.ReportMetric(float64(len(packed))/float64(len(raw)), "size/csv")
		})
	}
}
