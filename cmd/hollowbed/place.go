package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
)

type placeOptions struct {
	common
	list          listOptions
	plan, section string
	stakes        bool
}

func newPlace(w world) *cobra.Command {
	o := &placeOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "place",
		Short: "Where each plant of the list stands, to set out by; --plan draws it",
		Long: `Give every plant of the planting list its place. In a garden folder the places
go to planted.csv; plants that stand there already keep theirs, and only new
ones are added. To start over, move planted.csv away.

Three and more of a kind that grow close together are a drift with a letter, by
which hollowbed note takes notes of some of them.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := o.list.check(cmd); err != nil {
				return err
			}
			return o.run()
		},
	}
	o.options(cmd)
	o.allOption(cmd)
	o.learnedOption(cmd)
	o.list.options(cmd)
	cmd.Flags().BoolVar(&o.stakes, "stakes", false, "print each stake alone: its drift, where it stands and how risky that is")
	cmd.Flags().StringVar(&o.plan, "plan", "", "draw the plan to `FILE`, as SVG, or as PNG if it ends in .png")
	cmd.Flags().StringVar(&o.section, "section", "", "draw the section to `FILE`, as SVG, or as PNG if it ends in .png")
	return cmd
}

func (o *placeOptions) run() error {
	f, err := o.open()
	if err != nil {
		return err
	}
	pictures := []writes{{option: "--plan", file: o.plan, picture: true}, {option: "--section", file: o.section, picture: true}}
	if err := f.guard(pictures); err != nil {
		return err
	}
	placed, standing, err := o.place(f)
	if err != nil {
		return err
	}
	for i, draw := range []func(report.Garden, *plants.Placed) report.Drawing{report.PlanSVG, report.SectionSVG} {
		file := pictures[i].file
		if file == "" {
			continue
		}
		if err := writePicture(file, draw(f.head, placed)); err != nil {
			return err
		}
		fmt.Fprintf(o.err, "Wrote %s.\n", file)
	}
	written, err := f.writePlanted(placed, standing)
	if err != nil {
		return err
	}
	out := report.NewPlace(f.head, placed, written)
	if o.json {
		return report.JSON(o.out, out)
	}
	if o.stakes {
		doc.Terminal(o.out, out.Stakes)
	} else {
		o.print(out.Blocks)
	}
	return nil
}

// place places the planting list of a garden round what stands there already.
func (o *placeOptions) place(f *folder) (*plants.Placed, []placement.Planted, error) {
	judge, planting, table, err := o.list.planting(&o.common, f)
	if err != nil {
		return nil, nil, err
	}
	standing, err := f.planted(&o.common)
	if err != nil {
		return nil, nil, err
	}
	grown, err := f.grownOf(&o.common, standing, table)
	if err != nil {
		return nil, nil, err
	}
	count := 0
	for _, line := range planting.Lines {
		count += line.Count
	}
	if count > manyToPlace {
		fmt.Fprintf(o.err, "Looking for places for %d plants: this may take minutes.\n", count)
	}
	placed, err := plants.Place(judge, planting, table, grown)
	return placed, standing, err
}

// manyToPlace is from how many plants on people are told that places take long:
// some twenty seconds of processor time; 25,000 take over five minutes.
const manyToPlace = 3000

// grownOf tells what grows already, by season.csv. The demo is planted anew each
// time.
func (f *folder) grownOf(c *common, rows []placement.Planted, table *catalogue.Catalogue) (plants.Grown, error) {
	if f.dir == "" {
		return plants.Grown{Kept: plants.Standing(rows, table)}, nil
	}
	rec, err := f.season(c)
	if err != nil {
		return plants.Grown{}, err
	}
	return plants.GrownOf(rows, rec, table), nil
}

// planted reads planted.csv; nothing if there is none, as in the demo.
func (f *folder) planted(c *common) ([]placement.Planted, error) { return f.plantedIn(c, f.files) }

// writePlanted adds the new plants and the letters of drifts to planted.csv and returns its name; ""
// for the demo, and where there is nothing to add.
func (f *folder) writePlanted(p *plants.Placed, before []placement.Planted) (string, error) {
	rows := slices.Clone(before)
	for _, s := range p.Result.Plants {
		at := slices.IndexFunc(before, func(r placement.Planted) bool { return season.SameStake(r.Stake, s.Stake) })
		if at >= 0 {
			rows[at].Drift = s.Drift
		} else {
			rows = append(rows, placement.Planted{Stake: s.Stake, ID: s.ID, X: s.X, Y: s.Y, Zone: s.Zone, Drift: s.Drift})
		}
	}
	if f.dir == "" || slices.Equal(rows, before) {
		return "", nil
	}
	var text bytes.Buffer
	if err := placement.WritePlanted(&text, f.plantedText, rows); err != nil {
		return "", err
	}
	unlock, err := f.kept.Lock()
	if err != nil {
		return "", err
	}
	defer unlock()
	return filepath.Join(f.dir, "planted.csv"), f.kept.Change(store.Change{Name: "planted.csv", Before: f.plantedText, After: text.Bytes()})
}
