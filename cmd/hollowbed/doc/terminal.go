package doc

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// Paper is a writer that knows how wide it is, in characters.
type Paper struct {
	io.Writer
	Columns int
}

// Brief prints blocks in short.
func Brief(w io.Writer, blocks []Block) { Terminal(w, unfold(blocks, true)) }

// Terminal prints blocks as text, one empty line at a time.
func Terminal(w io.Writer, blocks []Block) {
	apart := false
	for _, b := range ready(blocks) {
		if was := apart; b == Line("") {
			if apart = true; was {
				continue
			}
		} else {
			apart = false
		}
		switch b := b.(type) {
		case Heading:
			line(w, string(b))
		case Line:
			line(w, string(b))
		case Text:
			b.print(w)
		case List:
			b.print(w)
		case Facts:
			b.print(w)
		case Table:
			b.print(w)
		case Picture:
			if b.Table != nil {
				b.Table.print(w)
			}
		}
	}
}

func (t Text) print(w io.Writer) {
	lead := t.Lead
	if t.Head {
		lead = strings.ToUpper(lead)
	}
	if lead != "" && !strings.HasSuffix(lead, ",") {
		lead += ":"
	}
	if lead != "" {
		lead += " "
	}
	lead = strings.Repeat(" ", t.In) + lead
	if t.Whole {
		line(w, lead+t.Words)
	} else {
		Wrap(w, lead, strings.Repeat(" ", t.Hang), t.Words+" "+t.More)
	}
}

func (l List) print(w io.Writer) {
	if l.Run {
		Wrap(w, l.Title+": ", "  ", strings.Join(l.Items, "; ")+".")
		return
	}
	if l.Title != "" {
		line(w, l.Title+":")
	}
	first, indent := "  - ", "    "
	if l.Bare {
		first, indent = "", "  "
	}
	for _, s := range l.Items {
		Wrap(w, first, indent, s)
	}
}

func (f Facts) print(w io.Writer) {
	widest := 0
	for _, fact := range f {
		widest = max(widest, cols(fact.Label))
	}
	for _, fact := range f {
		Wrap(w, text.Pad(fact.Label, widest, ' ')+"  ", strings.Repeat(" ", widest+2), fact.Value)
	}
}

// print prints a table without lines; bars stand in a column of their own.
func (t Table) print(w io.Writer) {
	if t.Prose != nil && (t.Narrow == 0 || narrow(w, t.Narrow)) {
		for _, cells := range t.Rows {
			var words []string
			for _, c := range cells {
				words = append(words, c.Words)
			}
			t.Prose(w, words)
		}
		return
	}
	out := table.NewWriter()
	out.SetOutputMirror(w)
	style := table.StyleDefault
	style.Options = table.OptionsNoBordersAndSeparators
	style.Box.PaddingLeft, style.Box.PaddingRight = "", "  "
	style.Format.Header = text.FormatDefault
	out.SetStyle(style)
	var columns []table.ColumnConfig
	head := table.Row{}
	if t.In {
		head = table.Row{" "}
	}
	most := t.fit(width(w))
	for i, c := range t.Columns {
		if c.Wide {
			continue
		}
		head = append(head, c.Head)
		config := table.ColumnConfig{Number: len(head), WidthMax: most[i], WidthMaxEnforcer: text.WrapSoft}
		if c.Right {
			config.Align, config.AlignHeader = text.AlignRight, text.AlignRight
		}
		columns = append(columns, config)
		if c.Bar > 0 {
			head = append(head, "")
		}
	}
	out.SetColumnConfigs(columns)
	out.AppendHeader(head)
	for _, cells := range t.Rows {
		row := table.Row{}
		if t.In {
			row = table.Row{" "}
		}
		for i, c := range cells {
			if t.Columns[i].Wide {
				continue
			}
			row = append(row, c.Words)
			if n := t.Columns[i].Bar; n > 0 {
				row = append(row, c.Bar.draw(n))
			}
		}
		out.AppendRow(row)
	}
	out.SuppressTrailingSpaces()
	out.Render()
}

// fit is how wide each column may be, so that a table keeps to a width: the widest
// give way first, heads before cells, none below its longest word.
func (t Table) fit(width int) []int {
	n := len(t.Columns)
	most, cells, least, sum := make([]int, n), make([]int, n), make([]int, n), -2
	if t.In {
		sum = 1
	}
	for i, c := range t.Columns {
		if c.Wide {
			continue
		}
		for _, row := range t.Rows {
			cells[i] = max(cells[i], cols(row[i].Words))
			least[i] = max(least[i], longest(row[i].Words))
		}
		most[i], least[i] = max(cols(c.Head), cells[i]), max(longest(c.Head), least[i])
		cells[i] = max(cells[i], longest(c.Head))
		if c.Most > 0 {
			most[i] = min(most[i], c.Most)
		}
		sum += most[i] + 2
		if c.Bar > 0 {
			sum += c.Bar + 2
		}
	}
	for _, floor := range [][]int{cells, least} {
		for sum > width {
			give := -1
			for i := range most {
				if most[i] > floor[i] && (give < 0 || most[i] > most[give]) {
					give = i
				}
			}
			if give < 0 {
				break
			}
			most[give]--
			sum--
		}
	}
	return most
}

// longest is how wide the longest word of a text is.
func longest(s string) (most int) {
	for word := range strings.FieldsSeq(s) {
		most = max(most, cols(word))
	}
	return most
}

// draw is the hard end of a bar in characters of eight steps.
func (b *bar) draw(most int) string {
	if b == nil || !(b.Hard > 0) {
		return ""
	}
	steps := []rune("▏▎▍▌▋▊▉█")
	eighths := max(1, int(math.Round(min(b.Hard, 1)*float64(most)*8)))
	out := strings.Repeat("█", eighths/8)
	if rest := eighths % 8; rest > 0 {
		out += string(steps[rest-1])
	}
	return out
}

// The narrowest paper that is taken for one, the width of one that is not known,
// and the widest that sentences are set to.
const fewest, usual, widest = 20, 80, 100

// width is how many characters a line of a paper holds.
func width(w io.Writer) int {
	if p, ok := w.(Paper); ok && p.Columns >= fewest {
		return p.Columns
	}
	return usual
}

// narrow says whether a paper has no room for so many characters in a line.
func narrow(w io.Writer, columns int) bool { return width(w) < columns }

// line prints words in one line, and breaks it only where the paper is too
// narrow for it.
func line(w io.Writer, words string) {
	if narrow(w, cols(words)) {
		Wrap(w, "", "  ", words)
	} else {
		fmt.Fprintln(w, words)
	}
}

// Wrap breaks a line of words at the paper's width, with an indent for the
// lines after the first.
func Wrap(w io.Writer, first, indent, words string) {
	width := min(width(w), widest)
	line := first
	empty := true
	for word := range strings.FieldsSeq(Plain(words)) {
		if !empty && cols(line)+1+cols(word) > width {
			fmt.Fprintln(w, line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	fmt.Fprintln(w, line)
}

// cols is how wide a text stands on a terminal: some letters take two places.
func cols(s string) int { return text.StringWidthWithoutEscSequences(s) }
