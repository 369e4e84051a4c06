// Package varied makes plant tables of any size for measurements and tests.
package varied

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
)

// Table returns a plant table of n made-up plants, the same for the same n and
// seed; the first plants of a larger table are those of a smaller one. Every
// plant is drawn by itself: needs, size, months of bloom and price differ. Those
// that bear more water bear less drought. Roots stand in steps of 5 cm, as people
// write them. All ranges are choices of this project, no source.
func Table(n int, seed uint64) []byte {
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	w.Write([]string{
		"id", "scientificName", "vernacularName", "form", "zones", "sun_min_h", "sun_max_h", "wet_h", "pond_mm",
		"dry_d", "lowest_c", "root_cm", "height_cm", "spread_cm", "flower_from", "flower_to", "flower_colour",
		"evergreen", "native_to", "spreads", "toxic", "price", "notes", "source", "assumed",
	})
	for i := range n {
		w.Write(plant(i, rand.New(rand.NewPCG(seed, uint64(i)))))
	}
	w.Flush()
	return text.Bytes()
}

func plant(i int, r *rand.Rand) []string {
	one := func(of ...string) string { return of[r.IntN(len(of))] }
	between := func(low, high, step float64) float64 {
		return math.Round((low+(high-low)*r.Float64())/step) * step
	}
	// round is needed since a step of 0.05 is no binary number.
	number := func(x float64) string { return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64) }

	wet := r.Float64() // 0 a plant of dry ground, 1 one of wet ground
	sun := between(1, 7, 0.5)
	spread := between(15, 45, 1)
	if r.IntN(3) == 0 {
		spread = between(45, 140, 1)
	}
	pond := 10 + math.Round(20*(wet+0.3*r.Float64()))*10
	from := 3 + r.IntN(7)
	assumed := ""
	if r.IntN(5) == 0 {
		assumed = one("wet_h", "dry_d", "pond_mm")
	}
	name := madeUp(i)
	return []string{
		fmt.Sprintf("%s-%d", name, i), "Fictella " + name, fmt.Sprintf("Mock %s", name),
		one("forb", "forb", "grass-like", "bulb", "shrub"), one("bottom", "slope", "rim", "bottom|slope", "slope|rim", ""),
		number(sun), number(sun + between(3, 6, 0.5)),
		number(math.Round(14 * math.Exp(3*wet+0.4*r.NormFloat64()))), number(pond),
		number(math.Round(19.3 * math.Exp(1.5*(1-wet)+0.4*r.NormFloat64()))), number(between(-46, -24, 1)),
		number(between(15, 120, 5)), number(math.Ceil(pond/10) + between(5, 130, 1)), number(spread),
		strconv.Itoa(from), strconv.Itoa(min(12, from+r.IntN(3))), one("white", "yellow", "blue", "pink", "blue|white"),
		one("no", "no", "yes", "semi"), one("Quillmere", "Lower Wend", "Salt Fen", "Quillmere|Lower Wend"),
		one("no", "slowly", "slowly", "slowly", "no", "no", "seeds", "runs"), one("none", "none", "none", "none", "none", "none", "pets", "people|pets"),
		number(between(1.5, 6, 0.05) + spread/10), "", "made up for measurements", assumed,
	}
}

// madeUp spells a number in syllables.
func madeUp(i int) string {
	syllables := [16]string{"bra", "dre", "fli", "gro", "kva", "lum", "mox", "nid", "pru", "quo", "rys", "ska", "tov", "ulb", "vex", "zim"}
	name := ""
	for k := range 4 {
		name += syllables[(i+5*k)%16]
		i /= 16
	}
	return name
}
