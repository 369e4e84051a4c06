package season

import (
	"slices"
	"strings"

	"github.com/blevesearch/snowballstem"
	"github.com/blevesearch/snowballstem/english"

	"hollowbed/zones/table"
)

// phrases are the words that people use for a sign, beside its name and its
// label; the order of the words within one and their endings do not count. Two
// signs never share one. Common practice, no source.
func phrases(s Sign) string {
	switch s {
	case "wilted":
		return "wilted or drooping|wilt|droopy|flopped|flopped over|floppy|limp|limp leaves|wilted leaves|drooping leaves|hanging leaves|leaves hang|sagging|flagging|leaves curled|curled leaves|rolled leaves|hanging head|head hanging|leaves curling|curling|collapsed|slumped|drooped leaves|stems flopped"
	case "yellow":
		return "lower leaves yellow|yellow leaves|leaves gone yellow|yellowing|yellow leaves below|yellow bottom leaves|yellow foliage|lower foliage yellow|oldest leaves yellow|chlorotic|chlorotic leaves|chlorosis|pale yellow|pale yellow leaves|leaves yellow falling|yellow leaves dropping"
	case "scorched":
		return "leaf edges brown and crisp|crispy|crisp|crispy leaves|crispy edges|crisp brown edges|brown edges|brown leaf edges|brown leaf tips|brown tips|brown crispy leaves|dry leaf edges|leaf scorch|burnt edges|burnt leaves|burnt tips|burned edges|burned leaves|singed|scorched leaves|brown margins|brown leaf margins|crunchy|crunchy leaves|brown crunchy|brown crunchy leaves|margins scorched|burnt margins|edges scorched|edges burnt|dried up edges|edges dry brown"
	case "bleached":
		return "leaves pale or bleached on the sunny side|bleached leaves|pale leaves|leaves faded|washed out leaves|washed out colour|washed out color|white leaves|sun bleached|sunburnt|sunburned|sun burnt|faded|leaves faded white|bleached white|bleached pale leaves|washed out looking leaves|blanched"
	case "leggy":
		return "long thin stems|thin stems|long stems|spindly|stretched|lanky|drawn|long thin stalks|gangly|leggy thin|leggy thin stems|tall spindly|tall leggy|weak stems|weak thin stems|etiolated|stretched thin"
	case "leaning to the light":
		return "leans to one side to the light|leaning|leans|leaning over|leaning towards the light|leans towards the sun|leaning to one side|bends to the light|lopsided|leaning one way|leans over the path|reaching for the light|reaching for the sun|bent to the light"
	case FewFlowers:
		return "few or no flowers in its months|no flowers|no flower|not flowering|didn't flower|did not flower|doesn't flower|never flowered|no blooms|no bloom|not blooming|didn't bloom|did not bloom|never bloomed|few blooms|hardly any flowers|hardly flowers|no buds|no blossom|hardly bloomed|hardly flowered|barely bloomed|barely flowered|no flowers at all|flowered poorly|poor bloom|poor flowering|failed to flower|failed to bloom|flowerless"
	case "small but green":
		return "small but green and firm|small|still small|stayed small|tiny|small but healthy|not growing|not grown|hasn't grown|barely grown|no growth|slow|slow growth|growing slowly|stunted|small but green|hasn't put on growth|no new growth|no size on it|same size as when planted"
	case "new shoots":
		return "new shoots from the base|shoots from the base|resprouting|sprouting|sprouting from the base|new growth|new growth from the base|fresh shoots|new sprouts|sprouting again|shooting again|new growth at the base|new leaves at the base|green shoots at the base|regrowing|growing back|coming back from the base|new buds at the base"
	case "rotten":
		return "crown or stem base soft and rotten|rot|rotting|rotted|mushy|mushy crown|mushy stem|mushy base|soft crown|soft base|slimy|slimy crown|crown rot|stem rot|rotten crown|rotten base|black base|black mushy stem|soft stem|soft stem base|rotted crown|crown rotted|rotten stem|stem rotted|black slimy base|crown gone soft|soft rotten crown|rotten at the base|rotted at the base|crown soft mushy"
	case "roots brown":
		return "roots brown and soft not white|brown roots|brown soft roots|mushy roots|rotten roots|root rot|black roots|soft roots|slimy roots|brown mushy roots|brown slimy roots|roots rotted|black mushy roots|dark roots|dark soft roots|brown rotten roots"
	case "soil soggy":
		return "soil soggy a trowel deep|soggy|soggy ground|sodden|sodden soil|waterlogged|waterlogged soil|wet soil|soaked soil|boggy|soaking wet|standing water|water standing|puddle|sitting in water|swampy|squelchy|wet feet|saturated|saturated soil|soil stays wet|soil wet|flooded|drowned|ponding|muddy soil|water pools|pooling|water pooling|standing in water|under water|soil oozes|swamped"
	case "soil dry":
		return "soil dry a trowel deep|dry soil|bone dry|dust dry|dusty soil|parched|parched soil|dry ground|dried out|dry roots|cracked soil|soil cracks|dry as dust|dry dust|soil dry dust|soil dry dust cracked|soil cracked dry|powder dry|powdery soil|thirsty|soil baked|baked soil|soil hard dry|drought stressed|not enough water|needs water"
	case "sour smell":
		return "soil smells sour|smells|smelly|smells bad|bad smell|rotten smell|smells rotten|stinks|smells of rotten eggs|rotten eggs|foul smell|sour soil|smells sour|sulfur smell|sulphur smell|soil smells|soil smells bad|soil smells off|soil stinks|rotten soil smell|rotten smell soil|sewage smell|septic smell|eggy smell|swampy smell|smells like a swamp|smells of sulphur|smells of sulfur"
	case "algae":
		return "green film on the soil|green film|green slime|green scum|moss|mossy soil|slimy soil|algae on the soil|moss growing|moss grows|mossy|green crust|green crust on the soil|green soil surface|slimy green soil"
	case "mud on the leaves":
		return "mud on the leaves a waterline|muddy leaves|mud on leaves|waterline|leaves muddy|water line|leaves caked in mud|silt on the leaves|tide line|tideline|tide line of silt|tide line silt stems|mud line|mud stems|silt stems|leaves coated in mud|leaves covered in mud|leaves coated with silt|dirty leaves after a flood|silt line"
	case "heaved":
		return "lifted out of the ground|heaved out|heaved by frost|frost heave|frost heaved|pushed out of the ground|lifted by frost|root ball lifted|popped out of the ground|heaved out of the ground by frost|frost pushed out|popped|pushed up|root ball pushed|root ball popped|crown lifted|lifted by the frost|rootball lifted|rootball pushed|frost lifted"
	case "eaten":
		return "eaten or gnawed|gnawed|chewed|chewed leaves|nibbled|bitten|grazed|browsed|holes in the leaves|holes|eaten by rabbits|eaten by deer|eaten by slugs|eaten by snails|rabbits|deer|slugs|slug damage|snails|snail damage|caterpillars|voles|eaten by voles|aphids|greenfly|insects|bugs|beetles|leaves eaten|nibbled tips|eaten tips|munched|munched leaves|chomped|bitten off|gnawed stems|gnawed bark|eaten by caterpillars|rabbit damage|deer damage|insect damage|leaves full of holes|slug holes|slugs have eaten leaves|eaten by insects|eaten down|mice|eaten by mice|gophers|grubs|leaf miners|snipped off"
	case "spotted":
		return "spots or mildew on the leaves|spots|spots on the leaves|leaf spots|spotted leaves|black spots|brown spots|mildew|powdery mildew|mildew on the leaves|mouldy|moldy|mould|mold|rust|rusty spots|white powder|blight|fungus|fungal|fungus leaves|leaf fungus|fungal spots|grey mould|gray mold|botrytis|white mildew|diseased|disease|white film on the leaves|canker|virus|mosaic|blotches|blotchy leaves|brown blotches|spots on leaves black|brown spots on the leaves|black spots on the leaves|rust on the leaves"
	case "silted":
		return "buried in silt|buried|buried in mud|buried in sediment|covered in silt|covered in mud|covered in sediment|silted up|silt over the crown|under silt|smothered in mud|smothered in silt|smothered in sediment|sediment over the crown|mud over the crown|crown buried in silt|covered with silt|silt on top|sand washed over|buried in sand|buried in mulch|sediment piled"
	case "washed out":
		return "roots washed bare|washed away|bare roots|roots bare|roots exposed|exposed roots|washed out roots|eroded|undermined|scoured|soil washed away|washed out of the ground|undercut|undercut roots|soil gone from the roots|roots washed out|gullied|soil scoured|scoured roots|roots hang in the air|washed loose"
	case "trampled":
		return "trodden|trodden down|stepped on|stepped|walked on|crushed|squashed|flattened|stamped on|stood on|driven over|mown|mowed|mowed down|strimmed|trampled down"
	case "herbicide":
		return "leaves twisted by herbicide|weed killer|weedkiller|spray drift|herbicide drift|herbicide damage|sprayed|sprayed herbicide|sprayed with weed killer|twisted leaves|twisted growth|cupped leaves|leaves cupped|twisted cupped leaves|glyphosate|distorted leaves|distorted growth"
	case "planted too deep":
		return "planted deep|planted too low|set too deep|set deep|crown too deep|crown below the soil|crown below soil level|crown below the ground|crown buried|crown under the soil|sits too deep|stem buried|sunk too deep"
	case "pot-bound":
		return "pot bound, roots circling|pot bound|potbound|root bound|rootbound|roots circling|circling roots|roots circle|girdling roots|roots wound round|roots in a ball|roots going round|roots still pot shaped|roots never left the ball|rootball never opened"
	case "spread too far":
		return "spread too much|spreads too far|spreading|spread everywhere|spreading everywhere|taking over its neighbours|taking over its neighbors|taking over the bed|taking over everything|taking over|crowding others out|crowding its neighbours|crowding its neighbors|running|runs everywhere|seeding everywhere|seedlings everywhere|too vigorous|invading|invasive|overgrown|overruns|overrunning|rampant|escaped|swamping its neighbours|smothering its neighbours|smothering its neighbors"
	case Dead:
		return "died|has died|is dead|never came up|did not come up|didn't come up|not come up|dead as a doornail|did not emerge|didn't emerge|never emerged|never showed up|didn't return|did not return|never returned|did not come back|didn't come back|never came back|not come back|failed to come up|winterkilled|killed"
	}
	return ""
}

