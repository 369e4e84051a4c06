package zones

import (
	"fmt"
	"strings"
	"time"
)

// A Key is one key of the garden file. Decoder, template, page, editing, completion and
// data/GARDEN-FILE.md follow from the table that Keys returns.
type Key struct {
	Path     string // "roof.area"; "roof.also[].area" in each entry of a list
	Required bool
	Default  string   // what holds if it is left out, as a person writes it; "" for nothing
	Choices  []string // the words that it may be; nil for any
	Label    string   // on the page; "" for a key that the page does not show
	Hint     string   // beside it there

	kind   kind
	of     quantity                 // of a kindQuantity
	lo, hi float64                  // least and most, in SI
	want   string                   // what it is, or what to write, for messages
	lead   string                   // template: comment lines before it
	sample string                   // template: the value, answers in braces; more lines for a list
	note   string                   // template: what is said behind it
	meant  func(text string) string // of a kindChoice: asks back for what was said in other words
}

// kind says how a key is written.
type kind string

const (
	kindGroup    kind = "keys below it"
	kindQuantity kind = "figure with its unit"
	kindNumber   kind = "number"
	kindCount    kind = "whole number"
	kindChoice   kind = "one of"
	kindWords    kind = "list of words"
	kindText     kind = "text"
	kindYes      kind = "yes or no"
	kindSlope    kind = "run to rise"
	kindMonth    kind = "month"
	kindPlace    kind = "place: along, across"
	kindPlaces   kind = "list of places"
	kindByZone   kind = "one for all, or one for each zone"
	kindList     kind = "list of entries"
	kindTable    kind = "names with values"
	kindFigures  kind = "list of figures"
)

// FieldKind is how the page lets a key be filled in.
func (k Key) FieldKind() string {
	switch k.kind {
	case kindQuantity:
		return "quantity"
	case kindNumber, kindCount:
		return "number"
	case kindChoice, kindYes, kindMonth:
		return "choice"
	case kindWords:
		return "ids"
	}
	return "text"
}

// DefaultIn is the default in the units that are shown.
func (k Key) DefaultIn(u Units) string {
	_, unit, _ := strings.Cut(k.Default, " ")
	feet := unit == "ft" || unit == "in"
	if k.kind != kindQuantity || k.Default == "" || feet == (u == UnitsUS) {
		return k.Default
	}
	v, wrong := k.of.parse(k.Default)
	if wrong != "" {
		panic("default of " + k.Path + ": " + wrong)
	}
	return k.of.show(u, v)
}

func (k Key) must() Key { k.Required = true; return k }

func (k Key) or(text string) Key { k.Default = text; return k }

func (k Key) said(meant func(text string) string) Key { k.meant = meant; return k }

func (k Key) field(label, hint string) Key { k.Label, k.Hint = label, hint; return k }

func (k Key) line(sample, note string) Key { k.sample, k.note = sample, note; return k }

func (k Key) after(lead string) Key { k.lead = lead; return k }

func figure(path string, of quantity, lo, hi float64) Key {
	return Key{Path: path, kind: kindQuantity, of: of, lo: lo, hi: hi, want: of.wanted()}
}

// number is a bare number; what goes between "want" and its bounds.
func number(path, what string, lo, hi float64) Key {
	return Key{Path: path, kind: kindNumber, lo: lo, hi: hi, want: "want " + what + " from " + plain(lo) + " to " + plain(hi)}
}

func count(path, what string, lo, hi float64) Key {
	k := number(path, what, lo, hi)
	k.kind = kindCount
	return k
}

func choice(path string, words ...string) Key {
	return Key{Path: path, kind: kindChoice, Choices: words, want: "want one of: " + strings.Join(words, ", ")}
}

// other is a key of any other kind.
func other(path string, k kind, want string) Key {
	out := Key{Path: path, kind: k, want: want}
	switch k {
	case kindYes:
		out.Choices = []string{"yes", "no"}
	case kindMonth:
		out.Choices = monthNames()
	}
	return out
}

// text is a line of at most so many letters.
func text(path string, most float64, want string) Key {
	return Key{Path: path, kind: kindText, hi: most, want: want}
}

// A Section is the keys of one part of the garden file.
type Section struct {
	Name string // "bed"; "" for what every file begins with
	Note string
	Keys []Key // that take a value, in order
}

// Sections are the keys of the garden file by its parts.
func Sections() []Section {
	all := []Section{{}}
	for i, k := range Keys() {
		if i > 2 && !strings.ContainsAny(k.Path, ".[") { // after version, name and units
			all = append(all, Section{Name: k.Path})
		}
		s := &all[len(all)-1]
		switch {
		case k.kind != kindGroup:
			s.Keys = append(s.Keys, k)
		case k.Path == s.Name:
			s.Note = k.note
		}
	}
	return all
}

// Note is what a new garden file says behind the key.
func (k Key) Note() string { return k.note }

// Needed reports whether every garden file must have the key.
func (k Key) Needed() bool {
	return k.Required && (strings.HasPrefix(k.sample, "{") || !strings.Contains(k.Path, "."))
}

// Writing says how a key is written and between which bounds.
func (k Key) Writing() string {
	switch k.kind {
	case kindQuantity, kindByZone:
		least, most := k.of.show(UnitsUS, k.lo), k.of.show(UnitsUS, k.hi)
		metric := k.of.show(UnitsMetric, k.lo) + " to " + k.of.show(UnitsMetric, k.hi)
		if us := least + " to " + most; us != metric {
			return metric + ", or " + us
		}
		return metric
	case kindNumber, kindCount:
		return plain(k.lo) + " to " + plain(k.hi)
	case kindChoice, kindYes:
		return strings.Join(k.Choices, ", ")
	case kindText:
		return fmt.Sprintf("text, at most %d letters", int(k.hi))
	}
	if k.want == "" {
		return string(k.kind)
	}
	return strings.TrimPrefix(k.want, "want ")
}

// FigureSamples are figures with their units, one of each kind.
const FigureSamples = "12 ft, 2 ft 6 in, 150 mm, 620 sq ft, 0.5 in/h, 24 h, 5 %"

// keysByPath finds the rows of Keys.
func keysByPath() map[string]Key {
	out := map[string]Key{}
	for _, k := range Keys() {
		out[k.Path] = k
	}
	return out
}

// pathsOf are the keys of a kind.
func pathsOf(as kind) []string {
	var out []string
	for _, k := range Keys() {
		if k.kind == as {
			out = append(out, k.Path)
		}
	}
	return out
}

func monthNames() []string {
	var names []string
	for m := time.January; m <= time.December; m++ {
		names = append(names, m.String())
	}
	return names
}

// AssumedShown is what was left out of the file and taken as usual, "key: value".
func (g *Garden) AssumedShown() []string {
	keys := keysByPath()
	var out []string
	for _, a := range g.Assumed {
		path, value, _ := strings.Cut(a, ": ")
		if k := keys[anyEntry(path)]; k.Default == value {
			value = k.DefaultIn(g.Units)
		}
		out = append(out, path+": "+value)
	}
	return out
}
