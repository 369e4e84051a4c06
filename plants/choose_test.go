package plants

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/list"
	"hollowbed/zones"
)

func badInput(err error) bool {
	var b interface{ BadInput() bool }
	return errors.As(err, &b) && b.BadInput()
}

// A list keeps to the wishes, fills the zones with what lives, and adds up.
func TestChoose(t *testing.T) {
	e := expose(t, map[string]string{
		"wishes": "{yearly_risk_max: 15 %, smallest_group: 2, share_cap: 60 %, wanted: [dear], unwanted: [dull], native_to: [Upper Marl], bloom: {from: April, to: June}}",
	}, someYears(6))
	c := tableOf(
		hardy("a"), with(hardy("b"), func(p *catalogue.Plant) { p.NativeTo, p.FlowerFrom, p.FlowerTo = []string{"Upper Marl"}, 4, 4 }),
		with(hardy("dear"), func(p *catalogue.Plant) { p.Price = 30 }), hardy("dull"),
		with(hardy("weak"), func(p *catalogue.Plant) { p.DryD = 1 }),
	)
	p, err := Choose(NewJudge(e), c)
	require.NoError(t, err)
	planted, cost, species := map[string]float64{}, 0.0, map[string]bool{}
	for _, l := range p.Lines {
		area := float64(l.Count) * list.AreaPerPlantM2(l.Plant.SpreadCM)
		assert.InDelta(t, area, l.AreaM2, 1e-9)
		assert.GreaterOrEqual(t, l.Count, 2)
		assert.Equal(t, NoBar, l.Bar)
		planted[l.Zone] += area
		cost += float64(l.Count) * l.Plant.Price
		species[l.Plant.ID] = true
		for _, a := range l.Next {
			assert.Equal(t, l.Zone, a.Verdict.Zone)
			assert.NotEqual(t, "weak", a.Verdict.Plant.ID)
		}
	}
	assert.Equal(t, map[string]bool{"a": true, "b": true, "dear": true}, species)
	assert.InDelta(t, cost, p.Cost, 1e-9)
	require.Len(t, p.Zones, 3)
	for _, z := range p.Zones {
		assert.InDelta(t, planted[z.Zone], z.PlantedM2, 1e-9)
		assert.LessOrEqual(t, z.PlantedM2, z.AreaM2*(1+1e-6))
		assert.Greater(t, z.PlantedM2, 0.7*z.AreaM2)
		assert.Equal(t, 3, z.Offered, "a, b and dear")
		assert.Nil(t, z.Refusal)
	}
	assert.Equal(t, []int{4, 5, 6}, p.BloomWanted)
	assert.Equal(t, []int{4, 5, 6, 7, 8}, p.BloomMonths, "all that are in flower")
	assert.LessOrEqual(t, p.Objective, p.Bound+1e-12)
	assert.Len(t, p.Verdicts, 15)
}

func TestUnknownWishes(t *testing.T) {
	for key, wishes := range map[string]string{"wishes.wanted": "{wanted: [amber-tesster]}", "wishes.unwanted": "{unwanted: [amber-tesster]}"} {
		_, err := Choose(NewJudge(expose(t, map[string]string{"wishes": wishes}, someYears(2))), tableOf(hardy("amber-tester"), hardy("b")))
		var unknown *UnknownPlantError
		require.ErrorAs(t, err, &unknown)
		assert.EqualError(t, err, `garden.yaml: `+key+`: "amber-tesster": want the id of a plant in the catalogue, such as "amber-tester"`)
		assert.True(t, badInput(err))
	}
}

