package season

import (
	"slices"
	"strings"

	"hollowbed/zones/table"
)

// SignsOf finds signs in words as people type them one after another, such as
// `yellow soil soggy not eaten`: the longest name that fits comes first, `not`
// before a sign says that it was looked for and is not there, and one word of a
// name will do where no other name has it (`soggy`). Commas, semicolons, slashes
// and bars between signs do no harm. want says what would be right for the first
// words that are no sign.
func SignsOf(words []string) (seen, absent []Sign, want string) {
	var all []string
	for _, w := range words {
		all = append(all, strings.Fields(strings.ToLower(strings.NewReplacer(",", " ", "|", " ", ";", " ", "/", " ").Replace(w)))...)
	}
	for i := 0; i < len(all); {
		list := &seen
		if all[i] == "not" && i+1 < len(all) {
			list = &absent
			i++
		}
		sign, n := longestSign(all[i:])
		if n == 0 {
			return nil, nil, quoted(all[i]) + ": " + wantSign(all[i:])
		}
		*list = append(*list, sign)
		i += n
	}
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

// wantSign says what would be right for words that begin with no sign: the sign
// that is meant or, where nobody can tell, all of them.
func wantSign(words []string) string {
	var names, share []string // those that share the first word
	for _, s := range Signs() {
		names = append(names, string(s))
		if slices.Contains(strings.Fields(string(s)), words[0]) && len(words[0]) > 3 {
			share = append(share, string(s))
		}
	}
	const want = "want a sign"
	if len(words) == 1 && len(share) > 1 {
		return "want " + strings.Join(share, " or ")
	}
	for n := min(len(words), 4); n > 0; n-- {
		if meant := table.OrMeant(want, strings.Join(words[:n], " "), names); meant != want {
			return meant + " All signs: hollowbed note --help"
		}
	}
	return "want signs out of: " + strings.Join(names, ", ")
}

func quoted(s string) string { return `"` + s + `"` }

// longestSign finds the sign that words begin with and how many words it takes;
// 0 for none.
func longestSign(words []string) (Sign, int) {
	for n := min(len(words), 5); n > 0; n-- {
		if s := Sign(strings.Join(words[:n], " ")); knownSign(s) {
			return s, n
		}
	}
	var found Sign
	for _, s := range Signs() {
		if slices.Contains(strings.Fields(string(s)), words[0]) && len(words[0]) > 3 {
			if found != "" {
				return "", 0 // of two signs: nobody can tell which
			}
			found = s
		}
	}
	if found == "" {
		return "", 0
	}
	return found, 1
}
