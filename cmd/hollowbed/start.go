package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"
	"github.com/google/renameio/v2/maybe"
	"github.com/spf13/cobra"

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
		Short: "Write a new garden file, with a comment on every line",
		Long: `Write DIR/garden.yaml with a comment on every line. On a terminal, what no
option states is asked for; elsewhere it takes its default, and what has none
must be stated. A garden file that is there already is never touched.`,
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
	if err := free(file); err != nil {
		return err
	}
	answers, err := o.answers()
	if err != nil {
		return err
	}
	if err := writeNew(file, []byte(zones.Template(answers))); err != nil {
		return err
	}
	fmt.Fprintf(o.out, `Wrote %s. Next:
  1. Look through it: every line says what it means.
  2. Put a weather record beside it as rain.csv: date, rain_mm, tmin_c, tmax_c; ten years are better than one.
  3. hollowbed basin --garden %[2]s     does the bed hold, and drain?
  4. hollowbed choose --garden %[2]s    what to plant
Before any digging, have buried pipes and cables marked.
`, file, o.dir)
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
		if q.Default != "" {
			shown += " [" + q.Default + "]"
		}
		fmt.Fprintf(o.err, "%s ", shown)
		line, err := in.ReadString('\n')
		if err != nil && (line == "" || !errors.Is(err, io.EOF)) {
			return usagef("stopped at %q: nothing was written", q.Prompt)
		}
		if err := a.Set(q.Key, line); err != nil {
			fmt.Fprintf(o.err, "  %v\n", err)
			continue
		}
		return nil
	}
}

// free returns an error if there is such a file already.
func free(file string) error {
	if _, err := os.Lstat(file); err == nil {
		return usagef("%s: is there already, and is left as it is: want a folder without a garden.yaml", file)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// writeNew writes a new file into a folder, which it makes where need be:
// whole or not at all, under a lock, and never over another.
func writeNew(file string, content []byte) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	lock := flock.New(filepath.Join(filepath.Dir(file), ".hollowbed.lock"))
	if err := takeLock(lock); err != nil {
		return err
	}
	defer lock.Unlock()
	if err := free(file); err != nil {
		return err
	}
	return maybe.WriteFile(file, content, 0o644)
}

// takeLock waits a few seconds for a lock, not for ever.
func takeLock(lock *flock.Flock) error {
	for range 50 {
		ok, err := lock.TryLock()
		if err != nil {
			return fmt.Errorf("lock %s: %w", lock.Path(), err)
		}
		if ok {
			return nil
		}
		time.Sleep(100 * time.Millisecond)
	}
	return fmt.Errorf("%s: another hollowbed holds it: try again when that is done", lock.Path())
}
