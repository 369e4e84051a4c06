package search

import (
	"strings"
	"unicode"

	"github.com/blevesearch/bleve/v2/analysis/char/asciifolding"
)

// fold returns s in lower case without accents; letters outside Latin keep their shape.
func fold(s string) string {
	return strings.ToLower(unaccent(s))
}

// unaccent returns s without accents and with valid UTF-8 only.
func unaccent(s string) string {
	if isASCII(s) {
		return s
	}
	plain, _ := unaccentAt(s)
	return plain
}

// unaccentAt is unaccent with, for each byte of the outcome and its end, the place in s.
// An accent on its own (any nonspacing mark) is dropped.
func unaccentAt(s string) (string, []int) {
	var out []byte
	var at []int
	filter := asciifolding.New()
	for i, r := range s {
		if unicode.Is(unicode.Mn, r) {
			continue
		}
		letter := []byte(string(r))
		if r >= 0x80 {
			letter = filter.Filter(letter)
		}
		for range letter {
			at = append(at, i)
		}
		out = append(out, letter...)
	}
	return string(out), append(at, len(s))
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}
