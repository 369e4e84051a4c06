// Package many takes a table of gardens to results, garden by garden, on
// several cores and in the order of the table.
//
// Input is a base garden, a plant table and a Table of rows, each of which
// states some keys of the garden file anew; output is an Answer for each row.
// Nothing is held for a row once it is answered; weather records, their
// evapotranspiration and the plants are read and made once for all rows that
// share them. It words nothing and writes nothing.
package many

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

// What says how far each garden is worked out.
type What string

// How far a garden may be worked out; each holds what stands before it.
const (
	Basin  What = "basin"  // the bed's checks
	Zones  What = "zones"  // and how wet and dry each zone gets
	Choose What = "choose" // and a planting list
)

// Whats lists how far a garden may be worked out.
func Whats() []What { return []What{Basin, Zones, Choose} }

// Shared is what all rows of a table rest on.
type Shared struct {
	Base        *zones.Base
	WeatherFile string               // of the base garden
	Catalogue   *catalogue.Catalogue // nil unless What is Choose and all have the same
	// State is that of a garden, and Plants makes those of a state; nil if all
	// gardens have the Catalogue.
	State  func(*zones.Garden) (string, error)
	Plants func(state string, further bool) *catalogue.Catalogue
	What   What
	// Open opens a weather record: one that the garden file names, or one that
	// a row names beside the table. shown is its name for messages.
	Open   func(file string, besideTable bool) (content io.ReadCloser, shown string, err error)
	Digest string // of the files behind it
}

// Batch answers rows. It may be used by several goroutines at once.
type Batch struct {
	Shared
	files    once[*site.Record]   // as read
	climates once[*zones.Climate] // with all filled in, by latitude
	sums     once[string]         // digests of record files
	states   once[*catalogue.Catalogue]
}

// New makes ready to answer rows.
func New(s Shared) *Batch {
	return &Batch{
		Shared: s, files: once[*site.Record]{keep: keptFiles}, climates: once[*zones.Climate]{keep: keptClimates}, sums: once[string]{keep: keptSums},
		states: once[*catalogue.Catalogue]{keep: keptStates},
	}
}

// Answer is what came of one row. With Err nothing else is filled in but Row
// and Digest.
type Answer struct {
	Row      Row
	Digest   string
	Err      error
	Lot      *zones.Lot
	Performs zones.Performance
	Exposure *zones.Exposure  // nil for Basin
	Planting *plants.Planting // nil unless Choose
}

// BrokenError says that the program failed on a row, by its own mistake.
type BrokenError struct {
	Cause any
	Stack string
}

func (e *BrokenError) Error() string {
	return fmt.Sprintf("the program failed on this row; the mistake is the program's, please report it: %v", e.Cause)
}

// Answer works one row out.
func (b *Batch) Answer(row Row) (a Answer) {
	a = Answer{Row: row}
	defer func() {
		if cause := recover(); cause != nil { // one row shall not cost the others
			a = Answer{Row: row, Digest: a.Digest, Err: &BrokenError{cause, string(debug.Stack())}}
		}
	}()
	a.Digest = b.Digest(row)
	if err := b.work(&a); err != nil {
		return Answer{Row: row, Digest: a.Digest, Err: err}
	}
	return a
}

func (b *Batch) work(a *Answer) error {
	if len(a.Row.Faults) > 0 {
		return a.Row.Faults
	}
	g, err := b.Base.With(a.Row.Cells)
	if err != nil {
		return err
	}
	climate, err := b.climate(g, a.Row)
	if err != nil {
		return err
	}
	lot, err := zones.PrepareUnder(g, climate)
	if err != nil {
		return err
	}
	a.Lot = lot
	if b.What == Basin {
		a.Performs, err = lot.Perform()
		return err
	}
	if a.Exposure, err = lot.Expose(); err != nil {
		return err
	}
	if a.Performs, err = a.Exposure.Perform(); err != nil || b.What == Zones {
		return err
	}
	if err := errors.Join(lot.NeedSun(), lot.NeedDrain()); err != nil {
		return err
	}
	table, err := b.plants(g)
	if err != nil {
		return err
	}
	if err := plants.NameWishes(g, table); err != nil {
		return err
	}
	a.Planting, err = plants.Choose(plants.NewJudge(a.Exposure), table)
	return err
}

// keptStates is how many states' plants are kept at once: all.
const keptStates = 64

// plants are those of a garden.
func (b *Batch) plants(g *zones.Garden) (*catalogue.Catalogue, error) {
	if b.State == nil {
		return b.Catalogue, nil
	}
	state, err := b.State(g)
	if err != nil {
		return nil, err
	}
	further := g.Wishes.FurtherNames
	return b.states.get(fmt.Sprint(state, further), func() (*catalogue.Catalogue, error) { return b.Plants(state, further), nil })
}

// Faulty says whether a person can mend what is wrong with a row; else the
// machine or the program failed.
func Faulty(err error) bool {
	var bad interface{ BadInput() bool }
	return zones.Undrained(err) || errors.As(err, &bad) && bad.BadInput()
}
