package search

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hollowbed/plants/catalogue"
)

// What a line that turns words round is read as. Readings of English: common
// practice, no source.
func TestNegation(t *testing.T) {
	for line, want := range map[string]string{
		"not toxic":                            "-toxic",
		"Not Toxic.":                           "-toxic",
		"no poison":                            "-toxic",
		"not poisonous for dogs":               "-toxic",
		"not poisonous to dogs, cats or goats": "-toxic",
		"red not toxic":                        "red -toxic",
		"does not spread":                      "-spreads:runs,seeds",
		"doesn't run":                          "-spreads:runs,seeds",
		"won't take over":                      "-spreads:runs,seeds",
		"never seeds itself, blue":             "blue -spreads:runs,seeds",
		"rarely spreads":                       "-spreads:runs,seeds",
		"spreads":                              "spreads",
		"isn't toxic":                          "-toxic",
		"isn\u2019t toxic":                     "-toxic",
		"nontoxic":                             "toxic:none",
		"non-toxic":                            "-toxic",
		"non toxic":                            "-toxic",
		"non-toxic shrub for shade":            "shrub for shade -toxic",
		"never poisonous":                      "-toxic",
		"without poison":                       "-toxic",
		"except toxic":                         "-toxic",
		"nothing that is known to be harmful":  "-toxic",
		"hardly toxic":                         "-toxic",
		"less toxic":                           "-toxic",
		"least poisonous bulb":                 "bulb -toxic",
		"won't kill my dog":                    "-toxic",
		"poison free":                          "toxic:none",
		"poison-free":                          "toxic:none",
		"free of poison":                       "-toxic",
		"anything but toxic":                   "-toxic",
		"safe for dogs":                        "toxic:none",
		"safe":                                 "toxic:none",
		"harmless red":                         "red toxic:none",
		"pet friendly":                         "toxic:none",
		"pet-friendly shrub":                   "shrub toxic:none",
		"dog-safe":                             "toxic:none",
		"dog and cat safe":                     "toxic:none",
		"bee friendly":                         "bee friendly",
		"safe from deer":                       "safe from deer",
		"not safe":                             "-toxic:none",
		"unsafe for dogs":                      "-toxic:none",
		"-poisonous":                           "-toxic",
		"\u2013toxic":                          "-toxic",
		"\u2212toxic":                          "-toxic",
		"\u2013 toxic":                         "-toxic",
		"!toxic":                               "-toxic",
		`"not toxic"`:                          "-toxic",
		`-"toxic to dogs"`:                     "-toxic",
		"not invasive":                         "-spreads:runs,seeds",
		"non-invasive grass":                   "grass -spreads:runs,seeds",
		"not toxic or invasive":                "-toxic -spreads:runs,seeds",
		"not toxic and not invasive":           "-toxic -spreads:runs,seeds",
		"neither toxic nor red":                "not red -toxic",
		"not red or toxic":                     "not red -toxic",
		"not evergreen":                        "-evergreen",
		"not height<3ft":                       "-height<91.44",
		"not toxic:pets":                       "-toxic:pets",
		"not red":                              "not red",
		"toxic":                                "toxic",
		"poisonous bulb":                       "poisonous bulb",
		"toxic -red":                           "-red toxic",
		"-toxic free draining":                 "free draining -toxic",
		"toxic !":                              "toxic !",
		"toxic \u2013 the":                     "toxic \u2013 the",
		"forget-me-not":                        "forget-me-not",
		"forget me not":                        "forget me not",
		"touch me not toxic":                   "touch me not toxic",
	} {
		q, err := Parse(line)
		if assert.NoError(t, err, line) {
			assert.Equal(t, want, q.String(), line)
		}
	}
}

func TestNegationAsks(t *testing.T) {
	for line, want := range map[string]string{
		"no red toxic":         `query:1:1: query: "no red toxic": "no" and "toxic" can be read two ways; expected -toxic for plants that harm nobody`,
		"toxic not":            `"not" and "toxic" can be read two ways`,
		"not red and toxic":    `"not" and "toxic" can be read two ways`,
		"without thorns toxic": `"without" and "toxic" can be read two ways`,
		"toxic to no dogs":     `"no" and "toxic" can be read two ways`,
		"not not toxic":        `"not not" can be read two ways`,
		"not -toxic":           `"not -toxic" can be read two ways`,
		"not only toxic":       `"not only" can be read two ways`,
		"nothing but poison":   `"nothing but" can be read two ways`,
		"not thorny invasive":  `"not" and "invasive" can be read two ways`,
		"not poisonus":         "did you mean poisonous?",
		"nto toxic":            `query:1:1: query: "nto toxic": nto is near a word that turns the line round`,
		"red nott poisonous":   `query:1:5: `,
	} {
		_, err := Parse(line)
		assert.ErrorContains(t, err, want, line)
	}
}

