package season

import (
	"slices"
	"strings"

	"github.com/blevesearch/snowballstem"
	"github.com/blevesearch/snowballstem/english"
)

// phrases are the words that people use for a sign, beside its name and its
// label; the order of the words within one and their endings do not count. Two
// signs never share one. Common practice, no source.
func phrases(s Sign) string {
	switch s {
	case "wilted":
		return "wilted or drooping|wilt|droopy|flopped|flopped over|floppy|limp|limp leaves|wilted leaves|drooping leaves|hanging leaves|leaves hang|sagging|flagging|leaves curled|curled leaves|rolled leaves"
	case "yellow":
		return "lower leaves yellow|yellow leaves|leaves gone yellow|yellowing|yellow leaves below|yellow bottom leaves|yellow foliage|lower foliage yellow|oldest leaves yellow"
	case "scorched":
		return "leaf edges brown and crisp|crispy|crisp|crispy leaves|crispy edges|crisp brown edges|brown edges|brown leaf edges|brown leaf tips|brown tips|brown crispy leaves|dry leaf edges|leaf scorch|burnt edges|burnt leaves|burnt tips|burned edges|burned leaves|singed|scorched leaves"
	case "bleached":
		return "leaves pale or bleached on the sunny side|bleached leaves|pale leaves|leaves faded|washed out leaves|washed out colour|washed out color|white leaves|sun bleached|sunburnt|sunburned|sun burnt"
	case "leggy":
		return "long thin stems|thin stems|long stems|spindly|stretched|lanky|drawn|long thin stalks|gangly"
	case "leaning to the light":
		return "leans to one side to the light|leaning|leans|leaning over|leaning towards the light|leans towards the sun|leaning to one side|bends to the light"
	case FewFlowers:
		return "few or no flowers in its months|no flowers|no flower|not flowering|didn't flower|did not flower|doesn't flower|never flowered|no blooms|no bloom|not blooming|didn't bloom|did not bloom|never bloomed|few blooms|hardly any flowers|hardly flowers|no buds|no blossom"
	case "small but green":
		return "small but green and firm|small|still small|stayed small|tiny|small but healthy|not growing|not grown|hasn't grown|barely grown|no growth|slow|slow growth|growing slowly"
	case "new shoots":
		return "new shoots from the base|shoots from the base|resprouting|sprouting|sprouting from the base|new growth|new growth from the base|fresh shoots|new sprouts|sprouting again|shooting again"
	case "rotten":
		return "crown or stem base soft and rotten|rot|rotting|rotted|mushy|mushy crown|mushy stem|mushy base|soft crown|soft base|slimy|slimy crown|crown rot|stem rot|rotten crown|rotten base|black base|black mushy stem"
	case "roots brown":
		return "roots brown and soft not white|brown roots|brown soft roots|mushy roots|rotten roots|root rot|black roots|soft roots|slimy roots"
	case "soil soggy":
		return "soil soggy a trowel deep|soggy|soggy ground|sodden|sodden soil|waterlogged|waterlogged soil|wet soil|soaked soil|boggy|soaking wet|standing water|water standing|puddle|sitting in water|swampy|squelchy|wet feet"
	case "soil dry":
		return "soil dry a trowel deep|dry soil|bone dry|dust dry|dusty soil|parched|parched soil|dry ground|dried out|dry roots|cracked soil|soil cracks|dry as dust"
	case "sour smell":
		return "soil smells sour|smells|smelly|smells bad|bad smell|rotten smell|smells rotten|stinks|smells of rotten eggs|rotten eggs|foul smell|sour soil|smells sour|sulfur smell|sulphur smell"
	case "algae":
		return "green film on the soil|green film|green slime|green scum|moss|mossy soil|slimy soil|algae on the soil"
	case "mud on the leaves":
		return "mud on the leaves a waterline|muddy leaves|mud on leaves|waterline|leaves muddy|water line|leaves caked in mud|silt on the leaves"
	case "heaved":
		return "lifted out of the ground|heaved out|heaved by frost|frost heave|frost heaved|pushed out of the ground|lifted by frost|root ball lifted|popped out of the ground"
	case "eaten":
		return "eaten or gnawed|gnawed|chewed|chewed leaves|nibbled|bitten|grazed|browsed|holes in the leaves|holes|eaten by rabbits|eaten by deer|eaten by slugs|eaten by snails|rabbits|deer|slugs|slug damage|snails|snail damage|caterpillars|voles|eaten by voles|aphids|greenfly|insects|bugs|beetles|leaves eaten"
	case "spotted":
		return "spots or mildew on the leaves|spots|spots on the leaves|leaf spots|spotted leaves|black spots|brown spots|mildew|powdery mildew|mildew on the leaves|mouldy|moldy|mould|mold|rust|rusty spots|white powder|blight"
	case "silted":
		return "buried in silt|buried|buried in mud|buried in sediment|covered in silt|covered in mud|covered in sediment|silted up|silt over the crown|under silt"
	case "washed out":
		return "roots washed bare|washed away|bare roots|roots bare|roots exposed|exposed roots|washed out roots|eroded|undermined|scoured|soil washed away"
	case Dead:
		return "died|has died|is dead|never came up|did not come up|didn't come up|not come up|dead as a doornail"
	}
	return ""
}

