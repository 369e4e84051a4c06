package search

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"

	"hollowbed/plants/catalogue"
)

// want is one thing looked for: a word or phrase and all it may stand for.
type want struct {
	asked    string // as written
	required bool   // a phrase in quotes
	not      bool
	ways     []way
}

// way is one of the things that will do.
type way struct {
	said   string     // the word or phrase that stands for what was asked
	via    bool       // through a synonym or a correction
	field  wordField  // where a word is looked for,
	slots  [][]string // its terms there
	wish   *asked     // or a condition that will do instead
	prefix bool       // a name that begins so will do
	weight float64
}

// What a synonym is worth beside the word, and a wish beside a word as rare: chosen on
// the tuning half of testdata/search/queries.csv. The beginning of a name: an assumption.
const (
	synonymWeight = 0.5
	wishWeight    = 1.5
	prefixWeight  = 0.3
)

// wants makes out what the words of a query stand for: the longest phrases of the synonym
// table first. A "not" turns the next round, and what follows it after "or". Words that
// hold nothing come back in ignored.
func (l language) wants(words []Word, table synonymTable) (out []want, ignored []string) {
	governed := false // by a "not" before it, which turns synonyms round too
	for i := 0; i < len(words); {
		if plain := !words[i].Phrase && !words[i].Not; plain && words[i].Text == "not" || governed && plain && words[i].Text == "or" {
			governed = true
			i++
			continue
		}
		n, row := 1, table.rows[l.stems(words[i].Text)]
		for k := 2; !words[i].Phrase && !words[i].Not && k <= table.longest && i+k <= len(words); k++ {
			if w := words[i+k-1]; w.Phrase || w.Not || w.Text == "not" || governed && w.Text == "or" {
				break
			}
			if r, ok := table.rows[l.stems(joined(words[i:i+k]))]; ok {
				n, row = k, r
			}
		}
		w := want{asked: joined(words[i : i+n]), required: words[i].Phrase, not: words[i].Not || governed}
		governedOn := governed && i+n < len(words) && words[i+n].Text == "or"
		w.ways = l.waysOf(w.asked, 1, false)
		if len(w.ways) == 0 {
			ignored = append(ignored, w.asked)
			i += n
			continue
		}
		if row != nil && (governed || !w.not) {
			w.ways = append(w.ways, l.synonymWays(w.asked, row)...)
		}
		out = append(out, w)
		governed = governedOn
		i += n
	}
	return out, ignored
}

func joined(words []Word) string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = w.Text
	}
	return strings.Join(texts, " ")
}

// synonymTable finds a row of synonyms by the stems of one of its words.
type synonymTable struct {
	rows    map[string]*synonym
	longest int // words in the longest phrase
}

func (l language) table(syn *Synonyms) synonymTable {
	table := synonymTable{rows: map[string]*synonym{}, longest: 1}
	if syn == nil {
		return table
	}
	for i := range syn.rows {
		for _, w := range syn.rows[i].words {
			if key := l.stems(w); key != "" {
				table.rows[key] = &syn.rows[i]
			}
			table.longest = max(table.longest, len(strings.Fields(w)))
		}
	}
	return table
}

// waysOf lists where a word or phrase is looked for.
func (l language) waysOf(text string, weight float64, via bool) []way {
	var out []way
	hasWord := len(l.latin.Analyze([]byte(unaccent(text)))) > 0
	small := len(l.english.Analyze([]byte(unaccent(text)))) == 0
	if !hasWord || small {
		return nil
	}
	for _, f := range wordFields() {
		if s := slots(l.in(f, text)); len(s) > 0 {
			out = append(out, way{said: text, via: via, field: f, slots: s, weight: weight * f.weight})
		}
	}
	return out
}

func (l language) synonymWays(asked string, row *synonym) []way {
	var out []way
	key := l.stems(asked)
	for _, w := range row.words {
		if l.stems(w) != key {
			out = append(out, l.waysOf(w, synonymWeight, true)...)
		}
	}
	for _, w := range row.means.Words {
		out = append(out, l.waysOf(w.Text, synonymWeight, true)...)
	}
	for _, wish := range prepare(row.means.Conditions) {
		out = append(out, way{said: wish.Typed, via: true, wish: &wish, weight: wishWeight})
	}
	return out
}

