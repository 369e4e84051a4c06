package main

import (
	"bytes"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/season"
	"hollowbed/search"
	"hollowbed/zones"
	"hollowbed/zones/climate"
)

// complete teaches the shell what may follow an option or a command: zones,
// plants, stakes, signs, soils, stations, and the closed lists of the search fields.
func complete(root *cobra.Command) {
	zonesOf := fixed(valueNames(catalogue.Zones())...)
	for _, cmd := range root.Commands() {
		for option, values := range map[string]cobra.CompletionFunc{
			"units": fixed("us", "metric"), "explain": zonesOf, "in": zonesOf, "why": plantIDs, "show": plantIDs, "compare": plantIDs, "sort": fixed(search.Sorts()...), "what": fixed(whatNames()...), "soil": fixed(zones.Textures()...),
			"shape": fixed(slices.Concat([]string{"rectangle", "oval"}, zones.ShapesByLengths())...), "near": stations, "plant": stakes, "garden": folders, "plants": tables,
		} {
			if cmd.Flags().Lookup(option) != nil {
				must(cmd.RegisterFlagCompletionFunc(option, values))
			}
		}
		switch cmd.Name() {
		case "note":
			cmd.ValidArgsFunction = stakeAndSigns
		case "find":
			for _, f := range search.Fields() {
				if len(f.Values) > 0 {
					must(cmd.RegisterFlagCompletionFunc(f.Name, fixed(f.Values...)))
				}
			}
		}
	}
}

func must(err error) {
	if err != nil {
		panic(err) // an option that is not there: our mistake
	}
}

func fixed(values ...string) cobra.CompletionFunc {
	return cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp)
}

func valueNames(values []catalogue.Value) []string {
	var names []string
	for _, v := range values {
		names = append(names, v.Name)
	}
	return names
}

// plantIDs completes the ids of the plants of the garden named so far. The
// shell asks for it between two key strokes: what cannot be read completes
// nothing, silently.
func plantIDs(cmd *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	c := common{world: world{err: io.Discard}}
	c.garden, _ = cmd.Flags().GetString("garden")
	var ids []string
	if f, err := c.open(); err == nil {
		if table, err := f.catalogue(io.Discard); err == nil {
			for _, p := range table.Plants {
				if strings.HasPrefix(p.ID, typed) {
					ids = append(ids, p.ID+"\t"+p.VernacularName)
				}
			}
		}
	}
	return ids, cobra.ShellCompDirectiveNoFileComp
}

// stakes completes the stakes of the garden named so far, likewise in silence.
func stakes(cmd *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	c := common{world: world{err: io.Discard, now: time.Now}}
	c.garden, _ = cmd.Flags().GetString("garden")
	var all []string
	if f, err := c.open(); err == nil {
		rows, _ := f.stands(&c)
		for _, r := range rows {
			if len(r.Stake) >= len(typed) && strings.EqualFold(r.Stake[:len(typed)], typed) {
				all = append(all, r.Stake+"\t"+r.ID)
			}
		}
	}
	return all, cobra.ShellCompDirectiveNoFileComp
}

// stakeAndSigns completes what is noted: a stake, then signs.
func stakeAndSigns(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return stakes(cmd, args, typed)
	}
	var all []string
	for _, s := range season.Signs() {
		all = append(all, string(s))
	}
	return all, cobra.ShellCompDirectiveNoFileComp
}

// stations completes the ids of stations once two letters tell the state; all of
// them would be thousands.
func stations(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	var all []string
	if len(typed) >= 2 {
		for _, s := range climate.Stations() {
			if strings.HasPrefix(s.ID, strings.ToUpper(typed)) {
				all = append(all, s.ID+"\t"+s.Title())
			}
		}
	}
	return all, cobra.ShellCompDirectiveNoFileComp
}

func folders(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}

// tables completes the plant tables that are built in; files follow.
func tables(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{zones.PlantsUS, zones.PlantsDemo}, cobra.ShellCompDirectiveDefault
}

// newMan writes the manual pages of all commands.
func newMan(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "man DIR",
		Short: "Write a manual page for every command",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			root.DisableAutoGenTag = true // the same bytes every time
			if err := store.MakeFolder(args[0]); err != nil {
				return err
			}
			return manual(root, args[0], w.now())
		},
	}
}

// manual writes the page of a command and of all below it.
func manual(cmd *cobra.Command, dir string, date time.Time) error {
	var page bytes.Buffer
	if err := doc.GenMan(cmd, &doc.GenManHeader{Title: "HOLLOWBED", Section: "1", Source: "Hollowbed", Date: &date}, &page); err != nil {
		return err
	}
	file := filepath.Join(dir, strings.ReplaceAll(cmd.CommandPath(), " ", "-")+".1")
	if err := guard([]writes{{option: "man", file: file}}); err != nil {
		return err
	}
	if err := store.Replace(file, page.Bytes()); err != nil {
		return err
	}
	for _, sub := range cmd.Commands() {
		if sub.IsAvailableCommand() {
			if err := manual(sub, dir, date); err != nil {
				return err
			}
		}
	}
	return nil
}
