package season

import (
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// SignsOf finds signs in words as people type them one after another, such as
// `yellow soil soggy not eaten` or `crispy edges, no mildew`: names, labels and
// phrases of signs, the longest first. Before a sign, `not` says that it was
// looked for and is not there, and goes on after `or`. What is only near a sign
// is never taken for it: want says what would be right for the first words that
// are none.
func SignsOf(words []string) (seen, absent []Sign, want string) {
	if signs, absent, ok := written(strings.Join(words, "|")); ok {
		return ordered(signs, absent)
	}
	raw := plainWords(strings.Join(words, " "))
	h := howSaid()
	all := h.heard(raw)
	takes := h.cut(all, raw)
	sure := h.sureParts(all, takes)
	not := false
	for i := 0; i < len(all); i += max(takes[i], 1) {
		if i > 0 && not {
			between := raw[all[i-1].at+1 : all[i].at]
			not = slices.Contains(between, "or") || slices.Contains(between, "nor")
		}
		if takes[i] == asAside && (all[i].sets || sure[all[i].clause]) {
			continue
		}
		if takes[i] == asNot {
			not = true
			i++
		}
		sign := Sign("")
		if takes[i] > 0 {
			sign = h.signs[keyOf(all[i:i+takes[i]])]
		}
		switch {
		case sign == "", sign == moist && not, sign == Dead && !flatly(raw[:all[i].at]):
			return nil, nil, quoted(raw[all[i].at]) + ": " + wantSign(&h, raw[all[i].at:], all[i:])
		case sign == moist:
			absent = append(absent, "soil soggy", "soil dry")
		case not:
			absent = append(absent, sign)
		default:
			seen = append(seen, sign)
		}
	}
	if len(all) > 0 && len(seen)+len(absent) == 0 {
		return nil, nil, quoted(raw[all[0].at]) + ": " + wantSign(&h, raw[all[0].at:], all)
	}
	return ordered(seen, absent)
}

// sureParts are the parts of what was said in which words beside the signs may be
// passed over: those with a sign that leaves no doubt, and none of a dead plant.
func (h *spoken) sureParts(all []uttered, takes []int) map[int]bool {
	sure, dead := map[int]bool{}, map[int]bool{}
	for i, n := range takes {
		if n > 0 {
			dead[all[i].clause] = dead[all[i].clause] || h.signs[keyOf(all[i:i+n])] == Dead
			sure[all[i].clause] = sure[all[i].clause] || h.sure(all[i:i+n])
		}
	}
	for part := range dead {
		sure[part] = sure[part] && !dead[part]
	}
	return sure
}

// ordered sorts signs as Signs has them, each once, none both seen and absent.
func ordered(seen, absent []Sign) (_, _ []Sign, want string) {
	for _, list := range []*[]Sign{&seen, &absent} {
		slices.SortFunc(*list, func(a, b Sign) int { return slices.Index(Signs(), a) - slices.Index(Signs(), b) })
		*list = slices.Compact(*list)
	}
	for _, n := range seen {
		if slices.Contains(absent, n) {
			return nil, nil, "want " + string(n) + " either seen or not"
		}
	}
	return seen, absent, ""
}

// written reads signs as FormatSigns writes them; false if they are written in
// any other way.
func written(text string) (seen, absent []Sign, ok bool) {
	for name := range strings.SplitSeq(text, "|") {
		list := &seen
		if rest, not := strings.CutPrefix(name, "not "); not {
			list, name = &absent, rest
		}
		if !knownSign(Sign(name)) {
			return nil, nil, false
		}
		*list = append(*list, Sign(name))
	}
	return seen, absent, true
}

// flatly says whether what stands before "dead" leaves no doubt of it: "looks
// dead" and "half dead" do.
func flatly(before []string) bool {
	doubts := strings.Fields("looks look looking seems seem almost nearly half partly mostly maybe perhaps bit little somewhat")
	return len(before) == 0 || !slices.Contains(doubts, before[len(before)-1])
}

// wantSign says what would be right for words that begin with no sign: the sign
// that is meant, the nearest three or, where nobody can tell, all of them.
func wantSign(h *spoken, raw []string, heard []uttered) string {
	var names []string
	for _, s := range Signs() {
		names = append(names, string(s))
	}
	if near := h.nearest(heard[:min(len(heard), 4)]); len(near) > 0 {
		return "want a sign, such as " + strings.Join(near, " or ") + ". All signs: hollowbed note --help"
	}
	const want = "want a sign"
	for n := min(len(raw), 4); n > 0; n-- {
		if meant := table.OrMeant(want, strings.Join(raw[:n], " "), names); meant != want {
			return meant + " All signs: hollowbed note --help"
		}
	}
	return "want signs out of: " + strings.Join(names, ", ")
}

func quoted(s string) string { return `"` + s + `"` }
