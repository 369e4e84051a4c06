package testenv

import (
	"flag"
	"os"

	_ "pgregory.net/rapid" // has the flag
)

// An ordinary run draws a fifth of the hundred cases of rapid, where a test's
// package uses this one. RAPID_CHECKS and -rapid.checks go before it.
func init() {
	if _, said := os.LookupEnv("RAPID_CHECKS"); !said && !Heavy() {
		if err := flag.Set("rapid.checks", "20"); err != nil {
			panic(err)
		}
	}
}
