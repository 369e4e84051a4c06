package many

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

const dataDir = "../../data"

func readFile(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dataDir, name))
	require.NoError(t, err)
	return text
}

// shared are the files of the demo garden; opens counts how often each record
// is opened. years cuts the record to its first years, 0 for all.
func shared(t testing.TB, what What, years int, opens *atomic.Int64) Shared {
	t.Helper()
	base, g, err := zones.ReadBase("garden.yaml", bytes.NewReader(readFile(t, "garden.yaml")))
	require.NoError(t, err)
	table, err := catalogue.Read("plants.csv", bytes.NewReader(readFile(t, "plants.csv")))
	require.NoError(t, err)
	rain := readFile(t, "rain.csv")
	if years > 0 {
		rain = []byte(strings.Join(strings.SplitAfter(string(rain), "\n")[:1+366*years], ""))
	}
	return Shared{
		Base: base, WeatherFile: g.Weather.File, Catalogue: table, What: what, Digest: "demo",
		Open: func(file string, beside bool) (io.ReadCloser, string, error) {
			if opens != nil {
				opens.Add(1)
			}
			switch {
			case file == "rain.csv" && !beside, file == "same.csv" && beside:
				return io.NopCloser(bytes.NewReader(rain)), file, nil
			case file == "broken.csv":
				return io.NopCloser(strings.NewReader("date,rain_mm\n2001-01-01,wide\n")), file, nil
			}
			return nil, file, fmt.Errorf("%s: %w", file, fs.ErrNotExist)
		},
	}
}

func rows(t testing.TB, text string) []Row { return readAll(t, text) }

// gardenRows makes rows of n different gardens.
func gardenRows(t testing.TB, n int) []Row {
	var text strings.Builder
	text.WriteString("id,roof.area,bed.length,soil.rate,mix.depth\n")
	for i := range n {
		fmt.Fprintf(&text, "lot-%d,%d m2,%d ft,%d mm/h,%d in\n", i+1, 40+7*(i%20), 14+i%9, 10+i%13, 12+i%7)
	}
	return rows(t, text.String())
}

// An answer is what the functions for one garden give, from a garden file that
// says what the row says.
func TestAnswerIsTheSingleWay(t *testing.T) {
	s := shared(t, Choose, 3, nil)
	table := s.Catalogue
	s.Catalogue, s.Plants = nil, func(string, bool) *catalogue.Catalogue { return table }
	s.State = func(g *zones.Garden) (string, error) {
		assert.Equal(t, 90.0, g.Roof.AreaM2, "the plants are those of the row's garden")
		return "", nil
	}
	b := New(s)
	row := rows(t, "id,roof.area,bed.length,wishes.wanted\nx,90 m2,22 ft,[Marsh Brindlewisp]\n")[0]
	a := b.Answer(row)
	require.NoError(t, a.Err)

	text := strings.NewReplacer("area: 1240 sq ft", "area: 90 m2", "length: 20 ft", "length: 22 ft", "# wanted: []", "wanted: [marsh-brindlewisp]").Replace(string(readFile(t, "garden.yaml")))
	g, err := zones.ReadGarden("garden.yaml", strings.NewReader(text))
	require.NoError(t, err)
	content, _, err := b.Open("rain.csv", false)
	require.NoError(t, err)
	rec, err := site.ReadRecord("rain.csv", content, g.Weather.Format, g.Site.LatitudeDeg)
	require.NoError(t, err)
	lot, err := zones.Prepare(g, rec)
	require.NoError(t, err)
	e, err := lot.Expose()
	require.NoError(t, err)
	p, err := e.Perform()
	require.NoError(t, err)
	list, err := plants.Choose(plants.NewJudge(e), table)
	require.NoError(t, err)

	assert.Equal(t, p, a.Performs)
	assert.Equal(t, e.Bands, a.Exposure.Bands)
	assert.Equal(t, e.Record, a.Exposure.Record, "notes of what was filled in, too")
	assert.Equal(t, list.Objective, a.Planting.Objective)
	require.Len(t, a.Planting.Lines, len(list.Lines))
	for i := range list.Lines {
		assert.Equal(t, list.Lines[i].Plant.ID, a.Planting.Lines[i].Plant.ID)
		assert.Equal(t, list.Lines[i].Count, a.Planting.Lines[i].Count)
	}
}

