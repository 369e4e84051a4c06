package main

import (
	"bytes"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/plainfile"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/data"
	"hollowbed/zones"
	"hollowbed/zones/site"
	"hollowbed/zones/table"
)

type weatherOptions struct {
	common
	write string
	near  string
	set   []string
	file  string
}

func newWeather(w world) *cobra.Command {
	o := &weatherOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "weather [FILE]",
		Short: "Look at a file of weather, and put it into a garden; or list the nearest climates",
		Long: `Look at a file of weather by the hour or day: what it says, where it has gaps,
and what looks wrong in it; then the lines of the garden file that name it.
--write DIR copies the file into a garden's folder and writes these lines there.

Meteorological services publish such files, most of them free: ask for daily
rain with lowest and highest temperature of the station nearest by, ten years or
more, as text or CSV. What an error asks for is tried with --set, for instance
--set rain_unit=mm or --set where.station=Q1.

--near PLACE looks at no file: it lists the built-in climates of the United States
that are nearest by distance and height, for a garden without a record.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if o.near != "" {
				return cobra.NoArgs(cmd, args)
			}
			return cobra.ExactArgs(1)(cmd, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if o.near != "" {
				return o.nearest(o.near)
			}
			o.file = args[0]
			return o.run()
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.garden, "garden", "", "folder of a garden, for its latitude and time zone")
	f.StringVar(&o.near, "near", "", `list the climates nearest to a place: "Duluth, MN", "46.78, -92.11" or a station's id`)
	f.StringVar(&o.write, "write", "", "put the file into the garden in this `folder`")
	f.StringArrayVar(&o.set, "set", nil, "a `key=value` of the section weather, such as rain_unit=mm; may come again")
	f.StringVar(&o.units, "units", "", "show figures in `us|metric` (default: as the garden file says)")
	f.BoolVar(&o.json, "json", false, "print JSON in SI units")
	return cmd
}

func (o *weatherOptions) run() error {
	units, err := o.unitsWanted()
	if err != nil {
		return err
	}
	if o.write != "" && o.garden != "" && o.write != o.garden {
		return usagef("--garden and --write: want one garden")
	}
	content, err := o.content()
	if err != nil {
		return err
	}
	old, name, err := o.base()
	if err != nil {
		return err
	}
	text, g, err := o.edited(old, name)
	if err != nil {
		return err
	}
	if o.garden+o.write == "" {
		g.Weather.Format.Zone = nil // of the demo
	}
	rec, err := site.ReadRecord(o.file, bytes.NewReader(content), g.Weather.Format, g.Site.LatitudeDeg)
	if err != nil {
		return err
	}
	if units == "" {
		units = g.Units
	}
	facts := (&zones.Lot{Garden: g, Record: rec}).RecordFacts()
	if o.write != "" {
		if err := o.put(content, old, text); err != nil {
			return err
		}
	} else {
		name = ""
	}
	out := report.NewWeather(units, facts, rec, g.Site.LatitudeDeg, g.Weather.Format.Section(filepath.Base(o.file)), name)
	if o.json {
		return report.JSON(o.out, out)
	}
	doc.Terminal(o.out, out.Blocks)
	return nil
}

// content reads the file.
func (o *weatherOptions) content() ([]byte, error) {
	file, err := openTable(o.file, "a file of weather")
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return table.ReadAll(o.file, file, site.MaxRecordBytes)
}

// base is the text of the garden file that is to name the record, and its name:
// the demo's on the equator, where no season is the wrong one, if none is named.
func (o *weatherOptions) base() (text, name string, err error) {
	dir := o.garden
	if o.write != "" {
		dir = o.write
	}
	if dir == "" {
		demo, err := fs.ReadFile(data.Files(), "garden.yaml")
		if err != nil {
			return "", "", err
		}
		text, err = zones.EditKey(string(demo), "site.latitude", "0")
		return text, "garden.yaml", err
	}
	name = filepath.Join(dir, "garden.yaml")
	old, err := plainfile.Read(plainfile.Dir(dir), "garden.yaml", zones.MaxGardenBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return "", "", usagef("%s: no such file; hollowbed start %s makes one", name, dir)
	}
	return string(old), name, err
}

// edited is the garden file with its section weather about the file: what was
// said of another file's form goes.
func (o *weatherOptions) edited(text, name string) (string, *zones.Garden, error) {
	kept, err := zones.KeyTexts(text)
	if err != nil {
		return "", nil, err
	}
	type change struct{ key, value string }
	var changes []change
	for key := range kept {
		if part := strings.Split(key, "."); part[0] == "weather" && len(part) > 1 && slices.Contains(formKeys(), part[1]) {
			changes = append(changes, change{key, ""})
		}
	}
	slices.SortFunc(changes, func(a, b change) int { return strings.Compare(a.key, b.key) })
	changes = append(changes, change{"weather.file", filepath.Base(o.file)})
	for _, s := range o.set {
		key, value, ok := strings.Cut(s, "=")
		if !ok || value == "" {
			return "", nil, usagef("--set: %q: expected a key and a value, such as rain_unit=mm", s)
		}
		if key == "missing" || key == "trace" { // lists
			value = strings.Join(table.Trimmed(strings.Split(strings.Trim(value, "[]"), ",")), ", ")
		}
		changes = append(changes, change{"weather." + key, value})
	}
	for _, c := range changes {
		if text, err = zones.EditKey(text, c.key, c.value); err != nil {
			return "", nil, usagef("%s: %s: %w", name, c.key, err)
		}
	}
	g, err := zones.ReadGarden(name, strings.NewReader(text))
	return text, g, err
}

// formKeys are the keys of the section weather that say how one file is written.
func formKeys() []string {
	return []string{"step", "columns", "rain_unit", "temp_unit", "missing", "trace", "absent_row", "zeros", "clock", "date_order", "where"}
}

// put copies the file into the garden, and then has the garden file name it.
func (o *weatherOptions) put(content []byte, old, text string) error {
	copied := filepath.Join(o.write, filepath.Base(o.file))
	if slices.Contains(ownFiles(), strings.ToLower(filepath.Base(o.file))) || strings.HasPrefix(filepath.Base(o.file), ".hollowbed") {
		return usagef("--write: %s: a garden has another file of that name: expected another name for %s", copied, o.file)
	}
	kept, err := store.Open(o.write, o.err)
	if err != nil {
		return err
	}
	switch there, err := plainfile.Read(plainfile.Dir(o.write), filepath.Base(o.file), site.MaxRecordBytes); {
	case errors.Is(err, fs.ErrNotExist):
		if err := store.New(copied, content); err != nil {
			return err
		}
	case err != nil:
		return err
	case !bytes.Equal(there, content):
		return usagef("%s: is there already, and another file: expected another name for %s", copied, o.file)
	}
	return kept.Edit("garden.yaml", func(now []byte) ([]byte, error) {
		if string(now) != old {
			return nil, usagef("%s: was written to meanwhile: run this again", filepath.Join(o.write, "garden.yaml"))
		}
		return []byte(text), nil
	})
}
