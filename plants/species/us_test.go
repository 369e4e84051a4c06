package species

import (
	"compress/gzip"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
)

func usFor(t testing.TB, state string) *catalogue.Catalogue {
	t.Helper()
	c, ok := US(state, false)
	require.True(t, ok, state)
	return c
}

// Every plant of the table has an id of its own, a name, limits and what they rest
// on, and a spacing that can be; none is known to be harmless.
func TestTableIsSound(t *testing.T) {
	c := usFor(t, "WI")
	require.GreaterOrEqual(t, len(c.Plants), 2162)
	ids := map[string]string{}
	for _, p := range c.Plants {
		assert.Empty(t, ids[p.ID], "%s and %s share an id", p.ScientificName, ids[p.ID])
		ids[p.ID] = p.ScientificName
		assert.NotEmpty(t, p.VernacularName, p.ID)
		assert.NotEmpty(t, p.Zones, p.ID)
		assert.False(t, p.WetH <= 0 || p.DryD <= 0 || p.PondMM <= 0 || p.RootCM <= 0, p.ID)
		if !math.IsNaN(p.SpreadCM) {
			assert.True(t, p.SpreadCM >= 9 && p.SpreadCM <= 6000, "%s: %g cm", p.ID, p.SpreadCM)
		}
		require.NotNil(t, p.Wild)
		assert.NotEmpty(t, p.Wild.Evidence, p.ID)
		assert.NotContains(t, p.Toxic, "none", p.ID)
	}
	_, ok := US("ZZ", false)
	assert.False(t, ok)
}

// A tree is a tree; heights are those of the sources (USDA, NRCS, The PLANTS
// Database: swamp milkweed 4.9 ft, buttonbush 20 ft of several stems).
func TestForms(t *testing.T) {
	c := usFor(t, "WI")
	for id, form := range map[string]string{"acer-rubrum": "tree", "asclepias-incarnata": "forb", "cephalanthus-occidentalis": "shrub", "carex-stricta": "grass-like", "ilex-verticillata": "shrub", "quercus-alba": "tree"} {
		p, ok := c.ByID(id)
		require.True(t, ok, id)
		assert.Equal(t, form, p.Form, id)
	}
	p, _ := c.ByID("asclepias-incarnata")
	assert.InDelta(t, 4*30.48, p.HeightCM, 1) // the middle of what eleven lists print; the characteristics 4.9
	assert.Equal(t, "Swamp milkweed", p.VernacularName)
	assert.Contains(t, p.NativeTo, "WI")
	assert.NotContains(t, p.NativeTo, "WA")
}

// A state that lies in two regions takes the drier rating. Red maple is FAC and
// swamp milkweed OBL in the Midwest and the Northeast, by the National Wetland
// Plant List 2020.
func TestDrierRegion(t *testing.T) {
	find := func(name string) *record {
		all := records(packed)
		i := slices.IndexFunc(all, func(r record) bool { return r.name == name })
		require.GreaterOrEqual(t, i, 0, name)
		return &all[i]
	}
	for _, letters := range []string{"O--P------", "P--O------"} {
		drier, listed := (&record{wetland: letters}).statusIn([]int{0, 3})
		assert.True(t, listed)
		assert.Equal(t, upl, drier)
	}
	s, _ := find("Acer rubrum").statusIn(regionsOf("WI"))
	assert.Equal(t, fac, s)
	s, _ = find("Asclepias incarnata").statusIn(regionsOf("WI"))
	assert.Equal(t, obl, s)
	_, listed := (&record{}).statusIn(regionsOf("WI"))
	assert.False(t, listed)
}

// Lists that use an older name find the plant.
func TestOlderNames(t *testing.T) {
	c := usFor(t, "MN")
	for id, old := range map[string]string{"symphyotrichum-novae-angliae": "Aster novae-angliae", "schoenoplectus-tabernaemontani": "Scirpus validus"} {
		p, ok := c.ByID(id)
		require.True(t, ok, id)
		assert.Contains(t, p.Wild.Also, old)
		assert.Contains(t, strings.Join(p.Wild.Evidence, "; "), "named for the bottom")
	}
}

