package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/data"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/search"
	"hollowbed/zones"
	"hollowbed/zones/table"
)

type findOptions struct {
	common
	words      []string
	query      search.Query
	conditions []search.Condition
	in, at     string
	show       string
	compare    string // one plant; the words are the other
	sort       string
	csv        bool
	facets     []string
	limit      int
	limited    bool   // --limit was given
	made       string // climate that risks rest on; "" for a record
	judge      *plants.Judge
}

func newFind(w world) *cobra.Command {
	o := &findOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "find [WORDS]",
		Short: "Search plants by words and by site condition",
		Long: `Search the plant table by words, by site condition, or by both.

  hollowbed find blue july                      words; endings and accents do not matter
  hollowbed find --wet 48 --dry 21              tolerates 48 h wet and 21 days dry
  hollowbed find 'wet>=48 height<3ft -toxic'    the same kind of thing in one line
  hollowbed find --in bottom --garden DIR       what survives there, least risk first
  hollowbed find like blue skelver but shorter  others of its kind, most like it first
  hollowbed find replace SKE1 --garden DIR      what can grow in its place, in the same layer
  hollowbed find --show 'blue skelver'          all that is known of one plant
  hollowbed find --compare NAME NAME            two plants side by side

Every condition is an option with a value (--toxic no, --height 1..2ft) and can
stand in the line too (toxic:no, height:1..2ft). A number may begin with <, <=,
>, >= or =, may be a range (20..60) and may carry its unit; the unit of the
upper end of a range holds for both. A word or a condition with one dash before
it is turned round (-toxic). Quote a line that holds < or >, or the shell takes
them for itself.`,
		DisableFlagParsing: true, // a word may begin with a dash: see parse
		RunE: func(cmd *cobra.Command, args []string) error {
			if help, err := o.parse(cmd, args); help || err != nil {
				return err
			}
			return o.run()
		},
		ValidArgsFunction: completeFind,
	}
	o.options(cmd)
	o.allOption(cmd)
	o.learnedOption(cmd)
	for _, f := range search.Fields() {
		cmd.Flags().String(f.Name, "", optionHelp(f))
	}
	cmd.Flags().StringVar(&o.in, "in", "", "only plants that survive in this `zone` of the garden, least yearly risk first")
	cmd.Flags().StringVar(&o.at, "at", "", "only plants that survive at this `place` of the bed, such as \"4 ft, 3 ft\" in the coordinates of its outline")
	o.plantsOption(cmd)
	cmd.Flags().StringVar(&o.show, "show", "", "print all that is known of one plant, by its `NAME` or id")
	cmd.Flags().StringVar(&o.compare, "compare", "", "set a plant, by its `NAME` or id, beside another named after it")
	cmd.Flags().StringVar(&o.sort, "sort", "", "sort hits by `FIELD`: "+strings.Join(search.Sorts(), ", ")+"; -FIELD from the largest down")
	cmd.Flags().BoolVar(&o.csv, "csv", false, "print the hits as a plant table, all unless --limit is given")
	cmd.Flags().StringSliceVar(&o.facets, "count", nil, "count the hits by `fields`, such as zone,colour")
	cmd.Flags().IntVar(&o.limit, "limit", 10, "most hits shown")
	cmd.MarkFlagsMutuallyExclusive("in", "at")
	cmd.MarkFlagsMutuallyExclusive("show", "compare", "csv")
	cmd.MarkFlagsMutuallyExclusive("csv", "json")
	return cmd
}

