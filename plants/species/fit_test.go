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

var bedRoots = []float64{15, 30, 45, 60, 80, 105, 200}

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
		for _, root := range bedRoots {
			b.dryD[r["zone"]] = append(b.dryD[r["zone"]], number(r[fmt.Sprintf("dry_d_%g", root)]))
		}
	}
	return all
}

// dry is the drought for roots of a depth, between those that were worked out in a
// straight line.
func (b *bed) dry(zone string, rootCM float64) float64 {
	days := b.dryD[zone]
	for i := 1; i < len(bedRoots); i++ {
		if rootCM <= bedRoots[i] {
			part := max(0, (rootCM-bedRoots[i-1])/(bedRoots[i]-bedRoots[i-1]))
			return days[i-1] + part*(days[i]-days[i-1])
		}
	}
	return days[len(days)-1]
}

// named is a species in a list.
type named struct {
	record        *record
	zones         []string
	place, source string
	status        status
}

func namings(all []record) []named {
	var out []named
	for i := range all {
		for _, l := range all[i].lists {
			part := strings.SplitN(l, "@", 3)
			s, _ := all[i].statusIn(regionsOf(stateOf(part[1])))
			out = append(out, named{&all[i], strings.Split(part[0], "+"), part[1], part[2], s})
		}
	}
	return out
}

