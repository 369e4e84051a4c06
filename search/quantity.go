package search

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// People write "under 3 ft", "8 inches of water", "june to august" and "blue or
// white" where the grammar has height<3ft, pond:8in, bloom:june..august and
// colour:blue,white. This file reads them so.

// spelling is one way to write a condition in words. Its expression has the
// groups a and b for numbers, months or colours, and u for their unit.
type spelling struct {
	words *regexp.Regexp
	field string
	value string // with $a, $b and $u
}

// The pieces that spellings are made of.
const (
	aNumber   = `(?P<a>\d+(?:\.\d+)?)`
	bNumber   = `(?P<b>\d+(?:\.\d+)?)`
	length    = ` ?(?P<u>mm|cm|m|inches|inch|in|feet|foot|ft|metres?|meters?)`
	span      = ` ?(?P<u>hours|hour|hrs|hr|h|days|day|d|weeks|week|wks|wk)`
	under     = `(?:(?:is |stays )?(?:under|below|less than|shorter than|smaller than|lower than) )`
	upTo      = `(?:at most|up to|no more than|not more than|not over|no taller than|not taller than|no higher than|no wider than|no deeper than|max|maximum|within) `
	over      = `(?:over|above|more than|taller than|higher than|wider than) `
	least     = `(?:at least|no less than|not less than|not under|min|minimum) `
	orLess    = ` (?:or less|or under|or lower|or shorter|or smaller|and under|at most|max|maximum)`
	orMore    = ` (?:or more|or over|or taller|or higher|and over|and up|at least|min|minimum)`
	tall      = `(?: tall| high| in height)?`
	wide      = ` (?:wide|across|spread|in spread)`
	water     = `(?: of)?(?: standing)?(?: water(?: deep)?| ponding| deep)`
	wetFor    = ` (?:of (?:standing )?water|under water|in water|wet|flooded|of flooding|saturated|underwater)`
	dryFor    = ` (?:dry|without (?:rain|water|watering)|of drought|of dry weather)`
	ofSun     = ` (?:of )?(?:direct |full )?(?:sun|sunlight|sunshine)`
	about     = `(?:(?:about|around|roughly|approximately|some|circa) )`
	toward    = ` ?(?:to|through|till|until|thru|-) ?`
	blooming  = `(?:bloom(?:s|er|ers|ing)?|flower(?:s|ing|er|ers)?|blossoms?)`
	monthName = `jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?`
	aColour   = `blue|white|red|pink|purple|violet|yellow|orange|green|cream|lilac|mauve|gold|crimson|scarlet|lavender|brown|black`
)