// idle words carry nothing of a sign.
const idleWords = "a an the is are was be been being it its it's they them has have had gone going turned turning turn turns looks looking " +
	"look seems seem getting got gets became becoming all of on at by in and or but with from there i see saw very bit little slightly quite rather some " +
	"somewhat really so too now again still also this that plant plants my mostly partly bits to up out over did does do " +
	"as for just any sign signs evidence more toward towards into onto off down through if single only already pretty fairly"

// settingWords say when, where, how much or by whom, and change nothing of a sign.
const settingWords = "year years season seasons spring summer autumn fall winter january february march april may june july august september october november december " +
	"day days week weeks month months today yesterday morning noon afternoon evening night overnight long ago since last first early late always often twice once " +
	"after before during while when until every each time times weather rain rains rained storm storms flood floods drought heat hot heatwave thaw freeze " +
	"two three four five six seven eight nine ten several many most some few couple lots lot half-inch inch inches foot feet level " +
	"big heavy hard bad badly severe severely heavily completely totally entirely terribly awfully quickly suddenly slowly much everywhere around beside near behind between along next " +
	"west east north south western eastern northern southern edge edges bank path lawn fence wall house inlet outlet pipe downpipe downspout spout gutter runoff street road drive driveway " +
	"bottom slope rim bed garden middle centre center end part parts patch area corner row clump clumps top tops underside undersides outside inside " +
	"somebody someone people kids children child neighbour neighbours neighbor neighbors dog dogs cat cats visitors crew mower him her them he she we our us your who " +
	"because due caused causing thanks both others another new old whole entire one ones it'll"

