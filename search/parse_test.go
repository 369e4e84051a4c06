package search

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func atLeast(x float64) Range { return Range{Min: x, Max: math.Inf(1)} }
func atMost(x float64) Range  { return Range{Min: math.Inf(-1), Max: x} }

func TestParseWordsAndConditions(t *testing.T) {
	q, err := Parse(`sun>=6 wet>=48 blue july "wet feet" -toxic zone:bottom -thorny -"bad smell"`)
	require.NoError(t, err)
	assert.Equal(t, []Word{
		{Text: "blue", Column: 16},
		{Text: "july", Column: 21},
		{Text: "wet feet", Phrase: true, Column: 26},
		{Text: "thorny", Not: true, Column: 56},
		{Text: "bad smell", Phrase: true, Not: true, Column: 64},
	}, q.Words)
	assert.Equal(t, []Condition{
		{Field: "sun", Range: atLeast(6), Typed: "sun>=6", Column: 1},
		{Field: "wet", Range: atLeast(48), Typed: "wet>=48", Column: 8},
		{Field: "toxic", Not: true, Values: []string{"yes"}, Typed: "toxic", Column: 37},
		{Field: "zone", Values: []string{"bottom"}, Typed: "zone:bottom", Column: 44},
	}, q.Conditions)
}

// Lengths: 1 in = 25.4 mm, 1 ft = 304.8 mm, exact; -4 degF = -20 degC, 14 degF
// = -10 degC. Source: NIST SP 811 (2008), B.8 and B.9.
func TestParseRanges(t *testing.T) {
	open := atMost(91.44)
	open.MaxOpen = true
	over := atLeast(100)
	over.MinOpen = true
	for in, want := range map[string]Range{
		"height<3ft":     open,
		"height>1m":      over,
		"height<=90":     atMost(90),
		"pond>=6in":      atLeast(152.4),
		"pond:6in":       atLeast(152.4),
		"pond:10cm":      atLeast(100),
		"wet:2d":         atLeast(48),
		"wet=48":         {Min: 48, Max: 48},
		"dry:3wk":        atLeast(21),
		"dry>=36h":       atLeast(1.5),
		"cold:-20":       atMost(-20),
		"cold:-4f":       atMost(-20),
		"cold<=14F":      atMost(-10),
		"cold>=-5c":      atLeast(-5),
		"sun:6":          {Min: 6, Max: 6},
		"sun:4..6":       {Min: 4, Max: 6},
		"height:1ft..2m": {Min: 30.48, Max: 200},
		"price<=9.5":     atMost(9.5),
		"spread_cm<=60":  atMost(60),
		"WET_H>=48":      atLeast(48),
	} {
		q, err := Parse(in)
		if assert.NoError(t, err, in) && assert.Len(t, q.Conditions, 1, in) {
			got := q.Conditions[0].Range
			assert.InDelta(t, want.Min, got.Min, 1e-9, in)
			assert.InDelta(t, want.Max, got.Max, 1e-9, in)
			assert.Equal(t, [2]bool{want.MinOpen, want.MaxOpen}, [2]bool{got.MinOpen, got.MaxOpen}, in)
		}
	}
}

func TestParseValues(t *testing.T) {
	for in, want := range map[string][]string{
		"bloom:july":                  {"july"},
		"bloom:jul,8":                 {"july", "august"},
		"bloom:nov..feb":              {"november", "december", "january", "february"},
		"colour:Blue,violet":          {"blue", "violet"},
		"color:blue":                  {"blue"},
		`native:"low coast",east-fen`: {"low coast", "east-fen"},
		"native_to:Élan":              {"elan"},
		"toxic:no":                    {"none"},
		"toxic:pets":                  {"pets"},
		"evergreen":                   {"yes"},
	} {
		q, err := Parse(in)
		if assert.NoError(t, err, in) && assert.Len(t, q.Conditions, 1, in) {
			assert.Equal(t, want, q.Conditions[0].Values, in)
		}
	}
}

