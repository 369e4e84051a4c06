package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"strings"

	"hollowbed/data"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/many"
	"hollowbed/plants/species"
	"hollowbed/zones"
	"hollowbed/zones/climate"
	"hollowbed/zones/table"
)

// plantsFile is the table of a garden that names none.
const plantsFile = "plants.csv"

// table finds the plants of a garden: those that the command line names, else the
// garden file, else its plants.csv, else real ones where it lies in the United
// States. Invented ones are for the demo, and for those who ask for them.
func (f *folder) table(warn io.Writer) (*catalogue.Catalogue, error) {
	switch named := f.plants; {
	case named == zones.PlantsUS:
		return f.real()
	case named == zones.PlantsDemo:
		return f.invented()
	case named != "":
		return f.otherPlants(named, warn)
	}
	switch named := f.garden.Plants; {
	case named == zones.PlantsUS:
		return f.real()
	case f.dir == "" || named == zones.PlantsDemo:
		return f.invented()
	case named != "":
		c, err := f.ownPlants(named, warn)
		if errors.Is(err, fs.ErrNotExist) {
			err = table.Faults{f.garden.Fault("plants", named, "no such file in the garden's folder")}
		}
		return c, err
	}
	c, err := f.ownPlants(plantsFile, warn)
	if !errors.Is(err, fs.ErrNotExist) {
		return c, err
	}
	return f.real()
}

// ownPlants reads a plant table of the garden's folder.
func (f *folder) ownPlants(name string, warn io.Writer) (c *catalogue.Catalogue, err error) {
	if _, err := fs.Stat(f.files, name); errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	err = f.take(f.files, name, name, func(r io.Reader) (err error) {
		c, err = readPlants(f.tables, f.name(name), r, warn)
		return err
	})
	return c, err
}

// invented are the plants of the demo.
func (f *folder) invented() (c *catalogue.Catalogue, err error) {
	name, shown := plantsFile, plantsFile
	if f.dir != "" {
		name, shown = "plants.csv (demo, invented)", "plants.csv (demo, invented)"
	}
	err = f.take(data.Files(), plantsFile, name, func(r io.Reader) (err error) {
		c, err = readPlants(f.tables, shown, r, io.Discard)
		return err
	})
	return c, err
}

// otherPlants reads a plant table that the command line names.
func (f *folder) otherPlants(name string, warn io.Writer) (c *catalogue.Catalogue, err error) {
	if f.learned != "" {
		return nil, usagef("--learned: goes with the garden's own plant table: want no --plants with it")
	}
	file, err := openTable(name, "a plant table in CSV")
	if err != nil {
		return nil, fmt.Errorf("--plants: %w", err)
	}
	defer file.Close()
	err = f.takeOther(file, name, func(r io.Reader) (err error) {
		c, err = readPlants(f.tables, name, r, warn)
		return err
	})
	return c, err
}

// real are the plants of the United States, for the state that the lot lies in.
func (f *folder) real() (*catalogue.Catalogue, error) {
	if f.dir == "" {
		return nil, usagef("--plants us: the demo's town is made up, and real plants go by the state: expected a garden of yours, such as --garden my")
	}
	state, err := f.stateOf(f.garden)
	if err != nil {
		return nil, err
	}
	return usPlants(state, f.garden.Wishes.FurtherNames), nil
}

// usPlants are the real plants for a state that stateOf gave, further names too if
// they are asked for.
func usPlants(state string, further bool) *catalogue.Catalogue {
	c, _ := species.US(state, further)
	return c
}

// plantsOfAll reads the plants of all gardens of a table, or lets the real ones be
// made by the state of each, which the base garden need not lie in.
func (f *folder) plantsOfAll(warn io.Writer, s *many.Shared) (err error) {
	s.Catalogue, err = f.catalogue(warn)
	if none := (noStateError{}); !errors.As(err, &none) && (err != nil || s.Catalogue.State == "") {
		return err
	}
	s.Catalogue, s.State, s.Plants = nil, f.stateOf, usPlants
	return nil
}

// noStateError says that real plants go by the state, and that it is not known.
type noStateError struct{ error }

// BadInput marks the error as one that the user can mend.
func (noStateError) BadInput() bool { return true }

// stateOf is the state whose real plants a garden like the folder's takes.
func (f *folder) stateOf(g *zones.Garden) (string, error) {
	state, why := nearestState(g)
	if why == "" && !species.IsState(state) {
		why = "no real plants are known for " + state
	}
	if why != "" {
		return "", noStateError{fmt.Errorf("%s: no plant table: %s; expected a plants.csv beside it (hollowbed catalogue imports other tables), or a line plants: demo for invented plants", f.name("garden.yaml"), why)}
	}
	return state, nil
}

// nearPlaceKM is how far the nearest known place may be whose state is taken.
const nearPlaceKM = 80

// nearestState is that of the place nearest to a lot; why says what is missing.
func nearestState(g *zones.Garden) (state, why string) {
	s := g.Site
	if math.IsNaN(s.LongitudeDeg) {
		if st, ok := climate.StationByID(g.Weather.Station); ok {
			return st.State, ""
		}
		for _, tag := range g.Wishes.NativeTo {
			if species.IsState(tag) {
				return strings.ToUpper(tag), ""
			}
		}
		return "", "the built-in table of real plants is for the United States, and without site.longitude it is not known where this lot lies"
	}
	p, km := climate.NearestPlace(s.LatitudeDeg, s.LongitudeDeg)
	if km > nearPlaceKM {
		return "", "the built-in table of real plants is for the United States, and this lot lies elsewhere"
	}
	return p.State, ""
}
