// Command hollowbed chooses plants for a rain garden, finds them by site
// condition, and moves the ones that struggle, from a record of rain.
package main

import (
	"os"
	"time"

	"golang.org/x/term"
)

func main() {
	os.Exit(run(os.Args[1:], world{
		in: os.Stdin, out: os.Stdout, err: os.Stderr,
		getenv: os.Getenv, now: time.Now,
		terminal: term.IsTerminal(int(os.Stdin.Fd())) && term.IsTerminal(int(os.Stderr.Fd())),
	}))
}