// Poisonous plants, of most of which the characteristics say None. The first six
// are sold as a matter of course; the others are well known as poisonous
// (University of California, Safe and Poisonous Garden Plants; USDA ARS, Plants
// Poisonous to Livestock in the Western States; from memory).
func TestNoneIsNotHarmless(t *testing.T) {
	c := usFor(t, "NY")
	for _, name := range []string{
		"Convallaria majalis", "Kalmia latifolia", "Lobelia cardinalis", "Robinia pseudoacacia", "Caltha palustris", "Rhododendron viscosum",
		"Asclepias incarnata", "Asclepias tuberosa", "Asclepias syriaca", "Aconitum columbianum", "Actaea racemosa", "Aesculus glabra", "Apocynum cannabinum", "Arisaema triphyllum",
		"Cephalanthus occidentalis", "Cicuta douglasii", "Equisetum arvense", "Helenium autumnale", "Ilex verticillata", "Iris virginica",
		"Kalmia polifolia", "Lobelia siphilitica", "Lonicera involucrata", "Lupinus arboreus", "Lyonia ligustrina", "Phytolacca americana", "Prunus serotina",
		"Prunus virginiana", "Pteridium aquilinum", "Quercus alba", "Rhododendron maximum", "Sambucus racemosa", "Delphinium glaucum",
		"Symphoricarpos albus", "Taxus canadensis", "Ranunculus flammula", "Veratrum californicum", "Robinia neomexicana",
	} {
		p, ok := c.ByID(catalogue.IDFor(name))
		if assert.True(t, ok, "%s is not in the table", name) {
			assert.NotEmpty(t, p.Toxic, name)
		}
	}
}

// People say Blue flag, and mean the one of their state; 2,162 plants are found
// among by any name that lists or the wetland list have.
func TestCommonNames(t *testing.T) {
	c := usFor(t, "MN")
	for name, id := range map[string]string{"Blue flag": "iris-versicolor", "swamp milkweed": "asclepias-incarnata", "Aster novae-angliae": "symphyotrichum-novae-angliae", "Asclepias incarnata": "asclepias-incarnata"} {
		if bearers := c.Named(name); assert.Len(t, bearers, 1, name) {
			assert.Equal(t, id, bearers[0].ID, name)
		}
	}
	bearers := usFor(t, "FL").Named("blue flag iris") // two have the name, one is native there
	require.Len(t, bearers, 1)
	assert.Equal(t, "iris-virginica", bearers[0].ID)
	assert.Len(t, catalogue.Bearers(usFor(t, "FL").Plants, "Blue Flag iris"), 2)
	assert.Empty(t, c.Named(""))
}

// What lists made from memory say reaches the table: light, running, mountains, water
// (testdata/species/shade.csv, runners.csv, mountains.csv, water.csv); heights of species
// without characteristics are those that lists for rain gardens print (queen of the
// prairie 4 to 6 ft, green and gold 6 to 12 in). What Florida or Texas has too is
// not of cold winters alone.
func TestHabits(t *testing.T) {
	c := usFor(t, "CA")
	plant := func(name string) catalogue.Plant {
		p, ok := c.ByID(catalogue.IDFor(name))
		require.True(t, ok, name)
		return p
	}
	for _, name := range []string{"Maianthemum racemosum", "Polystichum munitum", "Cornus canadensis"} {
		assert.Equal(t, 4.0, plant(name).SunMaxH, name)
	}
	assert.Equal(t, 24.0, plant("Distichlis spicata").SunMaxH)
	for _, name := range []string{"Distichlis spicata", "Asclepias syriaca", "Onoclea sensibilis"} {
		assert.Equal(t, "runs", plant(name).Spreads, name)
	}
	assert.InDelta(t, 5*30.48, plant("Filipendula rubra").HeightCM, 1)
	assert.InDelta(t, 0.75*30.48, plant("Chrysogonum virginianum").HeightCM, 1)
	assert.InDelta(t, 3*30.48, plant("Lobelia cardinalis").HeightCM, 1)                           // lists print 2.5, 3, 3, 5; the characteristics 5.9
	for _, name := range []string{"Cornus sericea", "Deschampsia cespitosa", "Osmunda regalis"} { // under newer names on the wetland list
		assert.True(t, plant(name).Wild.Wet, name)
	}
	assert.InDelta(t, 5*30.48, plant("Cornus sericea").HeightCM, 1) // of its own variety
	_, marsh := c.ByID("symphyotrichum-divaricatum")
	assert.False(t, marsh, "lists mean Eurybia divaricata by Aster divaricatus")
	assert.NotContains(t, plant("Sparganium eurycarpum").Zones, "slope")
	assert.NotEmpty(t, plant("Poa alpina").Wild.Mountains)
	assert.Empty(t, plant("Sporobolus airoides").Wild.Mountains)
	assert.Equal(t, "a plant of open water", plant("Lemna minor").Wild.Water)
	assert.Empty(t, plant("Sagittaria latifolia").Wild.Water)
	assert.True(t, plant("Balsamorhiza sagittata").Wild.ColdWinters)
	assert.False(t, plant("Sporobolus airoides").Wild.ColdWinters)
}

