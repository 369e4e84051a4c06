package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants/catalogue"
	"hollowbed/zones/table"
)

func newCatalogue(w world) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "catalogue",
		Short: "Check, import or describe a plant table",
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newCheck(w), newImport(w), newSketch(w), newSchema(w))
	return cmd
}

func newCheck(w world) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check FILE",
		Short: "Name every fault of a plant table, by line and column",
		Long: `Name every fault of a plant table, by line and column. With faults the exit
status is 2, with --json too: the document then lists them all, and the errors
are told as ever.`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error { return check(w, args[0], asJSON) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print faults and warnings as JSON")
	return cmd
}

func check(w world, name string, asJSON bool) error {
	warn := w.out
	if asJSON {
		warn = io.Discard
	}
	var read inputs
	c, err := plantFile(&read, name, warn)
	var faults table.Faults
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	doc := report.NewCheck(name, c, faults, read)
	if asJSON {
		return errors.Join(report.JSON(w.out, doc), err)
	}
	if err == nil {
		fmt.Fprintf(w.out, "%s: %d plants, no faults, %d to look at\n", name, len(c.Plants), len(c.Warnings))
		doc.Text(w.out)
	}
	return err
}

type importOptions struct {
	world
	maps []string
	out  string
	json bool
}

func newImport(w world) *cobra.Command {
	o := &importOptions{world: w}
	cmd := &cobra.Command{
		Use:   "import FILE [FILE...] --map MAP.yaml [--map MAP.yaml...]",
		Short: "Turn another table of plants into ours, by a map of its columns",
		Long: `Turn another table of plants into ours. A map says which of its columns, units
and classes mean what; see README. What the table lacks stays empty and is
shown as unknown. A value that the map takes from a class is marked as assumed.
With several files, each with its map in the same order, the later ones fill
what the first leaves empty, matched by the join column of their map.`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error { return o.run(args) },
	}
	cmd.Flags().StringArrayVar(&o.maps, "map", nil, "`MAP.yaml` for each file, in their order")
	cmd.Flags().StringVar(&o.out, "out", "", "write the plant table to a new `FILE` (default: standard output)")
	cmd.Flags().BoolVar(&o.json, "json", false, "print what was done as JSON (with --out)")
	return cmd
}

func (o *importOptions) run(files []string) error {
	switch {
	case len(o.maps) < len(files):
		return usagef("--map: missing: want --map MAP.yaml for %s", strings.Join(files[len(o.maps):], " and another for "))
	case len(o.maps) > len(files):
		return usagef("--map: %d for %d files: want one for each", len(o.maps), len(files))
	case o.json && o.out == "":
		return usagef("--json: want --out FILE with it, since the table itself goes to standard output")
	}
	if err := guard([]writes{{option: "--out", file: o.out, makes: "plants.csv"}}, slices.Concat(files, o.maps)...); err != nil {
		return err
	}
	var plants []catalogue.Plant
	var read inputs
	doc := report.Import{Out: o.out}
	for i, name := range files {
		more, m, r, err := importTable(&read, name, o.maps[i])
		if err != nil {
			return err
		}
		part := report.NewImported(name, o.maps[i], r)
		if i == 0 {
			plants = more
		} else {
			if m.Join == "" {
				return usagef("%s: join: missing: want the column by which its plants are matched with those of %s, such as scientificName", o.maps[i], files[0])
			}
			var joined catalogue.Joining
			plants, joined = catalogue.Join(plants, more, m.Join)
			part.Join(joined)
		}
		doc.Tables = append(doc.Tables, part)
	}
	doc.Count(plants)
	doc.Inputs = read
	if err := o.write(plants); err != nil {
		return err
	}
	if o.json {
		return report.JSON(o.world.out, doc)
	}
	if o.out == "" {
		doc.Text(o.err)
	} else {
		doc.Text(o.world.out)
	}
	return nil
}

