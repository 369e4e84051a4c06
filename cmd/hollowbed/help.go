package main

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/climate"
	"hollowbed/zones/site"
	"hollowbed/zones/table"
)

// topic is a kind of file that help explains: the file itself, and its entries
// one by one.
type topic struct {
	name, short string
	about       func() []doc.Block
	entries     func() []entry
}

// entry is a key or a column.
type entry struct{ part, name, words string }

func topics() []topic {
	return []topic{
		{"garden-file", "garden.yaml: its sections and keys", aboutGarden, gardenEntries},
		{"weather-file", "a record of weather, or a climate in twelve lines", aboutWeather, weatherEntries},
		{"plant-table", "plants.csv: its columns", aboutPlants, plantEntries},
	}
}

func topicNames() []string {
	var names []string
	for _, t := range topics() {
		names = append(names, t.name)
	}
	return names
}

func topicOf(args []string) (topic, bool) {
	for _, t := range topics() {
		if len(args) > 0 && args[0] == t.name {
			return t, true
		}
	}
	return topic{}, false
}

// helpOn makes help explain the topics beside the commands.
func helpOn(root, help *cobra.Command, w world) {
	ofCommands, commandNames := help.Run, help.ValidArgsFunction
	help.Use = "help [COMMAND or file]"
	help.Short = "Help on a command, or on a kind of file"
	help.Long = "Help on a command, such as hollowbed help choose, or on a kind of file:\n"
	for _, t := range topics() {
		help.Long += fmt.Sprintf("\n  hollowbed help %-14s%s", t.name, t.short)
	}
	help.Args = func(_ *cobra.Command, args []string) error {
		if t, ok := topicOf(args); ok {
			_, err := t.blocks(args[1:])
			return err
		}
		if _, rest, err := root.Find(args); err != nil || len(rest) > 0 {
			asked := strings.Join(args, " ")
			return fmt.Errorf("%s", table.OrMeant(fmt.Sprintf("no command is called %q", asked), asked, append(commands(root), topicNames()...)))
		}
		return nil
	}
	help.Run = nil
	help.RunE = func(cmd *cobra.Command, args []string) error {
		if t, ok := topicOf(args); ok {
			blocks, err := t.blocks(args[1:])
			doc.Terminal(page80(w), blocks)
			return err
		}
		ofCommands(cmd, args)
		return nil
	}
	help.ValidArgsFunction = func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if t, ok := topicOf(args); ok {
			return fixed(t.names()...)(cmd, args, typed)
		}
		names, directive := commandNames(cmd, args, typed)
		for _, t := range topics() {
			if len(args) == 0 && strings.HasPrefix(t.name, typed) {
				names = append(names, t.name+"\t"+t.short)
			}
		}
		return names, directive
	}
}

// commands are the names of what may be run.
func commands(root *cobra.Command) []string {
	var names []string
	for _, cmd := range root.Commands() {
		names = append(names, cmd.Name())
	}
	return names
}

// page80 is the output at 80 columns, or as narrow as it is.
func page80(w world) report.Paper {
	paper, ok := w.out.(report.Paper)
	if !ok {
		paper.Writer = w.out
	}
	if paper.Columns == 0 || paper.Columns > 80 {
		paper.Columns = 80
	}
	return paper
}

// names are what may be asked of a topic: parts, entries, all.
func (t topic) names() []string {
	names := []string{"all"}
	last := ""
	for _, e := range t.entries() {
		if e.part != last {
			last = e.part
			names = append(names, e.part)
		}
		if e.name != e.part {
			names = append(names, e.name)
		}
	}
	return names
}

// blocks explains the file, or the entries asked for.
func (t topic) blocks(asked []string) ([]doc.Block, error) {
	if len(asked) == 0 {
		return t.about(), nil
	}
	var blocks []doc.Block
	for _, e := range t.entries() {
		if asked[0] == "all" || asked[0] == e.part || asked[0] == e.name {
			blocks = append(blocks, e.block())
		}
	}
	if len(asked) > 1 || len(blocks) == 0 {
		return nil, usagef("help %s: %s", t.name, table.OrMeant(fmt.Sprintf("%q is nothing in it: expected one name, or all; hollowbed help %[2]s shows them", strings.Join(asked, " "), t.name), asked[0], t.names()))
	}
	return blocks, nil
}

func (e entry) block() doc.Block { return doc.Text{Lead: e.name, Words: e.words, Hang: 4} }

// more is the last line of a topic.
func more(topic, part, one string) doc.Block {
	return doc.Line(fmt.Sprintf("More: hollowbed help %s %s, or %s, or all", topic, part, one))
}

func gardenEntries() []entry {
	var all []entry
	for _, s := range zones.Sections() {
		for _, k := range s.Keys {
			words := k.Writing()
			switch {
			case k.Required:
				words += "; must be there"
			case k.Default != "":
				words += "; left out: " + k.Default
			}
			if k.Note() != "" {
				words += ". " + doc.Capital(k.Note())
			}
			all = append(all, entry{s.Name, k.Path, words + "."})
		}
	}
	return all
}

