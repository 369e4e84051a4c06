package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

// TestSameOnArm runs commands that read as built for arm64, whose
// compiler fuses a product and a sum into one step, in an emulator, and
// compares what it prints with this machine's, byte for byte, but for the build
// that the lines of a batch name.
func TestSameOnArm(t *testing.T) {
	t.Parallel()
	testenv.NotRaced(t)
	testenv.Sweep(t)
	if runtime.GOOS != "linux" || runtime.GOARCH != "amd64" {
		t.Skip("the emulator is for amd64 Linux; CI runs this there")
	}
	emulator := testenv.Tool(t, "qemu-user", "qemu-aarch64")
	dir := t.TempDir()
	build := func(arch string) string {
		file := filepath.Join(dir, arch)
		cmd := exec.Command("go", "build", "-trimpath", "-o", file, ".") // as .ci/run builds for other systems, so once
		cmd.Env = append(os.Environ(), "GOARCH="+arch, "CGO_ENABLED=0")
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		return file
	}
	here, arm := build("amd64"), build("arm64")
	garden := gardenWith(t, map[string]string{"rain.csv": demoFile(t, "rain.csv")})
	rows := filepath.Join(t.TempDir(), "rows.csv")
	require.NoError(t, os.WriteFile(rows, []byte("id,roof.area\na,60 m2\nb,70 m2\n"), 0o644))
	program := regexp.MustCompile(`"program":"[^"]*"`)
	for _, line := range []string{ // an emulator is slow: each kind of figure once
		"zones --bands", "zones --explain rim", "report", "batch $rows --garden $dir", "move --date 2024-10-05 --json",
		"basin --json", "zones --json", "choose --json", "find --in rim --json", "place --json --plan " + dir + "/plan.svg --section " + dir + "/section.svg",
		"care --planted 2026-10-10 --json",
	} {
		args := strings.Fields(strings.NewReplacer("$dir", garden, "$rows", rows).Replace(line))
		var texts []string
		for _, command := range [][]string{{here}, {emulator, arm}} {
			out, err := exec.Command(command[0], append(command[1:], args...)...).Output()
			require.NoError(t, err, line)
			for _, drawing := range []string{"plan.svg", "section.svg"} {
				if strings.Contains(line, drawing) {
					svg, err := os.ReadFile(filepath.Join(dir, drawing))
					require.NoError(t, err)
					out = append(out, svg...)
				}
			}
			texts = append(texts, program.ReplaceAllString(string(out), ""))
		}
		assert.True(t, texts[0] == texts[1], "%s: first difference at %s", line, firstDifference(texts[0], texts[1]))
	}
}

// firstDifference shows where two texts part.
func firstDifference(a, b string) string {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			from := max(0, i-60)
			return "\n" + a[from:min(len(a), i+60)] + "\nagainst\n" + b[from:min(len(b), i+60)]
		}
	}
	return "the end of one"
}
