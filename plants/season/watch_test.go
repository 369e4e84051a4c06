package season

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func inches(text string) (float64, error) {
	number, ok := strings.CutSuffix(text, " in")
	v := decodeFigure(func(string) string { return number }, func(string, string) { ok = false }, "", "", 0, 100)
	if !ok {
		return v, errors.New("expected inches")
	}
	return 25.4 * v, nil
}

func TestPondAndSunAreRead(t *testing.T) {
	for text, want := range map[string][4]float64{ // depths, mm, and minutes
		"4 in at 8:00, gone by 20:00":       {101.6, 0, 480, 1200},
		"4 in at 8 am, 2 in left at 6 pm":   {101.6, 50.8, 480, 1080},
		"2 in left at 18:00":                {math.NaN(), 50.8, Unstated, 1080},
		"3 in at 21:30, gone by 7:15":       {76.2, 0, 1290, 435},
		"2 in at 12 pm":                     {50.8, math.NaN(), 720, Unstated},
		" 4 in At 8:00 , all gone at 12 am": {101.6, 0, 480, 0},
	} {
		e := NewEntry(date("2024-07-20"), pondStake, Ponded)
		require.Empty(t, e.ParsePond(text, inches), text)
		assert.InDeltaSlice(t, want[:2], []float64{e.PondMM, e.LeftMM}, 1e-9, text)
		assert.Equal(t, want[2:], []float64{float64(e.From), float64(e.To)}, text)
		require.NoError(t, e.Check(), text)
		out, added, err := Append("season.csv", []byte("entry,date,stake,kind,vigour\n1,2024-07-01,TAR3,seen,5\n"), []Entry{e})
		require.NoError(t, err, text)
		assert.Equal(t, e.content(), added[0].content(), text)
		assert.True(t, strings.HasPrefix(string(out), "entry,date,stake,kind,vigour,"), "columns of an older file keep their places")
	}
	overnight := NewEntry(date("2024-07-20"), pondStake, Ponded)
	require.Empty(t, overnight.ParsePond("3 in at 21:30, gone by 7:15", inches))
	assert.Equal(t, 9*60+45, overnight.Minutes())
	entries, want := NewEntry(date("2024-07-20"), "", Sunned).ParseSun("Bottom 8:00-10:00, 13:00 to 15:30")
	require.Empty(t, want)
	require.Len(t, entries, 2)
	assert.Equal(t, []int{120, 150}, []int{entries[0].Minutes(), entries[1].Minutes()})
	assert.Equal(t, "bottom", entries[0].Stake)
	require.NoError(t, entries[1].Check())
}

func TestPondAndSunThatCannotBe(t *testing.T) {
	for text, want := range map[string]string{
		"": wantPond, "4 in": wantPond, "4 in at dusk": wantClock, "4 in at 25:00": wantClock, "4 in at 8": wantClock, "4 at 8:00": "expected inches",
		"gone by 8:00, 4 in at 10:00": wantPond, "1 in at 8:00, 2 in at 9:00, gone by 10:00": wantPond, "4 in at 13 pm": wantClock,
	} {
		e := NewEntry(date("2024-07-20"), pondStake, Ponded)
		assert.Contains(t, e.ParsePond(text, inches), want, text)
	}
	for text, want := range map[string]string{"bottom": wantSun, "10:00-14:00": wantSun, "bottom 10-14": wantClock, "bottom 10:00": wantSun} {
		_, got := NewEntry(date("2024-07-20"), "", Sunned).ParseSun(text)
		assert.Contains(t, got, want, text)
	}
	const head = "date,stake,kind,vigour,pond_mm,left_mm,from,to\n2024-07-20,"
	for row, want := range map[string]string{
		"bottom,pond,,50,60,08:00,09:00": "less water left", "slope,pond,,50,,08:00,": "expected bottom", "TAR3,pond,,50,,08:00,": "expected bottom",
		"bottom,pond,,50,,,": "expected the time of day", "bottom,pond,,,,08:00,": "how deep", "bottom,pond,,-1,,08:00,": "from 0 to 1000",
		"all,sun,,,,08:00,09:00": "expected bottom, slope or rim", "rim,sun,,,,09:00,08:00": "the later time last", "rim,sun,,5,,08:00,09:00": "no depth",
		"TAR3,seen,3,5,,,": "only where kind is pond or sun", "bottom,pond,,50,,8h,": wantClock,
	} {
		_, err := Read("season.csv", strings.NewReader(head+row+"\n"))
		assert.ErrorContains(t, err, want, row)
	}
	// What the kind is shows where it is left out.
	rec, err := Read("season.csv", strings.NewReader("date,stake,pond_mm,from,to\n2024-07-20,bottom,50,08:00,\n2024-07-20,rim,,08:00,10:00\n"))
	require.NoError(t, err)
	assert.Equal(t, []EntryKind{Ponded, Sunned}, []EntryKind{rec.Entries[0].Kind, rec.Entries[1].Kind})
}