func aboutGarden() []doc.Block {
	var needed []string
	var parts doc.Facts
	for _, s := range zones.Sections() {
		var names []string
		for _, k := range s.Keys {
			if k.Needed() {
				needed = append(needed, k.Path)
			}
			name, _, _ := strings.Cut(strings.TrimLeft(strings.TrimPrefix(k.Path, s.Name), "[]."), ".")
			name = strings.TrimSuffix(name, "[]")
			if name != "" && (len(names) == 0 || names[len(names)-1] != name) {
				names = append(names, name)
			}
		}
		if len(names) == 0 {
			names = []string{s.Keys[0].Note()}
		}
		parts = append(parts, doc.Fact{Label: cmp.Or(s.Name, "at the top"), Value: strings.Join(names, ", ")})
	}
	return []doc.Block{
		doc.Text{Words: "The garden file is garden.yaml in the folder of a garden. hollowbed start DIR writes one with a comment at every key. It is YAML: a key and its value on a line, the keys of a section two blanks in. Figures carry their unit: " + zones.FigureSamples + "."},
		doc.Text{Lead: "Needed", Words: strings.Join(needed, ", ") + "; of soil one of texture, rate, soak_test. All else may be left out."},
		doc.Line(""), parts, doc.Line(""), more("garden-file", "bed", "bed.length"),
	}
}

func weatherEntries() []entry {
	var all []entry
	for _, c := range site.RecordColumns() {
		all = append(all, entry{"columns", c.Name, c.Meaning + ". Headers: " + strings.Join(c.Headers, ", ") + "."})
	}
	return all
}

func aboutWeather() []doc.Block {
	var facts doc.Facts
	for _, c := range site.RecordColumns() {
		facts = append(facts, doc.Fact{Label: c.Name, Value: c.Meaning})
	}
	return []doc.Block{
		doc.Text{Words: "A weather file is a table as CSV: a header line, then a row for each day or hour, or parts of an hour, in the order of time. Ten years are better than one. hollowbed weather FILE looks at one and says what it lacks; --write DIR puts it into a garden."},
		doc.Line(""), doc.Line("  date,rain_mm,tmin_c,tmax_c"), doc.Line("  2024-05-01,12.5,6.1,17.9"), doc.Line(""),
		doc.Text{Words: "Columns, of which a time or a date and the rain are needed:"}, facts,
		doc.Text{Lead: "Units", Words: "at the end of a header, as rain_mm or Rain (in); of rain " + strings.Join(site.RainUnits(), ", ") + "; of temperature " + strings.Join(site.TempUnits(), ", ") + "."},
		doc.Text{Words: "An empty cell is not known: it is never taken for 0. What the file does not say stands in the garden file: hollowbed help garden-file weather"},
		doc.Text{Lead: "A climate instead", Words: "twelve lines, one a month, with the columns " + strings.Join(climate.MonthlyColumns(), ", ") + " (rain_mm or rain_in, tmax_c or tmax_f), named by weather.monthly."},
		doc.Line(""), more("weather-file", "columns", "rain"),
	}
}

func plantEntries() []entry {
	var all []entry
	for _, c := range catalogue.Explain() {
		words := c.Meaning + ": " + c.Writing
		if c.Needed {
			words += "; must be there"
		}
		switch {
		case c.Empty == "anywhere":
			words += ". Empty: the plant is never listed"
		case c.Empty != "":
			words += ". Empty: not listed " + c.Empty
		}
		var meanings []string
		for _, v := range c.Values {
			meanings = append(meanings, v.Name+": "+v.Meaning)
		}
		if meanings != nil {
			words += ". " + strings.Join(meanings, "; ")
		}
		all = append(all, entry{"columns", c.Name, words + "."})
	}
	return all
}

func aboutPlants() []doc.Block {
	var facts doc.Facts
	var others []string
	for _, c := range catalogue.Explain() {
		if c.Needed || c.Empty != "" {
			facts = append(facts, doc.Fact{Label: c.Name, Value: c.Meaning})
		} else {
			others = append(others, c.Name)
		}
	}
	return []doc.Block{
		doc.Text{Words: "A plant table is CSV: a header line with the names of the columns, then a row for each plant. Put it into the folder of a garden as plants.csv, or name it with plants: in garden.yaml. An empty cell means not known, and of toxic never harmless. hollowbed catalogue check FILE names every fault; hollowbed catalogue import makes one of another table."},
		doc.Line(""), doc.Text{Words: "What a plant is chosen by:"}, facts,
		doc.Text{Lead: "Besides", Words: strings.Join(others, ", ") + "."},
		doc.Line(""), more("plant-table", "columns", "wet_h"),
	}
}
