package search

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/table"
)

// Like is a plant that others are compared with: "like blue skelver but shorter".
type Like struct {
	Name    string   // of the plant, or the stake of one that is planted
	Replace bool     // what could grow in its place: in its layer and no wider
	Than    []string // how they are to differ from it: "shorter"
	ID      string   // of the plant, where a caller knows the stake; else it is found by Name
	Column  int

	asWords *Query // the name read as words and conditions, if no plant has it
}

// comparatives are the words that say how a plant is to differ.
const comparatives = `shorter|lower|smaller|taller|higher|bigger|larger|narrower|slimmer|wider|broader|cheaper|hardier|drier|dryer|wetter|earlier|later`

// than is the field that a comparative is about, and whether it asks for less.
func than(word string) (field string, less bool) {
	switch strings.ToLower(word) {
	case "shorter", "lower", "smaller":
		return "height", true
	case "taller", "higher", "bigger", "larger":
		return "height", false
	case "narrower", "slimmer":
		return "spread", true
	case "wider", "broader":
		return "spread", false
	case "cheaper":
		return "price", true
	case "hardier":
		return "cold", true
	case "drier", "dryer":
		return "dry", false
	case "wetter":
		return "wet", false
	case "earlier":
		return "bloom", true
	}
	return "bloom", false
}

// likeLine is how a line begins that names a plant to compare with.
func likeLine() *regexp.Regexp {
	return regexp.MustCompile(`(?is)^\s*(?:(?:anything|something|plants?|those|more|ones?)\s+)?(?:(like|similar\s+to)|(?:what\s+(?:can|could|would|may)\s+)?(?:replace|(?:replacements?|substitutes?|alternatives?)\s+(?:for|to)))\s+([^\s].*)$`)
}

// readLike takes the plant to compare with from the beginning of the line, and
// what compares from the rest; both are blank to what reads on.
func (p *parser) readLike() {
	line := string(p.text)
	opened := likeLine().FindStringSubmatchIndex(line)
	if opened == nil {
		return
	}
	from := opened[4]
	like := &Like{Replace: opened[2] < 0, Column: 1 + utf8.RuneCountInString(line[:from])}
	name := line[from:]
	if quoted, _, ends := strings.Cut(strings.TrimPrefix(name, `"`), `"`); ends && name[0] == '"' {
		like.Name, from = quoted, from+len(quoted)+2
	} else {
		for _, at := range regexp.MustCompile(`(?i)\b((?:any|every)thing|all)\s+but\b|\s*,|\s+(?:but|only|except|without|not|with|that|which|`+comparatives+`)\b`).FindAllStringSubmatchIndex(name, -1) {
			if at[2] < 0 { // "anything but" turns round what follows
				name = name[:at[0]]
				break
			}
		}
		like.Name, from = strings.TrimRight(name, " ?"), from+len(name)
	}
	if like.Name = strings.TrimSpace(strings.ReplaceAll(like.Name, `"`, " ")); like.Name == "" {
		return
	}
	p.blank(line[:from])
	const lead = `(?:\b(?:but|only|and|or|a|bit|little|much|slightly|somewhat|also)\b[\s,]*)*`
	for _, at := range regexp.MustCompile(`(?i)^[\s,]*`+lead+`|`+lead+`\b(`+comparatives+`)\b[\s,]*(?:and\b)?`).FindAllStringSubmatchIndex(line[from:], -1) {
		begins, ends := utf8.RuneCountInString(line[:from+at[0]]), utf8.RuneCountInString(line[:from+at[1]])
		if at[2] >= 0 {
			word := line[from+at[2] : from+at[3]]
			if rest := strings.Fields(line[from+at[3]:]); len(rest) > 0 && strings.EqualFold(rest[0], "than") {
				continue // "shorter than 2 ft" is a limit
			}
			if len(p.faults) == 0 && turnsNext(string(p.text[:begins])+line[from+at[0]:from+at[2]]) {
				p.fault(utf8.RuneCountInString(line[:from+at[2]])+1, "query", word, "a word before it turns it round: expected another comparison, or a limit such as height<2ft")
			}
			like.Than = append(like.Than, strings.ToLower(word))
		}
		p.blanked(begins, ends)
	}
	p.tail = line[from:]
	p.query.Like = like
}

