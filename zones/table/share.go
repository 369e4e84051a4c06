package table

import (
	"slices"
	"strings"
)

// A Sharer gives equal texts and lists the same memory: a table of classes
// holds the same few words in thousands of rows. It remembers only so many, and
// none that are long.
type Sharer struct {
	texts map[string]string
	lists map[string][]string
}

const (
	mostShared  = 1 << 12
	longShared  = 400 // bytes
	listDivider = "|"
)

// NewSharer makes one that remembers nothing yet.
func NewSharer() *Sharer {
	return &Sharer{texts: map[string]string{}, lists: map[string][]string{}}
}

// Text returns a text equal to s that holds on to nothing larger than itself.
func (h *Sharer) Text(s string) string {
	if s == "" {
		return ""
	}
	if old, ok := h.texts[s]; ok {
		return old
	}
	s = strings.Clone(s)
	if len(s) <= longShared && len(h.texts) < mostShared {
		h.texts[s] = s
	}
	return s
}

// List returns a list equal to v, whose values have no divider in them. Its capacity is its length, so that nobody
// can append to what others share.
func (h *Sharer) List(v []string) []string {
	if len(v) == 0 {
		return v
	}
	key := strings.Join(v, listDivider)
	if old, ok := h.lists[key]; ok {
		return old
	}
	for i := range v {
		v[i] = h.Text(v[i])
	}
	v = slices.Clip(v)
	if len(key) <= longShared && len(h.lists) < mostShared {
		h.lists[key] = v
	}
	return v
}
