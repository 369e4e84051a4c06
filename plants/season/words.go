package season

import (
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// SignsOf finds signs in words as people type them: names, labels and phrases, the
// longest first. `not` before a sign says that it is not there, and goes on after `or`.
// What is only near a sign is never taken for it: want says what would be right.
func SignsOf(words []string) (seen, absent []Sign, want string) {
	return signsOf(words, howSaid)
}

// signsOf is SignsOf; said is called where the words are no plain list.
func signsOf(words []string, said func() *spoken) (seen, absent []Sign, want string) {
	if signs, absent, ok := written(strings.Join(words, "|")); ok {
		return ordered(signs, absent)
	}
	return said().find(plainWords(strings.Join(words, " ")))
}

// find finds signs in words that are not written as FormatSigns writes them.
func (h *spoken) find(raw []string) (seen, absent []Sign, want string) {
	all := h.heard(raw)
	takes := h.cut(all, raw)
	sure := h.sureParts(all, takes)
	not, list, end := false, "", 0 // list: the "not" before its first sign, as written; end: of the sign before
	for i := 0; i < len(all); i += max(takes[i], 1) {
		if takes[i] == asAside && (all[i].sets || sure[all[i].commas]) {
			continue
		}
		at, between := all[i].at, raw[end:all[i].at]
		or := slices.Contains(between, "or")
		if not = not && or; h.endsList(between) {
			list = ""
		}
		if takes[i] == asNot {
			not, list = true, raw[at]
			i++
		}
		sign := Sign("")
		if takes[i] > 0 {
			sign, end = h.signs[keyOf(all[i:i+takes[i]])], all[i+takes[i]-1].at+1
		}
		switch {
		case !not && list != "" && (or || list == "neither" || list != "not" && slices.Contains(between, "and")):
			return nil, nil, quoted(raw[at]) + `: expected "not" before each sign that is not there`
		case sign == "", sign == moist && not, sign == Dead && !flatly(raw[:all[i].at]): // i: past a "not"
			return nil, nil, quoted(raw[all[i].at]) + ": " + wantSign(h, raw[all[i].at:], all[i:])
		case sign == moist:
			absent = append(absent, "soil soggy", "soil dry")
		case not:
			absent = append(absent, sign)
		default:
			seen = append(seen, sign)
		}
	}
	if len(all) > 0 && len(seen)+len(absent) == 0 {
		return nil, nil, quoted(raw[all[0].at]) + ": " + wantSign(h, raw[all[0].at:], all)
	}
	return ordered(seen, absent)
}

// sureParts are the parts of what was said in which words beside the signs may be
// passed over: those with a sign that leaves no doubt, and none of a dead plant.
func (h *spoken) sureParts(all []uttered, takes []int) map[int]bool {
	sure, dead := map[int]bool{}, map[int]bool{}
	for i, n := range takes {
		if n > 0 {
			dead[all[i].commas] = dead[all[i].commas] || h.signs[keyOf(all[i:i+n])] == Dead
			sure[all[i].commas] = sure[all[i].commas] || h.sure(all[i:i+n])
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

// written reads signs as formatSigns writes them; false if they are not.
func written(text string) (seen, absent []Sign, ok bool) {
	for name := range strings.SplitSeq(text, "|") {
		list := &seen
		if rest, not := strings.CutPrefix(name, "not "); not {
			list, name = &absent, rest
		}
		if !slices.Contains(Signs(), Sign(name)) {
			return nil, nil, false
		}
		*list = append(*list, Sign(name))
	}
	return seen, absent, true
}

// flatly says whether what stands before "dead" leaves no doubt: "looks dead" does.
func flatly(before []string) bool {
	doubts := strings.Fields("looks look looking seems seem almost nearly half partly mostly maybe perhaps bit little somewhat")
	return len(before) == 0 || !slices.Contains(doubts, before[len(before)-1])
}

// wantSign says what would be right for words that begin with no sign.
func wantSign(h *spoken, raw []string, heard []uttered) string {
	if near := h.nearest(heard[:min(len(heard), 4)]); len(near) > 0 {
		return "want a sign, such as " + strings.Join(near, " or ") + ". All signs: hollowbed note --help"
	}
	const want = "want a sign"
	for n := min(len(raw), 4); n > 0; n-- {
		if meant := table.OrMeant(want, strings.Join(raw[:n], " "), names(Signs())); meant != want {
			return meant + " All signs: hollowbed note --help"
		}
	}
	return "want signs out of: " + strings.Join(names(Signs()), ", ")
}

func quoted(s string) string { return `"` + s + `"` }
