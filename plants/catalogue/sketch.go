package catalogue

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"hollowbed/zones/table"
)

// Sketch drafts a map, in YAML that ReadMap reads, from a table's columns and what stands
// in them. What classes are worth is left to a person.
func Sketch(t *table.Table) string {
	k := sketcher{t: t, used: map[int]bool{}}
	var lines []string
	for _, col := range tableColumns() {
		if line := k.line(col); line != "" {
			lines = append(lines, "  "+line)
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# A draft, made of the columns and values of %s. Look at every line: fill in\n# what classes are worth (a number, or \"\" for not known) and what that rests on.\nsource: %s\n", strconv.QuoteToASCII(t.Name), strconv.QuoteToASCII(t.Name+" (say where it comes from)"))
	if t.Sheet != "" {
		fmt.Fprintf(&b, "sheet: %s", strconv.QuoteToASCII(t.Sheet))
		if len(t.OtherSheets) > 0 {
			fmt.Fprintf(&b, " # the others: %s", quoted(t.OtherSheets))
		}
		b.WriteByte('\n')
	}
	if missing := k.missing(); len(missing) > 0 {
		fmt.Fprintf(&b, "missing: [%s]\n", quoted(missing))
	}
	if i := k.byName(); i >= 0 && len(k.values(i)) < k.filled(i) && k.filled(i) == len(t.Rows) {
		fmt.Fprintf(&b, "group: %s\n", strconv.QuoteToASCII(t.Header[i]))
	}
	fmt.Fprintf(&b, "columns:\n%s\n", strings.Join(lines, "\n"))
	if tags := k.tags(); len(tags) > 0 {
		fmt.Fprintf(&b, "tags: [%s] # words that a search finds; leave out what nobody looks for\n", quoted(tags))
	}
	for i, h := range t.Header {
		if values := k.values(i); !k.used[i] {
			fmt.Fprintf(&b, "# not used: %s: %s\n", strconv.QuoteToASCII(h), quoted(values[:min(sketchShown, len(values))]))
		}
	}
	return b.String()
}

const (
	sketchShown   = 5  // values of a column that is not used
	sketchClasses = 30 // values of a column that is one of classes
)

type sketcher struct {
	t    *table.Table
	used map[int]bool
}

// sketchNames are the names that other tables have for our columns, as letters
// alone, the likeliest first.
func sketchNames(column string) []string {
	return strings.Fields(map[string]string{
		"id": "id symbol code plantid", "scientificName": "scientificname botanicalname latinname scientific botanical latin taxon species",
		"vernacularName": "vernacularname commonname common plantname name plant", "form": "form planttype growthhabit habit type",
		"zones": "zones zone raingardenzone placement place", "sun_min_h": "sunminh sun light exposure shadetolerance", "sun_max_h": "sunmaxh",
		"wet_h": "weth floodtolerance flooding anaerobictolerance wetness moisture", "pond_mm": "pondmm pondingdepth waterdepth", "dry_d": "dryd droughttolerance drought",
		"lowest_c": "lowestc temperatureminimum minimumtemperature mintemp hardy", "root_cm": "rootcm rootdepth rootdepthminimum roots",
		"height_cm": "heightcm heightmature height tall", "spread_cm": "spreadcm spread width wide spacing", "flower_from": "flowerfrom bloomtime bloomperiod bloom flowering",
		"flower_to": "flowerto bloomtime bloomperiod bloom flowering", "flower_colour": "flowercolour flowercolor bloomcolor bloomcolour colour color", "evergreen": "evergreen leafretention foliage",
		"native_to": "nativeto native states region regions origin", "spreads": "spreads vegetativespreadrate runs", "toxic": "toxic toxicity poisonous",
		"price": "price cost", "notes": "notes comments description remarks", "source": "source reference",
	}[column])
}

// letters are the letters of a name, small.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsLetter(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}

// find is the column of the table that looks like one of ours, names of plants in
// full; -1 if none does.
func (k *sketcher) find(column string) int {
	ways := []func(header, name string) bool{
		func(h, n string) bool { return h == n },
		func(h, n string) bool { return strings.HasPrefix(h, n) && len(n) > 3 },
	}
	if slices.Contains([]string{"id", "scientificName", "vernacularName"}, column) {
		ways = ways[:1]
	}
	for _, same := range ways {
		for _, name := range sketchNames(column) {
			for i, h := range k.t.Header {
				if h != "" && same(letters(h), name) {
					return i
				}
			}
		}
	}
	return -1
}

// byName is the column that names the plants.
func (k *sketcher) byName() int {
	for _, column := range []string{"scientificName", "vernacularName", "id"} {
		if i := k.find(column); i >= 0 {
			return i
		}
	}
	return slices.IndexFunc(k.t.Header, func(h string) bool { return h != "" })
}

// values are the different texts of a column but for those that say nothing.
func (k *sketcher) values(i int) []string {
	var all []string
	seen := map[string]bool{}
	for _, row := range k.t.Rows {
		if s := strings.TrimSpace(row[i]); s != "" && !saysNothing(s) && !seen[s] {
			seen[s] = true
			all = append(all, s)
		}
	}
	return all
}

func (k *sketcher) filled(i int) int {
	n := 0
	for _, row := range k.t.Rows {
		if s := strings.TrimSpace(row[i]); s != "" && !saysNothing(s) {
			n++
		}
	}
	return n
}

// saysNothing knows the words of tables for what is not known.
func saysNothing(s string) bool {
	return slices.Contains([]string{"NA", "N/A", "n/a", "na", "-", "--", "?", "-9999", "unknown", "Unknown", "UNKNOWN", "TBD"}, s)
}

func (k *sketcher) missing() []string {
	var all []string
	for _, row := range k.t.Rows {
		for _, s := range row {
			if s = strings.TrimSpace(s); saysNothing(s) && !slices.Contains(all, s) {
				all = append(all, s)
			}
		}
	}
	return all
}

// line is the line of the map for one of our columns, "" for none.
func (k *sketcher) line(col column) string {
	i := k.find(col.Name)
	if i < 0 && col.Filled {
		i = k.byName()
	}
	if i < 0 || col.Name == "assumed" {
		return ""
	}
	k.used[i] = true
	from, values := "from: "+strconv.QuoteToASCII(k.t.Header[i]), k.values(i)
	switch col.Kind {
	case numberColumn:
		return k.number(col, from, k.t.Header[i], values)
	case monthColumn:
		if slices.ContainsFunc(values, func(s string) bool { _, want := month(s, false); return want != "" }) {
			return classes(col.Name, from, values)
		}
	case choiceColumn, manyColumn:
		sep := separatorIn(values)
		return translated(col, from, sep, parts(values, sep))
	case tagsColumn:
		if sep := separatorIn(values); sep != "" {
			from += ", separator: " + strconv.QuoteToASCII(sep)
		}
	}
	return col.Name + ": {" + from + "}"
}

// number drafts a column of numbers, or of classes that stand for numbers.
func (k *sketcher) number(col column, from, header string, values []string) string {
	ranges, bare := false, false
	read := reader{f: carefully(col), col: col, decimal: k.t.Decimal, amounts: newAmounts()}
	for _, s := range values {
		if _, want := read.number(s); want != "" {
			return classes(col.Name, from, values)
		}
		_, _, r := read.amounts.cut(s)
		_, unit := cutUnit(s)
		ranges, bare = ranges || r, bare || unit == ""
	}
	if col.Above && slices.Contains(values, "0") {
		from += `, missing: ["0"]`
	}
	if ranges {
		from += ", take: " + read.f.Take
	}
	_, named := cutUnit("1 " + strings.TrimRight(header[strings.LastIndexAny(header, " _.(-")+1:], ")"))
	for _, s := range scales(col) {
		if bare && s.unit == named {
			return col.Name + ": {" + from + ", unit: " + s.unit + "}"
		}
	}
	if bare && col.Unit != "" && len(values) > 0 {
		return col.Name + ": {" + from + "} # in " + col.Unit + "? else add unit: " + strings.Join(unitsFor(col), ", ")
	}
	return col.Name + ": {" + from + "}"
}

// carefully takes the careful end of a range: the larger of sizes and of what a
// plant needs (sun, warmth), the smaller of what it bears.
func carefully(col column) from {
	if slices.Contains([]string{"height_cm", "spread_cm", "price", "sun_min_h", "lowest_c"}, col.Name) {
		return from{Take: "larger"}
	}
	return from{Take: "smaller"}
}

// classes drafts classes without what they are worth; text with too many is left out.
func classes(name, from string, values []string) string {
	if len(values) > sketchClasses {
		return fmt.Sprintf("# %s: {%s} has %d different texts: such as %s", name, from, len(values), quoted(values[:sketchShown]))
	}
	var all []string
	for _, v := range values {
		all = append(all, strconv.QuoteToASCII(v)+`: ""`)
	}
	return fmt.Sprintf("%s: {%s, basis: \"assumed, no source\", classes: {%s}}", name, from, strings.Join(all, ", "))
}

// translated drafts words in ours, where they are alike.
func translated(col column, from, sep string, values []string) string {
	if col.Kind == choiceColumn {
		sep = ""
	} else if sep != "" {
		from += ", separator: " + strconv.QuoteToASCII(sep)
	}
	if len(values) > sketchClasses {
		return fmt.Sprintf("# %s: {%s} has %d different texts: such as %s", col.Name, from, len(values), quoted(values[:sketchShown]))
	}
	var all []string
	for _, v := range values {
		ours := ""
		for _, c := range col.Choices {
			if letters(c.Name) == letters(v) && c.Name != harmless { // of harm None mostly means not known
				ours = c.Name
			}
		}
		all = append(all, strconv.QuoteToASCII(v)+": "+strconv.Quote(ours))
	}
	return fmt.Sprintf("%s: {%s, otherwise: \"\", translate: {%s}} # ours: %s", col.Name, from, strings.Join(append(all, `"(none)": ""`), ", "), strings.Join(valueNames(col.Choices), ", "))
}

// tags are the columns not used otherwise whose few words say something of plants.
func (k *sketcher) tags() (all []string) {
	for i, h := range k.t.Header {
		values := k.values(i)
		words := func(s string) bool { return unicode.IsLetter(table.FirstRune(s)) }
		if k.used[i] || tellsHarm(h) || len(values) == 0 || len(values) > sketchClasses || !slices.ContainsFunc(values, words) || tagOf(h, "yes") == "" {
			continue
		}
		k.used[i] = true
		all = append(all, h)
	}
	return all
}

// separatorIn is what parts several values in cells, "" for nothing.
func separatorIn(values []string) string {
	for _, sep := range []string{"|", ";", "/", ","} {
		if slices.ContainsFunc(values, func(s string) bool { return strings.Contains(s, sep) }) {
			return sep
		}
	}
	return ""
}

func parts(values []string, sep string) []string {
	if sep == "" {
		return values
	}
	var all []string
	for _, v := range values {
		for part := range strings.SplitSeq(v, sep) {
			if part = strings.TrimSpace(part); part != "" && !slices.Contains(all, part) {
				all = append(all, part)
			}
		}
	}
	return all
}

func quoted(values []string) string {
	var all []string
	for _, v := range values {
		all = append(all, strconv.QuoteToASCII(v))
	}
	return strings.Join(all, ", ")
}