// turnsNext reports whether a text turns round what comes next, or may.
func turnsNext(text string) bool {
	text = regexp.MustCompile(`(?i)\b(?:a|bit|little|much|slightly|somewhat|also)\b`).ReplaceAllString(text, " ")
	if strings.TrimSpace(text) == "" {
		return false
	}
	read, err := parseWith(text+" evergreen", false)
	return err != nil || len(read.Conditions) > 0 && read.Conditions[len(read.Conditions)-1].Not
}

// readAsWords reads the name as words and conditions, unless the whole line says
// something else of harm than its parts ("like non, toxic").
func (l *Like) readAsWords(tail string, rest Query) {
	if l.Replace || len(l.Than) > 0 {
		return
	}
	whole, err := parseWith(l.Name+tail, false)
	if err != nil {
		return
	}
	name, err := parseWith(l.Name, false)
	if err == nil && slices.Equal(harmAsked(whole.Conditions), harmAsked(slices.Concat(name.Conditions, rest.Conditions))) {
		l.asWords = &name
	}
}

// harmAsked lists what conditions ask about harm and running wild.
func harmAsked(conditions []Condition) []string {
	var out []string
	for _, c := range conditions {
		if c.Field == "toxic" || c.Field == "spreads" {
			out = append(out, c.String())
		}
	}
	slices.Sort(out)
	return out
}

func (p *parser) blank(read string) { p.blanked(0, utf8.RuneCountInString(read)) }

func (p *parser) blanked(from, to int) {
	for i := from; i < to; i++ {
		p.text[i] = ' '
	}
}

// String writes what is compared with as Parse reads it.
func (l *Like) String() string {
	word := "like "
	if l.Replace {
		word = "replace "
	}
	s := word + `"` + l.Name + `"`
	if len(l.Than) > 0 {
		s += " but " + strings.Join(l.Than, " and ")
	}
	return s
}

// resolve finds the plant that a query compares with, and makes conditions of the
// differences. A "like" that names no plant is read as words.
func (x *Index) resolve(q *Query) (*catalogue.Plant, error) {
	l := q.Like
	name := l.Name
	if l.ID != "" {
		name = l.ID
	}
	fault := func(value, want string) error {
		return table.Faults{{File: "query", Line: 1, Column: l.Column, Name: "plant", Value: value, Want: want}}
	}
	bearers := catalogue.Bearers(x.plants, name)
	switch {
	case len(bearers) == 0 && l.asWords != nil:
		q.Like, q.Words, q.Conditions = nil, slices.Concat(l.asWords.Words, q.Words), slices.Concat(l.asWords.Conditions, q.Conditions)
		return nil, nil
	case len(bearers) == 0 && l.Replace:
		return nil, fault(l.Name, catalogue.OrNear("expected the stake of a plant that is planted, or the name of one in the table", x.plants, l.Name))
	case len(bearers) == 0:
		return nil, fault(l.Name, catalogue.OrNear("expected the name of a plant in the table", x.plants, l.Name))
	case len(bearers) > 1:
		return nil, fault(l.Name, "several plants have this name: expected one of "+catalogue.Which(bearers))
	}
	p := bearers[0]
	q.Conditions = slices.Clone(q.Conditions)
	for _, word := range l.Than {
		c, ok := differs(p, word)
		if !ok {
			return nil, fault(word, "the table does not say this of "+p.VernacularName+": expected another comparison")
		}
		q.Conditions = append(q.Conditions, c)
	}
	if l.Replace {
		q.Conditions = append(q.Conditions, layerOf(p)...)
	}
	return p, nil
}