// A wish takes a plant by any name that it alone has, in capitals or not.
func TestWishesByName(t *testing.T) {
	a, b, c := hardy("amber-tester"), hardy("b"), hardy("c")
	a.VernacularName, a.ScientificName = "Amber Tester", "Testera ambra"
	b.VernacularName, c.VernacularName = "Twin", "Twin"
	all := tableOf(a, b, c)
	for _, name := range []string{"amber-tester", "AMBER TESTER", "testera Ambra"} {
		g := &zones.Garden{Source: "garden.yaml"}
		g.Wishes.Wanted = []string{name, "amber tester"}
		require.NoError(t, NameWishes(g, all), name)
		assert.Equal(t, []string{"amber-tester"}, g.Wishes.Wanted, name)
	}
	g := &zones.Garden{Source: "garden.yaml"}
	g.Wishes.Unwanted = []string{"twin"}
	assert.EqualError(t, NameWishes(g, all), `garden.yaml: wishes.unwanted: "twin": several plants have this name: expected one of b, c`)
	g.Wishes.Unwanted = []string{"amber testre"}
	require.NoError(t, NameWishes(g, all), "the nearest is never taken")
	assert.Equal(t, []string{"amber testre"}, g.Wishes.Unwanted)
	g.Wishes.Wanted, g.Wishes.Unwanted = []string{"amber-tester"}, []string{"Amber Tester"}
	assert.ErrorContains(t, NameWishes(g, all), "also wanted")
}

// Why ground stays bare: what is said is so, and is not said where it is not.
func TestWhyBare(t *testing.T) {
	bare := func(wishes string, plants ...catalogue.Plant) map[string]string {
		p, err := Choose(NewJudge(expose(t, map[string]string{"wishes": wishes}, someYears(2))), tableOf(plants...))
		require.NoError(t, err)
		out := map[string]string{}
		for _, z := range p.Zones {
			out[z.Zone] = z.Bare
		}
		return out
	}
	wide := func(id string) catalogue.Plant {
		return with(hardy(id), func(p *catalogue.Plant) { p.SpreadCM = 400 })
	}
	for zone, why := range bare("{share_cap: 25 %, smallest_group: 3}", hardy("a"), hardy("b"), wide("w"), wide("x")) {
		assert.Equal(t, "all 2 species that fit are at the 25 % limit for one species; the other 2 are too wide for a group of 3", why, zone)
	}
	for zone, why := range bare("{share_cap: 25 %, smallest_group: 3}", hardy("a")) {
		assert.Equal(t, "the one species that fits is at the 25 % limit for one species", why, zone)
	}
	for zone, why := range bare("{share_cap: 100 %}", hardy("a"), wide("w")) {
		assert.NotContains(t, why, "limit", zone)
	}
	for zone, why := range bare("{share_cap: 100 %, budget: 1, smallest_group: 3}", hardy("a"), hardy("b")) {
		assert.Equal(t, "the budget does not reach for a smallest group of any species", why, zone)
	}
	some := ""
	for zone, why := range bare("{share_cap: 100 %, budget: 60, smallest_group: 3}", hardy("a")) {
		assert.NotContains(t, why, "does not reach", zone)
		some += why
	}
	assert.Contains(t, some, "what is left of the budget")
	for zone, why := range bare("{share_cap: 100 %}", hardy("a")) {
		assert.NotContains(t, why, "budget", zone)
	}
}

// Wishes that cannot go together name the plants and the reason.
func TestWishClash(t *testing.T) {
	e := expose(t, map[string]string{"wishes": "{wanted: [a, b], budget: 9, smallest_group: 3}"}, someYears(2))
	_, err := Choose(NewJudge(e), tableOf(hardy("a"), hardy("b")))
	var clash *WishClashError
	require.ErrorAs(t, err, &clash)
	assert.Contains(t, err.Error(), "garden.yaml: wishes: ")
	assert.Contains(t, err.Error(), `"a"`)
	assert.Contains(t, err.Error(), "budget")
	assert.True(t, badInput(err))
	var cause *list.Clash
	assert.ErrorAs(t, err, &cause)
}

// A wanted plant that would die here is left out, and told.
func TestWantedThatWouldDie(t *testing.T) {
	e := expose(t, map[string]string{"wishes": "{wanted: [weak], smallest_group: 1}"}, someYears(6))
	p, err := Choose(NewJudge(e), tableOf(hardy("a"), with(hardy("weak"), func(p *catalogue.Plant) { p.DryD = 1 })))
	require.NoError(t, err)
	require.NotEmpty(t, p.Notes)
	assert.Contains(t, p.Notes[0], "Test weak is wanted, but no zone suits it: yearly risk")
	for _, l := range p.Lines {
		assert.Equal(t, "a", l.Plant.ID)
	}
}