// Blue flag has no figures of its own, and those of its genus are of milder places: it is
// native to Minnesota, and hardy in zone 3, to -40 deg C (from memory). Where it is no
// native, or a species has a figure, nothing changes.
func TestNativesBearTheColdOfTheirState(t *testing.T) {
	c := shipped()
	all := traited()
	at := func(state, id string) catalogue.Plant {
		p, ok := tableOf(all, c, state).ByID(id)
		require.True(t, ok, id)
		return p
	}
	genus, here := at("CA", "iris-versicolor"), at("MN", "iris-versicolor")
	assert.Greater(t, genus.LowestC, -30.0)
	assert.Equal(t, c.cold["MN"], here.LowestC)
	assert.Contains(t, strings.Join(here.Wild.Evidence, "\n"), "lowest_c: native here")
	assert.NotContains(t, strings.Join(genus.Wild.Evidence, "\n"), "lowest_c")
	assert.Equal(t, at("CA", "asclepias-incarnata").LowestC, at("MN", "asclepias-incarnata").LowestC, "its own figure")
}

// A dry state has moist places: a wetland plant of 40 states takes nothing from the
// drought of California's plain, one of drought class Medium takes doubt from it, and
// what is of dry states alone takes all of it; one of class High takes their driest
// climates. In Ohio, which is no drier than the
// others, nothing changes. A list of Seattle is near Portland and far from Sacramento,
// which is twice as dry.
func TestHomeDroughtInADryState(t *testing.T) {
	c := &classes{home: map[string][]float64{}, arid: map[string][]float64{}, most: "WA"}
	for state, days := range map[string]float64{"CA": 152, "AZ": 95, "NV": 100, "WA": 77, "OR": 73, "ID": 57, "OH": 32, "IN": 34, "IL": 38, "PA": 29} {
		c.home[state] = slices.Repeat([]float64{days}, len(bedRoots()))
		c.arid[state] = slices.Repeat([]float64{days + 10}, len(bedRoots()))
	}
	wide, dry := []string{"CA", "OR", "ID", "OH", "IN", "IL", "PA"}, []string{"AZ", "CA", "NV"}
	for _, x := range []struct {
		native      []string
		state       string
		status      status
		class       string
		days, doubt float64
	}{
		{wide, "CA", obl, "High", 73, 0}, {wide, "CA", fac, "Low", 73, 0}, {wide, "CA", fac, "Medium", 152, 0.75 * math.Log(152.0/73)}, {dry, "AZ", facw, "High", 77, 0},
		{dry, "CA", fac, "High", 162, 0}, {dry, "AZ", fac, "High", 105, 0}, {dry, "AZ", fac, "Medium", 95, 0}, {wide, "OH", obl, "High", 32, 0}, {wide, "OH", fac, "High", 42, 0}, {dry, "OH", fac, "High", 110, 0},
	} {
		days, doubt := c.homeDrought(x.native, x.state, x.status, x.class, 60)
		assert.Equal(t, x.days, days, "%+v", x)
		assert.InDelta(t, x.doubt, doubt, 1e-12, "%+v", x)
	}
	assert.True(t, c.nearby("WA", "OR"))
	assert.False(t, c.nearby("WA", "CA"))
	assert.False(t, c.nearby("OH", "OR"), "no region of the wetland list in common")
}

