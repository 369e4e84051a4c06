package species

import (
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

// Lists, ordinary beds and plainly wrong pairs: testdata/species/SOURCES.md.
const evidence = "../../testdata/species/"

func rowsOf(t testing.TB, file string) []map[string]string {
	t.Helper()
	f, err := os.Open(evidence + file)
	require.NoError(t, err)
	defer f.Close()
	cells, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for _, c := range cells[1:] {
		r := map[string]string{}
		for i, name := range cells[0] {
			r[name] = c[i]
		}
		rows = append(rows, r)
	}
	return rows
}

// groups are the regions that are left out in turn.
func groupOf(place string) string {
	for group, places := range map[string]string{
		"Northeast and Mid-Atlantic": "ME NY CT MD WV", "Midwest and Great Lakes": "WI MN IN MI MO Ontario", "Southeast": "NC AL FL LA", "Southwest": "TX NM", "Northwest": "WA ID",
	} {
		if slices.Contains(strings.Fields(places), strings.Split(place, ",")[0]) {
			return group
		}
	}
	panic(place)
}

// stateOf is the state whose table serves a place of a list.
func stateOf(place string) string {
	if strings.HasPrefix(place, "Ontario") {
		return "NY"
	}
	return place
}

// A bed is an ordinary bed in a place: by zone the one-year-in-ten wetness, and the
// droughts by depth of roots.
type bed struct {
	wetH map[string]float64
	dryD map[string][]float64
}

func beds(t testing.TB) map[string]map[string]*bed {
	all := map[string]map[string]*bed{}
	for _, r := range rowsOf(t, "doses.csv") {
		if all[r["place"]] == nil {
			all[r["place"]] = map[string]*bed{}
		}
		b := all[r["place"]][r["soil"]]
		if b == nil {
			b = &bed{map[string]float64{}, map[string][]float64{}}
			all[r["place"]][r["soil"]] = b
		}
		b.wetH[r["zone"]] = number(r["wet_h"])
		b.dryD[r["zone"]] = droughts(r, "dry")
	}
	return all
}

// droughts are those of a row of one kind, by bedRoots.
func droughts(row map[string]string, kind string) (days []float64) {
	for _, root := range bedRoots() {
		days = append(days, number(row[fmt.Sprintf("%s_d_%g", kind, root)]))
	}
	return days
}

// naming is a species in a list.
type naming struct {
	record        *record
	zones         []string
	place, source string
	status        status
}

func namings(all []record) []naming {
	var out []naming
	for i := range all {
		for _, l := range all[i].lists {
			part := strings.SplitN(l, "@", 3)
			s, _ := all[i].statusIn(regionsOf(stateOf(part[1])))
			out = append(out, naming{&all[i], strings.Split(part[0], "+"), part[1], part[2], s})
		}
	}
	return out
}

// dryShare is chosen by the curve in data/METHOD.md.
const dryShare = 0.975

// fitted makes the figures of classes of lists: the share of each status that is
// named for a zone, with half a species added to either side, in order; and the drought,
// over that of the ground of its home, that dryShare of all bear where they are
// named. Statuses and drought classes are not told apart: each by itself comes to 1.00
// to 1.07.
func fitted(t testing.TB, names []naming) *classes {
	c := &classes{home: map[string][]float64{}, arid: map[string][]float64{}, cold: map[string]float64{}}
	for _, r := range rowsOf(t, "homes.csv") {
		c.cold[r["state"]] = number(r["cold_c"])
		c.home[r["state"]], c.arid[r["state"]] = droughts(r, "dry"), droughts(r, "driest")
	}
	for _, n := range names {
		if s := stateOf(n.place); c.most == "" || atRoots(c.home[s], 45) > atRoots(c.home[c.most], 45) {
			c.most = s
		}
	}
	var total [upl + 1]float64
	ordinary := beds(t)
	var borne []float64
	counted := map[string]bool{} // a species that several lists name is one
	once := func(of ...any) bool {
		key := fmt.Sprint(of...)
		first := !counted[key]
		counted[key] = true
		return first
	}
	for _, n := range names {
		known := n.record.wetland != "" || len(n.record.native) > 0 // UPL by default is said of plants of the country alone
		if known && once(n.status, n.record.symbol) {
			total[n.status]++
		}
		hardest := 0.0
		for z, zone := range zoneNames() {
			if !slices.Contains(n.zones, zone) {
				continue
			}
			if known && once(n.status, n.record.symbol, zone) {
				c.share[n.status][z]++
			}
			roots := rootCM(n.record.form(), n.status)
			home, _ := c.homeDrought(n.record.native, stateOf(n.place), n.status, n.record.drought, roots)
			here := atRoots(ordinary[n.place]["20 mm/h"].dryD[zone], roots)
			hardest = max(hardest, here/home)
		}
		borne = append(borne, hardest)
	}
	c.inOrder(total)
	slices.Sort(borne)
	c.dry = borne[int(math.Ceil(dryShare*float64(len(borne))))-1]
	return c
}

// inOrder makes shares of counts, so that none of a wetter status is less for the
// bottom or more for the rim than of a drier one: neighbours out of order are taken
// together (pool adjacent violators, Ayer and others 1955).
func (c *classes) inOrder(total [upl + 1]float64) {
	counts := c.share
	for z, falls := range []bool{true, true, false} {
		var pools [][3]float64 // named, of, how many statuses
		for s := range counts {
			pools = append(pools, [3]float64{counts[s][z] + 0.5, total[s] + 1, 1})
			for n := len(pools) - 1; n > 0 && z != 1 && (pools[n][0]/pools[n][1] > pools[n-1][0]/pools[n-1][1]) == falls; n-- {
				for i := range pools[n] {
					pools[n-1][i] += pools[n][i]
				}
				pools = pools[:n]
			}
		}
		s := 0
		for _, p := range pools {
			for range int(p[2]) {
				c.share[s][z] = p[0] / p[1]
				s++
			}
		}
	}
}

// csv is limits.csv.
func (c *classes) csv() string {
	var b strings.Builder
	b.WriteString("kind,of,in,value\n")
	for s := obl; s <= upl; s++ {
		for z, zone := range zoneNames() {
			fmt.Fprintf(&b, "share,%s,%s,%.2f\n", s, zone, c.share[s][z])
		}
	}
	fmt.Fprintf(&b, "dry,,,%.2f\n", c.dry)
	fmt.Fprintf(&b, "most,%s,,0\n", c.most)
	var states []string
	for s := range c.home {
		states = append(states, s)
	}
	slices.Sort(states)
	for _, s := range states {
		fmt.Fprintf(&b, "cold,%s,,%.0f\n", s, c.cold[s])
		for i, root := range bedRoots() {
			fmt.Fprintf(&b, "home,%s,%g,%.0f\narid,%s,%g,%.0f\n", s, root, c.home[s][i], s, root, c.arid[s][i])
		}
	}
	return b.String()
}

// limits.csv is what the lists say. UPDATE_GOLDEN=1 writes it anew; before that,
// after a change of how wet and dry are counted, go run ./testdata/species/fit -doses.
func TestFit(t *testing.T) {
	made := fitted(t, namings(traited())).csv()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile("limits.csv", []byte(made), 0o644))
	}
	kept, err := os.ReadFile("limits.csv")
	require.NoError(t, err)
	assert.Equal(t, string(kept), made)
}

