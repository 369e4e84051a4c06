package search

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hollowbed/zones/table"

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
		"height:1..2ft":  {Min: 30.48, Max: 60.96},
		"cold:-4..14f":   {Min: -20, Max: -10},
		"wet:1..2d":      {Min: 24, Max: 48},
		"sun:0..24":      {Min: 0, Max: 24},
		"dry:3w":         atLeast(21),
		"dry:3weeks":     atLeast(21),

		"height < 3ft":         open,
		"height <3ft":          open,
		"height< 3ft":          open,
		"height < 3 ft":        open,
		"height : 1 ft .. 2 m": {Min: 30.48, Max: 200},
		"height: 1.. 2 ft":     {Min: 30.48, Max: 60.96},
		"height:1 ..2ft":       {Min: 30.48, Max: 60.96},
		"dry:3 wk":             atLeast(21),
		"dry >= 3 weeks":       atLeast(21),
		`dry:"3 wk"`:           atLeast(21),
		"cold: -20":            atMost(-20),
		"pond >= 6 in":         atLeast(152.4),
		"price<=9.5":           atMost(9.5),
		"spread_cm<=60":        atMost(60),
		"WET_H>=48":            atLeast(48),
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
		"colour : blue,violet":        {"blue", "violet"},
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
		"wet>=":              `query:1:6: wet: want a number of h`,
		"height:60..20":      `query:1:8: height: "60..20": want the lower number first, 20..60`,
		"height<20..60":      `query:1:8: height: "<20..60": want a range alone, 20..60, or one number after <`,
		"zone>=bottom":       `query:1:7: zone: ">=bottom": want a word, not a comparison; zone holds no number`,
		`a "wet feet`:        `query:1:3: phrase: "\"wet feet": want a closing quotation mark`,
		"toxic:dogs":         `query:1:7: toxic: "dogs": want yes, none, people, pets, livestock, skin`,
		"wet:1,2":            `query:1:5: wet: "1,2": want one number, or a range a..b; a comma is for words`,
		"height:8in..30":     `query:1:8: height: "8in..30": want a unit on the upper number: 8in..30in`,
		"height:8..30wk":     `query:1:8: height: "8..30wk": want a number of cm, or one of mm, cm, m, in, ft`,
		"sun:30":             `query:1:5: sun: "30": want 0 to 24 hours of sun a day`,
		"sun>24.5":           `query:1:5: sun: "24.5": want 0 to 24 hours of sun a day`,
		"sun:4..2d":          `query:1:5: sun: "4..2d": want 0 to 24 hours of sun a day`,
		"heigth < 2ft":       `query:1:1: field: "heigth": did you mean height? want a field: `,
		"blue <3ft":          `query:1:1: field: "blue": want a field: `,
		"3 <3ft":             `query:1:3: query: "<3ft": want a field before it, such as height<3ft; or put it in quotes`,
		"colour: zone:rim":   `query:1:8: colour: want a word`,
		"colour: -toxic":     `query:1:8: colour: want a word`,
		"height < ":          `query:1:10: height: want a number of cm`,
		"price<=1e3":         `query:1:8: price: "1e3": want a number`,
		"price<=NaN":         `query:1:8: price: "NaN": want a number`,
		"colour:":            `query:1:8: colour: want a word`,
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

// What belongs to no number stays a word.
func TestParseLeavesWordsAfterANumber(t *testing.T) {
	q, err := Parse("dry:3 wet feet wet:48 in price<9 wk")
	require.NoError(t, err)
	var words []string
	for _, w := range q.Words {
		words = append(words, w.Text)
	}
	assert.Equal(t, []string{"wet", "feet", "in", "wk"}, words, "in is no unit of hours, wk none of prices")
	require.Len(t, q.Conditions, 3)
	assert.Equal(t, "dry:3", q.Conditions[0].Typed)
}

