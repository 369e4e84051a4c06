package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"hollowbed/zones/table"
)

// Longest texts and lists, in characters: enough for a page of notes, and so
// that a row which may be written may also be read.
const (
	longestText = 20000
	longestWord = 200
)

// checkAll tells what cannot be true of the plants (faults), and what can but deserves a
// look (warnings). Unknown values are neither. Lines are told, columns not.
func checkAll(plants []Plant, quiet bool) (faults, warnings table.Faults) {
	c := checker{columns: tableColumns(), quiet: quiet}
	c.place = func(i int, column, value string) table.Fault {
		return table.Fault{Line: plants[i].Line, Name: column, Value: value}
	}
	c.run(plants)
	return c.faults, c.warnings
}

// lack is a column whose empty cells keep plants off a list.
type lack struct {
	Column string
	Where  string // "" for everywhere
	Plants []string
}

// Lacks are the columns that choosing plants needs, with the plants that leave
// them empty; those that all plants fill are left out.
func Lacks(plants []Plant) []lack {
	var all []lack
	for _, l := range needs() {
		for i := range plants {
			if v, _ := plants[i].number(l.Column); math.IsNaN(v) {
				l.Plants = append(l.Plants, plants[i].VernacularName)
			}
		}
		if len(l.Plants) > 0 {
			all = append(all, l)
		}
	}
	return all
}

// needs are the columns of which an empty cell keeps a plant off a list.
func needs() []lack {
	return []lack{
		{Column: "sun_min_h"}, {Column: "wet_h"}, {Column: "dry_d"}, {Column: "spread_cm"},
		{Column: "pond_mm", Where: "in the bottom and on the slope, where water stands"}, {Column: "lowest_c", Where: "where the weather has temperatures"},
	}
}

// checker collects what is wrong. place fills in where a cell stands; skip
// passes over cells that have a fault already or no column.
type checker struct {
	columns          []column
	place            func(i int, column, value string) table.Fault
	skip             func(i int, column string) bool
	faults, warnings table.Faults
	quiet            bool // nobody wants the warnings
}

func (c *checker) run(plants []Plant) {
	names := columnNames(c.columns)
	for i := range plants {
		p := &plants[i]
		for _, col := range c.columns {
			switch col.Kind {
			case numberColumn:
				c.number(i, p, col)
			case manyColumn, tagsColumn:
				c.list(i, p, col, names)
			case monthColumn: // with the other month, below
			default:
				c.text(i, p, col)
			}
		}
		c.months(i, p)
		c.together(i, p)
	}
	c.duplicates(plants)
}

func (c *checker) fault(i int, column, value, want string) {
	if c.skip != nil && c.skip(i, column) {
		return
	}
	f := c.place(i, column, value)
	f.Want = want
	c.faults = append(c.faults, f)
}

func (c *checker) warn(i int, column, value, want string) {
	if c.quiet || c.skip != nil && c.skip(i, column) {
		return
	}
	f := c.place(i, column, value)
	f.Want = want
	c.warnings = append(c.warnings, f)
}

func (c *checker) number(i int, p *Plant, col column) {
	v, _ := p.number(col.Name)
	switch {
	case math.IsNaN(v):
		if col.Name == "spread_cm" {
			c.warn(i, col.Name, "", "cannot be placed on a list until its spread is known")
		}
	case !(v >= col.Low && v <= col.High) || col.Above && v == col.Low:
		c.fault(i, col.Name, formatNumber(v), col.wantBounds())
	case (col.Name == "spread_cm" || col.Name == "height_cm") && v < 3:
		c.warn(i, col.Name, formatNumber(v), "very small for a number of centimetres; is it in metres or feet?")
	}
}

func (c *checker) text(i int, p *Plant, col column) {
	s := p.text(col.Name)
	switch {
	case strings.TrimSpace(s) == "":
		if col.Filled {
			c.fault(i, col.Name, s, "the cell is empty: want the "+col.Meaning)
		} else if s != "" {
			c.warn(i, col.Name, s, "only blank space stands here")
		}
	case table.WrongText(s) != "":
		c.fault(i, col.Name, s, table.WrongText(s))
	case utf8.RuneCountInString(s) > longestText:
		c.fault(i, col.Name, s, fmt.Sprintf("want at most %d characters", longestText))
	case col.Kind == identColumn && !isIdent(s):
		c.fault(i, col.Name, s, wantIdent(s))
	case col.Kind == choiceColumn && !slices.Contains(valueNames(col.Choices), s):
		names := valueNames(col.Choices)
		c.fault(i, col.Name, s, table.OrMeant("want one of "+strings.Join(names, ", "), s, names))
	case col.Kind == textColumn && col.Name != "notes" && strings.TrimSpace(s) != s:
		c.warn(i, col.Name, s, "blank space stands around the text")
	}
}

// isIdent tells whether s is at most 100 of a-z and 0-9, with single hyphens between.
func isIdent(s string) bool {
	if s == "" || len(s) > 100 || s[0] == '-' || s[len(s)-1] == '-' || strings.Contains(s, "--") {
		return false
	}
	return strings.IndexFunc(s, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-')
	}) < 0
}