// The further names come only when asked for, after the others, each marked and with
// traits of its genus or form, and the whole table stays under 1.5 MB in the program.
func TestFurtherNames(t *testing.T) {
	usual := usFor(t, "MN")
	all, ok := US("MN", true)
	require.True(t, ok)
	require.Greater(t, len(all.Plants), len(usual.Plants)+6000)
	assert.NotEqual(t, usual.Digest, all.Digest)
	assert.Less(t, len(packed)+len(packedFurther), 1_500_000)
	ids, withHeight := map[string]string{}, 0
	for i, p := range all.Plants {
		require.Empty(t, ids[p.ID], "%s and %s share an id", p.ScientificName, ids[p.ID])
		ids[p.ID] = p.ScientificName
		if i < len(usual.Plants) {
			require.Equal(t, usual.Plants[i].ID, p.ID, "those with traits of their own stay as they are")
			require.Equal(t, fmt.Sprint(usual.Plants[i].WetH, usual.Plants[i].DryD, usual.Plants[i].HeightCM), fmt.Sprint(p.WetH, p.DryD, p.HeightCM), p.ID)
			require.NotEqual(t, catalogue.SoldFurther, p.Wild.Sold)
			continue
		}
		require.True(t, p.Wild.Guessed && p.Wild.Sold == catalogue.SoldFurther && p.Wild.Near == 0 && p.Wild.Far == 0, p.ID)
		require.Contains(t, p.Assumed, "height_cm", p.ID)
		if p.HeightCM > 0 {
			withHeight++
		}
	}
	assert.Greater(t, withHeight, 5900)
	sedge, ok := all.ByID("carex-buxbaumii") // OBL in the Midwest and the Northeast
	require.True(t, ok)
	assert.Equal(t, "Buxbaum's sedge", sedge.VernacularName)
	assert.Contains(t, sedge.NativeTo, "MN")
	assert.Equal(t, []string{"bottom", "slope"}, sedge.Zones)
}

// What is said of growth is what the trials have, species by species.
func TestGrowthLostIsWhatTrialsSaw(t *testing.T) {
	f, err := os.Open(evidence + "flood-trials.csv.gz")
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	cells, err := csv.NewReader(z).ReadAll()
	require.NoError(t, err)
	shrubs, less, hurt := map[string]bool{}, map[string]float64{}, map[string]float64{} // fewest days
	least := func(of map[string]float64, name, days string) {
		if d := number(days); of[name] == 0 || d < of[name] {
			of[name] = d
		}
	}
	grasses := map[string]bool{}
	all := 0
	for _, c := range cells[1:] {
		source, name, days, effect := c[0], c[2], c[5], c[8]
		switch source {
		case "werneth-wright-2009", "jernigan-wright-2010":
			shrubs[name] = true
			if strings.Contains(effect, "lower") {
				least(less, name, days)
			}
		case "ndsu-ornamental-grasses":
			grasses[name] = true
			if strings.HasPrefix(effect, "significant leaf damage") {
				least(hurt, name, days)
			}
		case "yuan-dunnett-2018":
			if name == "15 perennials (all)" {
				all++
				assert.Equal(t, []string{"4", "100", "only 4 named species held back at 4 d"}, []string{days, c[7], effect})
			}
		}
	}
	upTo := func(of map[string]float64, days float64) (n int) {
		for _, d := range of {
			if d <= days {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 1, all)
	for _, said := range []struct{ form, words string }{
		{formShrub, fmt.Sprintf("of %d shrubs in pots %d grew less after 3 days with flooded roots, %d after 6 to 7", len(shrubs), upTo(less, 3), upTo(less, 7))},
		{formGrass, fmt.Sprintf("leaves of %d of %d were damaged under 15 to 30 cm of water, of %d within 2 days", len(hurt), len(grasses), upTo(hurt, 2))},
		{formForb, "of 15 young perennials all lived through floods of 4 days, and 4 grew less"},
	} {
		assert.Contains(t, growthLost(said.form), said.words)
	}
}
