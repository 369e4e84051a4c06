package season

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestSignsOf(t *testing.T) {
	for _, c := range []struct {
		words        string
		seen, absent []Sign
	}{
		{"", nil, nil},
		{"yellow", []Sign{"yellow"}, nil},
		{"Yellow SOIL soggy", []Sign{"yellow", "soil soggy"}, nil},
		{"yellow/soggy; not wilted|dead", []Sign{"yellow", "soil soggy", Dead}, []Sign{"wilted"}},
		{"soggy, yellow,", []Sign{"yellow", "soil soggy"}, nil},
		{"leaning to the light not eaten", []Sign{"leaning to the light"}, []Sign{"eaten"}},
		{"not soil dry leggy", []Sign{"leggy"}, []Sign{"soil dry"}},
		{"yellow yellow", []Sign{"yellow"}, nil},
		{"dead", []Sign{Dead}, nil},
	} {
		seen, absent, want := SignsOf(strings.Fields(c.words))
		assert.Empty(t, want, c.words)
		assert.Equal(t, c.seen, seen, c.words)
		assert.Equal(t, c.absent, absent, c.words)
	}
	for words, want := range map[string]string{
		"yelow":             "yellow", // a slip
		"yellow soil dri":   "did you mean soil dry? All signs: hollowbed note --help",
		"soil":              "want soil soggy or soil dry", // nobody can tell
		"slugs":             "want signs out of: wilted, yellow,",
		"not":               "want signs", // not what?
		"yellow not yellow": "either seen or not",
	} {
		_, _, got := SignsOf(strings.Fields(words))
		assert.Contains(t, got, want, words)
	}
}

// Any signs, typed one after another in any order, are found again.
func TestSignsOfAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chosen := rapid.SliceOfNDistinct(rapid.SampledFrom(Signs()), 0, 6, func(s Sign) Sign { return s }).Draw(t, "signs")
		var words []string
		var want [2][]Sign
		for _, s := range chosen {
			k := rapid.IntRange(0, 1).Draw(t, "absent")
			if k == 1 {
				words = append(words, "not")
			}
			words = append(words, strings.Fields(string(s))...)
			want[k] = append(want[k], s)
		}
		seen, absent, wrong := SignsOf(words)
		assert.Empty(t, wrong)
		assert.ElementsMatch(t, want[0], seen)
		assert.ElementsMatch(t, want[1], absent)
	})
}
