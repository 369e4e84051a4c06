package table

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// An Encoding is how the text of a file is written in bytes.
type Encoding int

// The encodings that are read. Windows-1252 holds Latin-1 (ISO 8859-1) but for
// control characters.
const (
	UTF8       Encoding = iota
	UTF8Marked          // behind a byte order mark
	UTF16LE
	UTF16BE
	Windows1252
)

// String names the encoding.
func (e Encoding) String() string {
	return [...]string{"UTF-8", "UTF-8", "UTF-16", "UTF-16", "Windows-1252 (Latin-1)"}[e]
}

// mark is the byte order mark that the encoding is known by.
func (e Encoding) mark() string {
	return [...]string{"", "\xef\xbb\xbf", "\xff\xfe", "\xfe\xff", ""}[e]
}

// codec is what x/text has for the encoding; nil where bytes stay as they are.
func (e Encoding) codec() encoding.Encoding {
	switch e {
	case UTF16LE:
		return unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)
	case UTF16BE:
		return unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)
	case Windows1252:
		return charmap.Windows1252
	}
	return nil
}

// Encode writes UTF-8 text in the encoding, with its mark. The error says that
// the text holds a character which the encoding does not have.
func (e Encoding) Encode(text []byte) ([]byte, error) {
	out := []byte(e.mark())
	if c := e.codec(); c != nil {
		var err error
		if text, err = c.NewEncoder().Bytes(text); err != nil {
			return nil, Faults{{Want: fmt.Sprintf("the file is %s, which does not have every character that is to be written: want it saved as CSV UTF-8 first", e)}}
		}
	}
	return append(out, text...), nil
}

// Decode turns the bytes of a file into UTF-8 text without a mark. A mark tells
// the encoding; without one, the first character beyond ASCII does, which is
// UTF-8 or else Windows-1252. Bytes that are neither stay as they are, for the
// walker of rows to tell of.
func Decode(data []byte) ([]byte, Encoding) {
	in, e := decoder(bytes.NewReader(data))
	if *e == UTF8 && utf8.Valid(data) {
		return data, UTF8
	}
	text, _ := io.ReadAll(in) // memory gives no error, and the decoders none
	return text, *e
}

// DecodeToWrite is Decode of a file that will be written anew. The error says
// that the encoding would not give its bytes back.
func DecodeToWrite(name string, data []byte) ([]byte, Encoding, error) {
	text, e := Decode(data)
	if back, err := e.Encode(text); err != nil || !bytes.Equal(back, data) {
		return nil, e, Faults{{File: name, Want: "this text cannot be written back as it stands: want it saved as CSV UTF-8 first"}}
	}
	return text, e, nil
}

// decoder is Decode for a stream; the encoding may change from UTF8 to
// Windows1252 while it is read.
func decoder(r io.Reader) (io.Reader, *Encoding) {
	in := bufio.NewReaderSize(r, peeked)
	start, _ := in.Peek(3)
	for _, e := range []Encoding{UTF8Marked, UTF16LE, UTF16BE} {
		if !bytes.HasPrefix(start, []byte(e.mark())) {
			continue
		}
		_, _ = in.Discard(len(e.mark()))
		if c := e.codec(); c != nil {
			return transform.NewReader(in, c.NewDecoder()), &e
		}
		return in, &e
	}
	g := &guesser{}
	return transform.NewReader(in, g), &g.is
}

// A guesser tells Windows-1252 from UTF-8 by the first character beyond ASCII.
type guesser struct {
	is    Encoding
	known bool
	alien bool // within a run that is no Western text
}

// Reset makes it ready for another text.
func (g *guesser) Reset() { *g = guesser{} }

// longestRun is how many letters beyond ASCII stand side by side in Western
// words, at most: longer runs are another script's. Common practice, no source.
const longestRun = 3

// Transform is that of transform.Transformer. Of Windows-1252 it leaves as it
// is what cannot be meant: runs of another script, letters in UTF-8, and bytes
// that have no character.
func (g *guesser) Transform(dst, src []byte, atEOF bool) (nDst, nSrc int, err error) {
	for nSrc < len(src) {
		rest := src[nSrc:]
		if n := g.asIs(rest); n > 0 {
			if n = copy(dst[nDst:], rest[:n]); n == 0 {
				return nDst, nSrc, transform.ErrShortDst
			}
			nDst, nSrc = nDst+n, nSrc+n
			continue
		}
		beyond := 0
		for beyond < len(rest) && rest[beyond] >= utf8.RuneSelf {
			beyond++
		}
		switch {
		case beyond == len(rest) && beyond <= longestRun && !atEOF:
			return nDst, nSrc, transform.ErrShortSrc
		case !g.known:
			if g.known = true; !startsUTF8(rest) {
				g.is = Windows1252
			}
		case beyond > longestRun || !western(rest[:beyond]):
			g.alien = true
		case len(dst)-nDst < beyond*utf8.UTFMax:
			return nDst, nSrc, transform.ErrShortDst
		default:
			for _, b := range rest[:beyond] {
				nDst += utf8.EncodeRune(dst[nDst:], charmap.Windows1252.DecodeByte(b))
			}
			nSrc += beyond
		}
	}
	return nDst, nSrc, nil
}

// asIs counts the bytes that are copied as they stand.
func (g *guesser) asIs(rest []byte) int {
	if g.known && g.is == UTF8 {
		return len(rest)
	}
	n := 0
	for n < len(rest) && g.alien && rest[n] >= utf8.RuneSelf {
		n++
	}
	for n < len(rest) && rest[n] < utf8.RuneSelf {
		g.alien = false
		n++
	}
	return n
}

func startsUTF8(b []byte) bool {
	r, n := utf8.DecodeRune(b)
	return r != utf8.RuneError || n > 1
}

// western reports whether bytes beyond ASCII are characters of Windows-1252,
// and not letters in UTF-8.
func western(run []byte) bool {
	for i, b := range run {
		if r := charmap.Windows1252.DecodeByte(b); r == utf8.RuneError || startsUTF8(run[i:]) {
			return false
		}
	}
	return true
}
