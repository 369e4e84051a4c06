package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
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
	if errors.As(err, &bad) && bad.BadInput() {
		return exitBad
	}
	return exitFailed
}

// only returns an error if more than one of some options is used.
func only(cmd *cobra.Command, names ...string) error {
	var used []string
	for _, name := range names {
		if cmd.Flags().Changed(name) {
			used = append(used, "--"+name)
		}
	}
	if len(used) > 1 {
		return usagef("%s: want only one of them", strings.Join(used, " and "))
	}
	return nil
}

// version names the build: its module version, or the revision it was built at.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			v += " " + s.Value
		}
	}
	return v
}

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
		Version: version(),
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
				return usagef("unknown command %q: did you mean %s?", args[0], near[0])
			}
			return usagef("unknown command %q: see hollowbed --help", args[0])
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SuggestionsMinimumDistance = 2
	root.SetIn(w.in)
	root.SetOut(w.out)
	root.SetErr(w.err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		text, _, _ := strings.Cut(err.Error(), ": strconv")
		return usagef("%s: see %s --help", text, cmd.CommandPath())
	})
	root.AddCommand(newStart(w), newBasin(w), newZones(w), newFind(w), newChoose(w), newPlace(w), newReport(w), newCatalogue(w), newMan(w))
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
				return usagef("%v: want hollowbed %s; see %s --help", err, strings.TrimPrefix(cmd.UseLine(), "hollowbed "), cmd.CommandPath())
			}
			return nil
		}
	}
	for _, sub := range cmd.Commands() {
		plainArgs(sub)
	}
}
