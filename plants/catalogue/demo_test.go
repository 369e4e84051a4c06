package catalogue

import (
	"bufio"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"hollowbed/zones/table"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// demo reads the plant table that comes with the program.
func demo(t testing.TB) *Catalogue {
	f, err := os.Open("../../data/plants.csv")
	require.NoError(t, err)
	defer f.Close()
	c, err := Read("plants.csv", f)
	require.NoError(t, err)
	return c
}

// TestDemoTable holds the invented table to what its users need of it.
func TestDemoTable(t *testing.T) {
	c := demo(t)
	assert.GreaterOrEqual(t, len(c.Plants), 150)
	assert.Contains(t, c.Plants[0].Notes, "All plants in this table are invented")
	for _, w := range c.Warnings {
		t.Errorf("%s", w)
	}
	scientific := map[string]bool{}
	opening := map[string]string{}
	for _, p := range c.Plants {
		assert.Equal(t, IDFor(p.VernacularName), p.ID)
		assert.False(t, scientific[p.ScientificName], "%s stands twice", p.ScientificName)
		scientific[p.ScientificName] = true
		assert.Len(t, strings.Fields(p.ScientificName), 2, p.ScientificName)
		assert.Equal(t, "invented for the Hollowbed demo", p.Source)
		words := strings.Fields(p.Notes)
		assert.GreaterOrEqual(t, len(words), 6, "%s: %q is no sentence", p.ID, p.Notes)
		key := strings.ToLower(strings.Join(words[:min(4, len(words))], " "))
		assert.Empty(t, opening[key], "%s and %s begin their notes alike", p.ID, opening[key])
		opening[key] = p.ID
	}
}

// TestDemoTableCoversTheSite: there is something to choose from in every zone,
// at every level of sun and in every month of bloom, and every value of every
// enumeration is in use but tree, which no rain garden on a house lot holds.
func TestDemoTableCoversTheSite(t *testing.T) {
	c := demo(t)
	count := map[string]int{}
	months := map[int]int{}
	for _, p := range c.Plants {
		for _, z := range p.Zones {
			for _, sun := range []struct {
				name  string
				hours float64
			}{{"shade", 2}, {"half shade", 5}, {"sun", 8}} {
				if p.SunMinH <= sun.hours && sun.hours <= p.SunMaxH {
					count[z+" in "+sun.name]++
				}
			}
		}
		for m := p.FlowerFrom; m != 0; m = m%12 + 1 {
			months[m]++
			if m == p.FlowerTo {
				break
			}
		}
		for _, col := range tableColumns() {
			switch {
			case col.Kind == choiceColumn:
				count[col.Name+" "+p.text(col.Name)]++
			case col.Kind == manyColumn && len(col.Choices) > 0:
				for _, v := range p.list(col.Name) {
					count[col.Name+" "+v]++
				}
			}
		}
	}
	for _, z := range Zones() {
		for _, sun := range []string{"shade", "half shade", "sun"} {
			assert.GreaterOrEqual(t, count[z.Name+" in "+sun], 8, "%s in %s", z.Name, sun)
		}
	}
	for m := 2; m <= 11; m++ {
		assert.GreaterOrEqual(t, months[m], 5, "month %d", m)
	}
	for _, col := range tableColumns() {
		for _, v := range col.Choices {
			if v.Name != "tree" {
				assert.NotZero(t, count[col.Name+" "+v.Name], "%s %s", col.Name, v.Name)
			}
		}
	}
	for _, word := range []string{"wet feet", "drought", "clay", "fragrant", "bees", "berries", "deer", "sand", "butterflies", "shade", "frost", "mulch"} {
		assert.True(t, slices.ContainsFunc(c.Plants, func(p Plant) bool {
			return strings.Contains(strings.ToLower(p.Notes), word)
		}), "no notes speak of %s", word)
	}
}

// TestDemoTableTradesOff: what bears wet long bears dry short, as in real
// meadows (Silvertown and others 1999, Nature 400:61: a trade-off between
// tolerance of too little air and of too little water); yet a few bear both,
// and some tags of growers are at odds with the limits in the same row. Plants
// of the summer-dry coast stand apart: they bear wet winters and dry summers.
func TestDemoTableTradesOff(t *testing.T) {
	c := demo(t)
	var wet, dry []float64
	both, tooWet, tooDry := 0, 0, 0
	for _, p := range c.Plants {
		if math.IsNaN(p.WetH) || math.IsNaN(p.DryD) || summerDry(p) {
			continue
		}
		wet, dry = append(wet, p.WetH), append(dry, p.DryD)
		if p.WetH >= 90 && p.DryD >= 42 {
			both++
		}
		if slices.Contains(p.Zones, "bottom") && p.WetH < 48 {
			tooWet++
		}
		if slices.Contains(p.Zones, "rim") && p.DryD < 32 {
			tooDry++
		}
	}
	assert.Less(t, rankCorrelation(wet, dry), -0.7)
	assert.GreaterOrEqual(t, both, 4)
	assert.Less(t, both, len(c.Plants)/10)
	assert.GreaterOrEqual(t, tooWet, 3)
	assert.GreaterOrEqual(t, tooDry, 2)
	assert.Less(t, tooWet+tooDry, len(c.Plants)/10)
}

// summerDry tells the plants of the made-up coast with wet winters and dry
// summers: tender, and used to long drought.
func summerDry(p Plant) bool { return p.LowestC >= -20 && p.DryD >= 75 }

// rankCorrelation is Spearman's, with mean ranks for ties.
func rankCorrelation(a, b []float64) float64 {
	rank := func(v []float64) []float64 {
		r := make([]float64, len(v))
		for i := range v {
			for j := range v {
				switch {
				case v[j] < v[i]:
					r[i]++
				case v[j] == v[i]:
					r[i] += 0.5
				}
			}
		}
		return r
	}
	x, y := rank(a), rank(b)
	mean := float64(len(a)) / 2
	var xy, xx, yy float64
	for i := range x {
		xy += (x[i] - mean) * (y[i] - mean)
		xx += (x[i] - mean) * (x[i] - mean)
		yy += (y[i] - mean) * (y[i] - mean)
	}
	return xy / math.Sqrt(xx*yy)
}

// TestDemoPlantsAreInvented: no genus is that of a real plant or within two
// letters of one, and no common name ends in a word, or in a part of a word,
// that real common names end in. The real names are 5,042 of the United
// States (testdata/catalogue/real-names.txt); the list of words below was put
// together for this test.
func TestDemoPlantsAreInvented(t *testing.T) {
	genera := map[string]bool{}
	words := map[string]bool{}
	f, err := os.Open("../../testdata/catalogue/real-names.txt")
	require.NoError(t, err)
	defer f.Close()
	for sc := bufio.NewScanner(f); sc.Scan(); {
		if name := strings.Fields(strings.ToLower(sc.Text())); len(name) > 0 && name[0] != "#" {
			genera[name[0]] = true
			for _, w := range name {
				words[w] = true
			}
		}
	}
	require.Greater(t, len(genera), 1000)
	real := strings.Fields(realPlantWords)
	require.GreaterOrEqual(t, len(real), 150)

	for _, p := range demo(t).Plants {
		genus := strings.ToLower(strings.Fields(p.ScientificName)[0])
		for g := range genera {
			assert.Greater(t, table.Edits(genus, g), 2, "%s is near the real genus %s", p.ScientificName, g)
		}
		for _, name := range strings.Fields(strings.ToLower(p.VernacularName)) {
			assert.False(t, genera[name], "%s: %s is a real genus", p.VernacularName, name)
			assert.False(t, slices.Contains(real, name), "%s: %s is a real plant", p.VernacularName, name)
		}
		name := strings.Fields(strings.ToLower(p.VernacularName))
		last := name[len(name)-1]
		assert.False(t, words[last], "%s: %s is part of a real name", p.VernacularName, last)
		for _, r := range real {
			if len(r) >= 4 {
				assert.False(t, strings.HasSuffix(last, r), "%s ends as real names do, in %s", p.VernacularName, r)
			}
		}
	}
}

const realPlantWords = `acacia aconite agave alder alfalfa allium aloe alyssum amaranth anemone angelica apple
arrowhead arum ash asparagus aspen aster astilbe avens azalea balm balsam bamboo bane basil bay bean bedstraw beech
beet begonia bell bellflower bergamot berry betony bilberry bindweed birch bistort blackthorn bluebell bluestem
bogbean borage box boxwood bracken bramble briar broom bryony buckthorn bugle bugloss bulrush burdock bush buttercup
cabbage cactus campion caraway cardinal catchfly catmint cattail cedar celandine chamomile cherry chervil chestnut
chickweed chicory chive cinquefoil clary clematis clover columbine comfrey coneflower coreopsis cornel cornflower
cosmos cotton cowslip cranesbill creeper cress crocus crowfoot currant cypress daffodil dahlia daisy dandelion
daylily dock dogwood duckweed elder elm fennel fern fescue feverfew figwort fir flag flax fleabane flower forsythia
foxglove foxtail fuchsia gentian geranium germander ginger gladiolus goldenrod gooseberry gorse grama grape grass
hawthorn hazel heath heather hellebore hemlock hemp hickory holly hollyhock honeysuckle hop hornbeam horsetail hosta
hyacinth hydrangea hyssop indigo iris ironweed ivy jasmine juniper knapweed knotweed laburnum lace larch larkspur
laurel lavender leaf leek lettuce lilac lily lime linden liverwort lobelia loosestrife lotus lovage lungwort lupin
lupine madder magnolia mallow mangrove mantle maple marigold marjoram meadowsweet melon milkweed mint mistletoe
monarda moss mugwort mullein mustard myrtle narcissus nettle nightshade oak oat oleander olive onion orache orchid
oregano palm pansy parsley parsnip pea peach pear peony peppermint periwinkle petunia phlox pickerelweed pimpernel
pine pink plane plantain plum pondweed poplar poppy potato primrose primula privet purslane quince ragwort rampion
ranunculus raspberry reed rhododendron rhubarb rocket root rose rosemary rowan rue rush rye sage salvia samphire
sandwort saxifrage scabious sedge sedum senna sloe snapdragon sneezeweed snowdrop sorrel speedwell spikerush spindle
spiraea spruce spurge squill stonecrop strawberry sumac sunflower switchgrass sycamore tansy tarragon teasel thistle
thorn thrift thyme tree trefoil trillium tulip turtlehead valerian verbena vervain vetch viburnum vine violet wattle
weed wheat willow wintergreen wisteria woad wood woodruff wort yam yarrow yew yucca zinnia`