func TestParseOption(t *testing.T) {
	for _, c := range []struct{ field, text, typed string }{
		{"height", "<3ft", "height<3ft"},
		{"height", "1..2ft", "height:1..2ft"},
		{"dry", " 3 wk ", "dry:3wk"},
		{"cold", "-20", "cold:-20"},
		{"toxic", "no", "toxic:no"},
		{"toxic", "pets, skin", "toxic:pets,skin"},
		{"native", "Salt Fen, Lower Wend", `native:"Salt Fen","Lower Wend"`},
		{"native", `"a, b"`, `native:"a, b"`},
		{"native", `"a,b",c`, `native:"a,b",c`},
	} {
		got, err := ParseOption(c.field, c.text)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.typed, got.Typed)
		q, err := Parse(c.typed)
		require.NoError(t, err, c.typed)
		q.Conditions[0].Column = 0
		assert.Equal(t, q.Conditions[0], got, "as %s in a line", c.typed)
	}
	for _, c := range []struct{ field, text, want string }{
		{"height", "60..20", `height: "60..20": want the lower number first, 20..60`},
		{"evergreen", "maybe", `evergreen: "maybe": want yes, no, semi`},
		{"toxic", "", `toxic: want yes, none, people, pets, livestock, skin`},
		{"sun", "30", `sun: "30": want 0 to 24 hours of sun a day`},
		{"height", "20,30", `height: "20,30": want one number, or a range a..b; a comma is for words`},
		{"zone", ">=rim", `zone: ">=rim": want a word, not a comparison; zone holds no number`},
		{"colour", strings.Repeat("a", longestQuery), `colour: "colour:aaaaaaaaaaaaa...": want a shorter value`},
	} {
		_, err := ParseOption(c.field, c.text)
		assert.EqualError(t, err, c.want)
	}
}

// A value of any text is read as a condition that a line could hold, or refused.
func TestParseOptionReadsAsALine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		field := rapid.SampledFrom(fieldNames()).Draw(t, "field")
		part := rapid.OneOf(rapid.SampledFrom([]string{"3", "..", "ft", " ", ",", `"`, `\`, "<", "=", "-", "yes", "july", "a b"}), rapid.String())
		c, err := ParseOption(field, strings.Join(rapid.SliceOfN(part, 0, 5).Draw(t, "parts"), ""))
		if err != nil {
			var faults table.Faults
			require.ErrorAs(t, err, &faults)
			return
		}
		q, err := Parse(c.Typed)
		require.NoError(t, err, "%q", c.Typed)
		require.Len(t, q.Conditions, 1, "%q", c.Typed)
		require.Empty(t, q.Words, "%q", c.Typed)
		q.Conditions[0].Column = 0
		require.Equal(t, c, q.Conditions[0], "%q", c.Typed)
	})
}

func TestParseReportsAllFaultsAtOnce(t *testing.T) {
	_, err := Parse("zone:top wet>=x blue bloom:0")
	var faults table.Faults
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 3)
	assert.Equal(t, []int{6, 15, 28}, []int{faults[0].Column, faults[1].Column, faults[2].Column})
}

func TestParseCountsColumnsInCharacters(t *testing.T) {
	_, err := Parse("größe zone:top")
	var faults table.Faults
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
	if q.Like != nil {
		q.Like.Column = 0
		if w := q.Like.asWords; w != nil {
			*w = stripped(*w)
		}
	}
	return q
}

func checkRoundTrip(t require.TestingT, line string) {
	q, err := Parse(line)
	if err != nil {
		var faults table.Faults
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
		rapid.SampledFrom([]string{"-", `"`, `\`, ",", "..", "ft", "wk", "height", "<", ":", "<=", ">", "=", " ", "blue", "toxic", "wet", "sun", "bloom", "july", "3ft", "48", "-20", "like ", "replace ", "but shorter", "zone:bottom", `native:"a b"`, "colour:"}),
		rapid.String(),
	)
	rapid.Check(t, func(t *rapid.T) {
		checkRoundTrip(t, strings.Join(rapid.SliceOfN(part, 0, 8).Draw(t, "parts"), ""))
	})
}

// Words that turn round what stands beside them are written in an order that
// means the same.
func TestTurningWordsRoundTrip(t *testing.T) {
	word := rapid.SampledFrom(strings.Fields("! - ? the free safe hurts dogs pets but not no without hardly less or and for to from harm kill invasive friendly -safe toxic toxic, " +
		"anything other than forget me only full sun part shade white evergreen -toxic red height<3ft low -red zone:bottom"))
	rapid.Check(t, func(t *rapid.T) { checkRoundTrip(t, strings.Join(rapid.SliceOfN(word, 1, 7).Draw(t, "words"), " ")) })
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		`sun>=6 wet>=48 blue july "wet feet" -toxic zone:bottom`, `native:"low coast",b`, "height:20..60", "cold:-4f", "bloom:nov..feb",
		`-"a\"b\\c"`, "--x", "- x", `a"b`, "größe:5", "\xff:1", "wet<", "x:", ":x", "price<=9", "height < 1 .. 2 ft", "dry: 3 wk in", "colour : -toxic",
	} {
		f.Add(s)
	}
	f.Add("like blue skelver but shorter and not toxic")
	f.Add("replace BLU1, later \"red\"")
	f.Add("like 0")
	f.Add("  anything like \"a, b\" sun>=6")
	f.Fuzz(func(t *testing.T, line string) { checkRoundTrip(t, line) })
}