// partWords are parts of a plant and its ground: beside a sign they only say where.
const partWords = "leaf leaves foliage stem stems stalk stalks shoots twigs branches ground soil surface side sides plant crown base roots root tips buds"

// turningWords change what is said, so that it has to be asked back.
const turningWords = "less fewer better scarcely rarely seldom nobody nowhere lack lacks lacking absent absence missing except excluding doubt doubtful unlikely unclear unsure ruled ? recovered recovering recovers recovery healed healing improved improving improvement stopped stops cured gone almost nearly half risk worried worry afraid " +
	"prevent prevented against protect protected treat treated might could should would will expect expected like colour coloured color colored free resistant proof used unless than nothing everything maybe perhaps possibly"

// partingWords part signs as commas do.
const partingWords = ", and but though although however yet whereas"

// softening words between a "not" and a sign leave it open whether it was seen.
const softeningWords = "only just as quite all very so really"

// weakWords are phrases of one word that mean a sign only where little else is said.
const weakWords = "yellow small tiny slow slower rust spots holes smell smells moss deer rabbits slugs snails bugs beetles insects mice leaning drawn rot buried running run faded disease killed sprayed popped dead died white bare stretched thirsty flooded"

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
	as := func(w string) string { return w }
	out := &spoken{
		idle: set(idleWords, as), setting: set(settingWords, as), part: set(partWords, stemOf), turning: set(turningWords, as),
		parting: set(partingWords, as), softening: set(softeningWords, as), weak: set(weakWords, stemOf),
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
		for _, phrase := range append(strings.Split(phrases(s), "|"), string(s)) {
			known(s, phrase)
		}
	}
	for phrase := range strings.SplitSeq("moist|soil moist|moist soil|soil damp|damp soil|soil evenly moist", "|") {
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
	if not := slices.Index(stems, "not"); not > 0 {
		return strings.Join(stems, " ")
	} else {
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
		denied := i > 0 && (words[i-1].stem == "not" || orAmong(raw[words[i-1].at:w.at]))
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

// endsList says whether a list, such as "no slugs, mildew and rot", ends among
// words.
func (h *spoken) endsList(between []string) bool {
	return slices.ContainsFunc(between, func(w string) bool { return h.joins(w) && w != "," && w != "and" })
}

func orAmong(words []string) bool { return slices.Contains(words, "or") }

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
	slices.SortStableFunc(near, func(a, b Sign) int {
		return int(1000*shares[b]) - int(1000*shares[a])
	})
	var out []string
	for _, s := range near[:min(3, len(near))] {
		out = append(out, string(s))
	}
	return out
}
