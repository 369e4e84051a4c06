package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/species"
	"hollowbed/testdata/testenv"
)

// A town of the lists that are read as a gardener would, with the state whose
// plants it gets.
type town struct {
	name, state string
	humid       bool
}

func towns() []town {
	return []town{
		{"Pittsburgh, PA", "PA", true}, {"Bangor, ME", "ME", true}, {"Madison, WI", "WI", true}, {"Raleigh, NC", "NC", true}, {"New Orleans, LA", "LA", true}, {"Austin, TX", "TX", true},
		{"Lincoln, NE", "NE", true}, {"Denver, CO", "CO", false}, {"Phoenix, AZ", "AZ", false}, {"Seattle, WA", "WA", true}, {"Sacramento, CA", "CA", false}, {"San Diego, CA", "CA", false},
	}
}

// soilRates are those of a clay loam, a loam and a sand.
func soilRates() []string { return []string{"15 mm/h", "4 mm/h", "50 mm/h"} }

// The lists of twelve towns on three soils, in a bed of some 12 m2 by the answers of
// start alone: each zone has plants or says why not, a humid climate has eight
// species or more, and nothing in them is nonsense. They are kept, to be read:
// HOLLOWBED_HEAVY=1 UPDATE_GOLDEN=1 go test ./cmd/hollowbed -run TestTowns writes
// them anew. An ordinary run takes one town on one soil.
func TestTowns(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	for _, town := range towns()[:testenv.Of(1, len(towns()))] {
		t.Run(town.name, func(t *testing.T) {
			kept := filepath.Join("testdata", "towns", catalogue.IDFor(town.name)+".txt")
			var text strings.Builder
			for _, soil := range soilRates()[:testenv.Of(1, len(soilRates()))] {
				text.WriteString(town.list(t, soil) + "\n")
			}
			if os.Getenv("UPDATE_GOLDEN") != "" && testenv.Heavy() {
				require.NoError(t, os.MkdirAll(filepath.Dir(kept), 0o755))
				require.NoError(t, os.WriteFile(kept, []byte(text.String()), 0o644))
			}
			want, err := os.ReadFile(kept)
			require.NoError(t, err)
			if testenv.Heavy() {
				assert.Equal(t, string(want), text.String())
			}
			assert.True(t, strings.HasPrefix(string(want), text.String()), "not as kept:\n%s", text.String())
		})
	}
}

// list is what a town is told to plant, in short, once it was found sound.
func (at town) list(t *testing.T, soil string) string {
	dir := filepath.Join(t.TempDir(), "lot")
	status, _, errs := ask(t, "", "start", dir, "--near", at.name, "--units", "metric", "--roof-area", "100 m2", "--length", "4.6 m", "--width", "3.6 m", "--soil", soil)
	require.Zero(t, status, errs)
	status, out, errs := ask(t, "", "choose", "--json", "--garden", dir)
	require.Zero(t, status, errs)
	var d report.Choose
	require.NoError(t, json.Unmarshal([]byte(out), &d))
	table, ok := species.US(at.state, false)
	require.True(t, ok)
	var b strings.Builder
	fmt.Fprintf(&b, "%s, soil %s\n", at.name, soil)
	kinds := map[string]bool{}
	for _, z := range d.Zones {
		fmt.Fprintf(&b, "  %s, %.1f m2\n", z.Zone, float64(z.AreaM2))
		n := 0
		for _, l := range d.Lines {
			if l.Zone == z.Zone {
				p, ok := table.ByID(l.ID)
				require.True(t, ok, l.ID)
				sound(t, &p, &d, l)
				n++
				kinds[l.ID] = true
				fmt.Fprintf(&b, "  %4d %s\n", l.Count, described(&p))
			}
		}
		assert.True(t, n > 0 || len(z.Refused) > 0, "%s: neither plants nor a reason", z.Zone)
		for _, why := range z.Refused {
			fmt.Fprintf(&b, "       none: %s\n", why)
		}
	}
	if at.humid {
		assert.GreaterOrEqual(t, len(kinds), 8)
	}
	for _, n := range d.Notes {
		if strings.Contains(n, "doubtful") {
			fmt.Fprintf(&b, "  %s\n", n)
		}
	}
	return b.String()
}

