package report

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// node is an element of a page, or a text where it has no name.
type node struct {
	name     string
	attrs    map[string]string
	data     string
	parent   *node
	children []*node
}

// parsed reads a page strictly: every element closed in its order, every sign
// of markup in a text written as an entity. An HTML parser would mend what is
// wrong; this one stops.
func parsed(t *testing.T, text string) *node {
	t.Helper()
	closed := regexp.MustCompile(`<meta ([^<>]*[^/])>`).ReplaceAllString(text, `<meta $1/>`) // the only element here that HTML never closes
	dec := xml.NewDecoder(strings.NewReader(closed))
	root := &node{}
	at := root
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		switch token := token.(type) {
		case xml.StartElement:
			n := &node{name: token.Name.Local, attrs: map[string]string{}, parent: at}
			for _, a := range token.Attr {
				n.attrs[a.Name.Local] = a.Value
			}
			at.children = append(at.children, n)
			at = n
		case xml.EndElement:
			at = at.parent
		case xml.CharData:
			at.children = append(at.children, &node{data: string(token), parent: at})
		case xml.Comment, xml.ProcInst:
			require.Fail(t, "a comment or an instruction in the page")
		}
	}
	require.Equal(t, root, at)
	require.Len(t, root.find("body"), 1)
	return root
}

// walk visits every element, parents first.
func (n *node) walk(visit func(*node)) {
	for _, c := range n.children {
		if c.name != "" {
			visit(c)
			c.walk(visit)
		}
	}
}

// find gives the elements of a name below this one.
func (n *node) find(name string) []*node {
	var out []*node
	n.walk(func(c *node) {
		if c.name == name {
			out = append(out, c)
		}
	})
	return out
}

// text is all that is written in an element, but for its marks.
func (n *node) text() string {
	if n.name == "" && n.parent != nil {
		return n.data
	}
	if n.name == "sup" || n.name == "style" {
		return ""
	}
	var b strings.Builder
	for _, c := range n.children {
		b.WriteString(c.text())
	}
	return b.String()
}

// words is the text with single blanks.
func (n *node) words() string { return strings.Join(strings.Fields(n.text()), " ") }
