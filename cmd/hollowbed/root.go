package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hollowbed/zones"
)

// world is what a command touches outside its arguments.
type world struct {
	in       io.Reader
	out, err io.Writer
	getenv   func(string) string
	now      func() time.Time
	terminal bool // somebody can be asked
}

// Exit statuses.
const (
	exitDone   = 0
	exitFailed = 1
	exitBad    = 2 // bad usage or bad input
)

// usageError is a command line that cannot be meant.
type usageError struct{ error }

func (usageError) BadInput() bool { return true }

func (u usageError) Unwrap() error { return u.error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// run runs one command line. Results go to w.out; all else goes to w.err. An
// error is printed once, here, with "hollowbed: " before it.
func run(args []string, w world) int {
	root := newRoot(w)
	root.SetArgs(args)
	err := root.Execute()
	if err == nil {
		return exitDone
	}
	fmt.Fprintf(w.err, "hollowbed: %v\n", err)
	var bad interface{ BadInput() bool }
	if errors.As(err, &bad) && bad.BadInput() || usageFault(err) {
		return exitBad
	}
	return exitFailed
}

// usageFault says whether cobra itself refused the command line; it has no
// error type of its own for unknown commands.
func usageFault(err error) bool { return strings.HasPrefix(err.Error(), "unknown command") }

// common are the options of every command that reads a garden.
type common struct {
	world
	garden string
	units  string
	json   bool
}

func (c *common) options(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.garden, "garden", "", "folder of the garden (default: the embedded demo)")
	f.StringVar(&c.units, "units", "", "show figures in `us|metric` (default: as the garden file says)")
	f.BoolVar(&c.json, "json", false, "print JSON in SI units")
}

func (c *common) unitsWanted() (zones.Units, error) {
	switch c.units {
	case "", string(zones.UnitsUS), string(zones.UnitsMetric):
		return zones.Units(c.units), nil
	}
	return "", usagef("--units: %q: want us or metric", c.units)
}

func newRoot(w world) *cobra.Command {
	root := &cobra.Command{
		Use:   "hollowbed",
		Short: "Choose plants for a rain garden, find them by site, move the ones that struggle",
		Long: `Hollowbed sizes a rain garden, computes from a rain record how wet and how dry
each place in it gets, and matches a plant table to each zone.

Start with:  hollowbed choose            a planting list for the invented demo garden
Then:        hollowbed start my-garden   a garden file of your own`,
		SilenceUsage: true, SilenceErrors: true,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetIn(w.in)
	root.SetOut(w.out)
	root.SetErr(w.err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usagef("%v: see %s --help", err, cmd.CommandPath())
	})
	root.AddCommand(newStart(w), newBasin(w), newZones(w), newFind(w), newChoose(w), newPlace(w), newCatalogue(w), newMan(w))
	complete(root)
	for _, cmd := range root.Commands() {
		plainArgs(cmd)
	}
	return root
}

// plainArgs makes a wrong number of arguments bad usage.
func plainArgs(cmd *cobra.Command) {
	if check := cmd.Args; check != nil {
		cmd.Args = func(cmd *cobra.Command, args []string) error {
			if err := check(cmd, args); err != nil {
				return usagef("%v: see %s --help", err, cmd.CommandPath())
			}
			return nil
		}
	}
	for _, sub := range cmd.Commands() {
		plainArgs(sub)
	}
}
