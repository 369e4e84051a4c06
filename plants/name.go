package plants

import (
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// Stakes lists the stakes that somebody may mean: the stake itself, or those of
// all plants planted whose common name, scientific name or id it is, in the order
// of the rows.
func Stakes(rows []placement.Planted, c *catalogue.Catalogue, text string) []string {
	text = strings.TrimSpace(text)
	if row, ok := season.Grows(rows, text); ok {
		return []string{strings.ToUpper(row.Stake)}
	}
	meant := map[string]bool{catalogue.NameKey(text): true}
	for _, p := range catalogue.Bearers(c.Plants, text) {
		meant[p.ID] = true
	}
	var out []string
	for _, r := range rows {
		if meant[r.ID] {
			out = append(out, strings.ToUpper(r.Stake))
		}
	}
	return out
}
