package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"hollowbed/plants/catalogue"
)

// synthetic makes up a plant table of n rows from a seed, with about one value
// in twenty left out. Words are spread as in natural text: the k-th commonest
// stands about 1/k as often as the first (Zipf's law).
func synthetic(n int, seed uint64) []catalogue.Plant {
	r := rand.New(rand.NewPCG(seed, 7))
	vocabulary := madeUpWords(r, 3000)
	zipf := rand.NewZipf(r, 1.1, 2, uint64(len(vocabulary)-1))
	common := strings.Fields("blue damp meadow edge flowers leaves tall low bees seed root spring summer shade stream clay sand upright arching fragrant")
	text := func(words int) string {
		out := make([]string, words)
		for i := range out {
			if r.IntN(3) == 0 {
				out[i] = common[r.IntN(len(common))]
			} else {
				out[i] = vocabulary[zipf.Uint64()]
			}
		}
		return strings.Join(out, " ")
	}
	maybe := func(x float64) float64 {
		if r.IntN(20) == 0 {
			return math.NaN()
		}
		return x
	}
	pick := func(from ...string) string { return from[r.IntN(len(from))] }
	plants := make([]catalogue.Plant, n)
	for i := range plants {
		p := &plants[i]
		p.ID = fmt.Sprintf("plant-%06d", i)
		p.VernacularName = strings.ToUpper(vocabulary[r.IntN(len(vocabulary))][:1]) + text(2)
		p.ScientificName = vocabulary[r.IntN(len(vocabulary))] + "us " + vocabulary[r.IntN(len(vocabulary))] + "ii"
		p.Form = pick("shrub", "grass", "perennial", "fern", "sedge")
		p.Zones = [][]string{{"bottom"}, {"slope"}, {"rim"}, {"bottom", "slope"}, {"slope", "rim"}}[r.IntN(5)]
		low := float64(r.IntN(7))
		p.SunMinH, p.SunMaxH = maybe(low), maybe(low+1+float64(r.IntN(6)))
		p.WetH, p.PondMM, p.DryD = maybe(float64(r.IntN(168))), maybe(float64(r.IntN(300))), maybe(float64(r.IntN(42)))
		p.LowestC, p.RootCM = maybe(-float64(r.IntN(35))), math.NaN()
		p.HeightCM, p.SpreadCM = maybe(10+float64(r.IntN(200))), maybe(10+float64(r.IntN(100)))
		if r.IntN(10) > 0 {
			p.FlowerFrom = 1 + r.IntN(12)
			p.FlowerTo = (p.FlowerFrom+r.IntN(4)-1)%12 + 1
			p.FlowerColour = []string{pick("blue", "white", "yellow", "pink", "violet")}
		}
		p.Evergreen = pick("yes", "no", "no", "semi", "")
		p.NativeTo = []string{pick("east-fen", "low-coast", "high-moor", "quill-valley")}
		p.Spreads = pick("no", "slowly", "runs", "seeds", "")
		p.Toxic = [][]string{nil, {"none"}, {"pets"}, {"people", "skin"}}[r.IntN(4)]
		p.Price = maybe(2 + float64(r.IntN(20)))
		p.Notes = text(12 + r.IntN(15))
		p.Line = i + 2
	}
	return plants
}

func madeUpWords(r *rand.Rand, n int) []string {
	syllables := strings.Fields("ba bel cor dan dro fen fil gor hal ist jun kel lam mor nar ol pim quo ras sil tam ulv ver wex yar zan")
	seen := map[string]bool{}
	var out []string
	for len(out) < n {
		w := ""
		for range 2 + r.IntN(3) {
			w += syllables[r.IntN(len(syllables))]
		}
		if !seen[w] {
			seen[w] = true
			out = append(out, w)
		}
	}
	return out
}