// parse reads the arguments. cobra cannot: a word of one dash is no option here
// but a word or condition turned round, and --evergreen may stand alone.
func (o *findOptions) parse(cmd *cobra.Command, args []string) (help bool, err error) {
	options, words := parted(cmd, args)
	for _, w := range words {
		name := strings.TrimPrefix(w, "-")
		if name != w && cmd.Flags().Lookup(name) != nil && !isField(name) {
			return false, usagef("%s: want two dashes for the option, --%s; a word to leave out goes in quotes, '-\"%s\"'", w, name, name)
		}
	}
	cmd.DisableFlagParsing = false
	if err := cmd.ParseFlags(options); err != nil {
		return false, cmd.FlagErrorFunc()(cmd, err)
	}
	if help, err = cmd.Flags().GetBool("help"); help || err != nil {
		return help, errors.Join(err, cmd.Help())
	}
	if check := cmd.PreRunE; check != nil { // of every command's options; cobra has run it before there were any
		if err := check(cmd, words); err != nil {
			return false, err
		}
	}
	if err := cmd.ValidateFlagGroups(); err != nil {
		return false, usageError{err}
	}
	o.words, o.limited = words, cmd.Flags().Changed("limit")
	if o.show != "" || o.compare != "" {
		return false, nil
	}
	return false, o.read(cmd)
}

// parted tells options, with their values, from words. An option that may
// stand alone does so at the end and before anything with a dash.
func parted(cmd *cobra.Command, args []string) (options, words []string) {
	for i := 0; i < len(args); i++ {
		arg := args[i]
		switch name, long := strings.CutPrefix(arg, "--"); {
		case long && name == "":
			return options, append(words, args[i+1:]...)
		case !long && arg != "-h":
			words = append(words, arg)
		default:
			options = append(options, arg)
			flag := cmd.Flags().Lookup(name)
			if flag == nil || flag.NoOptDefVal != "" { // --name=value, --json, -h
				continue
			}
			last := i+1 == len(args)
			if (last || strings.HasPrefix(args[i+1], "-")) && alone(name) {
				options[len(options)-1] += "=yes"
			} else if !last {
				i++
				options = append(options, args[i])
			}
		}
	}
	return options, words
}

// alone reports whether an option says something without a value.
func alone(option string) bool {
	return slices.ContainsFunc(search.Fields(), func(f search.Field) bool { return f.Flag && f.Name == option })
}

// isField reports whether an option is a condition.
func isField(option string) bool {
	return slices.ContainsFunc(search.Fields(), func(f search.Field) bool { return f.Name == option })
}

// read makes the query of the words and of the options that are conditions, and
// names all faults of both at once.
func (o *findOptions) read(cmd *cobra.Command) error {
	var faults, more table.Faults
	query, err := search.Parse(strings.Join(o.words, " "))
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	for _, f := range search.Fields() {
		flag := cmd.Flags().Lookup(f.Name)
		if !flag.Changed {
			continue
		}
		c, err := search.ParseOption(f.Name, flag.Value.String())
		if err != nil {
			if !errors.As(err, &more) {
				return err
			}
			for _, m := range more {
				m.Name = "--" + f.Name
				faults = append(faults, m)
			}
			continue
		}
		o.conditions = append(o.conditions, c)
	}
	if len(faults) > 0 {
		return faults
	}
	o.query = query
	o.query.Conditions = append(o.query.Conditions, o.conditions...)
	return nil
}

// line is the whole query as one line.
func (o *findOptions) line() string {
	parts := slices.Clone(o.words)
	for _, c := range o.conditions {
		parts = append(parts, c.Typed)
	}
	return strings.Join(parts, " ")
}

// optionHelp is what --help says of a condition, with its values or its unit.
func optionHelp(f search.Field) string {
	switch {
	case f.Flag:
		return f.Help + ": " + strings.Join(f.Values, ", ") + "; alone it reads yes"
	case f.Unit != "":
		return f.Help + ": a number in " + f.Unit + ", or with its unit"
	case f.Name == "bloom":
		return f.Help + ", such as july or may..july"
	case len(f.Values) > 0:
		return f.Help + ": " + strings.Join(f.Values, ", ")
	}
	return f.Help
}

// completeFind completes the value of an option; cobra does so itself only
// where it also reads the options.
func completeFind(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	name, value, equals := strings.Cut(typed, "=")
	if !equals && len(args) > 0 {
		name, value = args[len(args)-1], typed
	}
	option, long := strings.CutPrefix(name, "--")
	if complete, ok := cmd.GetFlagCompletionFunc(option); long && ok && !strings.HasPrefix(value, "-") {
		return complete(cmd, args, value)
	}
	return nil, cobra.ShellCompDirectiveDefault
}

