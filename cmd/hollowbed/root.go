package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones"
	"hollowbed/zones/table"
)

// world is what a command touches outside its arguments.
type world struct {
	in       io.Reader
	out, err io.Writer
	getenv   func(string) string
	now      func() time.Time
	terminal bool          // somebody can be asked
	build    func() string // tells builds of the program apart; nil for program
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
	if w.build == nil {
		w.build = program
	}
	out := &output{}
	w.out = out.watch(w.out)
	root := newRoot(w)
	root.SetArgs(args)
	err := root.Execute()
	if err == nil && out.failed != nil {
		err = fmt.Errorf("the output could not be written: %w", out.failed)
	}
	if err == nil {
		return exitDone
	}
	fmt.Fprintf(w.err, "hollowbed: %s\n", clipped(err.Error()))
	var bad interface{ BadInput() bool }
	if errors.As(err, &bad) && bad.BadInput() {
		return exitBad
	}
	return exitFailed
}

// clipped leaves out the middle of lines too long for any screen, as when a
// cell of a file is the file's other half. They begin with the place and end
// with what would be right.
func clipped(text string) string {
	const most, head, tail = 480, 300, 150
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if r := []rune(line); len(r) > most {
			lines[i] = fmt.Sprintf("%s ... (%d characters left out) ... %s", string(r[:head]), len(r)-head-tail, string(r[len(r)-tail:]))
		}
	}
	return strings.Join(lines, "\n")
}

// output is the standard output of one run. It remembers the first failed
// write, so that the many places that print need not look, and takes no more
// after it.
type output struct {
	io.Writer
	failed error
}

// watch puts o before a writer, which stays as wide as it is.
func (o *output) watch(w io.Writer) io.Writer {
	if paper, ok := w.(report.Paper); ok {
		o.Writer = paper.Writer
		paper.Writer = o
		return paper
	}
	o.Writer = w
	return o
}

func (o *output) Write(p []byte) (int, error) {
	if o.failed == nil {
		_, o.failed = o.Writer.Write(p)
	}
	return len(p), nil // told once, by run
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

// common are the options of every command that reads a garden.
type common struct {
	world
	garden  string
	units   string
	json    bool
	plants  string
	learned string
	byNotes bool
	all     bool
}

func (c *common) options(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.garden, "garden", "", "folder of the garden (default: the embedded demo)")
	f.StringVar(&c.units, "units", "", "show figures in `us|metric` (default: as the garden file says)")
	f.BoolVar(&c.json, "json", false, "print JSON in SI units")
}

// allOption is for commands whose text has a short form.
func (c *common) allOption(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&c.all, "all", false, "print all of it, not what fits a screen")
}

// print prints blocks, in short unless all of it is wanted.
func (c *common) print(blocks []doc.Block) {
	if c.all {
		doc.Terminal(c.out, blocks)
	} else {
		doc.Brief(c.out, blocks)
	}
}

// plantsOption is for commands that judge plants of any table.
func (c *common) plantsOption(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.plants, "plants", "", "take plants from another table than the garden's: us, demo or a `FILE`")
}

// learnedOption is for commands that judge plants.
func (c *common) learnedOption(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.learned, "learned", "", "take limits from what notes have taught instead of the plant table, from a `FILE` of move --learn")
}

