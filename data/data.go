// Package data holds the demo garden: the garden file, its weather, its
// plants, and the schemas of the JSON output. All of it but the schemas is
// invented; SOURCES.md says so too. It only embeds.
package data

import (
	"embed"
	"io/fs"
)

//go:embed *.csv garden.yaml
var files embed.FS

//go:embed season
var seasonFiles embed.FS

// Season returns how the demo garden stands after its first season:
// planted.csv and season.csv. They are apart from Files, which is the garden
// before anything was planted.
func Season() fs.FS {
	sub, err := fs.Sub(seasonFiles, "season")
	if err != nil {
		panic(err) // embedded: our mistake
	}
	return sub
}

//go:embed schema/*.json
var schemas embed.FS

// Schemas returns the JSON Schemas of what the commands print.
func Schemas() fs.FS {
	sub, err := fs.Sub(schemas, "schema")
	if err != nil {
		panic(err) // embedded: our mistake
	}
	return sub
}

// Files returns the demo garden as a folder: garden.yaml, rain.csv and what
// else belongs to a garden.
func Files() fs.FS { return files }
