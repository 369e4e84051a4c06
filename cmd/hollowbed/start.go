package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/store"
	"hollowbed/zones"
	"hollowbed/zones/climate"
)

type startOptions struct {
	world
	dir   string
	near  string
	given map[string]*string // by question, nil if the option was not used
	told  string             // of the station that was found
	typed map[string]string  // what was answered, by question
}

func newStart(w world) *cobra.Command {
	o := &startOptions{world: w, given: map[string]*string{}, typed: map[string]string{}}
	cmd := &cobra.Command{
		Use:   "start DIR",
		Short: "Write a new garden file, with comments",
		Long: `Write DIR/garden.yaml with comments. On a terminal, what no option states is
asked for; elsewhere it takes its default, and what has none must be stated. A
garden file that is there already is never touched. Ctrl-D stops and keeps what
was answered: the same command goes on from there.

With --near, latitude, longitude and time zone are those of the place, and the
weather is made from the climate of the nearest station, until you have a record
of your own. Places and stations are those of the United States.`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.dir = args[0]
			for _, q := range startQuestions() {
				if flag := cmd.Flags().Lookup(q.Key); flag.Changed {
					text := flag.Value.String()
					o.given[q.Key] = &text
				}
			}
			return o.run()
		},
	}
	cmd.Flags().StringVar(&o.near, "near", "", `where it lies: "Duluth, MN", "46.78, -92.11" or a station's id`)
	for _, q := range startQuestions() {
		cmd.Flags().String(q.Key, "", fmt.Sprintf("%s e.g. %q", q.Prompt, q.Example))
	}
	return cmd
}

// startQuestions are those of all shapes, as options name them.
func startQuestions() []zones.Question {
	all := zones.Questions(zones.UnitsUS)
	for _, shape := range zones.ShapesByLengths() {
		all = append(all, zones.ShapeQuestions(zones.UnitsUS, shape)...)
	}
	return append(all, zones.HarmQuestion())
}

func (o *startOptions) run() error {
	file := filepath.Join(o.dir, "garden.yaml")
	if err := store.Free(file); err != nil {
		return err
	}
	if err := o.resume(); err != nil {
		return err
	}
	answers, err := o.answers()
	if err != nil {
		return err
	}
	sun := ""
	switch {
	case answers.Sun != "":
	case o.near != "": // two commands are to give a list
		answers.Sun, sun = guessedSun, " The sun is a guess ("+guessedSun+" a day): count the hours on a clear day in June, and write them there."
	default:
		sun = " Fill in the sun."
	}
	if err := store.New(file, []byte(zones.Template(answers))); err != nil {
		return err
	}
	os.Remove(o.kept()) // the garden file has it all
	record := "Put a weather record beside it as rain.csv: date, rain_mm, tmin_c, tmax_c; ten years are better than one."
	if answers.Station != "" {
		fmt.Fprintln(o.out, o.told)
		record = "A record of the place itself is better: hollowbed weather FILE looks at one."
	}
	fmt.Fprintf(o.out, `Wrote %s. Next:
  1. Look through it; the comments say what the lines mean.%[3]s
  2. %[4]s
  3. hollowbed basin --garden %[2]s     does the bed hold, and drain?
  4. hollowbed choose --garden %[2]s    what to plant
Before any digging, have buried pipes and cables marked.
`, file, o.dir, sun, record)
	return nil
}

// guessedSun stands in a garden by --near until somebody counts: the middle of what
// beds have, common practice, no source.
const guessedSun = "6 h"

