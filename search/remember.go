package search

import (
	"bytes"
	"slices"

	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/document"
	"github.com/blevesearch/bleve/v2/mapping"
	index "github.com/blevesearch/bleve_index_api"
)

// remembering cuts text into words as another analyzer does, and remembers each piece
// between blanks: of ASCII text no word reaches over one; other text goes to the other.
// It is for one goroutine.
type remembering struct {
	of     analysis.Analyzer
	words  analysis.Analyzer // the same without leaving out any words
	pieces map[string]cut
}

// cut is what a piece came to. Words that are left out take up a place too.
type cut struct {
	tokens []analysis.Token
	places int
}

const (
	mostPieces   = 1 << 16
	longestPiece = 64
)

func remember(of, words analysis.Analyzer) *remembering {
	return &remembering{of: of, words: words, pieces: map[string]cut{}}
}

// Analyze is analysis.Analyzer. The terms are for reading alone.
func (r *remembering) Analyze(text []byte) analysis.TokenStream {
	if slices.ContainsFunc(text, func(b byte) bool { return b >= 0x80 }) {
		return r.of.Analyze(text)
	}
	all := make([]analysis.Token, 0, len(text)/5+1)
	for at, places := 0, 0; at < len(text); {
		if bytes.IndexByte([]byte(blanks), text[at]) >= 0 {
			at++
			continue
		}
		end := len(text)
		if n := bytes.IndexAny(text[at:], blanks); n >= 0 {
			end = at + n
		}
		c := r.cut(text[at:end])
		for _, t := range c.tokens {
			t.Start, t.End, t.Position = t.Start+at, t.End+at, t.Position+places
			all = append(all, t)
		}
		at, places = end, places+c.places
	}
	out := make(analysis.TokenStream, len(all))
	for i := range all {
		out[i] = &all[i]
	}
	return out
}

func (r *remembering) cut(piece []byte) cut {
	if c, ok := r.pieces[string(piece)]; ok {
		return c
	}
	c := cut{places: len(r.words.Analyze(bytes.Clone(piece)))}
	for _, t := range r.of.Analyze(bytes.Clone(piece)) { // which may write over what it is given
		c.tokens = append(c.tokens, *t)
	}
	if len(piece) <= longestPiece && len(r.pieces) < mostPieces {
		r.pieces[string(piece)] = c
	}
	return c
}

// remembering is l with analyzers that remember.
func (l language) remembering() language {
	return language{english: remember(l.english, l.latin), latin: remember(l.latin, l.latin)}
}

// readyMapping reads a wordDoc as its IndexMappingImpl does, without reflection.
type readyMapping struct {
	*mapping.IndexMappingImpl
	lang language
}

// MapDocument is mapping.IndexMapping.
func (m readyMapping) MapDocument(doc *document.Document, data any) error {
	d := data.(wordDoc)
	texts := [...]string{d.ID, d.Name, d.Sci, d.Tags, d.Notes}
	for i, f := range wordFields() {
		doc.AddField(document.NewTextFieldCustom(f.name, nil, []byte(texts[i]), index.IndexField, m.lang.analyzer(f)))
	}
	return nil
}