func traited() []record {
	all := records(packed)
	guessTraits(all)
	return all
}

// leastRisk is the accepted yearly risk from which on a plant is taken for a zone in
// two of three ordinary beds of a place: the larger of what its one-year-in-ten
// wetness and drought come to under the limits, doubt and all (cold, sun and depth are
// left to TestTowns); above 1 where such plants are not named for the zone.
func leastRisk(p *catalogue.Plant, of map[string]*bed, zone string) float64 {
	if !slices.Contains(p.Zones, zone) {
		return 2
	}
	risk := func(found, limit, spread float64) float64 { // fit.Predictor over sixty years
		return 1 / (1 + math.Pow(found/limit, -1/math.Hypot(0.4/math.Sqrt(60), spread*math.Sqrt(3)/math.Pi)))
	}
	var all []float64
	for _, b := range of {
		all = append(all, max(risk(b.wetH[zone], p.WetH, p.Wild.Spread[0]), risk(atRoots(b.dryD[zone], p.RootCM), p.DryD, p.Wild.Spread[2])))
	}
	slices.Sort(all)
	return all[1]
}

func upTo(risks []float64, most float64) (n int) {
	for _, r := range risks {
		if r <= most+1e-9 {
			n++
		}
	}
	return n
}

// Each group of regions is left out in turn: limits of classes and lists of
// species are those of the others. Of the species that its lists name for a zone,
// 80 % should be accepted there; of the pairs that are plainly wrong at most 5 %
// (testdata/species/wrong-pairs.csv, written before any limit was fitted).
func TestListsLeftOut(t *testing.T) {
	ordinary := beds(t)
	var table strings.Builder
	const wish = 0.15
	var named, wrong []float64
	for _, group := range []string{"Northeast and Mid-Atlantic", "Midwest and Great Lakes", "Southeast", "Southwest", "Northwest"} {
		all := traited()
		var left, asked []naming
		for _, n := range namings(all) {
			if groupOf(n.place) == group {
				asked = append(asked, n)
			} else {
				left = append(left, n)
			}
		}
		fit := fitted(t, left)
		for i := range all {
			all[i].lists = slices.DeleteFunc(slices.Clone(all[i].lists), func(l string) bool { return groupOf(strings.SplitN(l, "@", 3)[1]) == group })
		}
		tables := map[string]*catalogue.Catalogue{}
		find := func(place, name string) *catalogue.Plant {
			state := stateOf(place)
			if tables[state] == nil {
				tables[state] = tableOf(all, fit, state)
			}
			p, ok := tables[state].ByID(catalogue.IDFor(name))
			require.True(t, ok, name)
			return &p
		}
		byZone, here, bad := map[string][]float64{}, []float64(nil), []float64(nil)
		for _, n := range asked {
			for _, zone := range n.zones {
				r := leastRisk(find(n.place, n.record.name), ordinary[n.place], zone)
				byZone[zone], here = append(byZone[zone], r), append(here, r)
			}
		}
		for _, r := range rowsOf(t, "wrong-pairs.csv") {
			if groupOf(r["place"]) != group {
				continue
			}
			bad = append(bad, leastRisk(find(r["place"], r["name"]), ordinary[r["place"]], r["zone"]))
			if bad[len(bad)-1] <= wish {
				t.Logf("wrong, and accepted: %s in the %s in %s", r["name"], r["zone"], r["place"])
			}
		}
		fmt.Fprintf(&table, "| %s | %d of %d | %.0f %% |", group, upTo(here, wish), len(here), 100*float64(upTo(here, wish))/float64(len(here)))
		for _, zone := range zoneNames() {
			fmt.Fprintf(&table, " %d of %d |", upTo(byZone[zone], wish), len(byZone[zone]))
		}
		fmt.Fprintf(&table, " %d of %d |\n", upTo(bad, wish), len(bad))
		named, wrong = append(named, here...), append(wrong, bad...)
		if len(here) >= 20 {
			assert.GreaterOrEqual(t, float64(upTo(here, wish)), 0.80*float64(len(here)), "what lists name is accepted: %s", group)
		}
	}
	share := func(risk float64) float64 { return 100 * float64(upTo(named, risk)) / float64(len(named)) }
	fmt.Fprintf(&table, "| all | %d of %d | %.0f %% | | | | %d of %d |\n", upTo(named, wish), len(named), share(wish), upTo(wrong, wish), len(wrong))
	var curve strings.Builder
	for _, risk := range []float64{0.05, 0.1, 0.15, 0.2, 0.3, 0.5} {
		fmt.Fprintf(&curve, "| %.0f %% | %.0f %% | %d of %d |\n", 100*risk, share(risk), upTo(wrong, risk), len(wrong))
	}
	t.Log("\n" + table.String() + curve.String())
	assert.LessOrEqual(t, float64(upTo(wrong, wish)), 0.05*float64(len(wrong)), "what is plainly wrong is not")
	method, err := os.ReadFile("../../data/METHOD.md")
	require.NoError(t, err)
	assert.True(t, strings.Contains(string(method), table.String()) && strings.Contains(string(method), curve.String()), "the tables of data/METHOD.md")
}

