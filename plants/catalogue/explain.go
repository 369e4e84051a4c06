package catalogue

import (
	"cmp"
	"strings"
)

// explained is a column for people.
type explained struct {
	Name, Meaning string
	Writing       string // how a cell is written
	Needed        bool   // the column has to be there
	Empty         string // where a plant with an empty cell is not listed; "" if it may be
	Values        []Value
}

// Explain tells of every column of a plant table, in order.
func Explain() []explained {
	empty := map[string]string{}
	for _, l := range needs() {
		empty[l.Column] = cmp.Or(l.Where, "anywhere")
	}
	var all []explained
	for _, c := range tableColumns() {
		all = append(all, explained{Name: c.Name, Meaning: c.Meaning, Writing: c.writing(), Needed: c.Required, Empty: empty[c.Name], Values: c.Choices})
	}
	return all
}

func (c column) writing() string {
	switch c.Kind {
	case identColumn:
		return "lower case letters, digits and single hyphens"
	case numberColumn:
		return strings.TrimPrefix(c.wantBounds(), "want ")
	case monthColumn:
		return "1 to 12"
	case choiceColumn:
		return "one of: " + strings.Join(valueNames(c.Choices), ", ")
	case manyColumn:
		if c.Choices == nil {
			return "names of columns, with | between them"
		}
		return "some of: " + strings.Join(valueNames(c.Choices), ", ") + ", with | between them"
	case tagsColumn:
		return "words, with | between them"
	}
	return "text"
}