// With a budget a plant without a price is not planted; without one it is.
func TestPlantsWithoutPrice(t *testing.T) {
	free := with(hardy("a"), func(p *catalogue.Plant) { p.Price = math.NaN() })
	p, err := Choose(NewJudge(expose(t, nil, someYears(2))), tableOf(free))
	require.NoError(t, err)
	assert.NotEmpty(t, p.Lines)
	p, err = Choose(NewJudge(expose(t, map[string]string{"wishes": "{budget: 500}"}, someYears(2))), tableOf(free))
	require.NoError(t, err)
	assert.Empty(t, p.Lines)
}

// A species that has nearly all that little money buys keeps to share_cap, which
// speaks of the ground, and is told of; where the money fills the bed there is
// nothing to tell.
func TestOneSidedList(t *testing.T) {
	cheap := with(hardy("cheap"), func(p *catalogue.Plant) { p.Price = 1 })
	dear := func(id string) catalogue.Plant {
		return with(hardy(id), func(p *catalogue.Plant) { p.Price = 9 })
	}
	all := tableOf(cheap, dear("b"), dear("c"), dear("d"), dear("e"), dear("f"))
	for budget, told := range map[string]bool{"9": true, "5000": false} {
		p, err := Choose(NewJudge(expose(t, map[string]string{"wishes": "{budget: " + budget + ", share_cap: 20 %}"}, someYears(4))), all)
		require.NoError(t, err)
		require.NotEmpty(t, p.Lines)
		said := slices.ContainsFunc(p.Notes, func(n string) bool {
			return strings.HasPrefix(n, "Test cheap has 100 % of what is planted, and what harms it would leave little: share_cap (20 %) ")
		})
		assert.Equal(t, told, said, "%s: %q", budget, p.Notes)
		for _, l := range p.Lines {
			assert.LessOrEqual(t, l.AreaM2, 0.2*p.Zones[p.zoneIndex(l.Zone)].AreaM2*(1+1e-6), l.Plant.ID)
		}
	}
}

// Bloom is wanted in the months that mostly grow unless the file says others.
func TestBloomWanted(t *testing.T) {
	assert.Equal(t, []int{11, 12, 1, 2}, bloomWanted(expose(t, map[string]string{"wishes": "{bloom: {from: November, to: February}}"}, someYears(2))))
	months := bloomWanted(expose(t, nil, someYears(3)))
	assert.Subset(t, months, []int{5, 6, 7, 8, 9})
	assert.NotContains(t, months, 1)
	assert.NotContains(t, months, 12)
}

func TestMonths(t *testing.T) {
	assert.Nil(t, monthsBetween(0, 0))
	assert.Equal(t, []int{6}, monthsBetween(6, 6))
	assert.Equal(t, []int{11, 12, 1}, monthsBetween(11, 1))
	assert.Equal(t, uint16(0b1000_0000_0011), monthBits([]int{1, 2, 12}))
}

// A region that no plant comes from is told, with the one that may be meant.
func TestStrangeRegions(t *testing.T) {
	from := func(regions ...string) []Verdict { return []Verdict{{Plant: catalogue.Plant{NativeTo: regions}}} }
	g := &zones.Garden{}
	g.Wishes.NativeTo = []string{"Upper Marl", "Uper Marl", "Atlantis"}
	notes := strangeRegions(g, from("Upper Marl", "Salt Fen"))
	require.Len(t, notes, 2)
	assert.Contains(t, notes[0], `"Uper Marl" counts for nothing: no plant of the table is native there; its regions are Salt Fen, Upper Marl; did you mean Upper Marl?`)
	assert.Contains(t, notes[1], `"Atlantis" counts for nothing`)
	notes = strangeRegions(g, from())
	require.Len(t, notes, 3)
	assert.Contains(t, notes[0], "the plant table states no regions")
}