// idle words carry nothing of a sign; "but" and "and" part signs as commas do.
const idleWords = "a an the is are was be been being it its it's they them has have had gone going turned turning turn turns looks looking " +
	"look seems seem getting got gets became becoming all of on at by in and or but with from there i see saw very bit little slightly quite rather some " +
	"somewhat really so too now again still also this that plant plants my mostly partly bits to up out over did does do"

// spoken finds signs by the stems of what people say.
type spoken struct {
	idle    map[string]bool
	signs   map[string]Sign // by the sorted stems of a phrase
	longest int
}

func howSaid() spoken {
	out := spoken{idle: map[string]bool{}, signs: map[string]Sign{}}
	for _, w := range strings.Fields(idleWords) {
		out.idle[w] = true
	}
	for _, s := range Signs() {
		for _, phrase := range append(strings.Split(phrases(s), "|"), string(s)) {
			words := out.heard(strings.Fields(phrase))
			out.signs[keyOf(words)] = s
			out.longest = max(out.longest, len(words))
		}
	}
	return out
}

// uttered is one word that carries something, and where it stood.
type uttered struct {
	stem string
	at   int
	part int // between bars
}

// heard leaves out idle words and cuts the others to their stems.
func (h *spoken) heard(words []string) []uttered {
	var out []uttered
	part := 0
	for i, w := range words {
		if w == "|" {
			part++
			continue
		}
		if w = strings.Trim(w, ".!?:()\"'"); w != "" && !h.idle[w] {
			out = append(out, uttered{stemOf(w), i, part})
		}
	}
	return out
}

func stemOf(word string) string {
	switch word {
	case "leaf", "foliage":
		word = "leaves"
	case "no", "isn't", "isnt", "aren't", "without", "never", "didn't", "doesn't", "hasn't", "haven't", "don't", "didnt", "doesnt", "hasnt":
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
	if not := slices.Index(stems, "not"); not > 0 {
		return strings.Join(stems, " ")
	} else {
		slices.Sort(stems[not+1:])
	}
	return strings.Join(stems, " ")
}

// lengths lists, longest first, how many words from the start make up a sign.
func (h *spoken) lengths(words []uttered) []int {
	var out []int
	for n := min(len(words), h.longest); n > 0; n-- {
		if _, ok := h.signs[keyOf(words[:n])]; ok && words[n-1].part == words[0].part {
			out = append(out, n)
		}
	}
	return out
}

// cut parts words into signs, the longest first, so that no word is left over if
// that can be: how many words the sign takes that begins at each, 0 for a "not"
// before a sign, -1 for none.
func (h *spoken) cut(words []uttered) []int {
	out, good := make([]int, len(words)), make([]bool, len(words)+1)
	good[len(words)] = true
	for i := len(words) - 1; i >= 0; i-- {
		out[i] = -1
		for _, n := range h.lengths(words[i:]) {
			if out[i] < 0 || good[i+n] && !good[i] {
				out[i], good[i] = n, good[i+n]
			}
		}
		if out[i] < 0 && words[i].stem == "not" && i+1 < len(words) && out[i+1] > 0 {
			out[i], good[i] = 0, good[i+1]
		}
	}
	return out
}

// nearest lists up to three signs whose phrases share most with words.
func (h *spoken) nearest(words []uttered) []string {
	shares := map[Sign]float64{}
	for key, s := range h.signs {
		stems, n := strings.Fields(key), 0
		for _, w := range words {
			if slices.Contains(stems, w.stem) && w.stem != "not" {
				n++
			}
		}
		shares[s] = max(shares[s], float64(n)/float64(len(stems)+1))
	}
	near := slices.DeleteFunc(Signs(), func(s Sign) bool { return shares[s] == 0 })
	slices.SortStableFunc(near, func(a, b Sign) int {
		return int(1000*shares[b]) - int(1000*shares[a])
	})
	var out []string
	for _, s := range near[:min(3, len(near))] {
		out = append(out, string(s))
	}
	return out
}