// beginnings lists where names are looked for that begin with a word not yet
// typed out: from three letters on.
func beginnings(word string) []way {
	word = fold(word)
	if utf8.RuneCountInString(word) < 3 || strings.ContainsFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }) {
		return nil
	}
	var out []way
	for _, f := range nameFields() {
		out = append(out, way{said: word, field: f, slots: [][]string{{word}}, prefix: true, weight: f.weight})
	}
	return out
}

// text is a text of a plant, as it is and in lower case if it is ASCII.
type text struct {
	as    string
	lower string // "" if not ASCII
}

// texts holds the texts of one plant by field of the word index.
type texts struct {
	plant *catalogue.Plant
	held  map[string][]text
}

func newTexts(p *catalogue.Plant) *texts { return &texts{plant: p, held: map[string][]text{}} }

func (t *texts) in(field string) []text {
	held, ok := t.held[field]
	if !ok {
		for _, s := range textsIn(field, t.plant) {
			x := text{as: s}
			if isASCII(s) {
				x.lower = strings.ToLower(s)
			}
			held = append(held, x)
		}
		t.held[field] = held
	}
	return held
}

// spots finds where a way's terms stand in a text: pairs of byte offsets.
func (l language) spots(w way, t text) [][2]int {
	if w.wish != nil || len(w.slots) == 0 || t.as == "" {
		return nil
	}
	if w.prefix {
		return l.prefixSpots(w, t.as)
	}
	if len(w.slots) == 1 && t.lower != "" && w.field.analyzer != keyword.Name {
		return l.wordSpots(w, t)
	}
	return l.phraseSpots(w, t.as)
}

func (l language) prefixSpots(w way, text string) [][2]int {
	var out [][2]int
	for _, t := range l.tokensOf(w.field, text) {
		if strings.HasPrefix(string(t.Term), w.slots[0][0]) {
			out = append(out, [2]int{t.Start, t.End})
		}
	}
	return out
}

func (l language) phraseSpots(w way, text string) [][2]int {
	tokens := l.tokensOf(w.field, text)
	var out [][2]int
	for i := range tokens {
		if end, ok := fits(tokens, i, w.slots); ok {
			out = append(out, [2]int{tokens[i].Start, end})
		}
	}
	return out
}

// wordSpots is phraseSpots for one word in ASCII text: it cuts into words only the places
// that hold the stem but for its last letter, which all rules of the stemmer leave.
func (l language) wordSpots(w way, t text) [][2]int {
	term := w.slots[0][0]
	start := term
	if len(start) > 1 {
		start = start[:len(start)-1]
	}
	var out [][2]int
	for at := 0; at < len(t.lower); {
		i := strings.Index(t.lower[at:], start)
		if i < 0 {
			break
		}
		i += at
		from := strings.LastIndexAny(t.lower[:i], blanks) + 1
		to := len(t.lower)
		if n := strings.IndexAny(t.lower[i:], blanks); n >= 0 {
			to = i + n
		}
		for _, token := range l.in(w.field, t.as[from:to]) {
			if string(token.Term) == term {
				out = append(out, [2]int{from + token.Start, from + token.End})
			}
		}
		at = max(to, at+1)
	}
	return out
}

const blanks = " \t\n\r\v\f"

// fits reports whether the slots are met from token i on, and where the last ends.
func fits(tokens analysis.TokenStream, i int, slots [][]string) (int, bool) {
	k, end := i, 0
	for n, slot := range slots {
		place := tokens[i].Position + n
		for k < len(tokens) && tokens[k].Position < place {
			k++
		}
		if len(slot) == 0 {
			continue
		}
		if k == len(tokens) || tokens[k].Position != place || string(tokens[k].Term) != slot[0] {
			return 0, false
		}
		end = tokens[k].End
	}
	return end, true
}

// tokensOf is in, with offsets into the text as it stands, accents and all.
func (l language) tokensOf(f wordField, text string) analysis.TokenStream {
	tokens := l.in(f, text)
	if isASCII(text) {
		return tokens
	}
	_, at := unaccentAt(text)
	for _, t := range tokens {
		start, end := at[min(t.Start, len(at)-1)], at[min(t.End, len(at)-1)]
		if t.End > 0 && t.End < len(at) { // a letter that became several is marked whole
			last := at[t.End-1]
			_, size := utf8.DecodeRuneInString(text[last:])
			end = max(end, last+size)
		}
		t.Start, t.End = start, end
	}
	return tokens
}