// A record is read once for all rows that share it, whoever asks first, and its
// gaps are filled once for each latitude; rows do not disturb one another (run
// with the race detector).
func TestRecordsAreShared(t *testing.T) {
	var opens atomic.Int64
	b := New(shared(t, Zones, 2, &opens))
	table := rows(t, "id,site.latitude,bed.length,record\n"+strings.Repeat("a,41.5,20 ft,\nb,62,19 ft,\nc,41.5,18 ft,same.csv\n", 6))
	want := map[string]Answer{}
	for _, row := range table[:3] {
		want[row.ID] = New(shared(t, Zones, 2, nil)).Answer(row)
		require.NoError(t, want[row.ID].Err)
	}
	var wait sync.WaitGroup
	for _, row := range table {
		wait.Go(func() {
			a := b.Answer(row)
			if assert.NoError(t, a.Err) {
				assert.Equal(t, want[row.ID].Exposure.Bands, a.Exposure.Bands)
				assert.Equal(t, want[row.ID].Digest, a.Digest)
			}
		})
	}
	wait.Wait()
	assert.Equal(t, int64(4), opens.Load(), "two files, each once for its digest and once to be read")
	assert.Equal(t, 2, b.files.count)
	assert.Equal(t, 3, b.climates.count, "one for each file and latitude")
	assert.NotEqual(t, want["a"].Exposure.Bands[11].DryOneInTenD, want["b"].Exposure.Bands[11].DryOneInTenD, "another latitude has another evapotranspiration")
}

// The plants of a state are made once for all gardens in it, whoever asks first; why
// a garden has none is its own (run with the race detector).
func TestPlantsOfAState(t *testing.T) {
	var made atomic.Int64
	b := New(Shared{
		State: func(g *zones.Garden) (string, error) {
			if g.Site.LatitudeDeg > 60 {
				return "", errors.New(g.Source)
			}
			return fmt.Sprint(g.Site.LatitudeDeg), nil
		},
		Plants: func(state string, _ bool) *catalogue.Catalogue {
			made.Add(1)
			return &catalogue.Catalogue{State: state}
		},
	})
	var wait sync.WaitGroup
	for i := range 30 {
		wait.Go(func() {
			g := &zones.Garden{Source: fmt.Sprint("garden ", i)}
			if g.Site.LatitudeDeg = float64(30 + i%3*20); i%3 == 2 {
				_, err := b.plants(g)
				assert.EqualError(t, err, g.Source)
				return
			}
			c, err := b.plants(g)
			if assert.NoError(t, err) {
				assert.Equal(t, fmt.Sprint(g.Site.LatitudeDeg), c.State)
			}
		})
	}
	wait.Wait()
	assert.Equal(t, int64(2), made.Load())
}

// A record that is another when it is read than when its digest was taken is no
// record: the line would name what it was not made from.
func TestRecordChanges(t *testing.T) {
	s := shared(t, Zones, 2, nil)
	open, later := s.Open, shared(t, Zones, 3, nil).Open
	opened := 0
	s.Open = func(file string, beside bool) (io.ReadCloser, string, error) {
		if opened++; opened > 1 {
			return later(file, beside)
		}
		return open(file, beside)
	}
	a := New(s).Answer(rows(t, "id\nx\n")[0])
	require.EqualError(t, a.Err, "rain.csv: was written to while it was read: run again when that is done")
	assert.True(t, Faulty(a.Err))
}

// Only the last few records are kept, however many a table names.
func TestOnceForgets(t *testing.T) {
	o := once[int]{keep: 3}
	get := func(key string) int {
		v, err := o.get(key, func() (int, error) { return len(key), nil })
		require.NoError(t, err)
		return v
	}
	for _, key := range []string{"a", "bb", "a", "ccc", "a", "dddd", "a", "bb"} {
		assert.Equal(t, len(key), get(key))
		assert.LessOrEqual(t, o.order.Len(), 3)
		assert.Len(t, o.byKey, o.order.Len())
	}
	assert.Equal(t, 5, o.count, "a was asked for again in time, bb was not")
	_, err := o.get("e", func() (int, error) { return 0, io.ErrUnexpectedEOF })
	require.ErrorIs(t, err, io.ErrUnexpectedEOF)
	_, err = o.get("e", func() (int, error) { t.Error("made twice"); return 0, nil })
	require.ErrorIs(t, err, io.ErrUnexpectedEOF, "errors are kept too")
	assert.Panics(t, func() { o.get("f", func() (int, error) { panic("broken") }) })
	_, err = o.get("f", func() (int, error) { return 1, nil })
	assert.Error(t, err, "nobody takes nothing for a value")
}

