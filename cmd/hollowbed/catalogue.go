package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"hollowbed/plants/catalogue"
)

func newCatalogue(w world) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "catalogue",
		Short: "Check a plant table",
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(&cobra.Command{
		Use:   "check FILE",
		Short: "Name every fault of a plant table, by line and column",
		Args:  cobra.ExactArgs(1),
		RunE:  func(_ *cobra.Command, args []string) error { return checkCatalogue(w, args[0]) },
	})
	return cmd
}

func checkCatalogue(w world, name string) error {
	file, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return usagef("%s: no such file: want a plant table in CSV", name)
	} else if err != nil {
		return err
	}
	defer file.Close()
	c, err := catalogue.Read(name, file)
	if err != nil {
		return err
	}
	for _, warning := range c.Warnings {
		fmt.Fprintln(w.out, warning)
	}
	fmt.Fprintf(w.out, "%s: %d plants, no faults, %d to look at\n", name, len(c.Plants), len(c.Warnings))
	return nil
}