// IDFor makes an id of a name: "Marsh Lanternwort" gives "marsh-lanternwort".
// It is empty if the name has no letter a to z and no digit.
func IDFor(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	})
	s := strings.Join(words, "-")
	return strings.TrimRight(s[:min(len(s), 100)], "-")
}

func wantIdent(s string) string {
	const want = "want lower case letters a to z, digits and single hyphens"
	if id := IDFor(s); id != "" {
		return want + ", such as " + id
	}
	return want
}

func (c *checker) list(i int, p *Plant, col column, columnNames []string) {
	values := p.list(col.Name)
	names := valueNames(col.Choices)
	want := "want any of " + strings.Join(names, ", ")
	if col.Name == "assumed" {
		names, want = columnNames, "want names of columns"
	}
	if len(strings.Join(values, "|")) > longestText {
		c.fault(i, col.Name, "", fmt.Sprintf("want at most %d characters", longestText))
		return
	}
	for k, v := range values {
		switch {
		case col.Kind == manyColumn && !slices.Contains(names, v):
			c.fault(i, col.Name, v, table.OrMeant(want, v, names))
		case col.Kind == tagsColumn && !isTag(v):
			c.fault(i, col.Name, v, "want words of letters, digits, spaces and . - _ ' beginning with a letter, with | between them")
		case slices.Contains(values[:k], v):
			c.fault(i, col.Name, v, "stands there twice: want it once")
		}
	}
	if col.Name == "toxic" && len(values) > 1 && slices.Contains(values, harmless) {
		c.fault(i, col.Name, strings.Join(values, "|"), "want none alone, or those it harms without none")
	}
}

// isTag tells whether s can stand in a list and cannot be taken for a formula.
func isTag(s string) bool {
	if s == "" || strings.TrimSpace(s) != s || utf8.RuneCountInString(s) > longestWord || !utf8.ValidString(s) {
		return false
	}
	if !unicode.IsLetter(table.FirstRune(s)) {
		return false
	}
	return strings.IndexFunc(s, func(r rune) bool {
		return !(unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsDigit(r) || strings.ContainsRune(" .-_'’", r))
	}) < 0
}

func (c *checker) months(i int, p *Plant) {
	for _, m := range []struct {
		column string
		is     int
	}{{"flower_from", p.FlowerFrom}, {"flower_to", p.FlowerTo}} {
		if m.is < 0 || m.is > 12 {
			c.fault(i, m.column, strconv.Itoa(m.is), "want a month from 1 to 12")
		}
	}
	switch {
	case p.FlowerFrom != 0 && p.FlowerTo == 0:
		c.fault(i, "flower_to", "", "want the last month of bloom, since flower_from tells the first")
	case p.FlowerFrom == 0 && p.FlowerTo != 0:
		c.fault(i, "flower_from", "", "want the first month of bloom, since flower_to tells the last")
	case p.FlowerFrom != 0 && p.Form == "fern-like":
		c.warn(i, "flower_from", strconv.Itoa(p.FlowerFrom), "ferns have no bloom")
	}
}

// together checks values of one plant against each other. A comparison with
// an unknown value is false.
func (c *checker) together(i int, p *Plant) {
	if p.SunMinH > p.SunMaxH && p.SunMinH <= 24 && p.SunMaxH >= 0 {
		c.fault(i, "sun_max_h", formatNumber(p.SunMaxH), "want at least sun_min_h, which is "+formatNumber(p.SunMinH))
	}
	if p.WetH == 0 && p.PondMM > 0 {
		c.fault(i, "pond_mm", formatNumber(p.PondMM), "expected 0, since wet_h says it tolerates no standing water")
	}
	if p.PondMM > 10*p.HeightCM {
		c.warn(i, "pond_mm", formatNumber(p.PondMM), "deeper than the plant is high: it would stand under water")
	}
	if p.SpreadCM > 20*p.HeightCM && p.Form != "groundcover" && p.Form != "climber" {
		c.warn(i, "spread_cm", formatNumber(p.SpreadCM), "more than 20 times its height")
	}
	for _, name := range p.Assumed {
		if v, ok := p.number(name); ok && math.IsNaN(v) {
			c.warn(i, "assumed", name, "this column is empty, so nothing in it is assumed")
		}
	}
}

func (c *checker) duplicates(plants []Plant) {
	ids := make(map[string]int, len(plants))
	names := make(map[string]int, len(plants))
	for i := range plants {
		p := &plants[i]
		if first, ok := ids[p.ID]; ok && p.ID != "" {
			c.fault(i, "id", p.ID, "this id stands already"+onLine(plants[first].Line)+": want one that no other row has")
		} else {
			ids[p.ID] = i
		}
		name := strings.ToLower(strings.TrimSpace(p.VernacularName))
		if first, ok := names[name]; ok && name != "" {
			c.warn(i, "vernacularName", p.VernacularName, "this name stands already"+onLine(plants[first].Line))
		} else {
			names[name] = i
		}
	}
}

func onLine(line int) string {
	if line <= 0 {
		return " in another row"
	}
	return " on line " + strconv.Itoa(line)
}
