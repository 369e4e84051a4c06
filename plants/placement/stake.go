package placement

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// A stake is two or three letters of the plant's name and a number: short
// enough to write on a piece of wood, read with muddy hands, and say aloud.

// mostStake is how long a stake may be, in characters.
const mostStake = 12

// WrongStake tells what is wrong with a stake, or "".
func WrongStake(s string) string {
	ok := s != "" && len(s) <= mostStake && s[0] != '-' && !strings.ContainsFunc(s, func(r rune) bool {
		return (r < '0' || r > '9') && (r < 'A' || r > 'Z') && (r < 'a' || r > 'z') && r != '-'
	})
	if ok {
		return ""
	}
	return "want up to 12 letters and digits, such as TAR3"
}

// prefixes gives every species its letters, by id so that adding a line changes little. A
// species that stands keeps its own.
func (p *Problem) prefixes() map[string]string {
	out := map[string]string{}
	used := map[string]bool{}
	for _, k := range p.Kept {
		letters, n := splitStake(k.Stake)
		if n == 0 || letters == "" || used[letters] || out[k.ID] != "" {
			continue
		}
		out[k.ID] = letters
		used[letters] = true
	}
	lines := slices.Clone(p.Lines)
	slices.SortStableFunc(lines, func(a, b Line) int { return cmp.Compare(a.ID, b.ID) })
	first := map[string]string{} // the species that letters are the first choice of
	for _, l := range lines {
		if c := letterChoices(l)[0]; first[c] == "" {
			first[c] = l.ID
		}
	}
	own := map[string]string{}
	for _, t := range p.Taken { // letters of plants that are gone are no other species' now
		if letters, _ := splitStake(t); !used[letters] {
			used[letters] = true
			own[letters] = first[letters]
		}
	}
	for _, l := range lines {
		if out[l.ID] != "" {
			continue
		}
		for _, letters := range letterChoices(l) {
			if !used[letters] || own[letters] == l.ID {
				out[l.ID] = letters
				used[letters] = true
				break
			}
		}
		for n := 0; out[l.ID] == ""; n++ { // a list of so many like names: any letters
			if letters := anyLetters(n); !used[letters] {
				out[l.ID] = letters
				used[letters] = true
			}
		}
	}
	return out
}

// anyLetters counts through the letters: AAA, BAA, CAA, ...
func anyLetters(n int) string {
	out := ""
	for ; n > 0 || len(out) < 3; n /= 26 {
		out += string(rune('A' + n%26))
	}
	return out
}

// letterChoices lists letters for a line, best first: the first three of the
// name, two of the first word and one of the next, then others from the name,
// then the first two with any third.
func letterChoices(l Line) []string {
	name := plainLetters(l.Name)
	if strings.ReplaceAll(name, " ", "") == "" {
		name = plainLetters(l.ID)
	}
	words := strings.Fields(name)
	all := strings.Join(words, "")
	if len(all) < 2 {
		all += "PX"
	}
	var out []string
	if len(all) >= 3 {
		out = append(out, all[:3])
	}
	if len(words) > 1 && len(words[0]) > 1 {
		out = append(out, words[0][:2]+words[1][:1])
	}
	for i := 1; i < len(all); i++ {
		for j := i + 1; j < len(all); j++ {
			out = append(out, all[:1]+all[i:i+1]+all[j:j+1])
		}
	}
	for a := 'A'; a <= 'Z'; a++ {
		out = append(out, all[:2]+string(a))
	}
	return out
}

// plainLetters keeps the letters A to Z of a name, without accents, in
// capitals; what stands between words becomes a space.
func plainLetters(s string) string {
	return strings.Map(func(r rune) rune {
		r = unicode.ToUpper(r)
		switch {
		case r >= 'A' && r <= 'Z':
			return r
		case unicode.Is(unicode.Mn, r) || r == '\'' || r == '’':
			return -1
		}
		return ' '
	}, norm.NFD.String(s))
}

// NewStakes names new plants, one for each of lines, beside those that stand and
// those that are gone, whose stakes are taken.
func NewStakes(kept []Kept, taken []string, lines []Line) []string {
	p := Problem{Kept: kept, Taken: taken, Lines: lines}
	plants := make([]Standing, len(lines))
	for i, l := range lines {
		plants[i].ID = l.ID
	}
	p.stakes(plants)
	out := make([]string, len(lines))
	for i := range plants {
		out[i] = plants[i].Stake
	}
	return out
}

// splitStake takes a stake apart: capital letters and a number from 1, else 0.
func splitStake(s string) (letters string, number int) {
	s = strings.ToUpper(s)
	i := strings.IndexFunc(s, unicode.IsDigit)
	if i <= 0 {
		return s, 0
	}
	n, err := strconv.Atoi(s[i:])
	if err != nil || strings.Contains(s[:i], "-") {
		return s, 0
	}
	return s[:i], n
}

// stakes names the plants: those that stand keep theirs, new ones count on from
// the highest number that the letters ever had.
func (p *Problem) stakes(plants []Standing) {
	letters := p.prefixes()
	last := map[string]int{}
	note := func(stake string) {
		l, n := splitStake(stake)
		last[l] = max(last[l], n)
	}
	for _, k := range p.Kept {
		note(k.Stake)
	}
	for _, t := range p.Taken {
		note(t)
	}
	for i := range plants {
		if s := &plants[i]; s.Stake == "" {
			l := letters[s.ID]
			last[l]++
			s.Stake = l + strconv.Itoa(last[l])
		}
	}
}
