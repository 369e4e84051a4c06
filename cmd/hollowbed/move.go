package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

type moveOptions struct {
	common
	plant, soFar, plan, learn, date string
	into                            string
	from                            []string
	only                            []int
	seasons                         int
	apply                           bool
}

func newMove(w world) *cobra.Command {
	o := &moveOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "move",
		Short: "Why plants struggle, and which should stand elsewhere; --apply writes it down",
		Long: `Weigh why each plant of planted.csv does as season.csv says, from its signs and
from what the season's weather did at its place; learn from that what species
bear and how this garden differs from what was computed; and plan which plants
should move, swap or be replaced. Nothing is moved for a gain smaller than what
moving costs and leaves in doubt.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := o.check(cmd); err != nil {
				return err
			}
			return o.run()
		},
	}
	o.options(cmd)
	o.byNotesOption(cmd)
	o.allOption(cmd)
	f := cmd.Flags()
	f.StringVar(&o.plant, "plant", "", "rank the places that one plant may have, by its `STAKE`")
	f.StringArrayVar(&o.from, "from", nil, "learn from the garden in this `DIR` too; may be given more than once")
	f.StringVar(&o.into, "into", "", "look which struggling plants would do better in the garden in this `DIR`, another of yours")
	f.StringVar(&o.soFar, "so-far", "", "weather of the seasons noted, where the garden's record does not reach: a `FILE` like it")
	f.IntVar(&o.seasons, "seasons", 3, "look so many `SEASONS` ahead")
	f.StringVar(&o.date, "date", "", "plan as of this day, `YYYY-MM-DD` (default: today; for the demo 2024-10-05)")
	f.StringVar(&o.plan, "plan", "", "draw the moves on the plan to `FILE`, as SVG, or as PNG if it ends in .png")
	f.StringVar(&o.learn, "learn", "", "write what was learned of species to `FILE`, for --learned of choose, find and place")
	f.BoolVar(&o.apply, "apply", false, "write the moves to planted.csv, with their history to season.csv, as done on --date")
	f.IntSliceVar(&o.only, "only", nil, "with --apply: only these `NUMBERS` of the plan")
	return cmd
}

const mostSeasons = 20

// demoDay is when the demo's moves are planned: after its first season.
const demoDay = "2024-10-05"

func (o *moveOptions) check(cmd *cobra.Command) error {
	var faults []error
	if o.seasons < 1 || o.seasons > mostSeasons {
		faults = append(faults, usagef("--seasons: %d: want 1 to %d", o.seasons, mostSeasons))
	}
	if cmd.Flags().Changed("only") && !o.apply {
		faults = append(faults, usagef("--only: want --apply with it"))
	}
	faults = append(faults, o.checkInto()...)
	if o.plant != "" && (o.apply || o.plan != "" || o.learn != "") {
		faults = append(faults, usagef("--plant only ranks places: want no --apply, --plan or --learn with it"))
	}
	return errors.Join(faults...)
}

func (o *moveOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	if o.apply && f.dir == "" {
		return usagef("--apply: the demo stays as it is: want --garden DIR, the folder of a garden of yours")
	}
	if err := f.guard([]writes{{option: "--plan", file: o.plan, picture: true}, {option: "--learn", file: o.learn}}, o.reads()...); err != nil {
		return err
	}
	in, input, err := o.gather(f)
	if err != nil {
		return err
	}
	if o.plant != "" {
		stake := strings.ToUpper(strings.TrimSpace(o.plant))
		switch meant := plants.Stakes(input.Standing, in.Plants, o.plant); {
		case len(meant) == 1:
			stake = meant[0]
		case len(meant) > 1:
			return usagef("--plant: %q: %s", o.plant, oneOfStakes(meant))
		}
		options, err := plants.RankPlaces(*input, stake)
		if err != nil {
			return err
		}
		row, _ := season.Grows(input.Standing, stake)
		doc := report.NewRanked(f.head, in, stake, row.ID, o.seasons, options)
		if o.json {
			return report.JSON(o.out, doc)
		}
		o.print(doc.Blocks())
		return nil
	}
	if in.Plan, err = plants.Relocate(*input); err != nil {
		return err
	}
	if o.into != "" {
		if err := o.lookInto(f, &in, input); err != nil {
			return err
		}
	}
	if err := o.write(f, &in, input); err != nil {
		return err
	}
	doc := report.NewMove(f.head, in)
	if o.json {
		return report.JSON(o.out, doc)
	}
	o.print(doc.Blocks())
	return nil
}

// reads are the files that it reads beside those of the garden.
func (o *moveOptions) reads() []string {
	names := []string{o.soFar}
	for _, dir := range slices.DeleteFunc(append(slices.Clone(o.from), o.into), func(s string) bool { return s == "" }) {
		names = append(names, gardenFiles(dir)...)
	}
	return names
}

// day is the day of planning.
func (o *moveOptions) day(f *folder) (time.Time, error) {
	text := o.date
	if text == "" && f.dir == "" {
		text = demoDay
	}
	if text == "" {
		return season.Midnight(o.now().In(f.garden.Site.Location)), nil
	}
	return dayNamed("--date", text)
}

// gather replays the garden's seasons and learns from them.
func (o *moveOptions) gather(f *folder) (in report.MoveIn, input *plants.MoveInput, err error) {
	if in.On, err = o.day(f); err != nil {
		return in, nil, err
	}
	if in.Signs, err = signs(); err != nil {
		return in, nil, err
	}
	table, err := f.catalogue(o.err)
	if err != nil {
		return in, nil, err
	}
	if in.Exposure, err = f.exposure(); err != nil {
		return in, nil, err
	}
	if err := in.Exposure.Lot.NeedSun(); err != nil {
		return in, nil, err
	}
	var weather *site.Record
	if o.soFar != "" {
		if weather, err = f.other("--so-far", o.soFar); err != nil {
			return in, nil, err
		}
	}
	in.Plants = table
	own, rows, err := o.replay(f, in.Exposure, weather, table)
	if err != nil {
		return in, nil, err
	}
	if len(rows) == 0 {
		return in, nil, usagef("%s: nothing is known to stand here: want a planted.csv in the folder; hollowbed place writes one", f.name("planted.csv"))
	}
	in.Own, in.Notes = own.Garden, append(own.Notes, ahead(f.seasonRead, in.On)...)
	if err := in.Exposure.Lot.NeedDrain(); err != nil {
		in.Notes = append(in.Notes, "warning: "+err.Error())
	}
	var others []season.Case
	for _, dir := range o.from {
		other, err := o.otherGarden(dir, in.Gardens, f, table)
		if err != nil {
			return in, nil, err
		}
		in.Gardens = append(in.Gardens, dir)
		if len(other.Cases) == 0 {
			in.Notes = append(in.Notes, dir+": nothing to learn from: no notes there of plants that this plant table knows")
		}
		others = append(others, other.Cases...)
	}
	all := own.MoveInput(plants.NewJudge(in.Exposure), in.Signs, table, rows, others, in.On)
	all.Seasons = o.seasons
	in.Take(all)
	return in, &all, nil
}

// ahead tells of entries from after the day of planning.
func ahead(rec *season.Notes, on time.Time) []string {
	n := 0
	for _, e := range rec.Current() {
		if e.Kind == season.Seen && e.Date.After(on) {
			n++
		}
	}
	switch n {
	case 0:
		return nil
	case 1:
		return []string{fmt.Sprintf("1 entry is from after %s, the day of planning, and counts all the same", on.Format(time.DateOnly))}
	}
	return []string{fmt.Sprintf("%d entries are from after %s, the day of planning, and count all the same", n, on.Format(time.DateOnly))}
}

// replay runs the weather of a garden's seasons.
func (o *moveOptions) replay(f *folder, e *zones.Exposure, weather *site.Record, table *catalogue.Catalogue) (*plants.Replayed, []placement.Planted, error) {
	rows, err := f.stands(&o.common)
	if err != nil {
		return nil, nil, err
	}
	rec, err := f.season(&o.common)
	if err != nil {
		return nil, nil, err
	}
	f.seasonRead = rec
	name := f.dir
	if name == "" {
		name = "the demo" // a folder may well be called demo
	}
	replayed, err := plants.Replay(name, e, weather, table, rows, rec)
	return replayed, rows, err
}

// sameFolder says whether two names are of one folder.
func sameFolder(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// otherGarden replays another garden to learn from, by this garden's plants.
func (o *moveOptions) otherGarden(dir string, before []string, f *folder, table *catalogue.Catalogue) (*plants.Replayed, error) {
	if f.dir != "" && sameFolder(dir, f.dir) {
		return nil, usagef("--from: %q: is this garden: want another one's folder", dir)
	}
	if slices.ContainsFunc(before, func(b string) bool { return sameFolder(dir, b) }) {
		return nil, usagef("--from: %q: is named twice: its notes count once", dir)
	}
	other, exposure, err := o.other("--from", dir)
	if err != nil {
		return nil, err
	}
	replayed, _, err := o.replay(other, exposure, nil, table)
	return replayed, err
}

// other prepares another garden that an option names.
func (o *moveOptions) other(option, dir string) (*folder, *zones.Exposure, error) {
	c := o.common
	c.garden, c.units = dir, ""
	other, err := c.open()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", option, err)
	}
	exposure, err := other.exposure()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %s: %w", option, dir, err)
	}
	return other, exposure, nil
}

// write does what the options ask to be written.
func (o *moveOptions) write(f *folder, in *report.MoveIn, input *plants.MoveInput) error {
	var groups []int
	if o.apply {
		var err error
		if groups, err = o.groups(in.Plan); err != nil {
			return err
		}
		if err := o.done(f, in, input, groups); err != nil {
			return err
		}
	}
	if o.plan != "" {
		if err := writePicture(o.plan, report.MovesSVG(f.head, *in, input.Standing, input.Catalogue)); err != nil {
			return err
		}
		in.Written = append(in.Written, o.plan)
	}
	if o.learn != "" {
		var text bytes.Buffer
		if err := season.WriteLearned(&text, in.Limits); err != nil {
			return err
		}
		if err := store.Replace(o.learn, text.Bytes()); err != nil {
			return err
		}
		in.Written = append(in.Written, o.learn)
	}
	if len(groups) == 0 {
		return nil
	}
	written, err := f.applyMoves(in.Plan, input.Standing, in.On, groups)
	in.Written, in.Done = append(in.Written, written...), groups
	return err
}

// done refuses a day on which the moves cannot have been done: ahead, or before
// a plant that moves was planted or last written of.
func (o *moveOptions) done(f *folder, in *report.MoveIn, input *plants.MoveInput, groups []int) error {
	if season.Ahead(in.On, o.now()) {
		return usagef("--date: lies ahead: --apply writes down what has been done")
	}
	for _, m := range in.Plan.Moves {
		if !slices.Contains(groups, m.Group) {
			continue
		}
		last, what := m.Planted, "planting"
		for _, e := range f.seasonRead.About(m.Stake) {
			if !e.Date.Before(last) {
				last, what = e.Date, "last entry"
			}
		}
		if season.Midnight(in.On).Before(season.Midnight(last)) {
			return usagef("--date: %q: lies before the %s of %s, %s: want the day on which it was moved", in.On.Format(time.DateOnly), what, m.Stake, last.Format(time.DateOnly))
		}
	}
	return nil
}

// groups are the groups of the plan that are carried out.
func (o *moveOptions) groups(p *plants.Relocation) ([]int, error) {
	var all []int
	for g := range p.Steps() {
		all = append(all, g)
	}
	if len(o.only) == 0 {
		return all, nil
	}
	var some []int
	if len(all) == 0 {
		return nil, usagef("--only: this plan moves nothing: want no --only")
	}
	for _, n := range o.only {
		if n < 1 || n > len(all) {
			return nil, usagef("--only: %d: want a number of the plan, 1 to %d", n, len(all))
		}
		if !slices.Contains(some, n-1) {
			some = append(some, n-1)
		}
	}
	return some, nil
}

// applyMoves writes the moves to planted.csv and their history to season.csv,
// both or neither.
func (f *folder) applyMoves(p *plants.Relocation, before []placement.Planted, on time.Time, groups []int) ([]string, error) {
	var planted bytes.Buffer
	if err := placement.WritePlanted(&planted, f.plantedText, p.Rows(before, on.Format(time.DateOnly), groups...)); err != nil {
		return nil, err
	}
	unlock, err := f.kept.Lock()
	if err != nil {
		return nil, err
	}
	defer unlock()
	old, err := f.kept.Read("season.csv")
	if err != nil {
		return nil, err
	}
	text, _, err := season.Append(f.name("season.csv"), old, p.History(before, f.seasonRead, on, groups...))
	if err != nil {
		return nil, err
	}
	err = f.kept.Change(store.Change{Name: "planted.csv", Before: f.plantedText, After: planted.Bytes()},
		store.Change{Name: "season.csv", Before: old, After: text})
	return []string{f.name("planted.csv"), f.name("season.csv")}, err
}
