package season

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
		{"not yellow leaves", nil, []Sign{"yellow"}},
		{"not yellow or wilted, soggy", []Sign{"soil soggy"}, []Sign{"wilted", "yellow"}},
		{"no flowers and no mildew", []Sign{FewFlowers}, []Sign{"spotted"}},
		{"a bit droopy, crispy edges", []Sign{"wilted", "scorched"}, nil},
		{"washed-out leaves", []Sign{"bleached"}, nil},
		{"Roots brown and soft, not white; not wilted", []Sign{"roots brown"}, []Sign{"wilted"}},
		{"isn't wilting", nil, []Sign{"wilted"}},
		{"not rotten roots brown", []Sign{"roots brown"}, []Sign{"rotten"}},
		{"not rotten but roots brown", []Sign{"roots brown"}, []Sign{"rotten"}},
		{"neither yellow nor wilted", nil, []Sign{"wilted", "yellow"}},
		{"not yellow or badly wilted", nil, []Sign{"wilted", "yellow"}},
		{"can't see any powdery mildew", nil, []Sign{"spotted"}},
		{"no slugs/mildew", nil, []Sign{"eaten", "spotted"}},
		{"not wilted & yellow", []Sign{"yellow"}, []Sign{"wilted"}},
		{"non-wilted, 0 slugs", nil, []Sign{"wilted", "eaten"}},
		{"no rot though brown roots", []Sign{"roots brown"}, []Sign{"rotten"}},
	} {
		seen, absent, want := SignsOf(strings.Fields(c.words))
		assert.Empty(t, want, c.words)
		assert.Equal(t, c.seen, seen, c.words)
		assert.Equal(t, c.absent, absent, c.words)
	}
	for words, want := range map[string]string{
		"yelow":             "yellow", // a slip
		"yellow legyg":      "did you mean leggy? All signs: hollowbed note --help",
		"soil":              "want a sign, such as soil soggy or soil dry or sour smell", // nobody can tell
		"brown leaves":      "want a sign, such as scorched or",
		"mud":               "want a sign, such as mud on the leaves or silted",
		"leaves":            "want a sign, such as",
		"roots":             "want a sign, such as",
		"kaput":             "want signs out of: wilted, yellow,",
		"not":               "want signs", // not what?
		"yellow not yellow": "either seen or not",
		"looks dead":        "\"dead\"",
		"half dead":         "\"half\"",
		"less yellow":       "\"less\"",

		"no slugs, mildew or rot":          "\"rot\": expected \"not\" before each sign",
		"no mildew and slugs":              "\"slugs\": expected \"not\" before each sign",
		"neither wilted, yellow nor eaten": "\"yellow\": expected \"not\" before each sign",
		"eaten? no, wilted":                "\"?\"",
		"eaten: no, wilted":                "\"no\"", // goes with what stands before
		"not only wilted":                  "\"not\"",
		"powdery mildew has gone":          "\"gone\"",
		"leaves not yellow, pale":          "want a sign", // not pale yellow
	} {
		seen, absent, got := SignsOf(strings.Fields(words))
		assert.Contains(t, got, want, words)
		assert.Empty(t, append(seen, absent...), words)
	}
}

