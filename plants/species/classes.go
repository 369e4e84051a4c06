package species

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strings"
)

// classes are the figures of classes of plants that are fitted to lists for rain
// gardens; TestFit makes limits.csv of them.
type classes struct {
	share [upl + 1][3]float64  // by status, of the species that lists name: those named for bottom, slope, rim
	dry   float64              // the drought borne over that of the ground of its home
	home  map[string][]float64 // by state and bedRoots: one-year-in-ten drought of unwatered ground, days
	arid  map[string][]float64 // the same of the driest of the climates of the state that were looked at
	cold  map[string]float64   // coldest night of one year in ten at the middle of those climates, deg C
	most  string               // the driest state whose lists are known
}

// bedRoots are the depths of roots, cm, for which droughts were worked out.
func bedRoots() []float64 { return []float64{15, 30, 45, 60, 80, 105, 200} }

// atRoots is the drought for roots of a depth, between those of bedRoots in a
// straight line; NaN where none is known.
func atRoots(days []float64, rootCM float64) float64 {
	roots := bedRoots()
	for i := 1; i < len(days); i++ {
		if rootCM <= roots[i] {
			part := max(0, (rootCM-roots[i-1])/(roots[i]-roots[i-1]))
			return days[i-1] + part*(days[i]-days[i-1])
		}
	}
	return math.NaN()
}

//go:embed limits.csv
var limitsText string

func zoneNames() []string { return []string{"bottom", "slope", "rim"} }

// shipped reads limits.csv.
func shipped() *classes {
	rows, err := csv.NewReader(strings.NewReader(limitsText)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("species: limits.csv: %v", err)) // embedded: our mistake
	}
	c := &classes{home: map[string][]float64{}, arid: map[string][]float64{}, cold: map[string]float64{}}
	for _, r := range rows[1:] {
		v := number(r[3])
		switch r[0] {
		case "share":
			for s := obl; s <= upl; s++ {
				if s.String() == r[1] {
					c.share[s][slices.Index(zoneNames(), r[2])] = v
				}
			}
		case "dry":
			c.dry = v
		case "home":
			c.home[r[1]] = append(c.home[r[1]], v) // in the order of bedRoots
		case "arid":
			c.arid[r[1]] = append(c.arid[r[1]], v)
		case "cold":
			c.cold[r[1]] = v
		case "most":
			c.most = r[1]
		default:
			panic("species: limits.csv: " + r[0])
		}
	}
	return c
}

// leastShare is how many of the species of a status have to be named for a zone
// before another of that status is taken to grow there. Chosen by the curve in
// data/METHOD.md.
const leastShare = 0.3

// zones are those for which plants of a status are named. The slope lies between
// the others, and what grows in either may grow there as far as its limits go.
func (c *classes) zones(s status) []string {
	var all []string
	for z, name := range zoneNames() {
		if name == "slope" || c.share[s][z] >= leastShare {
			all = append(all, name)
		}
	}
	return all
}

// homeDrought is the drought, for roots of a depth, of the ground that a plant of a
// status and drought class is native to, and how far that may be off, in log units: of
// the lot's state if the species is at home there, else the middle of its states; of a
// stranger the middle of all. What tolerates much drought (class High) is of the dry
// places of its range: the driest climate of each state counts. A dry state has moist
// places too. What tolerates little grows there, so that no more counts than the drier
// quarter of its states and the driest place with a list; of the others nobody knows
// which ground of the state is theirs, and three quarters of the way to that quarter
// are doubt. Shares chosen with the lists of dry towns in view, no source.
func (c *classes) homeDrought(native []string, state string, s status, drought string, rootCM float64) (days, doubt float64) {
	of := c.home
	if s > facw && drought == "High" {
		of = c.arid
	}
	var all []float64
	for _, n := range native {
		if of[n] != nil {
			all = append(all, atRoots(of[n], rootCM))
		}
	}
	if len(all) == 0 {
		for _, d := range of {
			all = append(all, atRoots(d, rootCM))
		}
	}
	slices.Sort(all)
	here, drier := atRoots(of[state], rootCM), all[3*len(all)/4]
	switch {
	case math.IsNaN(here) || !slices.Contains(native, state):
		return all[len(all)/2], 0
	case s > facw && (drought == "Medium" || drought == "High"):
		return here, 0.75 * math.Log(max(1, here/drier))
	}
	return min(here, drier, atRoots(c.home[c.most], rootCM)), 0
}