func (o *findOptions) run() error {
	o.in = strings.ToLower(strings.TrimSpace(o.in))
	if o.limit < 1 {
		return usagef("--limit: %d: want 1 or more", o.limit)
	}
	f, err := o.openGarden()
	if err != nil {
		return err
	}
	table, err := o.table(f)
	if err != nil {
		return err
	}
	if o.show != "" || o.compare != "" {
		return o.showPlants(f, table)
	}
	query, line := o.query, o.line()
	query.Limit, query.Facets, query.Sort = o.limit, o.facets, o.sort
	if o.csv && !o.limited {
		query.Limit = len(table.Plants)
	}
	if query.Survives, err = o.survives(f, table); err != nil {
		return err
	}
	if err := o.inPlace(f, table, &query); err != nil {
		return err
	}
	index, err := o.index(table)
	if err != nil {
		return err
	}
	defer index.Close()
	result, err := index.Find(query)
	if err != nil {
		return err
	}
	if o.csv {
		var hits []catalogue.Plant
		for _, h := range result.Hits {
			hits = append(hits, table.Plants[h.Row])
		}
		return catalogue.Write(o.out, hits)
	}
	if (o.judge != nil || o.garden != "") && f.garden.Wishes.Watering == zones.WaterWeekly {
		result.Notes = append(result.Notes, "risks count on watering once a week in drought, every year (wishes.watering)")
	}
	if o.made != "" {
		result.Notes = append(result.Notes, "risks are of weather "+o.made)
	}
	doc := report.NewFind(f.head, table.Name, line, o.place(), result, o.best(f, table, result))
	if o.json {
		return report.JSON(o.out, doc)
	}
	o.print(doc.Blocks())
	return nil
}

// openGarden opens the garden, silently where only a plant table is searched.
func (o *findOptions) openGarden() (*folder, error) {
	c := o.common
	if o.plants != "" && o.in == "" && o.at == "" {
		c.err = io.Discard
	}
	return c.open()
}

func (o *findOptions) table(f *folder) (*catalogue.Catalogue, error) {
	f.tables = search.Tables{CacheDir: cacheDir(), Program: programSoon, Kept: func() {
		debug.SetGCPercent(400) // the answer is near: going through all plants for garbage would take as long as the rest
	}}
	return f.catalogue(o.err)
}

// index opens the search index of a table; a large table keeps its words in
// the user's cache folder.
func (o *findOptions) index(table *catalogue.Catalogue) (*search.Index, error) {
	file, err := data.Files().Open("synonyms.csv")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	rows := io.Reader(file)
	if table.State != "" {
		rows = io.MultiReader(file, strings.NewReader("native|natives,native:"+table.State+",where the lot lies\n"))
	}
	synonyms, err := search.ReadSynonyms("synonyms.csv", rows)
	if err != nil {
		return nil, err
	}
	options := search.Options{Synonyms: synonyms, CacheDir: cacheDir(), Digest: table.Digest, Building: o.building()}
	return search.New(table.Plants, options)
}

// building tells people who wait that words are read for the first time, and at
// a terminal how far that is.
func (o *findOptions) building() func(plants int, done float64) {
	var bar *progressbar.ProgressBar
	return func(plants int, done float64) {
		switch {
		case plants < 10_000: // a second at most
		case done == 0:
			fmt.Fprintf(o.err, "Reading %d plants for the first time: some seconds.\n", plants)
			if o.terminal {
				bar = newBar(o.err, 100, "words")
			}
		case bar != nil && done < 1:
			_ = bar.Set(int(100 * done))
		case bar != nil:
			_ = bar.Finish()
		}
	}
}

// cacheDir is our folder among the user's caches; "" if there are none.
func cacheDir() string {
	cache, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(cache, "hollowbed")
}
