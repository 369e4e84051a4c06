package catalogue

import (
	"slices"
	"strings"
	"unicode"

	"hollowbed/zones/table"
)

// tagger makes tags of columns that are none of ours.
type tagger struct {
	m      *Map
	column []int
}

func newTagger(m *Map, t *table.Table) *tagger {
	k := &tagger{m: m}
	for _, name := range m.Tags {
		k.column = append(k.column, t.Column(name))
	}
	return k
}

// of adds to a cell of tags what the columns say in a row.
func (k *tagger) of(cell string, row []string) string {
	var all []string
	for tag := range strings.SplitSeq(cell, "|") {
		if tag != "" {
			all = append(all, tag)
		}
	}
	for i, name := range k.m.Tags {
		for value := range strings.SplitSeq(strings.ReplaceAll(row[k.column[i]], betweenRows, "|"), "|") {
			if k.m.missing(value) {
				continue
			}
			if tag := tagOf(name, value); tag != "" && !slices.Contains(all, tag) {
				all = append(all, tag)
			}
		}
	}
	return strings.Join(all, "|")
}

// tagOf is "salinity tolerance high" for High in the column salinity_tolerance,
// the name of the column alone for yes, and "" for no and for what says nothing. Of
// long texts whole words are kept.
func tagOf(column, value string) string {
	if value = strings.TrimSpace(value); saysNothing(value) {
		return ""
	}
	switch value = strings.ToLower(value); value {
	case "", "no", "n", "none", "false", "0":
		return ""
	case "yes", "y", "x", "true", "1", "\u2713":
		value = ""
	}
	tag := ""
	for _, word := range strings.FieldsFunc(strings.ToLower(column+" "+value), notInTag) {
		longer := strings.TrimSpace(tag + " " + word)
		if !isTag(longer) {
			break
		}
		tag = longer
	}
	return tag
}

// notInTag knows what parts words of a tag; _ is a space.
func notInTag(r rune) bool {
	return r == '_' || !unicode.IsLetter(r) && !unicode.IsMark(r) && !unicode.IsDigit(r) && !strings.ContainsRune(".-'\u2019", r)
}

// tellsHarm knows a column that says whom plants harm, or are safe for, by its name.
func tellsHarm(column string) bool {
	return slices.ContainsFunc([]string{"tox", "poison", "harm", "venom", "allerg", "safe"}, func(s string) bool { return strings.Contains(letters(column), s) })
}