// byNotesOption is for commands that may go by what this garden's notes taught of
// its ground and its sun.
func (c *common) byNotesOption(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&c.byNotes, "by-notes", false, "go by what note --pond and --sun taught of this garden's ground and sun")
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
Then:        hollowbed start my-garden   a garden file of your own
Files:       hollowbed help garden-file, weather-file or plant-table`,
		SilenceUsage: true, SilenceErrors: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return unknownCommand(cmd, args[0])
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			if wanted, _ := cmd.Flags().GetBool("version"); wanted {
				return printVersion(w.out)
			}
			return cmd.Help()
		},
	}
	root.Flags().BoolP("version", "v", false, "version of the program, its data and its schemas")
	root.SuggestionsMinimumDistance = 2
	root.SetIn(w.in)
	root.SetOut(w.out)
	root.SetErr(w.err)
	root.AddCommand(newBatch(w))
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		if words := cmd.Flags().Args(); !cmd.HasParent() && len(words) > 0 {
			return unknownCommand(cmd, words[0]) // whose options are not known either
		}
		text, _, _ := strings.Cut(err.Error(), ": strconv")
		return usagef("%s: see %s --help", text, cmd.CommandPath())
	})
	root.AddCommand(newStart(w), newWeather(w), newBasin(w), newZones(w), newFind(w), newChoose(w), newPlace(w), newCare(w), newReport(w), newNote(w), newMove(w), newOpen(w), newCatalogue(w), newMan(w))
	complete(root)
	usual(root, w)
	for _, cmd := range root.Commands() {
		plainArgs(cmd)
		plainOptions(cmd)
	}
	return root
}

// unknownCommand says which command was most likely meant.
func unknownCommand(root *cobra.Command, word string) error {
	near := root.SuggestionsFor(word)
	switch name := table.Nearest(word, topicNames()); {
	case name == word, name != "" && len(near) == 0:
		return usagef("unknown command %q: expected hollowbed help %s", word, name)
	case len(near) > 0:
		return usagef("unknown command %q: did you mean %s?", word, near[0])
	}
	return usagef("unknown command %q: see hollowbed --help", word)
}

// usual adds the commands that cobra brings, help and completion, so that a
// slip in their arguments is bad usage too.
func usual(root *cobra.Command, w world) {
	root.InitDefaultCompletionCmd()
	root.InitDefaultHelpCmd()
	for _, cmd := range root.Commands() {
		switch cmd.Name() {
		case "completion":
			cmd.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
		case "help":
			helpOn(root, cmd, w)
		}
	}
}

// plainOptions makes two options that shut each other out bad usage, and an
// option with an empty value, as an unset variable of a script leaves it:
// taken for an option left out, it would show another garden than meant.
func plainOptions(cmd *cobra.Command) {
	if cmd.Name() != "start" { // where an empty answer takes its default
		cmd.PreRunE = func(cmd *cobra.Command, _ []string) error {
			var faults []error
			cmd.Flags().Visit(func(f *pflag.Flag) {
				if f.Name != "why" && isEmpty(f.Value) { // --why says itself what would be right
					faults = append(faults, usagef("--%s: \"\": want a value; see %s --help", f.Name, cmd.CommandPath()))
				}
			})
			if err := cmd.ValidateFlagGroups(); err != nil {
				faults = append(faults, usageError{err})
			}
			if f := cmd.Flags().Lookup("garden"); f != nil && filepath.Base(f.Value.String()) == gardenFile {
				if dir := gardenAt(f.Value.String()); dir != "" {
					must(f.Value.Set(dir))
				}
			}
			return errors.Join(faults...)
		}
	}
	for _, sub := range cmd.Commands() {
		plainOptions(sub)
	}
}

func isEmpty(v pflag.Value) bool {
	if many, ok := v.(pflag.SliceValue); ok {
		return len(many.GetSlice()) == 0 || slices.Contains(many.GetSlice(), "")
	}
	return strings.TrimSpace(v.String()) == ""
}

const gardenFile = "garden.yaml"

// gardenAt is the folder of the garden that a path names, by itself or by its
// garden file; "" if there is none.
func gardenAt(path string) string {
	if filepath.Base(path) == gardenFile {
		path = filepath.Dir(path)
	}
	if info, err := os.Stat(filepath.Join(path, gardenFile)); err != nil || info.IsDir() {
		return ""
	}
	return path
}

// shellWord is a word as a shell takes it.
func shellWord(s string) string {
	if strings.ContainsAny(s, " \t'\"$&|;<>()*?[]{}#~`\\!") {
		return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
	}
	return s
}

// plainArgs makes a wrong number of arguments bad usage.
func plainArgs(cmd *cobra.Command) {
	check := cmd.Args
	if cmd.Name() == "note" { // any words, but a garden is none of them
		check = cobra.ArbitraryArgs
	}
	if check != nil {
		cmd.Args = func(cmd *cobra.Command, args []string) error {
			err := check(cmd, args)
			if f := cmd.Flags().Lookup("garden"); f != nil && !f.Changed && (err != nil || cmd.Name() == "note") && len(args) > 0 {
				if dir := gardenAt(args[0]); dir != "" {
					return usagef("%q is a garden: expected it behind --garden: %s --garden %s", args[0], cmd.CommandPath(), shellWord(dir))
				}
			}
			if err != nil {
				return usagef("%v: want hollowbed %s; see %s --help", err, strings.TrimPrefix(cmd.UseLine(), "hollowbed "), cmd.CommandPath())
			}
			return nil
		}
	}
	for _, sub := range cmd.Commands() {
		plainArgs(sub)
	}
}
