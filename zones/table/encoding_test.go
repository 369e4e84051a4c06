package table

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The bytes of Windows-1252 beside the characters are those of its table in the
// Encoding Standard (WHATWG), index windows-1252: 0x80 is U+20AC, 0xDF U+00DF.
func TestDecode(t *testing.T) {
	for name, c := range map[string]struct {
		bytes, text string
		is          Encoding
	}{
		"ascii":           {"a,b\n", "a,b\n", UTF8},
		"utf-8":           {"Größe 5 m²", "Größe 5 m²", UTF8},
		"mark":            {"\xef\xbb\xbfü", "ü", UTF8Marked},
		"little end":      {"\xff\xfea\x00\xfc\x00\n\x00", "aü\n", UTF16LE},
		"big end":         {"\xfe\xff\x00a\x00\xfc\x00\n", "aü\n", UTF16BE},
		"windows":         {"Gr\xf6\xdfe 5 m\xb2, 3 \x80 \x96 \xb0C", "Größe 5 m², 3 € – °C", Windows1252},
		"broken utf-8":    {"ü \xe9", "ü \xe9", UTF8},
		"both":            {"\xe9 ü", "é ü", Windows1252},
		"another script":  {"a\xe9 \xcf\xf0\xe8\xe2\xe5\xf2 b", "aé \xcf\xf0\xe8\xe2\xe5\xf2 b", Windows1252},
		"has no letter":   {"\xe9 \x81", "é \x81", Windows1252},
		"ends in a start": {"a\xc3", "aÃ", Windows1252},
	} {
		t.Run(name, func(t *testing.T) {
			text, is := Decode([]byte(c.bytes))
			assert.Equal(t, c.text, string(text))
			assert.Equal(t, c.is, is)
			stream, of := decoder(iotest.OneByteReader(strings.NewReader(c.bytes)))
			slow, err := io.ReadAll(stream)
			require.NoError(t, err)
			assert.Equal(t, c.text, string(slow), "byte by byte")
			assert.Equal(t, c.is, *of)
			assert.NotEmpty(t, is.String())
		})
	}
}

// What a file held comes back to the byte, or writing is refused.
func TestEncodeGivesBackTheBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Two such letters side by side may be one of UTF-8: ß° in Windows-1252 is ߰.
		words := rapid.StringMatching(`[a-z,; \n]{0,20}[äöüßé€°]?[a-z,;\n]{1,20}[äöüßé€°]?`)
		text := words.Draw(t, "text")
		e := rapid.SampledFrom([]Encoding{UTF8, UTF8Marked, UTF16LE, UTF16BE, Windows1252}).Draw(t, "encoding")
		data, err := e.Encode([]byte(text))
		require.NoError(t, err)
		back, is, err := DecodeToWrite("t.csv", data)
		require.NoError(t, err)
		again, err := is.Encode(back)
		require.NoError(t, err)
		require.Equal(t, data, again)
		require.Equal(t, text, string(back))
	})
	_, _, err := DecodeToWrite("t.csv", []byte("\xff\xfe\x00\xd8")) // half a pair
	assert.EqualError(t, err, "t.csv: this text cannot be written back as it stands: want it saved as CSV UTF-8 first")
	_, err = Windows1252.Encode([]byte("日本"))
	assert.ErrorContains(t, err, "the file is Windows-1252 (Latin-1), which does not have every character")
}

func TestDecimal(t *testing.T) {
	for cell, want := range map[string]string{
		"1,5": "1.5", "-0,25": "-0.25", "0,500": "0.500", "12,75": "12.75", "1234,567": "1234.567", " 1,5 ": "1.5", "+1,0": "+1.0",
		"1,500": "1,500", "12,500": "12,500", "1.500,5": "1.500,5", "1,5,6": "1,5,6", ",5": ",5", "1,": "1,", "1,5 m": "1,5 m", "1.5": "1.5", "--1,5": "--1,5", "a": "a", "": "",
	} {
		assert.Equal(t, want, Decimal(cell), cell)
	}
}

// Any bytes: rows and their places agree between a stream of single bytes and
// memory; rows count up; each place is in its file.
func FuzzRows(f *testing.F) {
	for _, text := range []string{"a,b\n1,\"x\r\ny\"\n", "a;b\n\"x\"y;\n", "\xff\xfea\x00", "gr\xf6\xdfe\tb\n\"", "a  b\n1\t 2\n", "ü,\"ö\nö\",é\n"} {
		f.Add([]byte(text), false)
		f.Add([]byte(text), true)
	}
	f.Fuzz(func(t *testing.T, data []byte, blanks bool) {
		lim := Limits{RowBytes: 100}
		whole, slow := Stream("t", bytes.NewReader(data), lim), Stream("t", iotest.OneByteReader(bytes.NewReader(data)), lim)
		if blanks {
			text, _ := Decode(data)
			whole, slow = Walk("t", text, 1, Blanks, lim), Walk("t", text, 1, Blanks, lim)
		}
		line := 0
		for {
			err := whole.Next()
			require.Equal(t, err, slow.Next())
			if err == io.EOF {
				return
			}
			if f, bad := err.(Fault); bad {
				require.True(t, f.Line > line || f.Line >= 1, "%+v", f)
				require.GreaterOrEqual(t, f.Column, 1)
				continue
			}
			require.NoError(t, err)
			require.Equal(t, whole.Cells, slow.Cells)
			require.Greater(t, whole.Line, line)
			line = whole.Line
			before, at := line, 0
			for i := range whole.Cells {
				l, c := whole.Place(i)
				require.True(t, l > before || l == before && c > at, "cell %d at %d:%d", i, l, c)
				before, at = l, c
			}
			for i := len(whole.Cells) - 1; i >= 0; i-- { // and backwards
				l, c := slow.Place(i)
				wl, wc := whole.Place(i)
				require.Equal(t, [2]int{wl, wc}, [2]int{l, c})
			}
		}
	})
}
