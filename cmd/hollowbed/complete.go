package main

import (
	"bytes"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"hollowbed/cmd/hollowbed/store"
	"hollowbed/plants/catalogue"
	"hollowbed/search"
	"hollowbed/zones"
)

// complete teaches the shell what may follow an option: zones, plant ids,
// units, and the closed lists of the search fields.
func complete(root *cobra.Command) {
	zonesOf := fixed(valueNames(catalogue.Zones())...)
	for _, cmd := range root.Commands() {
		for option, values := range map[string]cobra.CompletionFunc{
			"units": fixed("us", "metric"), "explain": zonesOf, "in": zonesOf, "why": plantIDs, "show": plantIDs, "compare": plantIDs, "sort": fixed(search.Sorts()...), "what": fixed(whatNames()...), "soil": fixed(zones.Textures()...),
		} {
			if cmd.Flags().Lookup(option) != nil {
				must(cmd.RegisterFlagCompletionFunc(option, values))
			}
		}
		if cmd.Name() == "find" {
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
