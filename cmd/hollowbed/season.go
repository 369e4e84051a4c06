package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"hollowbed/data"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/placement"
	"hollowbed/plants/season"
	"hollowbed/zones/table"
)

// grown is where planted.csv and season.csv are: the garden's folder, or for
// the demo how it stands after its first season.
func (f *folder) grown() fs.FS {
	if f.dir == "" {
		return data.Season()
	}
	return f.files
}

// stands reads planted.csv as the season's record needs it; nothing if there is
// none.
func (f *folder) stands(c *common) ([]placement.Planted, error) { return f.plantedIn(c, f.grown()) }

func (f *folder) plantedIn(c *common, files fs.FS) (rows []placement.Planted, err error) {
	var warnings []table.Fault
	err = f.take(files, "planted.csv", "planted.csv", func(r io.Reader) error {
		text, err := whole(r, f.name("planted.csv"))
		if err != nil {
			return err
		}
		f.plantedText = text
		rows, warnings, err = placement.ReadPlanted(f.name("planted.csv"), bytes.NewReader(text))
		return err
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	for _, w := range append(warnings, placement.Unlikely(f.name("planted.csv"), rows, f.garden.Outline(), c.now())...) {
		fmt.Fprintln(c.err, w)
	}
	return rows, err
}

// season reads season.csv; an empty record if there is none.
func (f *folder) season(c *common) (rec *season.Notes, err error) {
	err = f.take(f.grown(), "season.csv", "season.csv", func(r io.Reader) error {
		text := bufio.NewReader(r)
		if _, err := text.Peek(1); errors.Is(err, io.EOF) {
			fmt.Fprintf(c.err, "%s is empty: no entries yet\n", f.name("season.csv"))
			rec = &season.Notes{}
			return nil
		}
		rec, err = season.Read(f.name("season.csv"), text)
		return err
	})
	if errors.Is(err, fs.ErrNotExist) {
		return &season.Notes{}, nil
	}
	if err != nil {
		return nil, err
	}
	f.seasonRead = rec
	for _, w := range rec.Warnings {
		fmt.Fprintln(c.err, w)
	}
	if rec.Torn != nil {
		fmt.Fprintln(c.err, rec.Torn)
	}
	return rec, nil
}

// signs reads the table of signs.
func signs() (*season.Table, error) {
	file, err := data.Files().Open("signs.csv")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return season.ReadTable("signs.csv", file)
}

// withLearned puts learned limits in the place of those of a plant table.
func (f *folder) withLearned(c *catalogue.Catalogue) (*catalogue.Catalogue, error) {
	file, err := openTable(f.learned, "a file of learned limits, as move --learn writes it")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	var limits []season.LearnedLimit
	err = f.takeOther(file, f.learned, func(r io.Reader) (err error) {
		text := bufio.NewReader(r)
		if _, err := text.Peek(1); errors.Is(err, io.EOF) {
			return usagef("--learned: %s: is empty: want a file of learned limits; hollowbed move --learn FILE writes one", f.learned)
		}
		limits, err = season.ReadLearned(f.learned, text)
		return err
	})
	if err != nil {
		return nil, err
	}
	out, applied := season.Apply(c, limits)
	species := map[string]bool{}
	for _, a := range applied {
		species[a.ID] = true
	}
	out.Name += fmt.Sprintf(", limits of %d of its species as learned (%s)", len(species), f.learned)
	return out, nil
}
