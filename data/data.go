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

// Files returns the demo garden as a folder: garden.yaml, rain.csv and what
// else belongs to a garden.
func Files() fs.FS { return files }
