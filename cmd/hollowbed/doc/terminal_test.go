package doc

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// No line is wider than the paper unless one word is, and no word is lost.
func TestWrap(t *testing.T) {
	word := rapid.OneOf(rapid.StringMatching(`[a-z0-9(%,;«]{1,14}`), rapid.StringMatching(`[a-z]{1,120}`), rapid.StringMatching(`[水草庭雨]{1,20}`))
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(word, 0, 60).Draw(t, "words")
		first := rapid.SampledFrom([]string{"", "Size: ", "  - "}).Draw(t, "first")
		indent := strings.Repeat(" ", rapid.IntRange(0, 8).Draw(t, "indent"))
		columns := rapid.IntRange(0, 200).Draw(t, "columns")
		width := 92
		if columns >= 20 {
			width = min(columns, 100)
		}
		var b bytes.Buffer
		Wrap(Paper{Writer: &b, Columns: columns}, first, indent, strings.Join(words, "  "))
		lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
		var got []string
		for i, line := range lines {
			begin := indent
			if i == 0 {
				begin = first
			}
			rest, ok := strings.CutPrefix(line, begin)
			if !ok {
				t.Fatalf("line %d begins otherwise: %q", i, line)
			}
			got = append(got, strings.Fields(rest)...)
			if wide := twoCells(line); wide > width && len(strings.Fields(rest)) > 1 {
				t.Fatalf("%d cells on paper of %d: %q", wide, width, line)
			}
		}
		if strings.Join(got, " ") != strings.Join(words, " ") {
			t.Fatalf("%q became %q", words, got)
		}
	})
	var b bytes.Buffer
	Wrap(&b, "a: ", "  ", strings.Repeat("word ", 40))
	assert.Equal(t, 3, strings.Count(b.String(), "\n"), "lines are filled: 3 of 92 for 202 letters")
}

// twoCells counts cells as East Asian Width (Unicode Standard Annex 11) has
// it: an ideograph takes two.
func twoCells(s string) int {
	n := 0
	for _, r := range s {
		n++
		if unicode.Is(unicode.Han, r) {
			n++
		}
	}
	return n
}

func TestBar(t *testing.T) {
	drawn := func(hard float64, most int) string { return (&bar{Hard: hard}).draw(most) }
	eighths := func(s string) int { // U+2588 full block down to U+258F one eighth
		n := 0
		for _, r := range s {
			n += 8 - int(r-'█')
		}
		return n
	}
	rapid.Check(t, func(t *rapid.T) {
		cells := rapid.IntRange(1, 20).Draw(t, "cells")
		a, b := rapid.Float64Range(0, 2).Draw(t, "a"), rapid.Float64Range(0, 2).Draw(t, "b")
		small, large := drawn(min(a, b), cells), drawn(max(a, b), cells)
		if eighths(small) > eighths(large) {
			t.Fatalf("%g is drawn longer than %g", min(a, b), max(a, b))
		}
		if n := len([]rune(large)); n > cells {
			t.Fatalf("%d cells of %d", n, cells)
		}
		if want := math.Round(8 * float64(cells) * min(1, max(a, b))); max(a, b) > 0 && math.Abs(float64(eighths(large))-max(1, want)) > 0.5 {
			t.Fatalf("%g of %d cells is drawn as %d eighths", max(a, b), cells, eighths(large))
		}
	})
	assert.Equal(t, "████", drawn(0.5, 8))
	assert.Equal(t, "▏", drawn(1e-9, 8), "a little is never nothing")
	assert.Equal(t, "████████", drawn(math.Inf(1), 8))
	for _, none := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		assert.Empty(t, drawn(none, 8))
	}
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"Low Brindlewisp": "Low Brindlewisp", "a\nb\tc": "a b c", "a\r\nb": "a\ufffd b", "\x1b[31mred\x1b[0m": "\ufffd[31mred\ufffd[0m",
		"\x00\x07\x7f": "\ufffd\ufffd\ufffd", "\u009b2J": "\ufffd2J", "a\u202eb\u2066c\u200fd": "a\ufffdb\ufffdc\ufffdd", "a\u2028b\u2029c": "a b c", "\ufeffa\u00adb": "\ufffda\ufffdb",
		"Ångström naïve": "Ångström naïve", "خلنج البحيرة": "خلنج البحيرة", "שדה": "שדה", "नदी का फूल": "नदी का फूल", "睡蓮の庭": "睡蓮の庭", "จันทร์": "จันทร์", "ẹ̀kọ́": "ẹ̀kọ́",
		"می\u200cخواهم": "می\u200cخواهم", "👩\u200d🌾": "👩\u200d🌾", // Persian and joined pictures need their joiners
	} {
		assert.Equal(t, want, Plain(in))
	}
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.String().Draw(t, "text")
		out := Plain(in)
		if Plain(out) != out {
			t.Fatalf("not settled: %q", out)
		}
		kept := func(s string) string {
			return strings.Map(func(r rune) rune {
				if unicode.In(r, unicode.L, unicode.M, unicode.N, unicode.P) {
					return r
				}
				return -1
			}, s)
		}
		if kept(in) != kept(out) {
			t.Fatalf("letters lost: %q became %q", in, out)
		}
	})
}

// What can hurt somebody is cut to its first sentence, and never within a name or
// before what is said of it.
func TestBriefKeepsHarm(t *testing.T) {
	for whole, short := range map[string]string{
		"Tall St. Madeupwort, Low Madeup: harmful to pets. Wear gloves.": "Tall St. Madeupwort, Low Madeup: harmful to pets.",
		"Prof. Madeup's sedge: harmful to people":                        "Prof. Madeup's sedge: harmful to people",
		"Nobody knows whether St. Madeupwort harms. Ask.":                "Nobody knows whether St. Madeupwort harms.",
		"Keep 10 ft. Ask first.":                                         "Keep 10 ft.",
	} {
		first, rest := First(whole)
		assert.Equal(t, short, first)
		assert.Equal(t, whole, strings.TrimSpace(first+" "+rest))
		var b strings.Builder
		Brief(&b, []Block{List{Items: []string{whole}, Mind: true, Bare: true}})
		assert.Equal(t, short, strings.TrimSpace(b.String()))
	}
}
