package season

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A spreadsheet that writes Latin-1 with decimal commas keeps its bytes; what is
// added takes its encoding, or is refused.
func TestAppendKeepsTheEncoding(t *testing.T) {
	old := "date;stake;kind;vigour;water_l;remark\r\n2026-04-30;A1;watered;;2,5;beim gr\xf6\xdften\r\n"
	rec, err := Read("season.csv", strings.NewReader(old))
	require.NoError(t, err)
	assert.Equal(t, 2.5, rec.Entries[0].WaterL)
	assert.Equal(t, "beim größten", rec.Entries[0].Remark)
	e := NewEntry(time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC), "A1", Seen)
	e.Vigour, e.Remark = 4, "schön"
	text, added, err := Append("season.csv", []byte(old), []Entry{e})
	require.NoError(t, err)
	assert.Equal(t, old+"2026-05-01;A1;seen;4;;sch\xf6n\r\n", string(text))
	assert.Equal(t, "schön", added[0].Remark)
	e.Remark = "日本"
	_, _, err = Append("season.csv", []byte(old), []Entry{e})
	require.ErrorContains(t, err, "season.csv: the file is Windows-1252 (Latin-1), which does not have every character")
	bad, ok := err.(interface{ Unwrap() error })
	require.True(t, ok && bad.Unwrap().(interface{ BadInput() bool }).BadInput())
	_, _, err = Append("season.csv", []byte("date;stake\r\n\xff\r\n"+"\xc3\xbc"), []Entry{e})
	assert.Error(t, err, "UTF-8 and Latin-1 in one file")
	wide, _, err := Append("season.csv", []byte("\xff\xfed\x00a\x00t\x00e\x00,\x00s\x00t\x00a\x00k\x00e\x00,\x00k\x00i\x00n\x00d\x00,\x00r\x00e\x00m\x00a\x00r\x00k\x00,\x00v\x00i\x00g\x00o\x00u\x00r\x00\n\x00"), []Entry{e})
	require.NoError(t, err)
	assert.True(t, strings.HasSuffix(string(wide), "\xe5\x65\x2c\x67,\x004\x00\n\x00"), "%q", wide)
}
