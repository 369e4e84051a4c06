package table

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/hbollon/go-edlib"
	"golang.org/x/text/unicode/norm"
)

// longestName is how many letters a word may have to be taken for a name.
const longestName = 40

// Nearest finds the name that was most likely meant by a wrong one: the same
// letters in other dress, the beginning of it, more than it, or few letters
// wrong; the first of equals, "" when none is near.
func Nearest(wrong string, names []string) string {
	w := bare(wrong)
	best, least := "", Slips(w)+1
	for _, name := range names {
		n := bare(name)
		if w != "" && n == w {
			return name
		}
		d := Edits(w, n)
		if len(w) >= 4 && strings.HasPrefix(n, w) || len(n) >= 4 && strings.HasPrefix(w, n) {
			d = 1
		}
		if d < least && d < utf8.RuneCountInString(n)-1 {
			best, least = name, d
		}
	}
	return best
}

// OrMeant adds the near name to what is wanted.
func OrMeant(want, wrong string, names []string) string {
	if n := Nearest(wrong, names); n != "" {
		return want + "; did you mean " + n + "?"
	}
	return want
}

// Slips is how many edits a word of that length may be off: none below 3
// letters, 1 up to 5, then 2, and a quarter of them from 12 on; none over 40,
// which is no word. Common practice, no source.
func Slips(word string) int {
	switch n := utf8.RuneCountInString(word); {
	case n < 3, n > longestName:
		return 0
	case n < 6:
		return 1
	default:
		return max(2, n/4)
	}
}

// Edits counts the letters to put in, leave out, change or swap with their
// neighbour that turn a into b, no part being edited twice (optimal string
// alignment distance); what is too long for a name is as far off as it is long.
func Edits(a, b string) int {
	if n := max(utf8.RuneCountInString(a), utf8.RuneCountInString(b)); n > 2*longestName {
		return n
	}
	return edlib.OSADamerauLevenshteinDistance(a, b)
}

// bare is the letters and digits of a name in lower case, without accents.
func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, norm.NFD.String(s))
}