// A row that cannot be answered says why, at its place, and spoils no other.
func TestAnswerFaults(t *testing.T) {
	b := New(shared(t, Choose, 2, nil))
	good := rows(t, "id\nx\n")[0]
	for _, c := range []struct{ row, want string }{
		{"roof.area\n90\n", `^t.csv:2:1: roof.area: "90": want`},
		{"record\nnone.csv\n", `^t.csv:2:1: record: "none.csv": no such file`},
		{"weather.file\nnone.csv\n", `no weather record`},
		{"record\nbroken.csv\n", `^broken.csv:2:12: .*wide`},
		{"bed.length\n0.6 m\n", `bed.ponding_depth: the rim of 12 in fills the whole bed`},
		{"bed.ponding_depth\n30 in\n", `^t.csv:2:1: bed.ponding_depth`},
		{"wishes.wanted\n[no-such]\n", `no-such`},
		{"sun\n~\n", `sun`},
		{"a\n\"\n", `^t.csv:2:1: this quote is never closed`},
	} {
		a := b.Answer(rows(t, c.row)[0])
		require.Error(t, a.Err, c.row)
		assert.Regexp(t, c.want, a.Err.Error())
		assert.True(t, Faulty(a.Err), c.row)
		assert.Len(t, a.Digest, 64)
		assert.Nil(t, a.Exposure)
		require.NoError(t, b.Answer(good).Err, "after %s", c.row)
	}
	broken := New(Shared{What: Choose, WeatherFile: "rain.csv", Open: func(string, bool) (io.ReadCloser, string, error) { return nil, "", fs.ErrNotExist }})
	a := broken.Answer(good) // without a base nothing can go well: a mistake of ours
	var ours *BrokenError
	require.ErrorAs(t, a.Err, &ours)
	assert.False(t, Faulty(a.Err), "nothing that the user could mend")
}

// The digest follows everything a line is made from, and nothing else.
func TestDigest(t *testing.T) {
	digest := func(change func(*Shared), text string) string {
		s := shared(t, Zones, 2, nil)
		if change != nil {
			change(&s)
		}
		return New(s).Digest(rows(t, text)[0])
	}
	const text = "id,roof.area,bed.length\nx,90 m2,5 m\n"
	same := digest(nil, text)
	assert.Equal(t, same, digest(nil, "bed.length;id;roof.area\n\n 5 m; x;90 m2\n"), "order and form of the table do not matter")
	assert.Equal(t, same, digest(nil, `{"id":"x","bed":{"length":"5 m"},"roof.area":"90 m2"}`))
	for name, other := range map[string]string{
		"id":     digest(nil, strings.Replace(text, "x,", "y,", 1)),
		"cell":   digest(nil, strings.Replace(text, "90", "91", 1)),
		"key":    digest(nil, strings.Replace(text, "bed.length", "bed.width", 1)),
		"what":   digest(func(s *Shared) { s.What = Basin }, text),
		"common": digest(func(s *Shared) { s.Digest = "other" }, text),
		"record": digest(func(s *Shared) { s.Open = shared(t, Zones, 3, nil).Open }, text),
		"none":   digest(nil, strings.Replace(text, "bed.length", "weather.file", 1)),
	} {
		assert.NotEqual(t, same, other, name)
	}
	record := func(text string, years int) string {
		return digest(func(s *Shared) { s.WeatherFile, s.Open = "other.csv", shared(t, Zones, years, nil).Open }, text)
	}
	for _, row := range []string{"id,weather.file\nx,~\n", "id,weather\nx,{file: rain.csv}\n"} { // no key: the usual name
		assert.NotEqual(t, record(row, 2), record(row, 3), row)
	}
}

// BenchmarkGardens is the pipeline of a batch, in gardens a second as a
// multiple of a plain loop over the functions for one garden on one core, run
// side by side. The time of both is printed per garden.
func BenchmarkGardens(b *testing.B) {
	for _, what := range Whats() {
		b.Run(string(what), func(b *testing.B) { benchGardens(b, what) })
	}
}

// A record without an end does not keep a row for ever.
func TestRecordWithoutEnd(t *testing.T) {
	read := 0
	b := New(Shared{Open: func(string, bool) (io.ReadCloser, string, error) {
		return io.NopCloser(readerFunc(func(p []byte) (int, error) {
			if read += len(p); read > site.MaxRecordBytes+1<<20 {
				return 0, errors.New("read past any record")
			}
			return len(p), nil
		})), "", nil
	}})
	_, err := b.recordSum("rain.csv", false)
	require.NoError(t, err)
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(p []byte) (int, error) { return f(p) }
