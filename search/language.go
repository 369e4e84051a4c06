package search

import (
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/custom"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"
	"github.com/blevesearch/bleve/v2/analysis/lang/en"
	"github.com/blevesearch/bleve/v2/analysis/token/lowercase"
	"github.com/blevesearch/bleve/v2/analysis/tokenizer/unicode"
	"github.com/blevesearch/bleve/v2/mapping"

	"hollowbed/plants/catalogue"
)

// schemaVersion names the shape of the word index. Raise it with every change to mapping,
// wordDoc or fold.
const schemaVersion = 4

const latin = "latin" // the analyzer without stems

// wordDoc is what bleve is given of a plant.
type wordDoc struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Sci   string `json:"sci"`
	Whole string `json:"whole"` // the name without stems, for what is not yet typed out
	Tags  string `json:"tags"`
	Notes string `json:"notes"`
}

func newWordDoc(p *catalogue.Plant) wordDoc {
	return wordDoc{
		ID:    fold(p.ID),
		Name:  unaccent(p.VernacularName),
		Sci:   unaccent(p.ScientificName),
		Whole: unaccent(p.VernacularName),
		Tags:  unaccent(strings.Join(tagsOf(p), "\n")),
		Notes: unaccent(p.Notes),
	}
}

// tagsOf lists the values of the table that a person may also look for as words.
func tagsOf(p *catalogue.Plant) []string {
	tags := slices.Concat(one(p.Form), p.Zones, p.FlowerColour, bloomMonths(p), p.NativeTo, p.Tags)
	if p.Wild != nil {
		tags = append(tags, p.Wild.Also...) // other names
	}
	switch p.Evergreen {
	case "yes":
		tags = append(tags, "evergreen")
	case "semi":
		tags = append(tags, "semi-evergreen")
	}
	return tags
}

// newMapping says how bleve is to read a wordDoc: text, nothing stored, and no places of
// words, which would make it three times as large: phrases are looked for in the texts
// (wordIndex.each).
func newMapping() (*mapping.IndexMappingImpl, error) {
	m := bleve.NewIndexMapping()
	err := m.AddCustomAnalyzer(latin, map[string]any{
		"type": custom.Name, "tokenizer": unicode.Name, "token_filters": []string{lowercase.Name},
	})
	if err != nil {
		return nil, err
	}
	doc := bleve.NewDocumentStaticMapping()
	for _, f := range append(wordFields(), nameFields()[0]) {
		fm := bleve.NewTextFieldMapping()
		fm.Analyzer = f.analyzer
		fm.Store, fm.IncludeInAll, fm.DocValues, fm.IncludeTermVectors = false, false, false, false
		doc.AddFieldMappingsAt(f.name, fm)
	}
	doc.AddSubDocumentMapping("_all", bleve.NewDocumentDisabledMapping())
	m.DefaultMapping = doc
	m.StoreDynamic, m.IndexDynamic, m.DocValuesDynamic = false, false, false
	return m, nil
}

// wordField is a field of the word index and what a word in it is worth.
type wordField struct {
	name, analyzer string
	weight         float64
}

// wordFields have weights chosen on the tuning half of testdata/search/queries.csv.
func wordFields() []wordField {
	return []wordField{
		{"id", keyword.Name, 3},
		{"name", en.AnalyzerName, 2},
		{"sci", latin, 2},
		{"tags", en.AnalyzerName, 2},
		{"notes", en.AnalyzerName, 2},
	}
}

// nameFields hold names as they are spelt.
func nameFields() []wordField {
	return []wordField{{"whole", latin, 2 * prefixWeight}, {"sci", latin, 2 * prefixWeight}}
}

// language cuts text into words as the index does.
type language struct {
	english, latin analysis.Analyzer
}

func newLanguage(m *mapping.IndexMappingImpl) language {
	return language{english: m.AnalyzerNamed(en.AnalyzerName), latin: m.AnalyzerNamed(latin)}
}

// analyzer is what cuts a field's text into words; nil if it is one word.
func (l language) analyzer(f wordField) analysis.Analyzer {
	switch f.analyzer {
	case latin:
		return l.latin
	case keyword.Name:
		return nil
	}
	return l.english
}

// in returns text as it is looked for in a field.
func (l language) in(f wordField, text string) analysis.TokenStream {
	if a := l.analyzer(f); a != nil {
		return a.Analyze([]byte(unaccent(text)))
	}
	text = fold(text)
	return analysis.TokenStream{{Term: []byte(text), End: len(text), Position: 1}}
}

// slots puts the terms at their places, with gaps where small words were left out.
func slots(tokens analysis.TokenStream) [][]string {
	if len(tokens) == 0 {
		return nil
	}
	first := tokens[0].Position
	out := make([][]string, tokens[len(tokens)-1].Position-first+1)
	for _, t := range tokens {
		out[t.Position-first] = append(out[t.Position-first], string(t.Term))
	}
	return out
}

// stems returns the stems of text in one string, as a key.
func (l language) stems(text string) string {
	var stems []string
	for _, t := range l.english.Analyze([]byte(unaccent(text))) {
		stems = append(stems, string(t.Term))
	}
	return strings.Join(stems, " ")
}