// differs asks for plants that differ from one as a word says; false where not known.
func differs(p *catalogue.Plant, word string) (Condition, bool) {
	field, less := than(word)
	f, _ := fieldNamed(field)
	c := Condition{Field: field, Range: anything(), Typed: word}
	if field == "bloom" {
		from := p.FlowerFrom
		if from < 1 || from > 12 {
			return c, false
		}
		for m := 1; m <= 12; m++ { // begins before or after, in the half year on that side
			if apart := (m - from + 12) % 12; less && apart >= 6 || !less && apart >= 1 && apart < 6 {
				c.Values = append(c.Values, monthNames()[m-1])
			}
		}
		c.begins = true
		return c, true
	}
	x := f.column.of(p)
	if less {
		c.Range.Max, c.Range.MaxOpen = x, true
	} else {
		c.Range.Min, c.Range.MinOpen = x, true
	}
	return c, !math.IsNaN(x)
}

// layerFactor is how far heights of one layer may differ. Common practice, no source.
const layerFactor = 1.5

// layerOf asks for plants of the same layer, woody or not, about as high and no wider.
func layerOf(p *catalogue.Plant) []Condition {
	var out []Condition
	for _, forms := range [][]string{{"tree", "small tree"}, {"shrub"}, {"climber"}, {"forb", "grass-like", "fern-like", "bulb", "groundcover"}} {
		if slices.Contains(forms, p.Form) {
			out = append(out, Condition{Field: "form", Values: forms, Typed: "of its layer", quiet: true})
		}
	}
	if !math.IsNaN(p.HeightCM) {
		out = append(out, Condition{Field: "height", Range: Range{Min: p.HeightCM / layerFactor, Max: p.HeightCM * layerFactor}, Typed: "about as high", quiet: true})
	}
	if !math.IsNaN(p.SpreadCM) {
		out = append(out, Condition{Field: "spread", Range: Range{Min: math.Inf(-1), Max: p.SpreadCM}, Typed: "no wider", quiet: true})
	}
	return out
}

// alike is how like one plant is to another, 0 to 1, and in what they are the
// same or nearly so: the mean likeness over the traits that are known of the
// other, each 0 to 1; what is not known of the plant counts 0.
//
//	sizes and limits   1 - |a - b| / max(a, b)
//	months, colours    shared / those of either
//	form, leaves       1 if the same
//
// The mean over traits of unlike kinds is Gower's (1971, A general coefficient of
// similarity, Biometrics 27:857-871, from memory); he divides numbers by their
// range in the table, which one tree in it would make useless for forbs.
func alike(p, other *catalogue.Plant) (likeness float64, in []string) {
	sum, traits := 0.0, 0
	add := func(name string, likeness float64) {
		traits++
		if !math.IsNaN(likeness) {
			sum += likeness
			if likeness >= 0.75 {
				in = append(in, name)
			}
		}
	}
	for _, name := range []string{"form", "height", "spread", "bloom", "colour", "sun", "wet", "dry", "evergreen"} {
		f, _ := fieldNamed(name)
		switch {
		case f.kind == number && !math.IsNaN(f.column.of(other)):
			add(name, near(f.column.of(p), f.column.of(other)))
		case f.kind == hours && !math.IsNaN(other.SunMinH):
			add(name, near(p.SunMinH, other.SunMinH))
		case f.numeric():
		case len(labels(name, other)) > 0:
			add(name, shared(labels(name, p), labels(name, other)))
		}
	}
	if traits == 0 {
		return 0, nil
	}
	return sum / float64(traits), in
}

// near is how near two numbers are: 1 where they are the same.
func near(a, b float64) float64 {
	if a == b {
		return 1
	}
	return 1 - math.Abs(a-b)/max(math.Abs(a), math.Abs(b))
}

// shared is what two lists share, as a part of either; NaN where one has nothing.
func shared(a, b []string) float64 {
	if len(a) == 0 || len(b) == 0 {
		return math.NaN()
	}
	n := 0
	for _, s := range a {
		if slices.Contains(b, s) {
			n++
		}
	}
	return float64(n) / float64(len(a)+len(b)-n)
}

// likeness says in what a plant is like another.
func likeness(other *catalogue.Plant, in []string) Reason {
	text := fmt.Sprintf("like %s in little", other.VernacularName)
	if len(in) > 0 {
		text = fmt.Sprintf("like %s in %s", other.VernacularName, list(in))
	}
	return Reason{Kind: "like", Field: "like", Asked: other.ID, Text: text}
}
