package season

import (
	"slices"
	"strings"

	"hollowbed/plants/catalogue"
)

// SignsOf finds signs in words as people type them one after another, such as
// `yellow soil soggy not eaten`: the longest name that fits comes first, `not`
// before a sign says that it was looked for and is not there, and one word of a
// name will do where no other name has it (`soggy`). Commas between signs do no
// harm. want says what would be right for the first words that are no sign.
func SignsOf(words []string) (seen, absent []Sign, want string) {
	var all []string
	for _, w := range words {
		all = append(all, strings.Fields(strings.ToLower(strings.NewReplacer(",", " ", "|", " ").Replace(w)))...)
	}
	var parts []string
	for i := 0; i < len(all); {
		not := ""
		if all[i] == "not" && i+1 < len(all) {
			not = "not "
			i++
		}
		name, n := longestSign(all[i:])
		if n == 0 {
			names := make([]string, 0, len(Signs()))
			for _, s := range Signs() {
				names = append(names, string(s))
			}
			return nil, nil, catalogue.OrMeant(quoted(all[i])+": want signs out of: "+strings.Join(names, ", "), all[i], names)
		}
		parts = append(parts, not+string(name))
		i += n
	}
	return ParseSigns(strings.Join(parts, "|"))
}

func quoted(s string) string { return `"` + s + `"` }

// longestSign finds the sign that words begin with and how many words it takes;
// 0 for none.
func longestSign(words []string) (Sign, int) {
	for n := min(len(words), 5); n > 0; n-- {
		if s := Sign(strings.Join(words[:n], " ")); KnownSign(s) {
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
