package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"

	"hollowbed/data"
	"hollowbed/plants/season"
)

func main() {
	if err := command(os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "twin:", err)
		os.Exit(1)
	}
}

func command(args []string, stdout, stderr io.Writer) error {
	t := defaultTruth()
	flags := flag.NewFlagSet("twin", flag.ContinueOnError)
	flags.SetOutput(stderr)
	asJSON := flags.Bool("json", false, "print JSON")
	ablate := flags.Bool("ablate", false, "tell the method a part of the truth at a time, and see what it gains by it")
	margin := flags.Bool("margins", false, "try margins by which a move has to be worth its work, for plants of several prices")
	against := flags.Bool("rivals", false, "set moves beside replanting what died and watering in drought")
	flags.IntVar(&t.Gardens, "gardens", t.Gardens, "how many gardens")
	flags.Uint64Var(&t.Seed, "seed", t.Seed, "the same seed gives the same experiment")
	flags.Float64Var(&t.SoilError, "soil-error", t.SoilError, "how far the ground is from what is believed, log units")
	flags.Float64Var(&t.SpeciesSpread, "species-spread", t.SpeciesSpread, "how far limits are from the catalogue's, log units")
	flags.Float64Var(&t.NoteNoise, "note-noise", t.NoteNoise, "how often notes are wrong, as a multiple of the usual")
	if err := flags.Parse(args); err != nil {
		return err
	}
	signs, err := data.Files().Open("signs.csv")
	if err != nil {
		return err
	}
	defer signs.Close()
	table, err := season.ReadTable("signs.csv", signs)
	if err != nil {
		return err
	}
	if *ablate {
		found, err := handOver(t, table)
		if err != nil {
			return err
		}
		return found.text(stdout)
	}
	if *against {
		return beside(t, table, stdout)
	}
	if *margin {
		return margins(t, table, stdout)
	}
	result, err := liveAll(t, table)
	if err != nil {
		return err
	}
	if *asJSON {
		out := json.NewEncoder(stdout)
		out.SetIndent("", "  ")
		return out.Encode(result)
	}
	return result.text(stdout)
}