// What people say of plants that struggle, and which sign it is: common
// practice, no source.
func TestSignsAsPeopleSpeak(t *testing.T) {
	for s, phrases := range map[Sign]string{
		"wilted":               "flopped|wilting|droopy|it has flopped over|limp leaves",
		"scorched":             "crispy edges|scorched|leaf edges are brown|the edges of the leaves have gone brown|brown tips",
		"yellow":               "yellow lower leaves|leaves turning yellow|lower leaves are yellow|yellowing",
		"rotten":               "mushy crown|the crown is mushy|stem rot|rotting",
		"sour smell":           "rotten smell|smells of rotten eggs|stinks",
		"eaten":                "chewed|eaten by rabbits|slugs|holes in leaves",
		"spotted":              "mildew|powdery mildew|black spots|leaf spots",
		"leggy":                "leggy|spindly|long thin stems",
		"leaning to the light": "leaning|leans to the light|leaning to one side",
		"heaved":               "heaved out|frost heave|lifted out of the ground",
		"washed out":           "washed out|roots exposed|soil washed away",
		"silted":               "buried in silt|covered in mud",
		"bleached":             "bleached|pale leaves|leaves have faded",
		"few flowers":          "no flowers|not flowering|few blooms",
		"soil soggy":           "waterlogged|sitting in water|the soil is soggy|wet feet",
		"soil dry":             "bone dry|the soil is dry|dried out",
		Dead:                   "dead|it died|never came up|did not come up",
		"new shoots":           "new growth from the base|resprouting",
	} {
		for phrase := range strings.SplitSeq(phrases, "|") {
			seen, absent, want := SignsOf(strings.Fields(phrase))
			assert.Empty(t, want, phrase)
			assert.Equal(t, []Sign{s}, seen, phrase)
			assert.Empty(t, absent, phrase)
		}
	}
}

// Every label that a screen prints is understood, and no phrase stands for two
// signs.
func TestSignsAsShown(t *testing.T) {
	f, err := os.Open("../../data/signs.csv")
	require.NoError(t, err)
	defer f.Close()
	shown, err := ReadTable("signs.csv", f)
	require.NoError(t, err)
	for _, r := range shown.Rows {
		seen, absent, want := SignsOf([]string{r.Label})
		assert.Empty(t, want, r.Label)
		assert.Equal(t, []Sign{r.Sign}, seen, r.Label)
		assert.Empty(t, absent, r.Label)
	}
	h := howSaid()
	for _, s := range Signs() {
		for phrase := range strings.SplitSeq(phrases()[string(s)], "|") {
			assert.Equal(t, s, h.signs[keyOf(h.heard(strings.Fields(phrase)))], phrase)
		}
	}
}

// Any signs, typed one after another in any order, are found again, with commas
// between or without; without, "rotten roots brown" is one phrase.
func TestSignsOfAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chosen := rapid.SliceOfNDistinct(rapid.SampledFrom(Signs()), 0, 6, func(s Sign) Sign { return s }).Draw(t, "signs")
		var words []string
		var want [2][]Sign
		for i, s := range chosen {
			pair := i > 0 && (s == "rotten" && chosen[i-1] == "roots brown" || s == "roots brown" && chosen[i-1] == "rotten")
			if i > 0 && (pair || rapid.Bool().Draw(t, "comma")) {
				words[len(words)-1] += ","
			}
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

// A "not" goes with its own sign, however both are parted: all pairs of phrases of
// two signs of which the words of one phrase reach into the other.
func TestNotGoesNoFurther(t *testing.T) {
	h, tried := howSaid(), 0
	said := map[string][]uttered{}
	for _, s := range Signs() {
		for phrase := range strings.SplitSeq(phrases()[string(s)], "|") {
			heard := h.heard(plainWords("not " + phrase)) // "not growing" is a sign of its own, and "long" may be a time
			if len(h.lengths(heard)) == 0 && heard[len(heard)-1].joints == 0 && !heard[1].sets {
				said[phrase] = heard[1:]
			}
		}
	}
	for b, denied := range said {
		for a, stems := range said {
			both := slices.Concat(denied, stems)
			if h.signs[keyOf(denied)] == h.signs[keyOf(stems)] || h.lengths(both)[0] <= len(denied) {
				continue
			}
			tried++
			for _, between := range []string{", ", "; ", " and ", " but ", " though "} {
				for _, text := range []string{"not " + b + between + a, a + between + "isn't " + b} {
					seen, absent, want := h.find(plainWords(text))
					assert.Empty(t, want, text)
					assert.Equal(t, []Sign{h.signs[keyOf(stems)]}, seen, text)
					assert.Equal(t, []Sign{h.signs[keyOf(denied)]}, absent, text)
				}
			}
		}
	}
	assert.Greater(t, tried, 100)
}
