package season

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func date(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}

func mustRead(t testing.TB, text string) *Notes {
	t.Helper()
	r, err := Read("season.csv", strings.NewReader(text))
	require.NoError(t, err)
	return r
}

// said is what entries say: figures that are not stated are not a number, and
// equal to nothing.
func said(entries []Entry) (out []string) {
	for _, e := range entries {
		out = append(out, fmt.Sprintf("%v", e))
	}
	return out
}

const small = `entry,date,stake,kind,vigour,signs,water_l,id,x_m,y_m,corrects,remark
1,2024-05-04,TAR3,seen,4,new shoots,,,,,,
2,2024-06-12,rim,watered,,,90,,,,,
3,2024-06-29,TAR3,seen,1,wilted|soil dry|not eaten,,,,,,"said ""thirsty"", and so it was"
4,2024-06-30,TAR4,seen,1,wilted|soil dry|not eaten,,,,,3,wrong stake
`

func TestAppendKeepsWhatStands(t *testing.T) {
	e := NewEntry(date("2024-07-20"), "tar5", Seen)
	e.Vigour, e.Signs, e.Remark = 2, []Sign{"leggy"}, "=HYPERLINK(1)"
	for _, old := range []string{
		small, strings.TrimSuffix(small, "\n"), strings.ReplaceAll(small, "\n", "\r\n"),
		"\ufeff" + strings.ReplaceAll(strings.ReplaceAll(small, `"said ""thirsty"", and so it was"`, "dry"), ",", ";"),
		"remark,weather,signs,vigour,kind,stake,date\n,fine,wilted,2,seen,TAR3,2024-06-29\n",
	} {
		before := mustRead(t, old)
		out, added, err := Append("season.csv", []byte(old), []Entry{e})
		require.NoError(t, err)
		assert.True(t, bytes.HasPrefix(out, []byte(old)), "%q", out)
		after := mustRead(t, string(out))
		assert.Nil(t, after.Torn)
		require.Len(t, after.Entries, len(before.Entries)+1)
		assert.Equal(t, said(before.Entries), said(after.Entries[:len(before.Entries)]))
		last := after.Entries[len(before.Entries)]
		assert.Equal(t, said(added), said([]Entry{last}))
		assert.Equal(t, "TAR5", last.Stake)
		assert.Equal(t, "=HYPERLINK(1)", last.Remark)
		assert.Contains(t, string(out), "'=HYPERLINK(1)")
		assert.Equal(t, len(before.Entries)+1, last.Number)
		if strings.Contains(old, "\r\n") {
			assert.Equal(t, bytes.Count(out, []byte("\n")), bytes.Count(out, []byte("\r\n")))
		}
	}
}

func TestAppendAddsColumnsThatAreNeeded(t *testing.T) {
	old := "date,stake,vigour,weather\n2024-06-29,TAR3,4,\"fine, warm\"\n"
	e := NewEntry(date("2024-07-20"), "rim", Watered)
	e.WaterL = 12.5
	out, _, err := Append("season.csv", []byte(old), []Entry{e})
	require.NoError(t, err)
	assert.Equal(t, "date,stake,vigour,weather,kind,water_l\n2024-06-29,TAR3,4,\"fine, warm\",,\n2024-07-20,rim,,,watered,12.5\n", string(out))
}

func TestAppendToNothing(t *testing.T) {
	e := NewEntry(date("2024-07-20"), "TAR3", Seen)
	e.Vigour = 5
	out, added, err := Append("season.csv", nil, []Entry{e})
	require.NoError(t, err)
	assert.Equal(t, strings.Join(entryColumns()[:usualColumns], ",")+"\n1,2024-07-20,TAR3,seen,5,,,,,,,\n", string(out))
	assert.Equal(t, 1, added[0].Number)
	_, _, err = Append("season.csv", out, []Entry{NewEntry(date("2024-07-20"), "TAR3", Seen)})
	assert.ErrorContains(t, err, "want a vigour from 0 to 5, signs or a remark")
}

func TestCheckNamesTheField(t *testing.T) {
	e := NewEntry(date("2024-07-20"), "TAR3", Seen)
	e.Vigour = 7
	assert.EqualError(t, e.Check(), `vigour: "7": want a whole number from 0 (dead or nearly) over 1 (poor) and 3 (average) to 5 (excellent)`)
	e.Vigour = 3
	assert.NoError(t, e.Check())
}

