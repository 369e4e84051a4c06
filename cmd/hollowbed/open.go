package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"hollowbed/cmd/hollowbed/plainfile"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/data"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/season"
	"hollowbed/search"
	"hollowbed/zones"
	"hollowbed/zones/site"
	"hollowbed/zones/table"
)

// folder is an open garden: its files, and the garden file read.
type folder struct {
	files  fs.FS
	dir    string        // "" for the demo
	kept   *store.Folder // nil for the demo
	garden *zones.Garden
	head   report.Garden
	inputs inputs

	tables      search.Tables // where plant tables that were read are kept
	plants      string        // the plant table that the command line names; "" for the garden's
	learned     string        // file of learned limits that stand in for those of the plant table; "" for none
	plantedText []byte        // of planted.csv as it was read; nil if there is none
	seasonRead  *season.Notes // season.csv, once it was read
	byNotes     *common       // nil unless the lot goes by what the notes taught
}

func (c *common) open() (*folder, error) {
	units, err := c.unitsWanted()
	if err != nil {
		return nil, err
	}
	f := &folder{files: data.Files(), dir: c.garden, learned: c.learned, plants: c.plants}
	if f.dir != "" {
		info, err := os.Stat(f.dir)
		if dir := gardenAt(filepath.Dir(f.dir)); err == nil && !info.IsDir() && dir != "" {
			return nil, usagef("--garden: %q: expected the folder of the garden, not a file in it: --garden %s", f.dir, shellWord(dir))
		}
		if err != nil || !info.IsDir() {
			return nil, usagef("--garden: %q: want a folder that holds a garden.yaml; hollowbed start %s makes one", f.dir, f.dir)
		}
		if f.kept, err = store.Open(f.dir, c.err); err != nil {
			return nil, err
		}
		f.files = f.kept.Files()
	} else {
		fmt.Fprintln(c.err, "No --garden named: this is the invented demo garden.")
	}
	err = f.take(f.files, "garden.yaml", "garden.yaml", func(r io.Reader) (err error) {
		f.garden, err = zones.ReadGarden(f.name("garden.yaml"), r)
		return err
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil, usagef("%s: no such file; hollowbed start %s makes one", f.name("garden.yaml"), f.dir)
	} else if err != nil {
		return nil, err
	}
	if units != "" {
		f.garden.Units = units
	}
	if c.byNotes {
		f.byNotes = c
	}
	f.head = report.NewGarden(f.garden, f.dir == "")
	f.head.Inputs = f.inputs
	return f, nil
}

// name is a file's name as shown to people.
func (f *folder) name(file string) string {
	if f.dir == "" {
		return file
	}
	return path.Join(f.dir, file)
}

// take lets read have a file, and notes under a name that this run rests on it.
func (f *folder) take(files fs.FS, file, name string, read func(io.Reader) error) error {
	opened, err := plainfile.Open(files, file, f.name(file))
	if err != nil {
		return err
	}
	defer opened.Close()
	err = f.inputs.read(opened, name, f.name(file), read)
	f.head.Inputs = f.inputs
	return err
}

// record reads the weather record, or makes one from the garden's climate; nil
// without an error if there is neither.
func (f *folder) record() (*site.Record, error) {
	key := "weather.file"
	rec, err := f.garden.ReadWeather(func(file string, take func(string, io.Reader) error) error {
		if file == f.garden.Weather.Monthly {
			key = "weather.monthly"
		}
		return f.take(f.files, file, file, func(r io.Reader) error { return take(f.name(file), r) })
	})
	file := f.garden.Weather.File
	if key == "weather.monthly" {
		file = f.garden.Weather.Monthly
	}
	var other *plainfile.KindError
	switch {
	case errors.Is(err, fs.ErrNotExist) && !f.garden.Weather.FromClimate():
		return nil, nil
	case errors.Is(err, fs.ErrNotExist):
		return nil, table.Faults{f.garden.Fault(key, file, "no such file in the garden's folder")}
	case errors.As(err, &other):
		return nil, table.Faults{f.garden.Fault(key, file, strings.TrimPrefix(other.Error(), other.Name+": "))}
	}
	return rec, err
}

// lot prepares the garden with its record, if it has one.
func (f *folder) lot() (*zones.Lot, error) {
	rec, err := f.record()
	if err != nil {
		return nil, err
	}
	lot, err := zones.Prepare(f.garden, rec)
	if err != nil || f.byNotes == nil {
		return lot, err
	}
	noted, err := f.season(f.byNotes)
	if err != nil {
		return nil, err
	}
	taught := plants.ByNotes(lot, noted)
	f.head.Taught = report.TaughtWords(f.garden.Units, taught)
	f.head.Assume = append(f.head.Assume, f.head.Taught...)
	f.garden = taught.Garden(f.garden)
	return zones.Prepare(f.garden, rec)
}

// exposure prepares the garden and runs its record.
func (f *folder) exposure() (*zones.Exposure, error) {
	lot, err := f.lot()
	if err != nil {
		return nil, err
	}
	return lot.Expose()
}

// catalogue gives the garden's plant table, with what notes taught of it where that
// is asked for, and tells warn of all that is odd in it.
func (f *folder) catalogue(warn io.Writer) (*catalogue.Catalogue, error) {
	c, err := f.table(warn)
	if err == nil {
		err = plants.NameWishes(f.garden, c)
	}
	if err != nil || f.learned == "" {
		return c, err
	}
	return f.withLearned(c)
}

// plantFile reads a plant table that a command line names, and tells warn of
// all that is odd in it.
func plantFile(in *inputs, name string, warn io.Writer) (c *catalogue.Catalogue, err error) {
	file, err := openTable(name, "a plant table in CSV")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	err = in.read(file, name, name, func(r io.Reader) (err error) {
		c, err = readPlants(search.Tables{}, name, r, warn)
		return err
	})
	return c, err
}

// takeOther is take for a file outside the garden, opened already.
func (f *folder) takeOther(file fs.File, name string, read func(io.Reader) error) error {
	err := f.inputs.read(file, name, name, read)
	f.head.Inputs = f.inputs
	return err
}

// readPlants reads a plant table, and tells warn of all that is odd in it.
func readPlants(tables search.Tables, name string, r io.Reader, warn io.Writer) (*catalogue.Catalogue, error) {
	c, err := tables.Read(name, r)
	if err != nil {
		return nil, err
	}
	for _, w := range c.Warnings {
		fmt.Fprintf(warn, "%s\n", w)
	}
	return c, nil
}

// openTable opens a file that a command line names.
func openTable(name, what string) (*os.File, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, usagef("%s: no such file: want %s", name, what)
	case err != nil:
		return nil, plainfile.Other(name, nil, err)
	case info.IsDir():
		return nil, usagef("%s: is a folder: want %s", name, what)
	}
	return os.Open(name)
}
