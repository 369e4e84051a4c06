package search

import (
	"slices"
	"strings"
	"unicode"
)

// sense is what a word does in such a line.
type sense int

const (
	other    sense = iota
	turns          // turns what follows round: not, never, without
	softly         // turns round harm alone: hardly toxic
	filler         // between "not" and what it governs: at all, known to be
	joins          // or, nor, and
	leads          // to, for: before those who are harmed
	being          // dogs, children
	harms          // toxic, poisonous
	hurts          // harms only with those who are hurt: won't kill my dog
	safe           // harmless, nontoxic
	friendly       // safe after a being: pet friendly
	runs           // invasive
)

// senseOf is the sense of a word of its own.
func senseOf(word string) sense {
	switch word {
	case "not", "no", "non", "never", "without", "except", "excepting", "excluding", "exclude", "excludes", "avoid", "avoiding", "avoids",
		"nor", "neither", "none", "nothing", "nobody", "isn't", "isnt", "aren't", "arent", "ain't", "aint", "wasn't", "doesn't", "doesnt",
		"don't", "dont", "didn't", "didnt", "won't", "wont", "can't", "cant", "cannot", "couldn't", "shouldn't", "shouldnt", "wouldn't",
		"wouldnt", "mustn't", "mustnt", "minus", "lacking", "lacks", "w/o", "sans", "zero":
		return turns
	case "less", "least", "hardly", "barely", "rarely", "seldom", "scarcely", "free":
		return softly
	case "a", "an", "the", "any", "anything", "something", "at", "all", "in", "way", "be", "is", "are", "being", "been", "it", "its", "that",
		"which", "who", "to", "very", "too", "so", "really", "particularly", "especially", "even", "ever", "remotely", "slightly", "mildly",
		"potentially", "possibly", "known", "considered", "thought", "want", "wants", "need", "like", "use", "have", "has", "having", "contain",
		"contains", "containing", "cause", "causes", "make", "makes", "do", "does", "must", "should", "can", "may", "might", "would", "will",
		"plant", "plants", "species", "ones", "stuff", "of", "from", "cut", "i", "we", "you", "they", "my", "our", "highly", "as":
		return filler
	case "or", "and", "&":
		return joins
	case "for", "with", "around", "near", "towards", "toward", "by", "if":
		return leads
	case "pet", "pets", "dog", "dogs", "puppy", "puppies", "cat", "cats", "kitten", "kittens", "horse", "horses", "pony", "ponies", "cow",
		"cows", "cattle", "goat", "goats", "sheep", "livestock", "chicken", "chickens", "hen", "hens", "animal", "animals", "child", "children",
		"kid", "kids", "baby", "babies", "toddler", "toddlers", "infant", "infants", "people", "person", "human", "humans", "man", "family",
		"anyone", "anybody", "someone", "everyone", "skin":
		return being
	case "toxic", "toxicity", "toxin", "toxins", "toxicants", "poison", "poisons", "poisonous", "poisoning", "venom", "venomous", "harm",
		"harms", "harmful", "harming", "danger", "dangers", "dangerous", "hazard", "hazards", "hazardous", "deadly", "lethal", "fatal",
		"noxious", "injurious", "irritant", "irritants", "irritating", "unsafe":
		return harms
	case "kill", "kills", "killing", "hurt", "hurts", "hurting", "injure", "injures", "sicken", "sickens", "sick", "ill", "irritate", "irritates":
		return hurts
	case "safe", "harmless", "innocuous":
		return safe
	case "invasive", "aggressive", "rampant", "thug", "thuggish", "runaway", "weedy", "runner", "runners", "running", "spreading":
		return runs
	case "friendly":
		return friendly
	}
	return other
}

// kindOf is whom the table would name for a being.
func kindOf(being string) []string {
	switch being {
	case "pet", "pets", "dog", "dogs", "puppy", "puppies", "cat", "cats", "kitten", "kittens":
		return []string{"pets"}
	case "animal", "animals":
		return []string{"livestock", "pets"}
	case "skin":
		return []string{"skin"}
	case "horse", "horses", "pony", "ponies", "cow", "cows", "cattle", "goat", "goats", "sheep", "livestock", "chicken", "chickens", "hen", "hens":
		return []string{"livestock"}
	}
	return []string{"people"}
}

// leading reports whether a word only leads to what is asked for.
func leading(word string) bool {
	switch word {
	case "plants", "species", "ones", "stuff", "something", "anything", "things", "which", "that", "what", "good", "nice", "great", "please", "show", "find",
		"want", "need", "looking", "can", "does", "do", "is", "are", "it", "take", "takes", "tolerate", "tolerates", "handle", "handles", "withstand", "withstands":
		return true
	}
	return false
}

// telling are the words of a query but those that only lead to others, if others there are.
func telling(q Query) []Word {
	var out []Word
	for i, w := range q.Words {
		if w.Phrase || w.Not || i > 0 && q.Words[i-1].Text == "not" || !leading(plainWord(w.Text)) {
			out = append(out, w)
		}
	}
	if len(q.Conditions) == 0 && q.Like == nil && !slices.ContainsFunc(out, func(w Word) bool { return strings.ContainsFunc(w.Text, unicode.IsLetter) }) {
		return q.Words
	}
	return out
}

// senseIn is the sense of a word, also of one grown together: nontoxic.
func senseIn(word string) sense {
	if s := senseOf(word); s != other {
		return s
	}
	for _, start := range []string{"non", "not", "no", "un", "never"} {
		if rest, ok := strings.CutPrefix(word, start); ok && (senseOf(rest) == harms) {
			return safe
		}
	}
	for _, end := range []string{"free", "less", "safe", "friendly"} {
		rest, ok := strings.CutSuffix(word, end)
		if ok && (end == "safe" || end == "friendly") && senseOf(rest) == being || ok && senseOf(rest) == harms {
			return safe
		}
	}
	return other
}

// creeps counts the tokens from i on that say what a plant does that runs wild, which
// is a question of harm only where something turns it round: "doesn't spread", "won't
// take over". "Spread over 3 ft" is a width.
func (r *sentence) creeps(i int) int {
	after := ""
	if i+1 < len(r.tokens) {
		after = r.tokens[i+1].plain
	}
	switch r.tokens[i].plain {
	case "run", "runs", "wander", "wanders", "roam", "roams", "invade", "invades", "reseed", "reseeds", "self-seed", "self-seeds", "self-sow", "self-sows":
		return 1
	case "spread", "spreads":
		if !slices.Contains([]string{"over", "under", "above", "below", "more", "less", "up", "of"}, after) && !strings.ContainsAny(after, "0123456789") {
			return 1
		}
	case "take", "takes", "taking":
		if after == "over" {
			return 2
		}
	case "seed", "seeds":
		if slices.Contains([]string{"about", "around", "itself", "everywhere", "freely"}, after) {
			return 2
		}
	}
	return 0
}
