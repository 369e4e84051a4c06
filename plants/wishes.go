package plants

import (
	"fmt"
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/table"
)

// UnknownPlantError names a wish that the catalogue does not have.
type UnknownPlantError struct {
	File, Key, ID, Near string
	Which               string // plants that all have the name; "" where none has
}

func (e *UnknownPlantError) Error() string {
	if e.Which != "" {
		return fmt.Sprintf("%s: %s: %q: several plants have this name: expected one of %s", e.File, e.Key, e.ID, e.Which)
	}
	msg := fmt.Sprintf("%s: %s: %q: want the id of a plant in the catalogue", e.File, e.Key, e.ID)
	if e.Near != "" {
		msg += fmt.Sprintf(", such as %q", e.Near)
	}
	return msg
}

// BadInput marks the error as one that the user can mend.
func (e *UnknownPlantError) BadInput() bool { return true }

// WishClashError says that the wishes cannot all be met.
type WishClashError struct {
	File string
	Err  error
}

func (e *WishClashError) Error() string { return fmt.Sprintf("%s: wishes: %v", e.File, e.Err) }

// Unwrap gives the cause.
func (e *WishClashError) Unwrap() error { return e.Err }

// BadInput marks the error as one that the user can mend.
func (e *WishClashError) BadInput() bool { return true }

// NameWishes puts ids in the place of the names by which a garden file wants plants
// or does not want them. The error names a name that several plants have; what no
// plant has is left for Choose to tell.
func NameWishes(g *zones.Garden, c *catalogue.Catalogue) error {
	for _, w := range []struct {
		key  string
		list *[]string
	}{{"wishes.wanted", &g.Wishes.Wanted}, {"wishes.unwanted", &g.Wishes.Unwanted}} {
		var ids []string
		for _, name := range *w.list {
			id := name
			if _, ok := c.ByID(name); !ok {
				switch bearers := c.Named(name); {
				case len(bearers) == 1:
					id = bearers[0].ID
				case len(bearers) > 1:
					return &UnknownPlantError{File: g.Source, Key: w.key, ID: name, Which: catalogue.Which(bearers)}
				}
			}
			if !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
		if !slices.Equal(ids, *w.list) {
			*w.list = ids
		}
	}
	for _, id := range g.Wishes.Unwanted {
		if slices.Contains(g.Wishes.Wanted, id) {
			return table.Faults{g.Fault("wishes.unwanted", id, "this plant is also wanted: remove it from one of the two lists")}
		}
	}
	return nil
}

func knownWishes(g *zones.Garden, c *catalogue.Catalogue) error {
	for _, w := range []struct {
		key string
		ids []string
	}{{"wishes.wanted", g.Wishes.Wanted}, {"wishes.unwanted", g.Wishes.Unwanted}} {
		for _, id := range w.ids {
			if _, ok := c.ByID(id); !ok {
				return &UnknownPlantError{File: g.Source, Key: w.key, ID: id, Near: c.Near(id)}
			}
		}
	}
	return nil
}

// missedWishes tells of wanted plants that would live nowhere in the bed.
func missedWishes(g *zones.Garden, verdicts []Verdict) []string {
	var notes []string
	for _, id := range g.Wishes.Wanted {
		var best *Verdict // where it would live but for a wish, or comes nearest to living
		for i := range verdicts {
			v := &verdicts[i]
			if v.Plant.ID == id && (best == nil || v.Bar == NoBar || best.Bar != NoBar && v.nearer(best)) {
				best = v
			}
		}
		switch {
		case best == nil || best.Bar == NoBar:
		case best.Lives():
			notes = append(notes, best.Plant.VernacularName+" is wanted, but left out: "+best.Detail)
		default:
			notes = append(notes, best.Plant.VernacularName+" is wanted, but no zone suits it: "+best.Detail)
		}
	}
	return notes
}

// nearer says whether a plant comes nearer to a place in the list than in another
// zone.
func (v *Verdict) nearer(than *Verdict) bool {
	if v.Lives() != than.Lives() {
		return v.Lives()
	}
	return v.Fit.Survival() > than.Fit.Survival()
}

// strangeRegions tells of regions wished for that no plant comes from.
func strangeRegions(g *zones.Garden, verdicts []Verdict) []string {
	var notes, regions []string
	for _, v := range verdicts {
		regions = append(regions, v.Plant.NativeTo...)
	}
	slices.Sort(regions)
	regions = slices.Compact(regions)
	for _, r := range g.Wishes.NativeTo {
		switch {
		case sharesTag(regions, []string{r}):
		case len(regions) == 0:
			notes = append(notes, fmt.Sprintf("wishes.native_to: %q counts for nothing: the plant table states no regions (native_to)", r))
		default:
			notes = append(notes, table.OrMeant(fmt.Sprintf("wishes.native_to: %q counts for nothing: no plant of the table is native there; its regions are %s", r, strings.Join(regions[:min(len(regions), 12)], ", ")), r, regions))
		}
	}
	return notes
}