// spellings lists the ways that a text may hold; the first that fits holds.
func spellings(text string) []spelling {
	var out []spelling
	add := func(field, value, words string) {
		out = append(out, spelling{regexp.MustCompile(`(?:^| )(?:` + words + `)(?: |$)`), field, value})
	}
	size := func(field, name, after string) {
		add(field, "$a..$b$u", name+`(?:between |from )?`+aNumber+`(?: (?:and|to) | ?(?:to|-) ?)`+bNumber+length+after)
		add(field, "<=$a$u", name+upTo+aNumber+length+after)
		add(field, ">=$a$u", name+least+aNumber+length+after)
		add(field, "<$a$u", name+under+aNumber+length+after)
		add(field, ">$a$u", name+over+aNumber+length+after)
		for _, s := range []string{length + "%" + after, length + after + "%"} {
			add(field, "<=$a$u", name+aNumber+strings.Replace(s, "%", orLess, 1))
			add(field, ">=$a$u", name+aNumber+strings.Replace(s, "%", orMore, 1))
		}
	}
	if strings.ContainsAny(text, "0123456789") || slices.ContainsFunc(strings.Fields(text), func(w string) bool { return plainAmount(w) != fold(w) || measures(plainAmount(w)) }) {
		add("pond", ":$a$u", `(?:for |`+under+`|`+upTo+`|`+least+`)?`+aNumber+length+water)
		add("wet", ":$b$u", `(?:for |up to )?(?:`+aNumber+toward+`)?`+bNumber+span+wetFor)
		add("dry", ":$b$u", `(?:for |up to )?(?:`+aNumber+toward+`)?`+bNumber+span+dryFor)
		add("sun", ":$a..$b$u", `(?:with |only )?`+aNumber+toward+bNumber+span+ofSun)
		add("sun", ":$a$u", `(?:with |only )?`+aNumber+span+ofSun)
		size("spread", `(?:spread |width )?`, wide)
		size("spread", `(?:spread|width) `, "")
		size("height", `(?:height )?`, tall)
		add("spread", "~$a$u", about+`?`+aNumber+length+wide+`(?: or so)?`)
		add("height", "~$a$u", about+`?`+aNumber+length+`(?: tall| high| in height)(?: or so)?`)
		add("height", "~$a$u", about+aNumber+length)
		add("height", "~$a$u", aNumber+length+` or so`)
		dollars := `(?:\$` + aNumber + `|` + bNumber + ` dollars?)`
		add("price", "$a..$b", `(?:between |from )?\$`+aNumber+`(?:`+toward+`| and )\$?`+bNumber+`(?: each| a plant)?`)
		add("price", "$a..$b", `(?:between |from )?`+aNumber+`(?:`+toward+`| and )`+bNumber+` dollars(?: each| a plant)?`)
		add("price", "<$a", under+dollars+`(?: each| a plant)?`)
		add("price", "<=$a", upTo+dollars+`(?: each| a plant)?`)
		add("price", "<=$a", dollars+orLess)
		add("cold", ":-$a$u", `(?:(?:hardy|survives|bears|takes)(?: down)? )?(?:to )?(?:-|minus )`+aNumber+` ?(?P<u>c|f)`)
	}
	text = fold(text)
	has := func(words string) bool {
		return slices.ContainsFunc(strings.Fields(words), func(w string) bool { return strings.Contains(text, w) })
	}
	if has("jan feb mar apr may jun jul aug sep oct nov dec") {
		add("bloom", ":$a", `(?:blooms?|blooming|flowers?|flowering|in (?:bloom|flower)) in (?P<a>`+monthName+`)`)
		add("bloom", ":$a", `(?P<a>`+monthName+`) (?:bloom(?:s|er|ers|ing)?|flower(?:s|ing)?)`)
		add("bloom", ":$a..$b", `(?:from |between )?(?P<a>`+monthName+`)(?:`+toward+`| and )(?P<b>`+monthName+`)`)
	}
	if has("flower bloom blossom") {
		for _, s := range []struct{ names, early, whole, late string }{
			{"spring", "mar..apr", "mar..may", "apr..may"}, {"(?:mid)?summer", "jun..jul", "jun..aug", "jul..aug"},
			{"(?:autumn|fall)", "sep..oct", "sep..nov", "oct..nov"}, {"(?:mid)?winter", "dec..jan", "dec..feb", "jan..feb"},
		} { // months of the north, common practice, no source
			for _, part := range [][2]string{{"early ", s.early}, {"late ", s.late}, {"(?:mid )?", s.whole}} {
				add("bloom", ":"+part[1], `(?:in )?`+part[0]+s.names+`[ -]`+blooming)
				add("bloom", ":"+part[1], blooming+`(?: (?:in|all|during|through|throughout|from))?(?: the)? `+part[0]+s.names)
			}
		}
		add("colour", ":$a", `(?P<a>`+aColour+`) (?:flowers?|flowered|blooms?|blossoms?)`)
		add("colour", ":$a", `(?:flowers|blooms|blooming|flowering)(?: in)? (?P<a>`+aColour+`)`)
	}
	if strings.Contains(text, " or ") || strings.Contains(text, "/") {
		add("colour", ":$a,$b", `(?P<a>`+aColour+`)(?: or |/)(?P<b>`+aColour+`)`)
	}
	return out
}