func TestParseFaultsSayWhereAndWhat(t *testing.T) {
	for in, want := range map[string]string{
		"blue hieght<3ft":    `query:1:6: field: "hieght": did you mean height? want a field: `,
		"zone:botom":         `query:1:6: zone: "botom": did you mean bottom? want bottom, slope, rim`,
		"bloom:13":           `query:1:7: bloom: "13": want a month, such as july, jul, 7 or may..july`,
		"bloom:agust":        `query:1:7: bloom: "agust": did you mean august? `,
		"wet>=lots":          `query:1:6: wet: "lots": want a number of h, or one of h, d, wk`,
		"wet>=5cm":           `query:1:6: wet: "5cm": want a number of h`,
		"wet>=-5":            `query:1:6: wet: "-5": want a number of h`,
		"wet>=":              `query:1:6: wet: "": want a number of h`,
		"height:60..20":      `query:1:8: height: ":60..20": want a range as height:a..b, the lower number first`,
		"height<20..60":      `query:1:8: height: "<20..60": want a range as height:a..b`,
		"zone>=bottom":       `query:1:7: zone: ">=bottom": want : and a word; zone holds no number`,
		`a "wet feet`:        `query:1:3: phrase: "\"wet feet": want a closing quotation mark`,
		"toxic:dogs":         `query:1:7: toxic: "dogs": want yes, none, people, pets, livestock, skin`,
		"wet:1,2":            `query:1:5: wet: "1,2": want one number, or a range a..b`,
		"price<=1e3":         `query:1:8: price: "1e3": want a number`,
		"price<=NaN":         `query:1:8: price: "NaN": want a number`,
		"colour:":            `query:1:8: colour: "": want a word`,
		"native:\"low coast": `query:1:8: native: "\"low coast": want a closing quotation mark`,
	} {
		_, err := Parse(in)
		if assert.Error(t, err, in) {
			assert.True(t, strings.HasPrefix(err.Error(), want), "%s: got %s", in, err)
			var bad interface{ BadInput() bool }
			assert.True(t, errors.As(err, &bad) && bad.BadInput(), in)
		}
	}
}

func TestParseReportsAllFaultsAtOnce(t *testing.T) {
	_, err := Parse("zone:top wet>=x blue bloom:0")
	var faults Faults
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 3)
	assert.Equal(t, []int{6, 15, 28}, []int{faults[0].Column, faults[1].Column, faults[2].Column})
}

func TestParseCountsColumnsInCharacters(t *testing.T) {
	_, err := Parse("größe zone:top")
	var faults Faults
	require.ErrorAs(t, err, &faults)
	assert.Equal(t, 12, faults[0].Column)
}

func TestParseRefusesTooMuch(t *testing.T) {
	_, err := Parse(strings.Repeat("a", longestQuery+1))
	assert.ErrorContains(t, err, "at most 10000 characters")
	_, err = Parse(strings.Repeat("a ", mostParts+1))
	assert.ErrorContains(t, err, "at most 200 words")
}

// stripped is q without what depends on how it was typed.
func stripped(q Query) Query {
	for i := range q.Words {
		q.Words[i].Column = 0
	}
	for i := range q.Conditions {
		q.Conditions[i].Column, q.Conditions[i].Typed = 0, ""
	}
	return q
}

func checkRoundTrip(t require.TestingT, line string) {
	q, err := Parse(line)
	if err != nil {
		var faults Faults
		require.ErrorAs(t, err, &faults)
		for _, f := range faults {
			require.GreaterOrEqual(t, f.Column, 1)
			require.LessOrEqual(t, f.Column, len([]rune(line))+1)
			require.NotEmpty(t, f.Want)
		}
		return
	}
	again, err := Parse(q.String())
	require.NoError(t, err, "%q came back as %q", line, q.String())
	require.Equal(t, stripped(q), stripped(again), "%q came back as %q", line, q.String())
}

func TestParseRefusesNumbersTooLarge(t *testing.T) {
	_, err := Parse("height<" + strings.Repeat("9", 308) + "ft")
	assert.ErrorContains(t, err, "want a number of cm")
}

func TestParseRoundTrip(t *testing.T) {
	part := rapid.OneOf(
		rapid.SampledFrom([]string{"-", `"`, `\`, ",", "..", ":", "<=", ">", "=", " ", "blue", "toxic", "wet", "sun", "bloom", "july", "3ft", "48", "-20", "zone:bottom", `native:"a b"`, "colour:"}),
		rapid.String(),
	)
	rapid.Check(t, func(t *rapid.T) {
		checkRoundTrip(t, strings.Join(rapid.SliceOfN(part, 0, 8).Draw(t, "parts"), ""))
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		`sun>=6 wet>=48 blue july "wet feet" -toxic zone:bottom`, `native:"low coast",b`, "height:20..60", "cold:-4f", "bloom:nov..feb",
		`-"a\"b\\c"`, "--x", "- x", `a"b`, "größe:5", "\xff:1", "wet<", "x:", ":x", "price<=9",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) { checkRoundTrip(t, line) })
}
