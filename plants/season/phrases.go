package season

import (
	_ "embed" // phrases
	"slices"
	"strings"

	"github.com/blevesearch/snowballstem"
	"github.com/blevesearch/snowballstem/english"

	"hollowbed/zones/table"
)

//go:embed phrases.txt
var phrasesText string

// phrases are the words that people use for each sign, and in brackets lists of other
// words: see phrases.txt.
func phrases() map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(phrasesText) {
		if name, words, ok := strings.Cut(strings.TrimSuffix(line, "\n"), ": "); ok && name[0] != '#' {
			out[name] = words
		}
	}
	return out
}

// spoken finds signs by the stems of what people say.
type spoken struct {
	idle, setting, part, turning, parting, softening map[string]bool

	weak    map[string]bool // by stem
	signs   map[string]Sign // by the sorted stems of a phrase
	said    map[string]bool // phrases in the order of their words, and with what parts them
	words   map[string]bool // the stems of all phrases
	all     []string        // and the words themselves
	longest int
}

// moist is heard of soil that is neither soggy nor dry.
const moist Sign = "moist"

func howSaid() *spoken {
	set := func(words string, name func(string) string) map[string]bool {
		out := map[string]bool{}
		for w := range strings.FieldsSeq(words) {
			out[name(w)] = true
		}
		return out
	}
	as, lists := func(w string) string { return w }, phrases()
	out := &spoken{
		idle: set(lists["(idle)"], as), setting: set(lists["(setting)"], as), part: set(lists["(part)"], stemOf), turning: set(lists["(turning)"], as),
		parting: set(lists["(parting)"], as), softening: set(lists["(softening)"], as), weak: set(lists["(weak)"], stemOf),
		signs: map[string]Sign{}, said: map[string]bool{}, words: map[string]bool{},
	}
	known := func(s Sign, phrase string) {
		raw := plainWords(phrase)
		words := out.heard(raw)
		out.signs[keyOf(words)] = s
		out.said[saidKey(words)] = true
		out.longest = max(out.longest, len(words))
		for _, w := range words {
			if !out.words[w.stem] {
				out.words[w.stem] = true
				out.all = append(out.all, raw[w.at])
			}
		}
	}
	for _, s := range Signs() {
		for _, phrase := range append(strings.Split(lists[string(s)], "|"), string(s)) {
			known(s, phrase)
		}
	}
	for phrase := range strings.SplitSeq(lists[string(moist)], "|") {
		known(moist, phrase)
	}
	return out
}

// plainWords cuts a text into words; bars and commas stay.
func plainWords(text string) []string {
	return strings.Fields(strings.ToLower(strings.NewReplacer(",", " , ", "|", " | ", ";", " | ", ". ", " | ", "/", " or ", "&", " and ", "+", " and ", "-", " ", "?", " ? ", "\u2019", "'").Replace(text)))
}

// unspoken is what may cling to a word.
const unspoken = ".,!:()\"'"

// uttered is one word that carries something, and where it stood.
type uttered struct {
	stem                 string
	at                   int  // its place among all words
	bars, commas, joints int  // how many stood before: bars; these and commas; these and words that part signs
	sets                 bool // it only says when, where or how much
}

// heard leaves out idle words and cuts the others to their stems.
func (h *spoken) heard(words []string) []uttered {
	var out []uttered
	bars, commas, joints := 0, 0, 0
	for i, w := range words {
		if w == "|" {
			bars++
		}
		if w == "|" || w == "," {
			commas++
		}
		if h.joins(w) {
			joints++
			continue
		}
		w = strings.Trim(w, unspoken)
		if n := len(out); n > 0 && out[n-1].sets && out[n-1].at == i-1 && (w == "inch" || w == "inches" || w == "cm" || w == "feet") {
			out = out[:n-1] // under three inches of silt
			continue
		}
		over := w == "gone" && (i+1 == len(words) || h.joins(words[i+1])) // mildew gone
		if w != "" && (over || !h.idle[w]) {
			out = append(out, uttered{stemOf(w), i, bars, commas, joints, h.setting[w] || strings.Trim(w, "0123456789") == ""})
		}
	}
	return out
}

func stemOf(word string) string {
	switch word {
	case "leaf", "foliage":
		word = "leaves"
	case "no", "0", "non", "un", "without", "never", "neither", "nor", "none", "cannot", "cant", "wont", "isnt", "arent", "wasnt", "werent", "dont", "doesnt", "didnt", "hasnt", "havent", "hadnt", "couldnt":
		return "not"
	}
	if strings.HasSuffix(word, "n't") {
		return "not"
	}
	env := snowballstem.NewEnv(word)
	english.Stem(env)
	return env.Current()
}

// keyOf is one for all orders of the words, unless a "not" stands among them.
func keyOf(words []uttered) string {
	var stems []string
	for _, w := range words {
		stems = append(stems, w.stem)
	}
	if not := slices.Index(stems, "not"); not <= 0 {
		slices.Sort(stems[not+1:])
	}
	return strings.Join(stems, " ")
}

