// Command species makes the built-in tables of real plants, plants/species/us.csv.gz
// and further.csv.gz, from the open files beside it and in testdata/records.
//
//	go run ./testdata/species
//
// A row stands for each of the 2,162 species with a table of characteristics
// (tier 1), for each further one that a published list for rain gardens names
// (tier 2), and in the second table for all others that have a name and states
// (tier 3). Cells keep the classes of their source; plants/species makes
// figures of them. SOURCES.md says where each column comes from.
package main

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
)

const (
	here = "testdata/species/"
	out  = "plants/species/"
)

func main() {
	if err := write(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// row is a row of a table by the names of its columns.
type row map[string]string

// table reads a CSV, packed or not.
func table(name string) ([]row, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var in *csv.Reader
	if strings.HasSuffix(name, ".gz") {
		z, err := gzip.NewReader(bytes.NewReader(text))
		if err != nil {
			return nil, err
		}
		in = csv.NewReader(z)
	} else {
		in = csv.NewReader(bytes.NewReader(text))
	}
	cells, err := in.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var rows []row
	for _, c := range cells[1:] {
		r := row{}
		for i, name := range cells[0] {
			r[name] = strings.TrimSpace(c[i])
		}
		rows = append(rows, r)
	}
	return rows, nil
}

// sources are the files that the table is made of.
type sources struct {
	names, states, traits, moreNames, moreStates []row
	wetland, lists, days, synonyms, poison, weed []row
	shade, runners, mountains, water, heights    []row
}

func read() (s sources, err error) {
	for file, into := range map[string]*[]row{
		here + "us-plants-names.csv.gz": &s.names, here + "us-plants-states.csv.gz": &s.states,
		"testdata/records/plant-characteristics-2162.csv": &s.traits,
		here + "more-names.csv.gz":                        &s.moreNames, here + "more-states.csv.gz": &s.moreStates,
		here + "wetland-status.csv.gz": &s.wetland, here + "zone-lists.csv.gz": &s.lists, here + "species-days.csv": &s.days,
		here + "synonyms.csv": &s.synonyms, here + "poison.csv": &s.poison, here + "weeds.csv": &s.weed,
		here + "shade.csv": &s.shade, here + "runners.csv": &s.runners, here + "mountains.csv": &s.mountains, here + "water.csv": &s.water, here + "heights.csv": &s.heights,
	} {
		if *into, err = table(filepath.FromSlash(file)); err != nil {
			return s, err
		}
	}
	return s, nil
}

// traits are the columns of the characteristics that go into the table, by
// their names there.
var traits = []string{
	"height_mature_feet", "growth_form", "shape_and_orientation", "shade_tolerance", "drought_tolerance", "anaerobic_tolerance", "bloom_period",
	"flower_color", "temperature_minimum_f", "precipitation_minimum", "precipitation_maximum", "frost_free_days_minimum", "ph_minimum", "ph_maximum",
	"leaf_retention", "vegetative_spread_rate", "seed_spread_rate", "toxicity", "commercial_availability",
}

func header() []string {
	return slices.Concat([]string{"tier", "symbol", "name", "common", "group", "habit", "duration", "native", "wetland", "lists", "days", "harms", "weed", "woods", "runs", "mountains", "water", "soils", "also"}, traits)
}

func write() error {
	s, err := read()
	if err != nil {
		return err
	}
	m := newMaker(s)
	var rows, further [][]string
	taken := map[string]bool{}
	for _, n := range s.names {
		rows = append(rows, m.row("1", n))
		taken[bare(n["scientific_name"])] = true
	}
	for _, n := range s.moreNames {
		if m.listed[n["symbol"]] != nil {
			rows = append(rows, m.row("2", n))
			taken[bare(n["scientific_name"])] = true
		}
	}
	for _, n := range s.moreNames {
		if name := bare(n["scientific_name"]); !taken[name] {
			further, taken[name] = append(further, m.row("3", n)), true
		}
	}
	fmt.Printf("%d rows and %d further ones; of %d rows of lists %d are in the table\n", len(rows), len(further), len(s.lists), m.matched)
	if err := pack(out+"us.csv.gz", rows); err != nil {
		return err
	}
	return pack(out+"further.csv.gz", further)
}

func pack(file string, rows [][]string) error {
	sort.SliceStable(rows, func(i, j int) bool { return rows[i][2] < rows[j][2] })
	var text bytes.Buffer
	z, err := gzip.NewWriterLevel(&text, gzip.BestCompression)
	if err != nil {
		return err
	}
	w := csv.NewWriter(z)
	w.Write(header())
	w.WriteAll(rows)
	if err := z.Close(); err != nil {
		return err
	}
	return os.WriteFile(file, text.Bytes(), 0o644)
}

// bare is a scientific name without its authors: "Acer rubrum var. drummondii".
func bare(full string) string {
	words := strings.Fields(full)
	if len(words) > 2 && words[1] == "×" {
		words = append([]string{words[0], "×" + words[2]}, words[3:]...)
	}
	keep := words[:min(2, len(words))]
	for i, w := range words {
		if (w == "var." || w == "ssp.") && i >= 2 && i+1 < len(words) {
			keep = append(slices.Clone(keep), w, words[i+1])
			break
		}
	}
	return strings.Join(keep, " ")
}

// maker finds what belongs to a species under whatever name.
type maker struct {
	sources
	traitsOf, statesOf map[string]row    // by symbol
	symbols            map[string]string // by name
	stems              map[string]string // by genus and stem of the epithet
	renamed            map[string][]string
	status, dayOf      map[string]row // by name
	listed             map[string][]row
	also               map[string][]string
	matched            int
}

func newMaker(s sources) *maker {
	m := &maker{
		sources: s, traitsOf: map[string]row{}, statesOf: map[string]row{}, symbols: map[string]string{}, stems: map[string]string{},
		renamed: map[string][]string{}, status: map[string]row{}, dayOf: map[string]row{}, listed: map[string][]row{}, also: map[string][]string{},
	}
	for _, r := range s.traits {
		m.traitsOf[r["symbol"]] = r
	}
	for _, r := range slices.Concat(s.states, s.moreStates) {
		m.statesOf[r["symbol"]] = r
	}
	for _, r := range s.synonyms {
		m.renamed[r["old"]] = append(m.renamed[r["old"]], r["new"])
	}
	for _, r := range slices.Concat(s.names, s.moreNames) { // tier 1 before the others
		name := bare(r["scientific_name"])
		if m.symbols[name] == "" {
			m.symbols[name] = r["symbol"]
		}
		if key := stemKey(name); m.stems[key] == "" {
			m.stems[key] = r["symbol"]
		}
	}
	for _, r := range s.wetland {
		m.status[r["scientific_name"]] = r
		m.status["~"+stemKey(r["scientific_name"])] = r
	}
	for _, r := range s.days {
		m.dayOf[r["scientific_name"]] = r
	}
	for _, r := range s.lists {
		if symbol := m.symbolOf(r["scientific_name"]); symbol != "" {
			m.matched++
			m.listed[symbol] = append(m.listed[symbol], r)
			if name := bare(r["scientific_name"]); m.symbols[name] == "" && !slices.Contains(m.also[symbol], name) {
				m.also[symbol] = append(m.also[symbol], name)
			}
		}
	}
	return m
}

// stemKey is a name that genders agree on: Osmunda cinnamome-.
func stemKey(name string) string {
	words := strings.Fields(name)
	last := len(words) - 1
	for _, end := range []string{"us", "um", "is", "a", "e", "i"} {
		if stem, ok := strings.CutSuffix(words[last], end); ok && len(stem) > 3 {
			words[last] = stem
			break
		}
	}
	return strings.Join(words, " ")
}

// names are a name and those it is or was known by, and last its species.
func (m *maker) namesOf(name string) []string {
	all := append([]string{name}, m.renamed[name]...)
	genus, rest, _ := strings.Cut(name, " ")
	for _, g := range m.renamed[genus] {
		all = append(all, g+" "+rest)
	}
	if words := strings.Fields(name); len(words) == 4 {
		all = append(all, m.namesOf(words[0]+" "+words[1])...)
	}
	return all
}

func (m *maker) symbolOf(name string) string {
	name, _, _ = strings.Cut(name, " '") // a cultivar counts for its species
	for _, n := range m.namesOf(bare(name)) {
		if s := m.symbols[n]; s != "" {
			return s
		}
		if s := m.stems[stemKey(n)]; s != "" && strings.Contains(n, " ") {
			return s
		}
	}
	return ""
}

func (m *maker) statusOf(name string) row {
	for _, n := range m.namesOf(name) {
		if r := m.status[n]; r != nil {
			return r
		}
		if r := m.status["~"+stemKey(n)]; r != nil && strings.Contains(n, " ") {
			return r
		}
	}
	return nil
}

// Regions of the National Wetland Plant List, in the order of the column wetland.
var regions = []string{"agcp", "aw", "cb", "emp", "gp", "hi", "mw", "ncne", "wmvc", "ak"}

func (m *maker) row(tier string, n row) []string {
	symbol, name := n["symbol"], bare(n["scientific_name"])
	t := m.traitsOf[symbol]
	cells := []string{
		tier, symbol, name, n["common_name"], n["group_name"], n["growth_habit"], n["duration"], m.statesOf[symbol]["native_states"], m.wetlandOf(name), m.listsOf(symbol),
		m.daysOf(name), byName(m.poison, name)["harms"], byName(m.weed, name)["why"], byName(m.shade, name)["why"], byName(m.runners, name)["why"], byName(m.mountains, name)["why"], byName(m.water, name)["why"], soils(t), strings.Join(m.otherNames(symbol, name, n["common_name"]), "|"),
	}
	for _, column := range traits {
		cell := t[column]
		if column == "height_mature_feet" {
			cell = cmp.Or(m.heightOf(symbol), byName(m.heights, name)["feet"], cell)
		}
		cells = append(cells, cell)
	}
	return cells
}

// otherNames are the older scientific names that lists use of a species, and what
// lists and the wetland list call it.
func (m *maker) otherNames(symbol, name, common string) []string {
	all := slices.Clone(m.also[symbol])
	add := func(other string) {
		other, _, _ = strings.Cut(other, "|")
		same := func(s string) bool { return strings.EqualFold(s, other) }
		if other != "" && !same(common) && !slices.ContainsFunc(all, same) {
			all = append(all, other)
		}
	}
	for _, r := range m.listed[symbol] {
		add(r["common_name"])
	}
	if r := m.statusOf(name); r != nil {
		add(r["common_name"])
	}
	return all
}

// wetlandOf is a letter a region: O, W, F, U (FACU), P (UPL), - for none.
func (m *maker) wetlandOf(name string) string {
	r := m.statusOf(name)
	if r == nil {
		return ""
	}
	letters := map[string]string{"OBL": "O", "FACW": "W", "FAC": "F", "FACU": "U", "UPL": "P", "": "-"}
	text := ""
	for _, region := range regions {
		text += letters[r[region]]
	}
	return text
}

// listsOf is what lists say of a species: zones, state or region, source.
func (m *maker) listsOf(symbol string) string {
	var all []string
	for _, r := range m.listed[symbol] {
		if r["zone"] != "" {
			place := r["us_states"]
			if place == "" {
				place = r["region"]
			}
			all = append(all, strings.ReplaceAll(r["zone"], "|", "+")+"@"+place+"@"+r["source"])
		}
	}
	slices.Sort(all)
	return strings.Join(slices.Compact(all), "|")
}

// heightOf is the middle of the heights that lists print of a species, feet: garden
// lists say how tall it gets in gardens, the characteristics in the wild, 1.2 times as
// much in the middle of 109 species and twice as much or half of 20.
func (m *maker) heightOf(symbol string) string {
	var all []float64
	for _, r := range m.listed[symbol] {
		low, high, two := strings.Cut(r["height_ft"], "-")
		from, err := strconv.ParseFloat(low, 64)
		if err != nil || strings.Contains(r["scientific_name"], "'") { // cultivars are dwarfs
			continue
		}
		if to, err := strconv.ParseFloat(high, 64); two && err == nil {
			from = (from + to) / 2
		}
		all = append(all, from)
	}
	if len(all) == 0 {
		return ""
	}
	slices.Sort(all)
	return strconv.FormatFloat(all[len(all)/2], 'f', -1, 64)
}

func (m *maker) daysOf(name string) string {
	if r := m.dayOf[name]; r != nil {
		return r["days_borne_geomean"] + "/" + r["readings"]
	}
	return ""
}

// byName is the row of a species, or else that of its genus.
func byName(rows []row, name string) row {
	words := strings.Fields(name)
	for _, n := range []string{name, strings.Join(words[:min(2, len(words))], " "), words[0]} {
		for _, r := range rows {
			if r["name"] == n {
				return r
			}
		}
	}
	return nil
}

func soils(t row) string {
	text := ""
	for _, s := range []string{"coarse", "medium", "fine"} {
		if t["adapted_to_"+s+"_textured_soils"] == "TRUE" {
			text += s[:1]
		}
	}
	return text
}