// harmFree lists the plants that the table says harm nobody.
func harmFree(p *catalogue.Plant) bool { return slices.Equal(p.Toxic, []string{"none"}) }

// However harm is turned round, and whatever stands about it, no plant that
// harms, or of which it is not known, is an answer.
func TestNegatedHarmNeverFound(t *testing.T) {
	plants := demoPlants(t)
	plants[3].Toxic, plants[7].Toxic = nil, nil
	x, err := New(plants, Options{Synonyms: demoSynonyms(t)})
	require.NoError(t, err)
	require.Contains(t, found(t, x, "toxic"), "amber-glassgill")
	turning := strings.Fields("not no non never without except isn't isnt aren't doesn't nontoxic avoid nor neither hardly less NOT No, \u2013 -poison safe dog-safe poison-free")
	harm := strings.Fields("toxic poisonous poison harmful venomous toxicity dangerous Toxic. poisonous, toxic?")
	rest := strings.Fields("red blue shrub tall the at all known to be dogs cats for and or but with wet feet july bulb very anything \"pet\" evergreen height<3ft -thorny , plants")
	answered := 0 // of lines that are sure to be read: of those drawn a few alone may be
	for _, turn := range turning[:11] {
		answered += len(found(t, x, turn+" toxic"))
	}
	assert.Greater(t, answered, 1000, "hardly anything was answered")
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.SampledFrom(rest), 0, 6).Draw(t, "rest")
		put := func(w string) {
			words = slices.Insert(words, rapid.IntRange(0, len(words)).Draw(t, "at"), w)
		}
		if rapid.Bool().Draw(t, "together") {
			put(rapid.SampledFrom(turning).Draw(t, "turning") + rapid.SampledFrom([]string{" ", "-", " at all "}).Draw(t, "between") + rapid.SampledFrom(harm).Draw(t, "harm"))
		} else {
			put(rapid.SampledFrom(harm).Draw(t, "harm"))
			put(rapid.SampledFrom(turning[:14]).Draw(t, "turning"))
		}
		line := rapid.SampledFrom([]string{"", "", "like ", "plants like "}).Draw(t, "likeness") + strings.Join(words, " ")
		q, err := Parse(line)
		if err != nil {
			return
		}
		q.Limit = len(plants)
		r, err := x.Find(q)
		if err != nil && q.Like != nil { // a name or nothing
			return
		}
		require.NoError(t, err)
		for _, h := range append(r.Hits, r.Also...) {
			if !harmFree(&plants[h.Row]) {
				t.Fatalf("%q, read as %q, finds %s", line, q, h.ID)
			}
		}
	})
}

// What is not harm is turned round with all that it stands for.
func TestNegatedWords(t *testing.T) {
	x, err := New(demoPlants(t), Options{Synonyms: demoSynonyms(t)})
	require.NoError(t, err)
	all := len(x.plants)
	for line, its := range map[string]string{
		"not red":             "colour:red,crimson,scarlet",
		"no full sun":         "sun:10",
		"not tall":            "height>=120",
		"without grass":       `form:"grass-like"`,
		"not red or blue":     "colour:blue",
		"not drought proof":   "dry>=21",
		"except ground cover": "form:groundcover",
	} {
		left := found(t, x, line)
		require.NotEmpty(t, left, line)
		assert.Less(t, len(left), all, line)
		for _, id := range found(t, x, its) {
			assert.NotContains(t, left, id, line)
		}
	}
	q, err := Parse("not thorney blue")
	require.NoError(t, err)
	r, err := x.Find(q)
	require.NoError(t, err)
	assert.Contains(t, r.Notes, `no plant has the word "thorney", so none is left out for it`)
	assert.NotEmpty(t, found(t, x, "not tall blue"), "a word of its own after what is turned round is still wanted")
}

func found(t testing.TB, x *Index, line string) []string {
	q, err := Parse(line)
	require.NoError(t, err, line)
	q.Limit = len(x.plants)
	r, err := x.Find(q)
	require.NoError(t, err, line)
	var out []string
	for _, h := range r.Hits {
		out = append(out, h.ID)
	}
	return out
}
