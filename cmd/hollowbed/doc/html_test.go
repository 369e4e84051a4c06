package doc

import (
	"encoding/json"
	"errors"
	"html/template"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Bars stay in their frame, and a zone without a spell has none.
func TestRangeBar(t *testing.T) {
	drawn := func(mild, hard, whole float64) string { return string(rangeBar(*NewBar(mild, hard, whole))) }
	assert.Contains(t, drawn(1, 2, 4), `width="49.0"`) // 2/4 of 98
	assert.Contains(t, drawn(1, 2, 4), `width="24.5"`) // 1/4 of 98
	assert.NotContains(t, drawn(9, 9, 4), `width="2`)  // never wider than the frame
	assert.Nil(t, NewBar(0, math.NaN(), 4))            // not known
	assert.Nil(t, NewBar(0, 0, 0))                     // nothing to compare with
	assert.Equal(t, 2, strings.Count(drawn(0, 0, 4), `width="0.0"`))
}

// sample has every kind of block, with a name in each place that a file can fill.
func sample(name string) []Block {
	return []Block{
		Heading(name), Line(name), Heading(name), Text{Lead: name, Words: name + " takes 2.5 m2", Know: "a"}, List{Title: name, Items: []string{name}, Mind: true},
		List{Title: "left out", Items: nil}, List{Items: []string{"for the notes"}, Aside: true}, Facts{{Label: name, Value: name, Know: "a b"}},
		Table{Caption: name, Columns: []Column{{Head: "zone"}, {Head: name, Right: true, Bar: 8, Know: "b"}}, Rows: [][]Cell{{{Words: name}, {Words: name, Bar: NewBar(1, 2, 4)}}}},
	}
}

// Every paper shows every kind of block, leaves out a list of nothing, and
// takes out of a name what could disturb it.
func TestEveryPaper(t *testing.T) {
	know := func(key string) (template.HTML, error) { return template.HTML("<sup>" + key + "</sup>"), nil }
	bad := "Row\x1b[2J<b>&"
	html, err := HTML("s", sample(bad), know)
	require.NoError(t, err)
	page, err := json.Marshal(JSON(sample(bad)))
	require.NoError(t, err)
	var text strings.Builder
	Terminal(&text, sample(bad))
	for paper, shown := range map[string]string{"html": string(html), "page": string(page), "terminal": text.String()} {
		assert.NotContains(t, shown, "\x1b", paper)
		assert.NotContains(t, shown, `\u001b`, paper)
		assert.NotContains(t, shown, "left out", paper)
	}
	assert.Equal(t, 12, strings.Count(text.String(), "Row\ufffd[2J<b>&"), text.String())
	assert.Equal(t, 12, strings.Count(string(html), "Row\ufffd[2J&lt;b&gt;&amp;"), "the line left out, the caption added: %s", html)
	assert.NotContains(t, string(html), "<b>&")
	assert.Contains(t, string(html), "2.5 m²")
	assert.Contains(t, string(html), "<sup>a</sup><sup>b</sup>")
	assert.Equal(t, 1, strings.Count(string(html), "<h2"), "the first heading is that of the section")
	assert.NotContains(t, string(html), "for the notes")
	assert.Contains(t, text.String(), "for the notes")
	notes, err := HTML("notes", Asides(sample(bad)), know)
	require.NoError(t, err)
	assert.Equal(t, "<ul>\n<li>for the notes</li>\n</ul>\n", string(notes))
	assert.Contains(t, text.String(), "  ████\n", "half of a bar of 8")
}

// A mark that leads nowhere is our mistake, and stops the page.
func TestUnknownMark(t *testing.T) {
	nowhere := errors.New("no such line")
	for _, b := range sample("x")[3:] {
		if _, list := b.(List); list {
			continue
		}
		_, err := HTML("s", []Block{Heading("x"), b}, func(string) (template.HTML, error) { return "", nowhere })
		assert.ErrorIs(t, err, nowhere)
	}
}

// What is of the screen alone is on every paper but the printed report, columns too.
func TestScreenAlone(t *testing.T) {
	blocks := []Block{
		Screen(Text{Words: "of the screen"}, Rest(Text{Words: "at length"})), Text{Words: "of both"},
		Table{Columns: []Column{{Head: "plant"}, {Head: "sun", Screen: true}, {Head: "apart"}}, Rows: [][]Cell{Cells("Tough Soddarel", "6 h", "50 cm")}},
	}
	html, err := HTML("s", blocks, nil)
	require.NoError(t, err)
	var brief, all strings.Builder
	Brief(&brief, blocks)
	Terminal(&all, blocks)
	page, err := json.Marshal(JSON(blocks))
	require.NoError(t, err)
	for _, s := range []string{"of the screen", "at length", "Sun", "6 h"} {
		assert.NotContains(t, string(html), s)
	}
	for _, s := range []string{"of both", "Tough Soddarel", "50 cm"} {
		assert.Contains(t, string(html), s)
	}
	assert.Contains(t, brief.String(), "of the screen")
	assert.NotContains(t, brief.String(), "at length")
	for _, s := range []string{"of the screen", "at length", "sun", "6 h"} {
		assert.Contains(t, all.String(), s)
		assert.Contains(t, string(page), s)
	}
}
