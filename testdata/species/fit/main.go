// Command fit makes plants/species/limits.csv, the limits of classes of plants, of
// what lists and trials say.
//
//	go run ./testdata/species/fit -doses    the doses of ordinary beds first, which takes minutes
//	go run ./testdata/species/fit           the fit alone
//
// Run both after a change of the water balance or of how wet and dry are counted.
package main

import (
	"flag"
	"fmt"
	"os"
)

const (
	here  = "testdata/species/"
	doses = here + "doses.csv"
	homes = here + "homes.csv"
)

func main() {
	again := flag.Bool("doses", false, "run the ordinary beds anew")
	flag.Parse()
	var err error
	if *again {
		if err = writeDoses(doses); err == nil {
			err = writeHomes(homes)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