// fitted makes the figures of classes of lists: the share of each status that is
// named for a zone, with half a species added to either side, in order; and the drought,
// over that of the ground of its home, that nine of ten of a class bear where they
// are named. A class that fewer than five rows name takes that of all but the wet.
func fitted(t testing.TB, names []named) *classes {
	c := &classes{dry: map[string]float64{}, home: map[string]float64{}}
	for _, r := range rowsOf(t, "homes.csv") {
		c.home[r["state"]] = number(r["dry_d"])
	}
	for _, n := range names {
		c.most = max(c.most, c.home[stateOf(n.place)])
	}
	var total [upl + 1]float64
	ordinary, borne := beds(t), map[string][]float64{}
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
		class := dryClass(n.status, n.record.drought)
		hardest := 0.0
		for z, zone := range zoneNames() {
			if !slices.Contains(n.zones, zone) {
				continue
			}
			if known && once(n.status, n.record.symbol, zone) {
				c.share[n.status][z]++
			}
			home, _ := c.homeDrought(n.record.native, stateOf(n.place), class)
			here := ordinary[n.place]["20 mm/h"].dry(zone, rootCM(n.record.form(), n.status))
			hardest = max(hardest, here/home)
		}
		borne[class] = append(borne[class], hardest)
		if n.status > facw {
			borne[""] = append(borne[""], hardest)
		}
	}
	c.inOrder(total)
	for _, class := range []string{"OBL", "FACW", "None", "Low", "Medium", "High"} {
		of := borne[class]
		if len(of) < 5 {
			of = borne[""]
		}
		slices.Sort(of)
		c.dry[class] = of[int(math.Ceil(0.9*float64(len(of))))-1]
	}
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
	for _, class := range []string{"OBL", "FACW", "None", "Low", "Medium", "High"} {
		fmt.Fprintf(&b, "dry,%s,,%.2f\n", class, c.dry[class])
	}
	fmt.Fprintf(&b, "most,,,%.0f\n", c.most)
	var states []string
	for s := range c.home {
		states = append(states, s)
	}
	slices.Sort(states)
	for _, s := range states {
		fmt.Fprintf(&b, "home,%s,,%.0f\n", s, c.home[s])
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

// accepts says whether a plant is taken for a zone of a bed: such plants are named
// for it, and its one-year-in-ten wetness and drought leave room enough under the
// limits, doubt and all (cold, sun and depth are left to TestTowns).
func accepts(p *catalogue.Plant, b *bed, zone string) bool {
	if !slices.Contains(p.Zones, zone) {
		return false
	}
	room := func(found, limit, spread float64) bool {
		width := math.Hypot(0.4/math.Sqrt(60), spread*math.Sqrt(3)/math.Pi) // fit.Predictor over sixty years
		return found/limit <= math.Pow(0.15/0.85, width)
	}
	return room(b.wetH[zone], p.WetH, p.Wild.Spread[0]) && room(b.dry(zone, p.RootCM), p.DryD, p.Wild.Spread[2])
}

// acceptedIn is accepts in two of three ordinary beds of a place.
func acceptedIn(p *catalogue.Plant, of map[string]*bed, zone string) bool {
	n := 0
	for _, b := range of {
		if accepts(p, b, zone) {
			n++
		}
	}
	return n >= 2
}

// Each group of regions is left out in turn: limits of classes and lists of
// species are those of the others. Of the species that its lists name for a zone,
// 80 % should be accepted there; of the pairs that are plainly wrong at most 5 %
// (testdata/species/wrong-pairs.csv, written before any limit was fitted).
func TestListsLeftOut(t *testing.T) {
	ordinary := beds(t)
	var table strings.Builder
	accepted, rows, wrong, pairs := 0, 0, 0, 0
	for _, group := range []string{"Northeast and Mid-Atlantic", "Midwest and Great Lakes", "Southeast", "Southwest", "Northwest"} {
		all := traited()
		var left, asked []named
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
		yes, of, bad, no := 0, 0, 0, 0
		byZone := map[string][2]int{}
		for _, n := range asked {
			for _, zone := range n.zones {
				c := byZone[zone]
				c[1]++
				if acceptedIn(find(n.place, n.record.name), ordinary[n.place], zone) {
					c[0]++
				}
				byZone[zone] = c
			}
		}
		for _, c := range byZone {
			yes, of = yes+c[0], of+c[1]
		}
		for _, r := range rowsOf(t, "wrong-pairs.csv") {
			if groupOf(r["place"]) != group {
				continue
			}
			no++
			if acceptedIn(find(r["place"], r["name"]), ordinary[r["place"]], r["zone"]) {
				bad++
				t.Logf("wrong, and accepted: %s in the %s in %s", r["name"], r["zone"], r["place"])
			}
		}
		fmt.Fprintf(&table, "| %s | %d of %d | %.0f %% |", group, yes, of, 100*float64(yes)/float64(of))
		for _, zone := range zoneNames() {
			fmt.Fprintf(&table, " %d of %d |", byZone[zone][0], byZone[zone][1])
		}
		fmt.Fprintf(&table, " %d of %d |\n", bad, no)
		accepted, rows, wrong, pairs = accepted+yes, rows+of, wrong+bad, pairs+no
	}
	fmt.Fprintf(&table, "| all | %d of %d | %.0f %% | | | | %d of %d |\n", accepted, rows, 100*float64(accepted)/float64(rows), wrong, pairs)
	t.Log("\n" + table.String())
	assert.GreaterOrEqual(t, float64(accepted), 0.80*float64(rows), "what lists name is accepted")
	assert.LessOrEqual(t, float64(wrong), 0.05*float64(pairs), "what is plainly wrong is not")
	method, err := os.ReadFile("../../data/METHOD.md")
	require.NoError(t, err)
	assert.Contains(t, string(method), table.String(), "the table of data/METHOD.md")
}

// Of the days under water that species bore by trials and printed classes, how many
// lie in the 90 % interval of their class. A class of few readings is wider than
// its readings, so that too many are to be expected.
func TestFloodDaysInTheirIntervals(t *testing.T) {
	in, of := 0, 0
	for _, r := range traited() {
		if r.days == "" {
			continue
		}
		days, _, _ := strings.Cut(r.days, "/")
		status, _ := r.statusIn([]int{0, 3, 4, 6, 7})
		class := wetDays(r.form(), status, r.airlessOr(status))
		of++
		if math.Abs(math.Log(number(days)/class.median)) <= 1.645*class.spread {
			in++
		}
	}
	told := fmt.Sprintf("%d of %d", in, of)
	t.Log(told)
	method, err := os.ReadFile("../../data/METHOD.md")
	require.NoError(t, err)
	assert.Contains(t, string(method), told+" days under water lie in the 90 % interval of their class")
}