// saidKey is one for words in their order, and with what parts them.
func saidKey(words []uttered) string {
	key := ""
	for i, w := range words {
		if i > 0 && w.joints != words[i-1].joints {
			key += ","
		}
		key += w.stem + " "
	}
	return key
}

// lengths lists, longest first, how many words from the start make up a sign.
func (h *spoken) lengths(words []uttered) []int {
	var out []int
	for n := min(len(words), h.longest); n > 0; n-- {
		if _, ok := h.signs[keyOf(words[:n])]; ok && words[n-1].bars == words[0].bars {
			out = append(out, n)
		}
	}
	return out
}

// What cut says of a word that begins no sign.
const (
	asNot   = 0  // a "not" before a sign
	asAside = -1 // beside a sign it changes nothing
	asWrong = -2 // it has to be asked back
)

// What cut would rather not do, the dearest last.
const (
	costSign   = 1
	costUnlike = 3 // two signs are likelier than this one
	costAside  = 10
	costWrong  = 1000
)

// cut parts words into signs so that as little as can be is left over: how many
// words the sign takes that begins at each, or what else the word is.
func (h *spoken) cut(words []uttered, raw []string) []int {
	out, cost := make([]int, len(words)), make([]int, len(words)+1)
	for i, w := range slices.Backward(words) {
		out[i], cost[i] = asWrong, costWrong+cost[i+1]
		take := func(how, n, c int) {
			if c+cost[i+n] < cost[i] {
				out[i], cost[i] = how, c+cost[i+n]
			}
		}
		denied := i > 0 && (words[i-1].stem == "not" || slices.Contains(raw[words[i-1].at:w.at], "or"))
		for _, n := range h.lengths(words[i:]) {
			if c := h.costOf(words[i:i+n], denied); c < costWrong {
				take(n, n, c)
			}
		}
		switch {
		case w.stem == "not":
			if h.denies(words[i:], raw) && out[i+1] > 0 {
				take(asNot, 1, 0)
			}
		case w.sets:
			take(asAside, 1, 0)
		case h.part[w.stem], h.strange(raw[w.at], w.stem):
			take(asAside, 1, costAside)
		}
	}
	return out
}

// costOf is what it costs to take the words of a phrase for one sign. Behind a
// "not" only a phrase as it is said may go over a comma or an "and".
func (h *spoken) costOf(phrase []uttered, denied bool) int {
	first, last := phrase[0], phrase[len(phrase)-1]
	switch {
	case denied && h.said[saidKey(phrase)]:
		return costSign
	case denied && first.joints != last.joints:
		return costWrong
	case denied && len(phrase) > 1, first.commas != last.commas:
		return costUnlike
	}
	return costSign
}

// denies says whether words begin with a "not" that goes with the next one:
// "not yellow", "not at all yellow", but not "not only yellow".
func (h *spoken) denies(words []uttered, raw []string) bool {
	if len(words) < 2 || words[0].joints != words[1].joints {
		return false
	}
	between := raw[words[0].at+1 : words[1].at]
	return slices.Contains(between, "at") || !slices.ContainsFunc(between, func(w string) bool { return h.softening[w] })
}

// joins says whether a word stands between signs and in none.
func (h *spoken) joins(word string) bool { return word == "|" || h.parting[word] }

// endsList says whether a list, such as "no slugs, mildew and rot", ends among words.
func (h *spoken) endsList(between []string) bool {
	return slices.ContainsFunc(between, func(w string) bool { return h.joins(w) && w != "," && w != "and" })
}

// strange says whether a word has nothing to do with signs, and is no slip of one
// that has.
func (h *spoken) strange(word, stem string) bool {
	word = strings.Trim(word, unspoken)
	return !h.words[stem] && !h.turning[word] && table.Nearest(word, h.all) == ""
}

// sure says whether a sign leaves no doubt, though words beside it say nothing of
// it.
func (h *spoken) sure(words []uttered) bool {
	return len(words) > 1 || !h.weak[words[0].stem]
}

// nearest lists up to three signs whose phrases share most with words.
func (h *spoken) nearest(words []uttered) []string {
	shares := map[Sign]float64{}
	for key, s := range h.signs {
		if s == moist {
			continue
		}
		stems, n := strings.Fields(key), 0
		for _, w := range words {
			if slices.Contains(stems, w.stem) && w.stem != "not" {
				n++
			}
		}
		shares[s] = max(shares[s], float64(n)/float64(len(stems)+1))
	}
	near := slices.DeleteFunc(Signs(), func(s Sign) bool { return shares[s] == 0 })
	slices.SortStableFunc(near, func(a, b Sign) int { return int(1000*shares[b]) - int(1000*shares[a]) })
	return names(near[:min(3, len(near))])
}