func importTable(in *inputs, name, mapName string) ([]catalogue.Plant, *catalogue.Map, catalogue.Report, error) {
	var none catalogue.Report
	m, err := readMap(in, mapName)
	if err != nil {
		return nil, nil, none, err
	}
	file, err := openTable(name, "a table of plants in CSV or .xlsx")
	if err != nil {
		return nil, nil, none, err
	}
	defer file.Close()
	var raw *table.Table
	err = in.read(file, name, name, func(r io.Reader) (err error) {
		raw, err = catalogue.ReadTableFor(name, r, m)
		return err
	})
	if err != nil {
		return nil, nil, none, err
	}
	plants, r, err := catalogue.Import(raw, m)
	return plants, m, r, err
}

func readMap(in *inputs, name string) (m *catalogue.Map, err error) {
	file, err := openTable(name, "a map of columns in YAML")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	err = in.read(file, name, name, func(r io.Reader) (err error) {
		m, err = catalogue.ReadMap(name, r)
		return err
	})
	return m, err
}

// write prints the table, or writes it to a file that is not there yet.
func (o *importOptions) write(plants []catalogue.Plant) error {
	if o.out == "" {
		return catalogue.Write(o.world.out, plants)
	}
	if err := store.Free(o.out); err != nil {
		return err
	}
	var text bytes.Buffer
	if err := catalogue.Write(&text, plants); err != nil {
		return err
	}
	return store.New(o.out, text.Bytes())
}

func newSketch(w world) *cobra.Command {
	var sheet string
	cmd := &cobra.Command{
		Use:   "sketch FILE",
		Short: "Draft a map for another table of plants, of its own columns and values",
		Long: `Draft a map for catalogue import, made of the columns of a table and of what
stands in them. Save it, look at every line, and fill in what classes are worth:

  hollowbed catalogue sketch nursery.csv > nursery.yaml
  hollowbed catalogue import nursery.csv --map nursery.yaml --out plants.csv`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			file, err := openTable(args[0], "a table of plants in CSV or .xlsx")
			if err != nil {
				return err
			}
			defer file.Close()
			t, err := catalogue.ReadTable(args[0], file, sheet)
			if err != nil {
				return err
			}
			_, err = io.WriteString(w.out, catalogue.Sketch(t))
			return err
		},
	}
	cmd.Flags().StringVar(&sheet, "sheet", "", "of a workbook (.xlsx), the sheet of this `NAME` (default: its first)")
	return cmd
}

func newSchema(w world) *cobra.Command {
	var table string
	var maps []string
	cmd := &cobra.Command{
		Use:   "schema",
		Short: "Print the Frictionless Table Schema of the plant table",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			text := catalogue.Schema().JSON()
			if table != "" {
				described, err := describe(table, maps)
				if err != nil {
					return err
				}
				text = described.JSON()
			} else if len(maps) > 0 {
				return usagef("--map: want --package FILE with it, the plant table that was imported by the map")
			}
			_, err := w.out.Write(text)
			return err
		},
	}
	cmd.Flags().StringVar(&table, "package", "", "print the data package of this plant table, `FILE`, instead")
	cmd.Flags().StringArrayVar(&maps, "map", nil, "`MAP.yaml` that the table was imported by: the package then tells what assumed values rest on")
	return cmd
}

// describe makes the data package of a plant table, with what the maps say that
// it was imported by.
func describe(table string, maps []string) (catalogue.DataPackage, error) {
	var none catalogue.DataPackage
	var read inputs
	c, err := plantFile(&read, table, io.Discard)
	if err != nil {
		return none, err
	}
	described, err := catalogue.Describe(filepath.Base(table), c.Digest)
	if err != nil {
		return none, usagef("--package: %w", err)
	}
	for _, name := range maps {
		m, err := readMap(&read, name)
		if err != nil {
			return none, err
		}
		described.ImportedBy(m)
	}
	return described, nil
}
