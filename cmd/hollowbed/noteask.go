package main

import (
	"bufio"
	"fmt"
	"strings"
	"time"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants/season"
)

// ask asks plant by plant, and writes each entry down before the next.
func (o *noteOptions) ask(n *notebook) error {
	if !o.terminal {
		return usagef("want the stake of the plant and how it does, such as: hollowbed note TAR3 2 yellow; on a terminal it asks")
	}
	day, err := o.day(n.garden)
	if err != nil {
		return err
	}
	fmt.Fprintf(o.err, "%s. An empty stake ends. Vigour: 5 excellent, 3 average, 1 poor, 0 dead.\n", day.Format(time.DateOnly))
	in := bufio.NewReader(o.in)
	var all []season.Entry
	for more := true; more; {
		var line string
		line, more = o.answer(in, "Stake?")
		words := wordsOf(line)
		if len(words) == 0 {
			break
		}
		words, err := n.driftFirst(words)
		if err != nil {
			fmt.Fprintf(o.err, "  not written: %v\n", err)
			continue
		}
		e := season.NewEntry(day, words[0], season.Seen)
		if err := o.details(n, in, &e, words[1:]); err != nil {
			fmt.Fprintf(o.err, "  not written: %v\n", err)
			continue
		}
		added, err := n.add(e)
		if err != nil {
			return err
		}
		n.tellEarly(o.err, e)
		all = append(all, added...)
	}
	return o.show(report.NewNote(n.head, n.names, all, nil, n.file()))
}

// details asks how a plant does, unless words tell it already. A slip is told
// before more is asked, and what it was about is asked again.
func (o *noteOptions) details(n *notebook, in *bufio.Reader, e *season.Entry, words []string) error {
	var err error
	if n.meant != nil {
		words, err = o.howMany(n, in, e, words)
	} else {
		err = n.stands(e.Stake)
	}
	if err != nil {
		return err
	}
	for {
		if len(words) == 0 {
			line, _ := o.answer(in, "Vigour, signs?")
			words = wordsOf(line)
		}
		err := seen(e, words)
		if err == nil {
			break
		}
		fmt.Fprintf(o.err, "  %v\n", err)
		words = nil
	}
	e.Remark, _ = o.answer(in, "Remark?")
	return n.fits(*e)
}

// answer asks for a line; more is false when the input has ended.
func (o *noteOptions) answer(in *bufio.Reader, question string) (text string, more bool) {
	fmt.Fprint(o.err, question+" ")
	line, err := in.ReadString('\n')
	return strings.TrimSpace(line), err == nil
}
