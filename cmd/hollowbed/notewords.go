package main

import (
	"bufio"
	"fmt"
	"slices"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/season"
)

// stakeFirst puts the stake of the plant that is meant before the words: where they
// begin with the name of plants of which several are planted, it asks which.
func (o *noteOptions) stakeFirst(n *notebook, args []string) ([]string, error) {
	args, err := n.driftFirst(args)
	if len(args) == 0 || err != nil || n.meant != nil {
		return args, err
	}
	if _, here := season.Grows(n.rows, args[0]); here {
		return args, nil
	}
	for k := min(len(args), mostNameWords); k > 0; k-- { // the longest name first
		name := nameOf(args[:k])
		stakes := plants.Stakes(n.rows, n.table, name)
		if len(stakes) == 0 {
			continue
		}
		stake := stakes[0]
		if len(stakes) > 1 {
			want := oneOfStakes(stakes)
			if !o.terminal {
				return nil, usagef("%q: %s", name, want)
			}
			fmt.Fprintf(o.err, "%s: %s\n", name, want)
			if stake, _ = o.answer(bufio.NewReader(o.in), "Which stake?"); !slices.ContainsFunc(stakes, func(s string) bool { return season.SameStake(s, stake) }) {
				return nil, usagef("%q: %s", stake, want)
			}
		}
		return append([]string{stake}, args[k:]...), nil
	}
	for k := min(len(args), mostNameWords); k > 0 && len(n.rows) > 0; k-- {
		if name := nameOf(args[:k]); len(catalogue.Bearers(n.table.Plants, name)) > 0 {
			return nil, usagef("%q: none of them is planted: expected a stake of %s", name, n.name("planted.csv"))
		}
	}
	for k := min(len(args), 3); k > 0; k-- {
		name := nameOf(args[:k])
		if want := n.wantStake(name); strings.Contains(want, "did you mean") && !season.NewEntry(time.Time{}, args[0], season.Watered).ForZone() {
			return nil, usagef("%q: %s", name, want)
		}
	}
	return args, nil
}

// mostNameWords is of how many words a plant's name is looked for.
const mostNameWords = 6

// nameOf puts words together again that wordsOf has cut.
func nameOf(words []string) string { return strings.ReplaceAll(strings.Join(words, " "), " ,", ",") }

// wordsOf cuts what was typed into words; a comma is one.
func wordsOf(texts ...string) []string {
	return withoutCommas(strings.Fields(strings.ReplaceAll(strings.Join(texts, " "), ",", " , ")))
}

// withoutCommas takes the commas away with which words begin or end.
func withoutCommas(words []string) []string {
	for len(words) > 0 && words[0] == "," {
		words = words[1:]
	}
	for len(words) > 0 && words[len(words)-1] == "," {
		words = words[:len(words)-1]
	}
	return words
}

// seen reads a vigour and signs, as they are typed one after another: the vigour
// first or last.
func seen(e *season.Entry, words []string) error {
	words = withoutCommas(words)
	if len(words) > 1 && strings.EqualFold(words[0], "vigour") {
		words = words[1:]
	}
	number := func(i int) bool {
		return len(words) > 0 && words[i] != "" && strings.Trim(words[i], "0123456789./-") == ""
	}
	vigour := ""
	if number(0) {
		vigour, words = words[0], withoutCommas(words[1:])
	}
	if last := len(words) - 1; number(last) {
		if vigour != "" {
			return usagef("vigour: %q and %q: want one vigour", vigour, words[last])
		}
		vigour, words = words[last], words[:last]
	}
	if v, rest, ok := vigourWord(words); vigour == "" && ok {
		e.Vigour, words = v, rest
	}
	if vigour != "" {
		v, want := season.ParseVigour(vigour)
		if want != "" {
			return usagef("vigour: %q: %s", vigour, want)
		}
		e.Vigour = v
	}
	var want string
	if e.Signs, e.Absent, want = season.SignsOf(words); want != "" {
		return usagef("signs: %s", want)
	}
	return nil
}

// vigourWord reads a vigour that is written as screens print it, at the start.
func vigourWord(words []string) (vigour int, rest []string, ok bool) {
	said := strings.ToLower(strings.Join(words, " ")) + " "
	for _, v := range report.VigourSteps() {
		if after, found := strings.CutPrefix(said, v.Label+" "); found {
			return v.Value, words[len(words)-len(strings.Fields(after)):], true
		}
	}
	return 0, words, false
}
