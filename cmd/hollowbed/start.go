package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/store"
	"hollowbed/zones"
)

type startOptions struct {
	world
	dir   string
	given map[string]*string // by question, nil if the option was not used
}

func newStart(w world) *cobra.Command {
	o := &startOptions{world: w, given: map[string]*string{}}
	cmd := &cobra.Command{
		Use:   "start DIR",
		Short: "Write a new garden file, with comments",
		Long: `Write DIR/garden.yaml with comments. On a terminal, what no option states is
asked for; elsewhere it takes its default, and what has none must be stated. A
garden file that is there already is never touched.`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.dir = args[0]
			for _, q := range zones.Questions(zones.UnitsUS) {
				if flag := cmd.Flags().Lookup(q.Key); flag.Changed {
					text := flag.Value.String()
					o.given[q.Key] = &text
				}
			}
			return o.run()
		},
	}
	for _, q := range zones.Questions(zones.UnitsUS) {
		cmd.Flags().String(q.Key, "", fmt.Sprintf("%s e.g. %q", q.Prompt, q.Example))
	}
	return cmd
}

func (o *startOptions) run() error {
	file := filepath.Join(o.dir, "garden.yaml")
	if err := store.Free(file); err != nil {
		return err
	}
	answers, err := o.answers()
	if err != nil {
		return err
	}
	if err := store.New(file, []byte(zones.Template(answers))); err != nil {
		return err
	}
	sun := ""
	if answers.Sun == "" {
		sun = " Fill in the sun."
	}
	fmt.Fprintf(o.out, `Wrote %s. Next:
  1. Look through it; the comments say what the lines mean.%[3]s
  2. Put a weather record beside it as rain.csv: date, rain_mm, tmin_c, tmax_c; ten years are better than one.
  3. hollowbed basin --garden %[2]s     does the bed hold, and drain?
  4. hollowbed choose --garden %[2]s    what to plant
Before any digging, have buried pipes and cables marked.
`, file, o.dir, sun)
	return nil
}

// answers takes the options, and asks for the rest where somebody is there.
func (o *startOptions) answers() (zones.Answers, error) {
	var a zones.Answers
	ask := bufio.NewReader(o.in)
	var faults []error
	for i := range zones.Questions(zones.UnitsUS) {
		q := zones.Questions(zones.Units(a.Units))[i]
		given := o.given[q.Key]
		if given == nil && o.terminal {
			if err := o.ask(ask, &a, q); err != nil {
				return a, err
			}
			continue
		}
		text := ""
		if given != nil {
			text = *given
		}
		if err := a.Set(q.Key, text); err != nil {
			faults = append(faults, usagef("--%s", strings.TrimPrefix(err.Error(), ": ")))
		}
	}
	return a, errors.Join(faults...)
}

// ask asks until the answer is right or the input ends.
func (o *startOptions) ask(in *bufio.Reader, a *zones.Answers, q zones.Question) error {
	for {
		shown := q.Prompt
		switch {
		case q.Default != "":
			shown += " [" + q.Default + "]"
		case !q.Empty:
			shown += " (such as " + q.Example + ")"
		}
		fmt.Fprintf(o.err, "%s ", shown)
		line, err := in.ReadString('\n')
		if err != nil && (line == "" || !errors.Is(err, io.EOF)) {
			fmt.Fprintln(o.err)
			return usagef("stopped at %q: nothing was written", q.Prompt)
		}
		if err := a.Set(q.Key, line); err != nil {
			fmt.Fprintf(o.err, "  %v\n", err)
			continue
		}
		return nil
	}
}
