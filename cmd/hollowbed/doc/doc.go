// Package doc shows results. A result is a list of blocks, made once; each
// paper has one function that shows any list: Terminal, HTML (the printed
// report), JSON (the local page, whose blocks.js draws it) and CSV (one table).
//
// To convert a result of cmd/hollowbed/report:
//
//  1. Its builder (NewZones, say) makes the struct that --json prints, and puts
//     the blocks into its field Blocks (json:"-"). Word them there, from the
//     figures of zones and plants themselves, in the garden's units. A text
//     that stands in two papers today is worded once; where papers say
//     different things, keep what was computed, and the terminal's words.
//  2. Begin with opening (title, garden, record). What only a terminal needs,
//     what to type next and empty lines, is a Line: other papers leave it out.
//  3. The command prints Brief(w, d.Blocks), or Terminal where --all was given.
//     The answer stands in the first three lines, and in short all of it, but for
//     what can hurt somebody, in 24 lines of 80 columns: a Fold holds the rest.
//  4. In the report's templates put {{blocks "zones" .Blocks}} in place
//     of the whole section, and delete the functions that only it used. A
//     figure's mark "how we know" is the field Know of its block, column or fact.
//  5. On the page send JSON(d.Blocks) in place of the Screen type, show it with
//     blocks(...) of blocks.js, and delete the Screen type and its script.
//  6. CSV is another Table whose cells are plain figures in SI units.
//
// A new kind of block, or a new field, has to be needed by two results. Names
// from files stand in blocks as they are: each paper makes them harmless.
package doc

