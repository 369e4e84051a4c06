package search

import "unicode/utf8"

// nearest returns the candidate with the fewest edits from word, the first of
// equals; none if all need more edits than a slip of the hand explains.
func nearest(word string, candidates []string) (string, bool) {
	best, found := "", false
	least := slips(word) + 1
	for _, c := range candidates {
		if d := edits(word, fold(c), least); d < least {
			best, found, least = c, true, d
		}
	}
	return best, found
}

// slips is how many edits a word of that length may be off: none below 3
// letters, 1 up to 5, then 2, none over 40, which is no word. Common practice,
// no source.
func slips(word string) int {
	switch n := utf8.RuneCountInString(word); {
	case n < 3, n > 40:
		return 0
	case n < 6:
		return 1
	}
	return 2
}

// edits returns the optimal string alignment distance of a and b: the least
// number of letters put in, left out, changed or swapped with a neighbour, no
// part being edited twice; at most limit is told apart.
func edits(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d >= limit || -d >= limit {
		return limit
	}
	before := make([]int, len(y)+1)
	last := make([]int, len(y)+1)
	row := make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return min(last[len(y)], limit)
}
