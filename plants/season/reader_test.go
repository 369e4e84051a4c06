package season

import (
	"bytes"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReadSmall(t *testing.T) {
	r := mustRead(t, small)
	require.Len(t, r.Entries, 4)
	assert.Empty(t, r.Warnings)
	assert.Nil(t, r.Torn)
	e := r.Entries[2]
	assert.Equal(t, 1, e.Vigour)
	assert.Equal(t, []Sign{"wilted", "soil dry"}, e.Signs)
	assert.Equal(t, []Sign{"eaten"}, e.Absent)
	assert.Equal(t, `said "thirsty", and so it was`, e.Remark)
	assert.Equal(t, 4, e.Line)
	assert.Equal(t, 90.0, r.Entries[1].WaterL)
	assert.True(t, math.IsNaN(e.WaterL))

	var now []int
	for _, e := range r.Current() {
		now = append(now, e.Number)
	}
	assert.Equal(t, []int{1, 2, 4}, now, "3 is corrected by 4")
	of, ok := r.Of(3)
	assert.True(t, ok)
	assert.Equal(t, "TAR3", of.Stake)
}

// The same table in other dress: byte order mark, CR LF, semicolons, columns in
// another order and fewer of them, a column of somebody else's, blank lines.
func TestReadOtherDress(t *testing.T) {
	text := "\ufeffStake;weather;Date;vigour;signs\r\ntar3;fine;2024-06-29;1;Wilted | soil  dry\r\n;;;;\r\n\r\nTAR3;;2024-09-01;4;\r\n"
	r := mustRead(t, text)
	require.Len(t, r.Entries, 2)
	assert.Equal(t, "TAR3", r.Entries[0].Stake)
	assert.Equal(t, []Sign{"wilted", "soil dry"}, r.Entries[0].Signs)
	assert.Equal(t, Seen, r.Entries[0].Kind)
	assert.Equal(t, []int{1, 2}, []int{r.Entries[0].Number, r.Entries[1].Number})
	require.Len(t, r.Warnings, 1)
	assert.Equal(t, `season.csv:1:7: "weather": not a column of ours: passed over`, r.Warnings[0].String())
	watered := mustRead(t, "date,stake,water_l\n2024-06-01,ALL,90\n")
	assert.Equal(t, Watered, watered.Entries[0].Kind)
	assert.Equal(t, allPlants, watered.Entries[0].Stake)
}

func TestReadFaults(t *testing.T) {
	head := "entry,date,stake,kind,vigour,signs,water_l,id,x_m,y_m,corrects,remark\n"
	for _, c := range []struct{ text, want string }{
		{"", "season.csv:1:1: the file is empty: want a header line with the names of the columns"},
		{"date,stake,Date\n", "season.csv:1:12: date: this column stands twice in the header"},
		{"date,kind\n", "season.csv:1:1: stake: the header lacks this column: want date,stake"},
		{head + "1,29.6.2024,TAR3,seen,4,,,,,,,\n", `season.csv:2:3: date: "29.6.2024": want a date such as 2026-04-30`},
		{head + "1,2024-02-30,TAR3,seen,4,,,,,,,\n", `season.csv:2:3: date: "2024-02-30": want a date`},
		{head + "1,2024-06-29,TAR 3,seen,4,,,,,,,\n", `season.csv:2:14: stake: "TAR 3": want up to 12 letters and digits, such as TAR3`},
		{head + "1,2024-06-29,rim,seen,4,,,,,,,\n", `season.csv:2:14: stake: "rim": want the stake of one plant, such as TAR3`},
		{head + "1,2024-06-29,TAR3,sown,4,,,,,,,\n", `season.csv:2:19: kind: "sown": want seen, watered, moved, planted, removed, struck, pond or sun`},
		{head + "1,2024-06-29,TAR3,seen,6,,,,,,,\n", `season.csv:2:24: vigour: "6": want a whole number from 0`},
		{head + "1,2024-06-29,TAR3,seen,3.5,,,,,,,\n", `vigour: "3.5": want a whole number`},
		{head + "1,2024-06-29,TAR3,seen,3,wiltd,,,,,,\n", `season.csv:2:26: signs: "wiltd": want a sign; did you mean wilted? All signs: hollowbed note --help`},
		{head + "1,2024-06-29,TAR3,seen,3,wiltd,,,,,,\n", `did you mean wilted?`},
		{head + "1,2024-06-29,TAR3,seen,3,wilted/yelow,,,,,,\n", `signs: "wilted/yelow": "yelow": want a sign; did you mean yellow?`},
		{head + "1,6/29/2024,TAR3,seen,3,,,,,,,\n", `date: "6/29/2024": want a date such as 2026-04-30; did you mean 2024-06-29?`},
		{head + "1,2024-06-29,TAR3,seen,3,wilted|not wilted,,,,,,\n", `want wilted either seen or not`},
		{head + "1,2024-06-29,TAR3,seen,2,dead,,,,,,\n", `vigour: "2": want 0 or nothing for a dead plant`},
		{head + "1,2024-06-29,TAR3,seen,,,,,,,,\n", `vigour: want a vigour from 0 to 5, signs or a remark`},
		{head + "1,2024-06-29,TAR3,watered,,,,,,,,\n", `water_l: want litres where kind is watered, and only there`},
		{head + "1,2024-06-29,TAR3,watered,,,-5,,,,,\n", `water_l: "-5": want litres, more than 0`},
		{head + "1,2024-06-29,TAR3,watered,,,1e3,,,,,\n", `water_l: "1e3": want litres`},
		{head + "1,2024-06-29,TAR3,watered,,,Inf,,,,,\n", `water_l: "Inf": want litres`},
		{head + "1,2024-06-29,TAR3,watered,4,,5,,,,,\n", `kind: "watered": want seen where vigour or signs are stated`},
		{head + "1,2024-06-29,TAR3,moved,,,,,3.5,,,\n", `x_m: "3.5": want both x_m and y_m, or neither`},
		{head + "1,2024-06-29,TAR3,moved,,,,,wide,2,,\n", `x_m: "wide": want metres within 1,000,000`},
		{head + "1,2024-06-29,TAR3,seen,4,,,,,,1,\n", `corrects: "1": want the number of an entry above this one`},
		{head + "1,2024-06-29,TAR3,struck,,,,,,,,\n", `corrects: want the number of the entry to take back`},
		{head + "1,2024-06-29,TAR3,seen,4,,,,,,,\n1,2024-06-29,TAR4,seen,4,,,,,,,\n", `season.csv:3:1: entry: "1": stands in line 2 already: want each number once`},
		{head + "1,2024-06-29,TAR3,seen,4,,,,,,,\n2,2024-06-29,TAR4,seen,4,,,,,,1,\n3,2024-06-29,TAR4,seen,4,,,,,,1,\n", `season.csv:4:31: corrects: "1": entry 1 is corrected by entry 2 already: want that one's number`},
		{head + "one,2024-06-29,TAR3,seen,4,,,,,,,\n", `entry: "one": want the number of an entry, from 1`},
		{head + "1,2024-06-29,TAR3,seen,4,,,,,,\n2,2024-06-29,TAR3,seen,4,,,,,,,\n", `season.csv:2:1: want 12 cells as in the header, not 11`},
		{head + "1,2024-06-29,TAR3,seen,4,,,,,,,\x07\n", `remark: "\a": want text without control characters`},
	} {
		_, err := Read("season.csv", strings.NewReader(c.text))
		var bad interface{ BadInput() bool }
		if assert.ErrorAs(t, err, &bad, c.text) {
			assert.ErrorContains(t, err, c.want)
		}
	}
	// All faults at once.
	_, err := Read("season.csv", strings.NewReader(head+"1,then,TAR3,seen,9,,,,,,,\n2,2024-06-29,TAR3,seen,8,,,,,,,\n"))
	assert.Len(t, strings.Split(err.Error(), "\n"), 3, err)
}

// Whatever part of the last line a crash leaves, the lines before it are read,
// and the message names the line.
func TestTornLastLine(t *testing.T) {
	whole := mustRead(t, small)
	body := small[:strings.LastIndex(strings.TrimSuffix(small, "\n"), "\n")+1]
	for n := len(body) + 1; n < len(small)-1; n++ {
		for _, tail := range []string{"", "\x00\x00\x00"} {
			r, err := Read("season.csv", strings.NewReader(small[:n]+tail))
			require.NoError(t, err, small[:n])
			if r.Torn == nil { // a cut within the remark cannot be told from a short one
				require.Empty(t, tail)
				require.Len(t, r.Entries, 4)
				require.Len(t, r.Warnings, 1)
				assert.Contains(t, r.Warnings[0].String(), "season.csv:5:1: the last line has no line end")
				assert.Equal(t, said(whole.Entries[:3]), said(r.Entries[:3]))
				assert.True(t, strings.HasPrefix("wrong stake", r.Entries[3].Remark))
				continue
			}
			require.Equal(t, said(whole.Entries[:3]), said(r.Entries))
			assert.Contains(t, r.Torn.String(), "season.csv:5:1: ")
			assert.Contains(t, r.Torn.String(), "this line is cut off and was not read")
			_, _, err = Append("season.csv", []byte(small[:n]+tail), []Entry{whole.Entries[0]})
			var torn *TornError
			require.ErrorAs(t, err, &torn)
			assert.True(t, torn.BadInput())
		}
	}
	// Cut within quotes that hold a separator and no line end.
	r, err := Read("season.csv", strings.NewReader(small[:strings.Index(small, "thirsty")]))
	require.NoError(t, err)
	require.Len(t, r.Entries, 2)
	assert.Contains(t, r.Torn.String(), "season.csv:4:1: ")
	// Cut within quotes behind a line end that belongs to the remark.
	r, err = Read("season.csv", strings.NewReader(small+"5,2024-07-01,TAR4,seen,3,,,,,,,\"two\nlines"))
	require.NoError(t, err)
	require.Len(t, r.Entries, 4)
	assert.Contains(t, r.Torn.String(), "season.csv:6:1: ")
	// Nothing but empty bytes behind a whole line.
	r, err = Read("season.csv", strings.NewReader(small+"\x00\x00"))
	require.NoError(t, err)
	require.Len(t, r.Entries, 4)
	assert.Equal(t, "season.csv:6:1: this line is cut off and was not read: complete it or take it away, and end it with a line end", r.Torn.String())
	// A fault further up is still told.
	_, err = Read("season.csv", strings.NewReader(strings.Replace(small, "TAR3,seen,4", "TAR3,seen,9", 1)+"5,2024"))
	assert.ErrorContains(t, err, "season.csv:2:24: vigour")
}

// A column that only slipped is not passed over with all that stands in it, and
// vigor is taken.
func TestColumnsThatSlipped(t *testing.T) {
	_, err := Read("season.csv", strings.NewReader("date,stake,vigour,sign,weather\n2024-05-01,TAR3,2,wilted,hot\n"))
	assert.EqualError(t, err, `season.csv:1:19: "sign": not a column of ours; did you mean signs?`)
	const american = "Date,Stake,Vigor\n2024-05-01,TAR3,2\n"
	r := mustRead(t, american)
	assert.Equal(t, 2, r.Entries[0].Vigour)
	e := NewEntry(date("2024-05-02"), "TAR3", Seen)
	e.Vigour = 4
	out, _, err := Append("season.csv", []byte(american), []Entry{e})
	require.NoError(t, err)
	assert.Equal(t, "Date,Stake,Vigor,kind\n2024-05-01,TAR3,2,\n2024-05-02,TAR3,4,seen\n", string(out))
}

// A day that alone can be meant is offered; of two, both.
func TestWantDate(t *testing.T) {
	for s, meant := range map[string]string{
		"8/20/2015": "2015-08-20", "20/8/2015": "2015-08-20", "8/8/2015": "2015-08-08", "20.8.2015": "2015-08-20", "3.4.2015": "2015-04-03",
		"2015-8-20": "2015-08-20", "2015/08/20": "2015-08-20", "20 Aug 2015": "2015-08-20", "August 20, 2015": "2015-08-20",
		"3/4/2015": "2015-03-04 or 2015-04-03", "3-4-2015": "2015-03-04 or 2015-04-03", "5/31/2026": "2026-05-31", "5/6/2026": "2026-05-06 or 2026-06-05", "13/13/2015": "", "today": "", "": "", "8/20/15": "",
	} {
		if meant != "" {
			meant = "; did you mean " + meant + "?"
		}
		assert.Equal(t, "want a date such as 2026-04-30"+meant, wantDate(s), s)
	}
}

// Whatever the bytes: no panic, and what is read can be written and read again.
func FuzzRead(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte("date;stake;water_l\r\n2024-05-01;all;5\r\n"))
	f.Add([]byte(small[:200]))
	f.Add([]byte(small + "5,\x00\x00"))
	if demo, err := os.ReadFile("../../data/season/season.csv"); err == nil {
		f.Add(demo)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := Read("season.csv", bytes.NewReader(text))
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		_ = r.Current()
		out, added, known, err := Merge("season.csv", nil, r)
		require.NoError(t, err)
		require.Equal(t, len(r.Entries), len(added)+len(known))
		again, err := Read("season.csv", bytes.NewReader(out))
		if len(out) > 0 {
			require.NoError(t, err)
			require.Equal(t, len(added), len(again.Entries))
		}
		if r.Torn == nil && len(bytes.TrimSpace(text)) > 0 {
			e := NewEntry(date("2024-07-20"), "TAR3", Seen)
			e.Vigour = 3
			_, _, err := Append("season.csv", text, []Entry{e})
			require.NoError(t, err)
		}
	})
}

// A file over its bound is refused, not read in part.
func TestReadTooLarge(t *testing.T) {
	text := append([]byte("date,stake\n"), make([]byte, MaxBytes)...)
	_, err := Read("season.csv", bytes.NewReader(text))
	require.ErrorContains(t, err, "season.csv:1:1: expected a file of at most 64 MB")
}
