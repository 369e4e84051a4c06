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
)

// TestSameOnArm runs commands that read as built for arm64, whose
// compiler fuses a product and a sum into one step, in an emulator, and
// compares what it prints with this machine's, byte for byte. The bound of a
// planting list comes from a search by steps that follow each other's last
// bits; it and the gap are compared by their first three digits. The lists of
// move are left out: plants whose doubts are equal but for their last bits
// come in another order there.
func TestSameOnArm(t *testing.T) {
	if os.Getenv("CI") != "true" && os.Getenv("HOLLOWBED_ARM") == "" {
		t.Skip("an emulator takes minutes: HOLLOWBED_ARM=1 or CI=true runs this")
	}
	if runtime.GOOS != "linux" || runtime.GOARCH != "amd64" || testing.Short() {
		t.Skip("not on amd64 Linux, or a short test")
	}
	emulator, err := exec.LookPath("qemu-aarch64")
	require.NoError(t, err, "Debian: qemu-user")
	dir := t.TempDir()
	build := func(arch string) string {
		file := filepath.Join(dir, arch)
		cmd := exec.Command("go", "build", "-o", file, ".")
		cmd.Env = append(os.Environ(), "GOARCH="+arch, "CGO_ENABLED=0")
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		return file
	}
	here, arm := build("amd64"), build("arm64")
	garden := gardenWith(t, nil)
	rows := filepath.Join(t.TempDir(), "rows.csv")
	require.NoError(t, os.WriteFile(rows, []byte("id,roof.area\na,60 m2\nb,70 m2\n"), 0o644))
	searched := regexp.MustCompile(`"(bound|gap)": ?(\d\.\d{3})\d*`)
	most := regexp.MustCompile(`at most [0-9.]+ % could still be gained|no list can pass\s+[0-9.]+`)
	for _, line := range []string{ // an emulator is slow: each kind of figure once
		"basin --inlets", "zones --bands", "zones --explain rim", "choose", "report", "care --planted 2026-10-10 --csv", "batch $rows --what zones --garden $dir",
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
			text := searched.ReplaceAllString(string(out), `"$1": $2`)
			texts = append(texts, most.ReplaceAllString(text, ""))
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