// read takes the spelling's condition out of a text, and says where it stands.
func (s *spelling) read(text string) (c Condition, from, to int, ok bool) {
	at := s.words.FindStringSubmatchIndex(text)
	if at == nil {
		return c, 0, 0, false
	}
	value := s.value
	for _, name := range []string{"a", "b", "u"} {
		got := ""
		for i, g := range s.words.SubexpNames() {
			if g == name && at[2*i] >= 0 {
				got = text[at[2*i]:at[2*i+1]]
			}
		}
		if got == "" && name == "a" { // the other way to write it
			value = strings.ReplaceAll(value, "$a", "$b")
		}
		value = strings.ReplaceAll(value, "$"+name, got)
	}
	if rest, ok := strings.CutPrefix(value, "~"); ok { // about: a quarter less or more
		unit := strings.TrimLeft(rest, "0123456789.")
		n, err := strconv.ParseFloat(strings.TrimSuffix(rest, unit), 64)
		if err != nil {
			return c, 0, 0, false
		}
		value = fmt.Sprintf("%g..%g%s", 0.75*n, 1.25*n, unit)
	}
	from, to = at[0], at[1]
	for from < to && text[from] == ' ' {
		from++
	}
	for to > from && text[to-1] == ' ' {
		to--
	}
	c, err := ParseOption(s.field, value)
	if s.field == "colour" {
		for _, v := range c.Values {
			c.Values = append(c.Values, broader(v)...)
		}
	}
	return c, from, to, err == nil
}

// broader is the colour that a table may have for one of finer shade.
func broader(colour string) []string {
	switch colour {
	case "violet", "lilac", "mauve", "lavender":
		return []string{"purple"}
	case "crimson", "scarlet":
		return []string{"red"}
	case "gold":
		return []string{"yellow"}
	}
	return nil
}

// readQuantities makes conditions of the quantities that free words say, not of what a
// word turns round ("not over 3 ft" is a spelling).
func (p *parser) readQuantities() {
	q := &p.query
	if len(q.Words) == 0 {
		return
	}
	ways := spellings(string(p.text))
	for from := 0; from < len(q.Words); {
		if q.Words[from].Phrase || q.Words[from].Not {
			from++
			continue
		}
		to := from + 1
		for to < len(q.Words) && !q.Words[to].Phrase && !q.Words[to].Not && !slices.ContainsFunc(q.Conditions, func(c Condition) bool {
			return c.Column > q.Words[to-1].Column && c.Column < q.Words[to].Column
		}) {
			to++
		}
		n := p.quantitiesIn(ways, from, to)
		from = to - n
	}
}

// quantitiesIn reads words from to to, and returns how many it took away.
func (p *parser) quantitiesIn(ways []spelling, from, to int) (taken int) {
	for i := 0; i < len(ways); {
		words := p.query.Words[from : to-taken]
		var starts []int
		var b strings.Builder
		for k, w := range words {
			if k > 0 {
				b.WriteByte(' ')
			}
			starts = append(starts, b.Len())
			amount := plainAmount(w.Text)
			if k+1 < len(words) && amount == "a" && measures(plainAmount(words[k+1].Text)) {
				amount = "1"
			}
			b.WriteString(amount)
		}
		c, low, high, ok := ways[i].read(b.String())
		if !ok {
			i++
			continue
		}
		first, _ := slices.BinarySearch(starts, low)
		last, _ := slices.BinarySearch(starts, high)
		if first > 0 && senseOf(plainWord(words[first-1].Text)) == turns && ways[i].field == "colour" {
			i++
			continue
		}
		c.Column, c.Typed = words[first].Column, joined(words[first:last])
		p.query.Words = slices.Delete(p.query.Words, from+first, from+last)
		p.query.Conditions = append(p.query.Conditions, c)
		taken += last - first
	}
	return taken
}

// measures reports whether "a" before the word is one of it: less than a foot.
func measures(unit string) bool {
	switch unit {
	case "foot", "metre", "meter", "day", "week", "dollar":
		return true
	}
	return false
}

// plainAmount writes a word as spellings have it: 3' is 3 ft, 8" is 8 in.
func plainAmount(s string) string {
	s = strings.TrimRight(fold(s), ".,;!?")
	s = strings.NewReplacer("\u2019", "'", "\u2032", "'", "\u201d", `"`, "\u2033", `"`, "\u2013", "-", "\u2212", "-").Replace(s)
	if n := len(s); n > 1 && s[0] >= '0' && s[0] <= '9' {
		switch s[n-1] {
		case '\'':
			return s[:n-1] + "ft"
		case '"':
			return s[:n-1] + "in"
		}
	}
	for i, word := range strings.Fields("one two three four five six seven eight nine ten eleven twelve") {
		if s == word {
			return strconv.Itoa(i + 1)
		}
	}
	return s
}
