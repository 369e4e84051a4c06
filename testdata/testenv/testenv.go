// Package testenv tells tests what this machine has and how much they are to
// do. Nothing but tests uses it.
package testenv

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Heavy tells whether HOLLOWBED_HEAVY is set to anything but 0: the sweeps that
// take minutes, whole. Without it each does a small part of the same.
func Heavy() bool {
	v := os.Getenv("HOLLOWBED_HEAVY")
	return v != "" && v != "0"
}

// Of is how much a sweep does in an ordinary run and in a heavy one.
func Of[T any](light, heavy T) T {
	if Heavy() {
		return heavy
	}
	return light
}

// Some is every tenth of a long list of cases, and all of them in a heavy run.
func Some[T any](all []T) []T {
	var some []T
	for i := 0; i < len(all); i += Of(10, 1) {
		some = append(some, all[i])
	}
	return some
}

// Drawn are some of the cases of a sweep that takes minutes: others for every change
// of code in CI (RAPID_SEED), so that all have their turn.
func Drawn[T any](all []T, n int) []T {
	seed, _ := strconv.ParseUint(os.Getenv("RAPID_SEED"), 10, 64) // 0: not said
	some := slices.Clone(all)
	rand.New(rand.NewPCG(seed, 0)).Shuffle(len(some), func(i, j int) { some[i], some[j] = some[j], some[i] })
	return some[:n]
}

// Sweep leaves a test that is a sweep as a whole to heavy runs.
func Sweep(t testing.TB) {
	t.Helper()
	if !Heavy() {
		t.Skip("a sweep: HOLLOWBED_HEAVY=1 runs it")
	}
}

// NotRaced skips a test in which the race detector sees nothing, other
// processes or one goroutine alone, and which it would make many times slower.
func NotRaced(t testing.TB) {
	t.Helper()
	if Raced {
		t.Skip("nothing for the race detector to see")
	}
}

// Absent skips a test whose tool is missing; under CI=true it fails it.
func Absent(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// Tool is where a program is, by the first of its names that is found.
func Tool(t testing.TB, debian string, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	Absent(t, names[0]+" is not installed: apt-get install "+debian)
	return ""
}

// Python is Debian's Python with some modules, each of Debian's package
// python3-MODULE.
func Python(t testing.TB, modules ...string) string {
	t.Helper()
	const python = "/usr/bin/python3"
	find := "import importlib.util, sys; sys.exit(not all(map(importlib.util.find_spec, sys.argv[1:])))"
	if exec.Command(python, append([]string{"-c", find}, modules...)...).Run() != nil {
		Absent(t, "Python lacks something: apt-get install python3 python3-"+strings.Join(modules, " python3-"))
	}
	return python
}
