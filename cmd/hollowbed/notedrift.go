package main

import (
	"bufio"
	"fmt"
	"slices"
	"strings"

	"hollowbed/plants"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

// driftFirst looks whether a drift is meant by what was typed, and puts its letter
// first: "C 2 wilted", "drift C 2 wilted". A letter that is also a plant's is refused
// with both readings; "stake C" is always the plant.
func (n *notebook) driftFirst(args []string) ([]string, error) {
	n.meant = nil
	if len(args) > 1 && strings.EqualFold(args[0], "stake") {
		if _, here := season.Grows(n.rows, args[1]); here {
			return args[1:], nil
		}
	}
	if len(args) > 1 && strings.EqualFold(args[0], "drift") && placement.WrongDrift(strings.ToUpper(args[1])) == "" {
		if n.meant = n.drift(args[1]); n.meant == nil {
			return nil, usagef("%q: %s", nameOf(args[:2]), n.wantDrift(args[1]))
		}
		return args[1:], nil
	}
	if len(args) == 0 {
		return args, nil
	}
	meant := n.drift(args[0])
	if meant == nil {
		if _, here := season.Grows(n.rows, args[0]); !here && len(season.InDrift(n.rows, args[0])) > 0 {
			return nil, usagef("%q: %s", args[0], n.wantDrift(args[0]))
		}
		return args, nil
	}
	for k := min(len(args), mostNameWords); k > 0; k-- {
		if stakes := plants.Stakes(n.rows, n.table, nameOf(args[:k])); len(stakes) > 0 {
			return nil, usagef("%q: may be drift %s (%s) or the plant %s: expected \"drift %s\" or \"stake %s\"", nameOf(args[:k]),
				meant[0].Drift, n.driftWords(meant), strings.Join(stakes, ", "), meant[0].Drift, stakes[0])
		}
	}
	n.meant = meant
	return args, nil
}

// drift are the plants of a drift that still grow; nil if there is none.
func (n *notebook) drift(letter string) []placement.Planted {
	return n.rec.Drift(n.rows, letter)
}

// wantDrift says what would be right where no plant grows in a drift.
func (n *notebook) wantDrift(letter string) string {
	if len(season.InDrift(n.rows, letter)) > 0 {
		return "by the notes no plant of this drift is left: expected the stake of a plant, or another drift"
	}
	letters := season.Drifts(n.rows)
	if len(letters) == 0 {
		return "there are no drifts in " + n.name("planted.csv") + ": expected the stake of a plant"
	}
	return "expected a drift of " + n.name("planted.csv") + ": " + strings.Join(letters, ", ")
}

// driftWords says what stands in a drift: "11 Late Duskwhistle".
func (n *notebook) driftWords(in []placement.Planted) string {
	name := n.names[strings.ToUpper(in[0].Stake)].Name
	if slices.ContainsFunc(in, func(p placement.Planted) bool { return p.ID != in[0].ID }) {
		name = "plants"
	}
	return fmt.Sprintf("%d %s", len(in), name)
}

// howMany reads of how many plants of the drift that is meant an entry is, and returns
// the words after; where they do not say, it asks.
func (o *noteOptions) howMany(n *notebook, in *bufio.Reader, e *season.Entry, words []string) ([]string, error) {
	all, drift := len(n.meant), "drift "+n.meant[0].Drift
	count, rest := countWords(withoutCommas(words))
	if count == "" {
		if !o.terminal {
			return nil, usagef("%s has %s: expected how many of them, such as: hollowbed note %s 2 wilted, or %d/%d where the others are not", drift, n.driftWords(n.meant), n.meant[0].Drift, min(2, all), all)
		}
		line, _ := o.answer(in, fmt.Sprintf("How many of the %d plants of %s, such as 2, or 2/%d where the others do not show it?", all, drift, all))
		count, _ = countWords(wordsOf(line))
	}
	if want := e.AboutSome(n.meant, count); want != "" {
		return nil, usagef("%q: %s", count, want)
	}
	if len(rest) == 0 && o.remark+o.photo == "" && !o.terminal {
		return nil, usagef("%s: %s of its plants: expected how they do as well, such as: hollowbed note %s %s wilted", drift, count, n.meant[0].Drift, count)
	}
	return rest, nil
}

// countWords takes a count from the start of words: 3, 3/11, 3 of 11, all; "" if
// they do not begin with one.
func countWords(words []string) (count string, rest []string) {
	switch {
	case len(words) == 0:
		return "", words
	case strings.EqualFold(words[0], "all"):
		return words[0], words[1:]
	case strings.Trim(words[0], "0123456789/") != "":
		return "", words
	case len(words) > 2 && strings.EqualFold(words[1], "of"):
		return words[0] + "/" + words[2], words[3:]
	}
	return words[0], words[1:]
}

// tellWhich says what a note on some of a drift leaves open.
func (n *notebook) tellWhich(e season.Entry) string {
	if !e.SomeDied() {
		return ""
	}
	return fmt.Sprintf("Which of drift %s died is not known, so nothing is planted in their place: note each by its stake (hollowbed place --stakes) once you know.\n", e.Stake)
}