// described is a plant in a line: how tall, how far apart, whom it hurts, how it
// spreads and how sure that is.
func described(p *catalogue.Plant) string {
	harm := "harm not known"
	if len(p.Toxic) > 0 {
		harm = "harms " + strings.Join(p.Toxic, ", ")
	}
	spreads := map[string]string{"runs": "; RUNS", "seeds": "; seeds itself"}[p.Spreads]
	return fmt.Sprintf("%s (%s): %.0f cm tall, %.0f apart; %s%s; %s", p.VernacularName, p.ScientificName, p.HeightCM, p.SpreadCM, harm, spreads, p.Wild.Grade)
}

// sound holds a plant of a list against lists that were made apart from the limits
// (testdata/species), and its figures against each other.
func sound(t *testing.T, p *catalogue.Plant, d *report.Choose, l report.Line) {
	name := p.ScientificName
	assert.InDelta(t, p.SpreadCM, float64(l.SpacingCM), 0.5, name)
	assert.True(t, p.SpreadCM >= 20 && p.SpreadCM <= 360, "%s: %g cm apart", name, p.SpreadCM)
	assert.False(t, p.HeightCM > 6*p.SpreadCM || p.SpreadCM > max(30, 1.5*p.HeightCM), "%s: %g cm tall, %g apart", name, p.HeightCM, p.SpreadCM)
	assert.False(t, p.Wild.Tree || p.Wild.Annual || p.Form == "tree", "%s: nobody wished for it", name)
	said := func(what string) bool {
		return slices.ContainsFunc(d.Cautions, func(c string) bool {
			names, about, _ := strings.Cut(c, ": ")
			return slices.Contains(strings.Split(names, ", "), p.VernacularName) && strings.Contains(about, what)
		})
	}
	if named(t, "poison.csv", name) {
		assert.True(t, said("harmful to"), "%s hurts, and no caution says so", name)
	} else {
		assert.True(t, said("harmful to") || said("not known whether it harms"), "%s: nothing is said of harm", name)
	}
	if named(t, "runners.csv", name) {
		assert.True(t, said("spreads by runners"), "%s runs, and no caution says so", name)
	}
	assert.False(t, named(t, "weeds.csv", name), "%s is a weed", name)
	assert.False(t, named(t, "shade.csv", name), "%s is of the forest floor, and stands in 6 h of sun", name)
}

// named tells whether a list of testdata/species has a plant, its species or its genus.
func named(t *testing.T, file, name string) bool {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(repo, "testdata/species", file))
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	require.NoError(t, err)
	words := strings.Fields(name)
	return slices.ContainsFunc(rows, func(r []string) bool {
		return r[0] == name || r[0] == words[0] || len(words) > 1 && r[0] == words[0]+" "+words[1]
	})
}

// Names of which no more is known than states and wetland status are plants only where
// the garden file asks for them, and every paper says where their traits are from.
func TestFurtherNamesWhenWished(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	dir := filepath.Join(t.TempDir(), "lot")
	status, _, errs := ask(t, "", "start", dir, "--near", "Duluth, MN", "--units", "metric", "--roof-area", "60 m2", "--length", "5 m", "--width", "4 m", "--soil", "10 mm/h")
	require.Zero(t, status, errs)
	status, _, errs = ask(t, "", "choose", "--garden", dir, "--why", "carex-buxbaumii")
	assert.Equal(t, exitBad, status, "not wished for")
	assert.Contains(t, errs, "carex-buxbaumii")
	file := filepath.Join(dir, "garden.yaml")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	wished := strings.Replace(string(text), "\nwishes:", "\nwishes:\n  further_names: yes\n  wanted: [carex-buxbaumii]", 1)
	require.NotEqual(t, string(text), wished)
	require.NoError(t, os.WriteFile(file, []byte(wished), 0o644))
	const mark = "traits from its genus or form"
	papers := [][]string{{"find", "buxbaum"}, {"choose", "--all"}, {"choose", "--why", "Buxbaum's sedge"}, {"report"}, {"report", "--short"}}
	for _, args := range papers[:testenv.Of(2, len(papers))] {
		status, out, errs := ask(t, "", append(args, "--garden", dir)...)
		require.Zero(t, status, "%v: %s", args, errs)
		out = strings.Join(strings.Fields(out), " ")
		assert.Contains(t, out, "uxbaum", args)
		assert.Contains(t, out, mark, args)
	}
}
