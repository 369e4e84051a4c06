package main

import (
	"errors"
	"fmt"
	"io"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
)

// checkInto names what --into cannot be given with.
func (o *moveOptions) checkInto() (faults []error) {
	if o.into != "" && o.apply {
		faults = append(faults, usagef("--into with --apply: two gardens cannot be written as one, and a run that is stopped between them would leave the plant in both lists: leave --apply out, and it says what to write in each"))
	}
	if o.into != "" && o.plant != "" {
		faults = append(faults, usagef("--into looks at every struggling plant: expected no --plant with it"))
	}
	return faults
}

// lookInto finds the plants that another garden would suit.
func (o *moveOptions) lookInto(f *folder, in *report.MoveIn, input *plants.MoveInput) error {
	if f.dir != "" && sameFolder(o.into, f.dir) {
		return usagef("--into: %q: is this garden: expected another one's folder", o.into)
	}
	other, exposure, err := o.other("--into", o.into)
	if err != nil {
		return err
	}
	if err := errors.Join(exposure.Lot.NeedSun(), exposure.Lot.NeedDrain()); err != nil {
		return fmt.Errorf("--into: %s: %w", o.into, err)
	}
	rows, err := other.stands(&o.common)
	if err != nil {
		return fmt.Errorf("--into: %s: %w", o.into, err)
	}
	noted, err := other.season(&o.common)
	if err != nil {
		return fmt.Errorf("--into: %s: %w", o.into, err)
	}
	table, err := other.catalogue(io.Discard)
	if err != nil {
		return fmt.Errorf("--into: %s: %w", o.into, err)
	}
	in.Into, in.IntoTable, in.IntoPlanted = o.into, table, other.plantedText != nil
	in.Guests, err = plants.Into(*input, in.Plan, plants.NewJudge(exposure), plants.GrownOf(rows, noted, input.Catalogue))
	return err
}
