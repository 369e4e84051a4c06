package catalogue

import (
	"strings"
	"unicode"
)

// nearest finds the name that was most likely meant by a wrong one: the same
// letters in other dress, the beginning of it, more than it, or few letters wrong. It
// returns "" when none is near.
func nearest(wrong string, names []string) string {
	w := bare(wrong)
	if w == "" {
		return ""
	}
	best, least := "", 1+max(1, len([]rune(w))/4)
	for _, name := range names {
		n := bare(name)
		if n == w {
			return name
		}
		d := edits(w, n)
		if len(w) >= 4 && strings.HasPrefix(n, w) || len(n) >= 4 && strings.HasPrefix(w, n) {
			d = min(d, 1)
		}
		if d < least {
			best, least = name, d
		}
	}
	return best
}

// bare is the letters and digits of a name in lower case.
func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

// edits counts the letters to put in, take out, change or swap with their
// neighbour that turn a into b (optimal string alignment distance).
func edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > 64 || len(t) > 64 { // no name is that long
		return 64
	}
	prev2 := make([]int, len(t)+1)
	prev := make([]int, len(t)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(s); i++ {
		row := make([]int, len(t)+1)
		row[0] = i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			row[j] = min(prev[j]+1, row[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				row[j] = min(row[j], prev2[j-2]+1)
			}
		}
		prev2, prev = prev, row
	}
	return prev[len(t)]
}

// OrMeant adds the near name to what is wanted.
func OrMeant(want, wrong string, names []string) string {
	if n := nearest(wrong, names); n != "" {
		return want + "; did you mean " + n + "?"
	}
	return want
}
