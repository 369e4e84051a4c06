package catalogue

import (
	"slices"
	"strings"
)

// A sharer gives equal texts and lists the same memory: a table of classes
// holds the same few words in thousands of rows. It remembers only so many, and
// none that are long.
type sharer struct {
	texts map[string]string
	lists map[string][]string
}

const (
	mostShared  = 1 << 12
	longShared  = 400 // bytes
	listDivider = "|"
)

func newSharer() *sharer {
	return &sharer{texts: map[string]string{}, lists: map[string][]string{}}
}

// text returns a text equal to s that holds on to nothing larger than itself.
func (h *sharer) text(s string) string {
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

// list returns a list equal to v, whose values have no divider in them. Its capacity is its length, so that nobody
// can append to what others share.
func (h *sharer) list(v []string) []string {
	if len(v) == 0 {
		return v
	}
	key := strings.Join(v, listDivider)
	if old, ok := h.lists[key]; ok {
		return old
	}
	for i := range v {
		v[i] = h.text(v[i])
	}
	v = slices.Clip(v)
	if len(key) <= longShared && len(h.lists) < mostShared {
		h.lists[key] = v
	}
	return v
}

// plant lets a plant share what it holds with others.
func (h *sharer) plant(p *Plant) {
	p.Source = h.text(p.Source)
	for _, list := range []*[]string{&p.Zones, &p.FlowerColour, &p.NativeTo, &p.Toxic, &p.Assumed} {
		*list = h.list(*list)
	}
}
