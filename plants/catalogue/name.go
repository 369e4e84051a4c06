package catalogue

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"hollowbed/zones/table"
)

// Bearers finds the plants that a name may mean: the one with that id, or all that
// have it as their common or scientific name or as another. An id that is not written
// as one may be the common name of more plants than its own.
func Bearers(plants []Plant, name string) []*Plant {
	key := NameKey(name)
	if key == "" {
		return nil
	}
	var out []*Plant
	for i := range plants {
		p := &plants[i]
		if p.ID == strings.TrimSpace(name) || p.ID == key && NameKey(p.VernacularName) != key {
			return []*Plant{p}
		}
		if p.ID == key || slices.ContainsFunc(p.names(), func(n string) bool { return NameKey(n) == key }) {
			out = append(out, p)
		}
	}
	return out
}

// NameKey is a name without capitals, blanks, hyphens, and signs among letters a to z.
func NameKey(name string) string {
	other := func(r rune) bool { return r > unicode.MaxASCII && unicode.IsLetter(r) }
	if id := IDFor(name); id != "" && !strings.ContainsFunc(name, other) {
		return id
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(name), "-", " ")), " ")
}

// names are what people call a plant.
func (p *Plant) names() []string {
	names := []string{p.VernacularName, p.ScientificName}
	if p.Wild != nil {
		names = append(names, p.Wild.Also...)
	}
	return names
}

// Which lists plants that one name may mean, so that each can be told from the others.
func Which(plants []*Plant) string {
	const most = 6
	var out []string
	for _, p := range plants[:min(most, len(plants))] {
		s := p.ID
		if p.ScientificName != "" && IDFor(p.ScientificName) != p.ID {
			s += " (" + p.ScientificName + ")"
		}
		out = append(out, s)
	}
	if more := len(plants) - most; more > 0 {
		out = append(out, fmt.Sprintf("%d more", more))
	}
	return strings.Join(out, ", ")
}

// OrNear adds to what is wanted, never taken for them, the plants that somebody may have
// meant: those with the word in their names, or the one spelt most like it.
func OrNear(want string, plants []Plant, typed string) string {
	var holding, all []string
	word := strings.ToLower(strings.TrimSpace(typed))
	for i := range plants {
		p := &plants[i]
		if len(word) >= 3 && len(holding) < 3 && strings.Contains(strings.ToLower(p.VernacularName), word) {
			holding = append(holding, fmt.Sprintf("%q", p.VernacularName))
		}
		all = append(all, p.VernacularName, p.ScientificName, p.ID)
	}
	if len(holding) > 0 {
		return want + ", such as " + strings.Join(holding, ", ")
	}
	if near := table.Nearest(typed, all); near != "" {
		return fmt.Sprintf("%s; did you mean %q?", want, near)
	}
	return want
}
