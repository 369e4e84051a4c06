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
	for {
		stake, more := o.answer(in, "Stake?")
		if stake == "" || !more {
			break
		}
		e := season.NewEntry(day, stake, season.Seen)
		if err := o.details(n, in, &e); err != nil {
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

// details asks how a plant does. A slip is told before more is asked.
func (o *noteOptions) details(n *notebook, in *bufio.Reader, e *season.Entry) error {
	if err := n.stands(e.Stake); err != nil {
		return err
	}
	words, _ := o.answer(in, "Vigour, signs?")
	if err := seen(e, []string{words}); err != nil {
		return err
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
