package species

import "strings"

// regionsOf returns the regions of the National Wetland Plant List that a state
// lies in with a good part of its ground, as their places in the column wetland;
// nil for no state. Source: US Army Corps of Engineers, National Wetland Plant
// List, map of regions; from memory.
func regionsOf(state string) []int {
	names, ok := stateRegions()[strings.ToUpper(state)]
	if !ok {
		return nil
	}
	order := []string{"agcp", "aw", "cb", "emp", "gp", "hi", "mw", "ncne", "wmvc", "ak"}
	var at []int
	for _, name := range strings.Fields(names) {
		for i, o := range order {
			if o == name {
				at = append(at, i)
			}
		}
	}
	return at
}

// IsState says whether the table can be made for a state, by its two letters.
func IsState(state string) bool { return regionsOf(state) != nil }

func stateRegions() map[string]string {
	return map[string]string{
		"AK": "ak", "AL": "agcp emp", "AR": "agcp emp", "AZ": "aw wmvc", "CA": "aw wmvc", "CO": "gp wmvc", "CT": "ncne", "DC": "agcp emp", "DE": "agcp",
		"FL": "agcp", "GA": "agcp emp", "HI": "hi", "IA": "mw", "ID": "aw wmvc", "IL": "mw", "IN": "mw", "KS": "gp", "KY": "emp", "LA": "agcp", "MA": "ncne",
		"MD": "agcp emp", "ME": "ncne", "MI": "mw ncne", "MN": "mw ncne", "MO": "mw emp", "MS": "agcp", "MT": "gp wmvc", "NC": "agcp emp", "ND": "gp",
		"NE": "gp mw", "NH": "ncne", "NJ": "agcp ncne", "NM": "aw gp wmvc", "NV": "aw", "NY": "ncne", "OH": "mw", "OK": "gp", "OR": "aw wmvc", "PA": "emp ncne",
		"RI": "ncne", "SC": "agcp", "SD": "gp", "TN": "emp agcp", "TX": "gp agcp", "UT": "aw wmvc", "VA": "agcp emp", "VT": "ncne", "WA": "aw wmvc", "WI": "mw ncne",
		"WV": "emp", "WY": "gp wmvc", "PR": "cb", "VI": "cb",
	}
}

// status is how often a plant is found in wetlands: OBL about 99 %, FACW 67 to
// 99, FAC 34 to 66, FACU 1 to 33, UPL about 1 %. Source: US Fish and Wildlife
// Service, Biological Report 88(26.9), 1988.
type status int

// The statuses, from wet to dry.
const (
	obl status = iota
	facw
	fac
	facu
	upl
)

func (s status) String() string { return [...]string{"OBL", "FACW", "FAC", "FACU", "UPL"}[s] }

// statusIn is the driest rating in some regions; where it has none there, the
// driest that it has anywhere; upland for what the list leaves out, as its own
// rule says. listed is false there.
func (r *record) statusIn(regions []int) (s status, listed bool) {
	here, any := status(-1), status(-1)
	for i, letter := range r.wetland {
		rating := status(strings.IndexRune("OWFUP", letter))
		if rating < 0 {
			continue
		}
		any = max(any, rating)
		for _, region := range regions {
			if region == i {
				here = max(here, rating)
			}
		}
	}
	switch {
	case here >= 0:
		return here, true
	case any >= 0:
		return any, true
	}
	return upl, false
}
