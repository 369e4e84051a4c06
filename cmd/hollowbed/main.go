// Command hollowbed chooses plants for a rain garden, finds them by site
// condition, and moves the ones that struggle, from a record of rain.
package main

import (
	"os"
	"strconv"
	"time"

	"golang.org/x/term"

	"hollowbed/cmd/hollowbed/report"
)

func main() {
	columns, _, err := term.GetSize(int(os.Stdout.Fd()))
	if err != nil {
		columns, _ = strconv.Atoi(os.Getenv("COLUMNS"))
	}
	os.Exit(run(os.Args[1:], world{
		in: os.Stdin, out: report.Paper{Writer: os.Stdout, Columns: columns}, err: os.Stderr,
		getenv: os.Getenv, now: time.Now,
		terminal: term.IsTerminal(int(os.Stdin.Fd())) && term.IsTerminal(int(os.Stderr.Fd())),
	}))
}