func drawEntry(rt *rapid.T) Entry {
	kind := rapid.SampledFrom(entryKinds()[:5]).Draw(rt, "kind")
	day := date("1990-01-01").AddDate(0, 0, rapid.IntRange(0, 30000).Draw(rt, "day"))
	e := NewEntry(day, rapid.StringMatching(`[A-Z]{2,3}[1-9][0-9]?`).Draw(rt, "stake"), kind)
	e.Remark = oneLine(rapid.StringOf(rapid.Rune().Filter(func(r rune) bool {
		return table.WrongText(string(r)) == ""
	})).Draw(rt, "remark"))
	if rapid.Bool().Draw(rt, "photo") {
		e.Photo = e.NamePhoto(rapid.String().Draw(rt, "file"), rapid.SampledFrom(photoEndings()).Draw(rt, "ending"))
	}
	switch kind {
	case Seen:
		e.Vigour = rapid.IntRange(0, 5).Draw(rt, "vigour")
		for _, s := range tableSigns() {
			switch rapid.IntRange(0, 4).Draw(rt, "sign") {
			case 1:
				e.Signs = append(e.Signs, s)
			case 2:
				e.Absent = append(e.Absent, s)
			}
		}
	case Watered:
		e.WaterL = rapid.Float64Range(0.001, 1e6).Draw(rt, "water")
		if rapid.Bool().Draw(rt, "zone") {
			e.Stake = rapid.SampledFrom([]string{"bottom", "slope", "rim", allPlants}).Draw(rt, "zone")
		}
	default:
		e.X, e.Y = rapid.Float64Range(-1e6, 1e6).Draw(rt, "x")+0, rapid.Float64Range(-1e6, 1e6).Draw(rt, "y")+0
		e.ID = rapid.StringMatching(`[a-z][a-z0-9-]{0,12}`).Draw(rt, "id")
	}
	return e
}

// Entries go through writing and reading unchanged, in one go or bit by bit, by
// whatever separator the file has, and what was written stays as it is.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		entries := rapid.SliceOfN(rapid.Custom(drawEntry), 1, 8).Draw(rt, "entries")
		var text []byte
		if sep := rapid.SampledFrom([]string{"", ";", "\t", "|"}).Draw(rt, "separator"); sep != "" {
			text = []byte(strings.Join(entryColumns(), sep) + rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(rt, "end"))
		} else { // a column that comes later rewrites the header
			for i := range entries {
				entries[i].Photo = entries[0].Photo
			}
		}
		var want []Entry
		for from := 0; from < len(entries); {
			to := rapid.IntRange(from+1, len(entries)).Draw(rt, "to")
			out, added, err := Append("season.csv", text, entries[from:to])
			require.NoError(rt, err)
			require.True(rt, bytes.HasPrefix(out, text))
			want = append(want, added...)
			text, from = out, to
		}
		r, err := Read("season.csv", bytes.NewReader(text))
		require.NoError(rt, err)
		require.Nil(rt, r.Torn)
		require.Equal(rt, len(want), len(r.Entries))
		for i, e := range r.Entries {
			require.Equal(rt, want[i].cells(), e.cells())
			got, drawn := e.cells(), entries[i].cells()
			drawn["entry"] = fmt.Sprint(i + 1)
			require.Equal(rt, drawn, got)
			require.NoError(rt, e.Check())
		}
	})
}

func TestCurrentWithStruck(t *testing.T) {
	r := mustRead(t, small+"5,2024-07-01,TAR4,struck,,,,,,,4,\n6,2024-01-01,TAR1,seen,3,,,,,,,\n")
	var now []int
	for _, e := range r.Current() {
		now = append(now, e.Number)
	}
	assert.Equal(t, []int{6, 1, 2}, now, "by date; 3 corrected by 4, and 4 struck")
}

// The demo's record is sound, and stands beside the demo's planting.
func TestDemoRecord(t *testing.T) {
	text, err := os.ReadFile("../../data/season/season.csv")
	require.NoError(t, err)
	r := mustRead(t, string(text))
	assert.Empty(t, r.Warnings)
	assert.Nil(t, r.Torn)
	assert.Greater(t, len(r.Current()), 60)
	kinds := map[EntryKind]bool{}
	signs := map[Sign]bool{}
	for _, e := range r.Entries {
		kinds[e.Kind] = true
		for _, s := range e.Signs {
			signs[s] = true
		}
	}
	assert.True(t, kinds[Seen] && kinds[Watered])
	assert.Greater(t, len(signs), 12)
	assert.True(t, slices.ContainsFunc(r.Entries, func(e Entry) bool { return e.Corrects > 0 }))
}

// A new remark has a bound; an old one that is longer is read and kept.
func TestLongRemark(t *testing.T) {
	e := NewEntry(time.Date(2024, 6, 1, 0, 0, 0, 0, time.UTC), "TAR3", Seen)
	e.Remark = strings.Repeat("é", MostRemark)
	require.NoError(t, e.Check())
	e.Remark += "é"
	assert.ErrorContains(t, e.Check(), "expected a remark of at most 4000 characters, not 4001")
	old := "date,stake,kind,remark\n2024-06-01,TAR3,seen," + e.Remark + "\n"
	e.Remark = "short"
	text, _, err := Append("season.csv", []byte(old), []Entry{e})
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(text), old))
}
