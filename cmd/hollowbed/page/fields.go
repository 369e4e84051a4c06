package page

import (
	"fmt"
	"slices"
	"strings"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
)

// field is one key of the garden file that the page can change.
type field struct {
	Key     string   `json:"key"`
	Group   string   `json:"group"`
	Label   string   `json:"label"`
	Text    string   `json:"text"`
	Kind    string   `json:"kind"`
	Choices []string `json:"choices"`
	Hint    string   `json:"hint"`
	Default string   `json:"default"`
	Set     bool     `json:"set"`
}

// fieldTable is every key that the page can change, in its order, with what
// holds for one that is left out.
func fieldTable(u zones.Units) []field {
	var out []field
	for _, k := range zones.Keys() {
		if k.Label == "" {
			continue
		}
		group, _, _ := strings.Cut(k.Path, ".")
		f := field{Key: k.Path, Group: group, Label: k.Label, Kind: k.FieldKind(), Choices: []string{}, Hint: k.Hint, Default: k.DefaultIn(u)}
		if f.Kind == "choice" {
			f.Choices = k.Choices
		}
		out = append(out, f)
	}
	return out
}

// fieldNamed finds a field by its key.
func fieldNamed(key string) (field, bool) {
	all := fieldTable(zones.UnitsUS)
	i := slices.IndexFunc(all, func(f field) bool { return f.Key == key })
	if i < 0 {
		return field{}, false
	}
	return all[i], true
}

// fields gives every field with what the draft says, and what holds without it in
// the units shown. The caller holds mu.
func (s *session) fields(units zones.Units) []field {
	texts, err := zones.KeyTexts(s.draft.garden)
	if err != nil {
		panic("page: a draft that is no garden file: " + err.Error())
	}
	out, idle := fieldTable(units), idleSoil(texts)
	for i := range out {
		f := &out[i]
		text, ok := texts[f.Key]
		if parent := f.Key[:max(0, strings.LastIndex(f.Key, "."))]; !ok { // one figure for all zones
			if one, all := texts[parent]; all && (parent == "sun" || parent == "wishes.height_max") {
				text, ok = one, true
			}
		}
		f.Text, f.Set = report.Plain(text), ok
		if why := idle[f.Key]; why != "" {
			f.Hint = why
		}
	}
	return out
}

// idleSoil says which fields of the soil do nothing, or less than they seem to, beside
// what else the garden file says of it.
func idleSoil(texts map[string]string) map[string]string {
	_, dug := texts["soil.soak_test.hole_depth"]
	_, rated := texts["soil.rate"]
	const aside = "the rate is that of %s; this counts for water below the mix and the handbook alone"
	switch {
	case dug:
		return map[string]string{
			"soil.rate":    "no effect: the soak test in garden.yaml counts before it",
			"soil.texture": fmt.Sprintf(aside, "the soak test in garden.yaml"),
		}
	case rated:
		return map[string]string{"soil.texture": fmt.Sprintf(aside, "the measured rate")}
	}
	return map[string]string{"soil.safety_factor": "no effect: only a measured rate or a soak test is divided"}
}