// place fills in what follows from where the garden lies; an option of its own
// counts before it.
func (o *startOptions) place(a *zones.Answers) error {
	if o.near == "" {
		return nil
	}
	spot, err := climate.FindSpot(o.near)
	if err != nil {
		return usagef("--%s", strings.TrimPrefix(err.Error(), ": "))
	}
	near := climate.NearestTo(spot, 1)
	if len(near) == 0 {
		return usagef("--near: %q: no station is within %s: the stations are those of the United States. Elsewhere leave --near out, give --latitude and --time-zone, and put rain.csv, a daily record, or twelve months (weather.monthly) beside the garden file", o.near, zones.Units(a.Units).Away(climate.FarthestKM))
	}
	a.Longitude, a.Station, a.Plants = degrees(spot.LonDeg), near[0].ID, zones.PlantsUS
	for key, text := range map[string]string{"latitude": degrees(spot.LatDeg), "time-zone": spot.TimeZone} {
		if o.given[key] == nil && text != "" {
			o.given[key] = &text
		}
	}
	o.told = fmt.Sprintf("%s: weather is made from the climate of %s (%d years of record, most of it before %d). It is not a record.",
		spot.Title, zones.Units(a.Units).StationText(near[0]), near[0].Years, climate.StationsUntil)
	for _, doubt := range near[0].Doubts() {
		o.told += "\nNote: " + doubt + "."
	}
	return nil
}

func degrees(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

// answers takes the options, and asks for the rest where somebody is there.
func (o *startOptions) answers() (zones.Answers, error) {
	var a zones.Answers
	ask := bufio.NewReader(o.in)
	var faults []error
	missing := ""
	take := func(q zones.Question) error {
		given := o.given[q.Key]
		if given == nil && o.terminal {
			return o.ask(ask, &a, q)
		}
		text := q.Default
		if given != nil {
			text = *given
		}
		if err := a.Set(q.Key, text); err != nil {
			if given == nil {
				missing += fmt.Sprintf(" --%s %q", q.Key, q.Example)
			}
			faults = append(faults, usagef("--%s", strings.TrimPrefix(err.Error(), ": ")))
		}
		return nil
	}
	for i := range zones.Questions(zones.UnitsUS) {
		q := zones.Questions(zones.Units(a.Units))[i]
		if q.Key == "ponding-depth" {
			q.Default = a.UsualPonding()
		}
		if i == 1 { // once the units are known
			if err := o.place(&a); err != nil {
				faults = append(faults, err)
			}
		}
		all := []zones.Question{q}
		if q.Key == "width" {
			all = append(all, zones.ShapeQuestions(zones.Units(a.Units), a.Shape)...)
		}
		for _, q := range all {
			if err := take(q); err != nil {
				return a, err
			}
		}
	}
	if q := zones.HarmQuestion(); a.Plants == zones.PlantsUS {
		if err := take(q); err != nil {
			return a, err
		}
	} else if o.given[q.Key] != nil && o.near == "" {
		faults = append(faults, usagef("--%s: expected --near with it: it is for real plants of the United States", q.Key))
	}
	faults = append(faults, o.needless(a.Shape)...)
	if err := a.Fits(); err != nil && len(faults) == 0 {
		faults = append(faults, usagef("--%s", err))
	}
	if missing != "" {
		faults = append(faults, usagef("start asks on a terminal alone and reads no answers from a pipe: give them as options, such as: hollowbed start %s%s", o.dir, missing))
	}
	return a, errors.Join(faults...)
}

// needless are the lengths that the shape has not.
func (o *startOptions) needless(shape string) []error {
	var faults []error
	for _, other := range zones.ShapesByLengths() {
		for _, q := range zones.ShapeQuestions(zones.UnitsUS, other) {
			if other != shape && o.given[q.Key] != nil {
				faults = append(faults, usagef("--%s: expected --shape %s with it", q.Key, other))
			}
		}
	}
	return faults
}

// ask asks until the answer is right or the input ends.
func (o *startOptions) ask(in *bufio.Reader, a *zones.Answers, q zones.Question) error {
	for {
		shown := q.Prompt
		switch {
		case q.Default != "":
			shown += " [" + q.Default + "]"
		case !q.Empty:
			shown += " (such as " + q.Example + ")"
		}
		fmt.Fprintf(o.err, "%s ", shown)
		line, err := in.ReadString('\n')
		if err != nil && (line == "" || !errors.Is(err, io.EOF)) {
			fmt.Fprintln(o.err)
			return o.stop(q)
		}
		err = a.Set(q.Key, cmp.Or(strings.TrimSpace(line), q.Default))
		if err == nil && q.Key == "ponding-depth" {
			err = a.Fits()
		}
		if err != nil {
			fmt.Fprintf(o.err, "  %v\n", err)
			continue
		}
		o.typed[q.Key] = strings.TrimSpace(line)
		return nil
	}
}