// Of the days under water that species bore by trials and printed classes, how many
// lie in the 90 % interval of their class as the other species of it make it. The
// figures of wetDays are those of all; herbs share one spread.
func TestFloodDaysInTheirIntervals(t *testing.T) {
	byClass := map[measure][]float64{}
	for _, r := range traited() {
		if days, _, ok := strings.Cut(r.days, "/"); ok {
			status, _ := r.statusIn([]int{0, 3, 4, 6, 7})
			class := wetDays(r.form(), status, r.airlessOr(status))
			byClass[class] = append(byClass[class], math.Log(number(days)))
		}
	}
	mean := func(all []float64) (m float64) {
		for _, v := range all {
			m += v / float64(len(all))
		}
		return m
	}
	in, of := 0, 0
	var herbs []float64
	for class, logs := range byClass {
		assert.InEpsilon(t, class.median, math.Exp(mean(logs)), 0.06, "%v of %d", class, len(logs))
		for i, v := range logs {
			others := slices.Delete(slices.Clone(logs), i, i+1)
			width, from := class.spread, mean(others)
			if len(others) > 12 { // the herbs' spread is of all classes together
				width = deviation(others)
			}
			if of++; math.Abs(v-from) <= 1.645*width {
				in++
			}
		}
		if len(logs) > 13 {
			assert.InDelta(t, class.spread, deviation(logs), 0.01, "%v", class)
			continue
		}
		for _, v := range logs {
			herbs = append(herbs, v-mean(logs))
		}
	}
	assert.InDelta(t, 0.6, deviation(herbs)*math.Sqrt(12.0/10), 0.03, "three means were fitted")
	told := fmt.Sprintf("%d of %d", in, of)
	t.Log(told)
	assert.True(t, float64(in) >= 0.85*float64(of) && float64(in) <= 0.95*float64(of), told)
	method, err := os.ReadFile("../../data/METHOD.md")
	require.NoError(t, err)
	assert.Contains(t, string(method), told+" days under water lie in the 90 % interval")
}

// deviation is the standard deviation, with one figure spent on the mean.
func deviation(all []float64) float64 {
	sum, squares := 0.0, 0.0
	for _, v := range all {
		sum, squares = sum+v, squares+v*v
	}
	n := float64(len(all))
	return math.Sqrt((squares - sum*sum/n) / (n - 1))
}
