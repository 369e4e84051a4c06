package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/data"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/search"
	"hollowbed/zones"
)

type findOptions struct {
	common
	words      []string
	conditions []string // as in a query line
	in, at     string
	table      string
	facets     []string
	limit      int
}

func newFind(w world) *cobra.Command {
	o := &findOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "find [WORDS]",
		Short: "Search plants by words and by site condition",
		Long: `Search the plant table by words, by site condition, or by both.

  hollowbed find blue july                      words; endings and accents do not matter
  hollowbed find --wet 48 --dry 21              bears 48 h wet and 21 days dry
  hollowbed find 'wet>=48 height<3ft -toxic'    the same kind of thing in one line
  hollowbed find --in bottom --garden DIR       what survives there, least risk first

Every condition is an option and can stand in the line too. A value may begin
with <, <=, >, >= or =, may be a range (20..60) and may carry its unit.
Quote a line that holds < or >, or the shell takes them for itself.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.words = args
			for _, f := range search.Fields() {
				if flag := cmd.Flags().Lookup(f.Name); flag.Changed {
					o.conditions = append(o.conditions, condition(f.Name, flag.Value.String()))
				}
			}
			return o.run()
		},
	}
	o.options(cmd)
	for _, f := range search.Fields() {
		cmd.Flags().String(f.Name, "", f.Help)
		if f.Flag {
			cmd.Flags().Lookup(f.Name).NoOptDefVal = "yes"
		}
	}
	cmd.Flags().StringVar(&o.in, "in", "", "only plants that survive in this `zone` of the garden, least yearly risk first")
	cmd.Flags().StringVar(&o.at, "at", "", "only plants that survive at this `place` of the bed, such as \"4 ft, 3 ft\" in the coordinates of its outline")
	cmd.Flags().StringVar(&o.table, "plants", "", "search this plant table instead of the garden's `FILE`")
	cmd.Flags().StringSliceVar(&o.facets, "count", nil, "count the hits by `fields`, such as zone,colour")
	cmd.Flags().IntVar(&o.limit, "limit", 10, "most hits shown")
	cmd.MarkFlagsMutuallyExclusive("in", "at")
	return cmd
}

// condition writes an option as a query line has it.
func condition(field, value string) string {
	if value == "" || strings.ContainsRune("<>=", rune(value[0])) {
		return field + value
	}
	if strings.ContainsAny(value, " \t") && !strings.Contains(value, `"`) {
		value = `"` + value + `"`
	}
	return field + ":" + value
}

func (o *findOptions) run() error {
	if o.limit < 1 {
		return usagef("--limit: %d: want 1 or more", o.limit)
	}
	line := strings.Join(append(slices.Clone(o.words), o.conditions...), " ")
	query, err := search.Parse(line)
	if err != nil {
		return err
	}
	query.Limit, query.Facets = o.limit, o.facets
	f, err := o.openGarden()
	if err != nil {
		return err
	}
	table, err := o.plants(f)
	if err != nil {
		return err
	}
	if query.Survives, err = o.survives(f, table); err != nil {
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
	doc := report.NewFind(f.head, table.Name, line, o.place(), result)
	if o.json {
		return report.JSON(o.out, doc)
	}
	doc.Text(o.out)
	return nil
}

// openGarden opens the garden, silently where only a plant table is searched.
func (o *findOptions) openGarden() (*folder, error) {
	c := o.common
	if o.table != "" && o.in == "" && o.at == "" {
		c.err = io.Discard
	}
	return c.open()
}

func (o *findOptions) place() string {
	if o.at != "" {
		return "at " + o.at
	}
	return o.in
}

func (o *findOptions) plants(f *folder) (*catalogue.Catalogue, error) {
	if o.table == "" {
		return f.catalogue(o.err)
	}
	file, err := os.Open(o.table)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, usagef("--plants: %s: no such file: want a plant table in CSV", o.table)
	} else if err != nil {
		return nil, err
	}
	defer file.Close()
	return catalogue.Read(o.table, file)
}

// index opens the search index of a table; a large table keeps its words in
// the user's cache folder.
func (o *findOptions) index(table *catalogue.Catalogue) (*search.Index, error) {
	file, err := data.Files().Open("synonyms.csv")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	synonyms, err := search.ReadSynonyms("synonyms.csv", file)
	if err != nil {
		return nil, err
	}
	options := search.Options{Synonyms: synonyms, Digest: table.Digest}
	if cache, err := os.UserCacheDir(); err == nil {
		options.CacheDir = filepath.Join(cache, "hollowbed")
	}
	return search.New(table.Plants, options)
}

// survives judges plants in the zone or at the place asked for; nil if neither
// was.
func (o *findOptions) survives(f *folder, table *catalogue.Catalogue) (func(int) (float64, string, bool), error) {
	if o.in == "" && o.at == "" {
		return nil, nil
	}
	exposure, err := f.exposure()
	if err != nil {
		return nil, err
	}
	if err := exposure.Lot.NeedSun(); err != nil {
		return nil, err
	}
	judge := plants.NewJudge(exposure)
	var at func(catalogue.Plant) (plants.Verdict, bool)
	if o.in != "" {
		if !slices.ContainsFunc(exposure.Zones, func(z zones.ZoneExposure) bool { return z.Zone == o.in }) {
			return nil, usagef("--in: %q: want a zone of this bed: %s", o.in, zoneNames(exposure))
		}
		at = func(p catalogue.Plant) (plants.Verdict, bool) { return judge.Zone(p, o.in) }
	} else {
		band, err := bandAt(exposure, o.at)
		if err != nil {
			return nil, err
		}
		at = func(p catalogue.Plant) (plants.Verdict, bool) { return judge.Band(p, band), true }
	}
	return func(row int) (float64, string, bool) {
		v, ok := at(table.Plants[row])
		return v.Fit.YearlyRisk, report.Reason(v.Fit.Reason, f.garden.Units), ok && v.Lives()
	}, nil
}

// bandAt finds the elevation band of a place in the bed, given as two lengths.
func bandAt(e *zones.Exposure, place string) (int, error) {
	want := fmt.Sprintf("--at: %q: want two lengths with their units, such as \"4 ft, 3 ft\"", place)
	x, y, ok := strings.Cut(place, ",")
	if !ok {
		return 0, usagef("%s", want)
	}
	xM, err := zones.ParseLengthM(strings.TrimSpace(x))
	if err != nil {
		return 0, usagef("%s", want)
	}
	yM, err := zones.ParseLengthM(strings.TrimSpace(y))
	if err != nil {
		return 0, usagef("%s", want)
	}
	band, ok := e.BandAt(xM, yM)
	if !ok {
		x0, y0, x1, y1 := e.Lot.Bed.Spec().Outline.Bounds()
		u := e.Lot.Garden.Units
		return 0, usagef("--at: %q: outside the bed, which reaches from %s, %s to %s, %s", place, u.Length(x0), u.Length(y0), u.Length(x1), u.Length(y1))
	}
	return band, nil
}
