package main

import (
	"errors"

	"github.com/spf13/cobra"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
)

// listOptions say which planting list is wanted: the ordinary one, or the one
// of plants that are right in every case.
type listOptions struct {
	robust bool
	doubt  doubtOptions
}

func (l *listOptions) options(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&l.robust, "robust", false, "prefer plants that survive even if soil, roof water and weather differ from the plan")
	l.doubt.options(cmd, plants.RobustCases)
}

func (l *listOptions) check(cmd *cobra.Command) error {
	if err := l.doubt.check(cmd, l.robust, "--robust"); err != nil {
		return err
	}
	if cmd.Flags().Changed("spread") && !l.robust {
		return usagef("--spread: want --robust as well; hollowbed zones --spread %d shows how sure the ordinary list is", l.doubt.cases)
	}
	return nil
}

// planting makes the planting list of a garden, with what it rests on.
func (l *listOptions) planting(c *common, f *folder) (*plants.Judge, *plants.Planting, *catalogue.Catalogue, error) {
	table, err := f.catalogue(c.err)
	if err != nil {
		return nil, nil, nil, err
	}
	exposure, err := f.exposure()
	if err != nil {
		return nil, nil, nil, err
	}
	if err := exposure.Lot.NeedSun(); err != nil {
		return nil, nil, nil, err
	}
	wet, err := f.needDrain(c, exposure.Lot)
	if err != nil {
		return nil, nil, nil, err
	}
	judge := plants.NewJudge(exposure)
	planting, err := l.choose(judge, table)
	if err != nil {
		return nil, nil, nil, err
	}
	planting.Notes = append(planting.Notes, wet...)
	return judge, planting, table, planting.TryChanges(table)
}

// needDrain refuses ground on which no bed drains in time; where plants stand
// already it warns.
func (f *folder) needDrain(c *common, lot *zones.Lot) (warnings []string, err error) {
	undrained := lot.NeedDrain()
	if undrained == nil {
		return nil, nil
	}
	rows, err := f.stands(c)
	if err != nil || len(rows) == 0 {
		return nil, errors.Join(err, undrained)
	}
	return []string{"warning: " + undrained.Error()}, nil
}

func (l *listOptions) choose(judge *plants.Judge, table *catalogue.Catalogue) (*plants.Planting, error) {
	if !l.robust {
		return plants.Choose(judge, table)
	}
	doubt, samples, err := l.doubt.of(judge.Exposure)
	if err != nil {
		return nil, err
	}
	return plants.ChooseRobust(judge, table, doubt, samples)
}