import (
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Block is one part of a document: one of the types below.
type Block interface {
	kind() string
	plain() Block // with nothing in it that could disturb a paper
}

// Heading begins a section, or a part of one.
type Heading string

// Line stands on a terminal alone: an empty line, what a garden is called, what
// to type next. It is broken only where the paper is too narrow for it.
type Line string

// Text is a sentence or a few.
type Text struct {
	Lead  string `json:"lead,omitempty"` // what it is about: "Handbook"; one that ends in a comma gets no colon
	Words string `json:"words"`
	Head  bool   `json:"head,omitempty"`  // the lead is a heading, which a terminal prints in capitals
	Whole bool   `json:"-"`               // a terminal breaks it as it breaks a Line
	In    int    `json:"-"`               // how far a terminal indents the first line
	Hang  int    `json:"-"`               // how far a terminal indents what follows the first line
	Level string `json:"level,omitempty"` // of the risk it tells, for the page to tint
	More  string `json:"-"`               // what to type next: a terminal adds it
	Know  string `json:"-"`               // keys of "how we know", apart by blanks
}

// List is some texts under a title; nothing at all where there are none.
type List struct {
	Title string   `json:"title,omitempty"`
	Items []string `json:"items"`
	Bare  bool     `json:"-"`              // a terminal sets no dash before an item
	Run   bool     `json:"-"`              // a terminal sets all in one sentence
	Mind  bool     `json:"mind,omitempty"` // what can hurt somebody
	Aside bool     `json:"-"`              // the printed report has it among its notes (Asides)
}

// Fold is what a terminal shows in short, unless all is asked for. Every other
// paper has it in full, but for the printed report where it is of the Screen.
type Fold struct {
	Short, Full []Block
	Screen      bool
}

// Rest folds blocks away.
func Rest(blocks ...Block) Fold { return Fold{Full: blocks} }

// Screen keeps blocks from the printed report.
func Screen(blocks ...Block) Fold { return Fold{Short: blocks, Full: blocks, Screen: true} }

// Cut is a list of which the short form has some items, every warning among them,
// and counts the others.
func (l List) Cut(most int) Block {
	short := l
	short.Items = nil
	for i, s := range l.Items {
		if i < most || strings.HasPrefix(s, "warning: ") {
			short.Items = append(short.Items, s)
		}
	}
	more := len(l.Items) - len(short.Items)
	if more == 0 || most > 0 && more == 1 {
		return l
	}
	if short.Items = append(short.Items, fmt.Sprintf("%d more: --all", more)); len(short.Items) == 1 {
		short = List{Items: []string{fmt.Sprintf("%s: %d (--all)", l.Title, more)}, Bare: true}
	}
	return Fold{Short: []Block{short}, Full: []Block{l}}
}

// Cut is a table of which the short form has some rows and counts the others.
func (t Table) Cut(most int, what string) Block {
	more := len(t.Rows) - most
	if more <= 1 {
		return t
	}
	short := t
	short.Rows = t.Rows[:most]
	return Fold{Short: []Block{short, Line(fmt.Sprintf("and %d more %s: --all", more, what))}, Full: []Block{t}}
}

// unfold puts blocks in the place of folds. In short, what can hurt somebody is
// named and no more: the first sentence of each item.
func unfold(blocks []Block, short bool) []Block {
	var out []Block
	for _, b := range blocks {
		switch b := b.(type) {
		case Fold:
			part := b.Full
			if short {
				part = b.Short
			}
			out = append(out, unfold(part, short)...)
		case List:
			if b.Mind && short {
				b.Items = slices.Clone(b.Items)
				for i, s := range b.Items {
					b.Items[i], _ = First(s)
				}
			}
			out = append(out, b)
		default:
			out = append(out, b)
		}
	}
	return out
}

// First is the first sentence of a text, and the rest. Whom it is said of, before a
// colon, is never cut off from what is said, nor is a name at its "St.".
func First(s string) (first, rest string) {
	for at := max(0, strings.Index(s, ": ")); ; {
		n := strings.Index(s[at:], ". ")
		if n < 0 {
			return s, ""
		}
		at += n
		word := s[strings.LastIndexAny(s[:at], " (")+1 : at]
		if r, _ := utf8.DecodeRuneInString(word); len(word) > 3 || !unicode.IsUpper(r) {
			return s[:at+1], s[at+2:]
		}
		at++
	}
}

// Facts are names with what stands for them.
type Facts []Fact

// Fact is one name with what stands for it, its unit included.
type Fact struct {
	Label string `json:"label"`
	Value string `json:"value"`
	Note  string `json:"note,omitempty"` // for papers that have more room than a terminal
	Know  string `json:"-"`
}

// Table is a table. The first column names the rows.
type Table struct {
	Caption string   `json:"caption"` // a terminal prints none
	Columns []Column `json:"columns"`
	Rows    [][]Cell `json:"rows"`
	In      bool     `json:"-"` // a terminal indents it
	Know    string   `json:"know,omitempty"`
	// Prose is how a terminal prints a row of more than a line holds: any, or
	// where narrow is not 0 one on paper of fewer columns.
	Prose  func(w io.Writer, row []string) `json:"-"`
	Narrow int                             `json:"-"`
}

// Column is the head of a column.
type Column struct {
	Head   string `json:"head"`
	Right  bool   `json:"right,omitempty"` // figures to be compared down the column
	Wide   bool   `json:"wide,omitempty"`  // a terminal has no room for it
	Screen bool   `json:"-"`               // the printed report has none
	Bar    int    `json:"-"`               // how many characters wide a terminal draws the bars; 0: it draws none
	Most   int    `json:"-"`               // how many characters wide it is at most in a terminal; 0: as its words are
	Know   string `json:"know,omitempty"`  // the page tints bars by it
	Under  bool   `json:"under,omitempty"` // long words, which the page sets beneath the rest of the row
}

// Cell is what stands in a row and a column. A row whose first cell is empty
// belongs to the one above it.
type Cell struct {
	Words string `json:"words"`
	Latin string `json:"latin,omitempty"` // a plant's name in Latin
	ID    string `json:"id,omitempty"`    // of a plant, for the page to show
	Stake string `json:"stake,omitempty"` // of one that stands
	Level string `json:"level,omitempty"` // of a risk, for the page to tint
	Look  string `json:"look,omitempty"`  // how it came out, for the eye: ok, fails, unknown
	Bar   *bar   `json:"bar,omitempty"`
}

// bar is a figure that runs from mild to hard within its row, as parts of the
// largest of its column, 0 to 1.
type bar struct {
	Mild float64 `json:"mild"`
	Hard float64 `json:"hard"`
}

// NewBar draws figures as parts of a whole; nil where there is none to draw.
func NewBar(mild, hard, whole float64) *bar {
	if !(whole > 0) || !(hard >= 0) {
		return nil
	}
	part := func(v float64) float64 { return max(0, min(1, v/whole)) }
	return &bar{Mild: part(min(mild, hard)), Hard: part(hard)}
}

// Apart sets an empty line before a list, unless the list is empty too.
func Apart(l List) []Block {
	if len(l.Items) == 0 {
		return nil
	}
	return []Block{Line(""), l}
}

// Cells are cells of words alone.
func Cells(words ...string) []Cell {
	row := make([]Cell, len(words))
	for i, s := range words {
		row[i].Words = s
	}
	return row
}

// ready are blocks as papers show them: unfolded, harmless, and without empty lists.
func ready(blocks []Block) []Block {
	var out []Block
	for _, b := range unfold(blocks, false) {
		if l, list := b.(List); !list || len(l.Items) > 0 {
			out = append(out, b.plain())
		}
	}
	return out
}

// printed are blocks without what the printed report leaves out.
func printed(blocks []Block) []Block {
	var out []Block
	for _, b := range blocks {
		switch b := b.(type) {
		case Fold:
			if !b.Screen {
				out = append(out, printed(b.Full)...)
			}
		case Table:
			out = append(out, b.printed())
		default:
			out = append(out, b)
		}
	}
	return out
}

// printed is a table without the columns that the printed report leaves out.
func (t Table) printed() Table {
	all := t.Columns
	t.Columns = slices.DeleteFunc(slices.Clone(all), func(c Column) bool { return c.Screen })
	rows := make([][]Cell, len(t.Rows))
	for i, row := range t.Rows {
		for k, c := range row {
			if !all[k].Screen {
				rows[i] = append(rows[i], c)
			}
		}
	}
	t.Rows = rows
	return t
}

// Asides are the lists among blocks that the printed report has in its notes;
// what can hurt somebody it has before the work.
func Asides(blocks []Block) []Block {
	var out []Block
	for _, b := range ready(blocks) {
		if l, list := b.(List); list && l.Aside && !l.Mind {
			l.Aside = false
			out = append(out, l)
		}
	}
	return out
}

// Picture is a drawing with what stands below it. A terminal prints the same
// figures as a table, where it has one; so does the page, which gets the drawing
// from Src.
type Picture struct {
	ID    string        `json:"-"`
	Name  string        `json:"name"`
	Below string        `json:"below,omitempty"`
	Know  string        `json:"-"`
	SVG   template.HTML `json:"-"` // as draw writes it, with every text in it escaped
	Src   string        `json:"src"`
	Table *Table        `json:"table,omitempty"`
}

func (Heading) kind() string { return "heading" }
func (Line) kind() string    { return "line" }
func (Text) kind() string    { return "text" }
func (List) kind() string    { return "list" }
func (Facts) kind() string   { return "facts" }
func (Table) kind() string   { return "table" }
func (Picture) kind() string { return "picture" }
func (Fold) kind() string    { return "fold" }

func (f Fold) plain() Block { return f }

func (h Heading) plain() Block { return Heading(Plain(string(h))) }
func (l Line) plain() Block    { return Line(Plain(string(l))) }

func (p Picture) plain() Block {
	p.Below = Plain(p.Below)
	if p.Table != nil {
		t := p.Table.plain().(Table)
		p.Table = &t
	}
	return p
}

func (t Text) plain() Block {
	t.Lead, t.Words = Plain(t.Lead), Plain(t.Words)
	return t
}

func (l List) plain() Block {
	items := make([]string, len(l.Items))
	for i, s := range l.Items {
		items[i] = Plain(s)
	}
	l.Title, l.Items = Plain(l.Title), items
	return l
}

func (f Facts) plain() Block {
	out := make(Facts, len(f))
	for i, fact := range f {
		out[i] = Fact{Plain(fact.Label), Plain(fact.Value), Plain(fact.Note), fact.Know}
	}
	return out
}

func (t Table) plain() Block {
	columns, rows := make([]Column, len(t.Columns)), make([][]Cell, len(t.Rows))
	for i, c := range t.Columns {
		c.Head = Plain(c.Head)
		columns[i] = c
	}
	for i, row := range t.Rows {
		for _, c := range row {
			c.Words, c.Latin = Plain(c.Words), Plain(c.Latin)
			rows[i] = append(rows[i], c)
		}
	}
	t.Caption, t.Columns, t.Rows = Plain(t.Caption), columns, rows
	return t
}

// Plain makes text from a file safe for a terminal: control characters, which
// could move the cursor or hide words, become a mark that shows.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\u2028' || r == '\u2029':
			return ' '
		case Disturbs(r):
			return '\ufffd'
		}
		return r
	}, s)
}

// Disturbs tells the characters that control a terminal or the direction of
// text; the joiners that some scripts need do not.
func Disturbs(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && r != '\u200d' && r != '\u200c'
}
