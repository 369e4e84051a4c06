// Package species is the built-in table of real plants of the United States:
// 2,162 species with a table of characteristics, and some 90 more that published
// lists for rain gardens name.
//
// Input is the state that a lot lies in; output is a catalogue.Catalogue whose
// limits are medians of what is known, with how far each may be off and what it
// rests on (limits.go). What the sources do not say stays unknown. The table is
// made by testdata/species; its SOURCES.md names where every column comes from.
package species

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	_ "embed"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"hollowbed/plants/catalogue"
)

//go:embed us.csv.gz
var packed []byte

//go:embed further.csv.gz
var packedFurther []byte

// Name is what the garden file calls the table.
const Name = "us"

// US returns the table for a lot in a state, by its two letters; with further, the
// names of which no more is known than their states and wetland status too. ok is
// false where there is no such state.
func US(state string, further bool) (c *catalogue.Catalogue, ok bool) {
	if !IsState(state) {
		return nil, false
	}
	all := records(packed)
	if further {
		all = append(all, records(packedFurther)...)
	}
	guessTraits(all)
	return tableOf(all, shipped(), state), true
}

// tableOf makes the table of its rows.
func tableOf(records []record, classes *classes, state string) *catalogue.Catalogue {
	regions := regionsOf(state)
	sum := sha256.Sum256(slices.Concat(packed, packedFurther, fmt.Appendf(nil, "%s %d", state, len(records))))
	c := &catalogue.Catalogue{Name: "real plants of the United States, for " + state, Digest: hex.EncodeToString(sum[:]), State: state}
	for i := range records {
		c.Plants = append(c.Plants, records[i].plant(classes, state, regions, len(c.Plants)+1))
	}
	return c
}

// record is a row of the packed table.
type record struct {
	tier                    int
	symbol, name, common    string
	group                   string // Fern and the like
	habit, duration         []string
	native                  []string
	wetland                 string // a letter a region
	lists, also             []string
	days, harms, weed       string
	woods, runs             string // where in the shade it grows; how it runs
	mountains, water        string // where high up, in water or on salty shores it grows
	soils                   string
	heightFt                float64
	shade, drought, airless string
	bloom, colour           string
	lowestF                 float64
	rainMinIn, rainMaxIn    float64
	frostFreeD              float64
	phMin, phMax            float64
	evergreen, vegetative   string
	seeds, toxicity, sold   string
	orientation, growth     string
	guessed                 bool // traits are those of genus or form
}

func records(packed []byte) []record {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		panic(fmt.Sprintf("species: %v", err)) // embedded: our mistake
	}
	cells, err := csv.NewReader(z).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("species: %v", err))
	}
	at := map[string]int{}
	for i, name := range cells[0] {
		at[name] = i
	}
	all := make([]record, 0, len(cells)-1)
	for _, row := range cells[1:] {
		text := func(column string) string {
			i, ok := at[column]
			if !ok {
				panic("species: no column " + column)
			}
			return row[i]
		}
		many := func(column, between string) []string {
			if text(column) == "" {
				return nil
			}
			return strings.Split(text(column), between)
		}
		num := func(column string) float64 { return number(text(column)) }
		all = append(all, record{
			tier: int(num("tier")), symbol: text("symbol"), name: text("name"), common: text("common"), group: text("group"), habit: many("habit", ", "), duration: many("duration", ", "),
			native: many("native", "|"), wetland: text("wetland"), lists: many("lists", "|"), also: many("also", "|"), days: text("days"), harms: text("harms"), weed: text("weed"), woods: text("woods"), runs: text("runs"), mountains: text("mountains"), water: text("water"),
			soils: text("soils"), heightFt: num("height_mature_feet"), shade: text("shade_tolerance"), drought: text("drought_tolerance"), airless: text("anaerobic_tolerance"),
			bloom: text("bloom_period"), colour: text("flower_color"), lowestF: num("temperature_minimum_f"), rainMinIn: num("precipitation_minimum"), rainMaxIn: num("precipitation_maximum"),
			frostFreeD: num("frost_free_days_minimum"), phMin: num("ph_minimum"), phMax: num("ph_maximum"), evergreen: text("leaf_retention"), vegetative: text("vegetative_spread_rate"),
			seeds: text("seed_spread_rate"), toxicity: text("toxicity"), sold: text("commercial_availability"), orientation: text("shape_and_orientation"), growth: text("growth_form"),
		})
	}
	return all
}

// number is NaN for an empty cell.
func number(s string) float64 {
	if s == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(fmt.Sprintf("species: %v", err))
	}
	return v
}

// commonName begins with a capital: "Swamp milkweed".
func commonName(r *record) string {
	if r.common == "" {
		return r.name
	}
	first, n := utf8.DecodeRuneInString(r.common)
	return string(unicode.ToUpper(first)) + r.common[n:]
}
