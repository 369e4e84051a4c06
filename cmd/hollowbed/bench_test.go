package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"hollowbed/data"
)

// BenchmarkChoose makes the planting list of the demo in this process: from
// reading its files to the printed text.
func BenchmarkChoose(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		status, out, errs := ask(b, "", "choose")
		require.Zero(b, status, errs)
		require.NotEmpty(b, out)
	}
}

// BenchmarkChooseCold is choose as a person starts it: a new process each time.
func BenchmarkChooseCold(b *testing.B) { cold(b, built(b), "choose") }

// BenchmarkFindCold is a search by words, in a new process each time.
func BenchmarkFindCold(b *testing.B) { cold(b, built(b), "find", "blue", "july") }

// BenchmarkFindInCold is a search by what survives, in a new process each time.
func BenchmarkFindInCold(b *testing.B) { cold(b, built(b), "find", "--in", "bottom") }

// BenchmarkFindAgainCold is a second search, by conditions and by words, in
// tables of the demo's plants again and again, and the same by conditions for
// one who keeps no cache.
func BenchmarkFindAgainCold(b *testing.B) {
	program := built(b)
	for _, n := range []int{1000, 5000, 100_000} {
		table := filepath.Join(b.TempDir(), "plants.csv")
		require.NoError(b, os.WriteFile(table, demoTable(b, n), 0o600))
		cache := b.TempDir()
		for _, asked := range [][]string{{"--height", "<50"}, {"blue", "july"}} {
			line := append([]string{"find", "--plants", table}, asked...)
			first := exec.Command(program, line...)
			first.Env = append(os.Environ(), "XDG_CACHE_HOME="+cache)
			out, err := first.CombinedOutput()
			require.NoError(b, err, string(out))
			b.Run(fmt.Sprint(n, "/", asked[0]), func(b *testing.B) { started(b, cache, program, line...) })
		}
		b.Run(fmt.Sprint(n, "/--height without cache"), func(b *testing.B) {
			started(b, "none", program, "find", "--plants", table, "--height", "<50")
		})
	}
}

// demoTable is the demo's plants again and again, n in all, each with a name of
// its own.
func demoTable(t testing.TB, n int) []byte {
	text, err := fs.ReadFile(data.Files(), "plants.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	require.NoError(t, err)
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	require.NoError(t, w.Write(rows[0]))
	for i := range n {
		row := slices.Clone(rows[1+i%(len(rows)-1)])
		row[0], row[1], row[2] = fmt.Sprint("p", i), fmt.Sprint(row[1], " f. ", i), fmt.Sprint(row[2], " ", i)
		require.NoError(t, w.Write(row))
	}
	w.Flush()
	return out.Bytes()
}

// BenchmarkHelpCold starts the same program for next to nothing: what of
// the times above is the start of a process and of what it imports.
func BenchmarkHelpCold(b *testing.B) { cold(b, built(b), "--help") }

// BenchmarkEmptyCold starts a program of one line: what any Go program takes.
func BenchmarkEmptyCold(b *testing.B) {
	cold(b, written(b, "package main\n\nfunc main() { println() }\n"))
}

// BenchmarkSameImportsCold starts a program that does nothing but import what
// this one does: what the libraries take before the first line of ours.
func BenchmarkSameImportsCold(b *testing.B) {
	out, err := exec.Command("go", "list", "-f", `{{join .Imports "\n"}}`, ".").Output()
	require.NoError(b, err)
	var source strings.Builder
	source.WriteString("package main\n\nimport (\n")
	for name := range strings.FieldsSeq(string(out)) {
		fmt.Fprintf(&source, "\t_ %q\n", name)
	}
	source.WriteString(")\n\nfunc main() { println() }\n")
	cold(b, written(b, source.String()))
}

// built is the program, built once for a benchmark and outside its time.
func built(b *testing.B) string { return compiled(b, ".") }

func compiled(b *testing.B, what string) string {
	b.Helper()
	file := filepath.Join(b.TempDir(), "program")
	out, err := exec.Command("go", "build", "-o", file, what).CombinedOutput()
	require.NoError(b, err, string(out))
	return file
}

// written compiles a program of one file.
func written(b *testing.B, source string) string {
	b.Helper()
	file := filepath.Join(b.TempDir(), "main.go")
	require.NoError(b, os.WriteFile(file, []byte(source), 0o644))
	return compiled(b, file)
}

// starter runs a program and prints the nanoseconds it took, those of the
// processor, and its largest memory in kB. Linux counts the memory of the
// parent until the new program is loaded as the child's, so that a large
// process such as this test cannot tell it; this one holds a few MB.
const starter = `package main

import (
	"fmt"
	"os"
	"os/exec"
	"syscall"
	"time"
)

func main() {
	cmd := exec.Command(os.Args[1], os.Args[2:]...)
	begin := time.Now()
	if err := cmd.Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	took := time.Since(begin)
	p := cmd.ProcessState
	fmt.Println(took.Nanoseconds(), (p.UserTime() + p.SystemTime()).Nanoseconds(), p.SysUsage().(*syscall.Rusage).Maxrss)
}
`

// cold runs a program again and again, each time anew, and reports the median
// of the milliseconds from start to end, the mean of those of the processor,
// and the largest memory it held.
func cold(b *testing.B, program string, args ...string) {
	started(b, b.TempDir(), program, args...)
}

// started is cold with a cache folder that is there already.
func started(b *testing.B, cache, program string, args ...string) {
	if runtime.GOOS != "linux" {
		b.Skip("the memory of a child is told in kB on Linux only")
	}
	start := written(b, starter)
	b.Setenv("XDG_CACHE_HOME", cache) // not before, since the compiler keeps its own there
	var times []float64
	var processor, largestKB float64
	for b.Loop() {
		out, err := exec.Command(start, append([]string{program}, args...)...).Output()
		require.NoError(b, err)
		var took, cpu, kB float64
		_, err = fmt.Sscan(string(out), &took, &cpu, &kB)
		require.NoError(b, err)
		times = append(times, took)
		processor += cpu
		largestKB = max(largestKB, kB)
	}
	slices.Sort(times)
	b.ReportMetric(times[len(times)/2]/1e6, "median-ms")
	b.ReportMetric(processor/1e6/float64(len(times)), "cpu-ms")
	b.ReportMetric(largestKB/1024, "peak-MB")
}
