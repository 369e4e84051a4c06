package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// block is one console block of README: commands, each with what it prints.
type block struct{ commands []shown }

type shown struct {
	command string
	output  []string
}

func consoleBlocks(text string) []block {
	var blocks []block
	in := false
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		switch {
		case strings.HasPrefix(line, "```console"):
			in = true
			blocks = append(blocks, block{})
		case strings.HasPrefix(line, "```"):
			in = false
		case in && strings.HasPrefix(line, "$ "):
			b := &blocks[len(blocks)-1]
			b.commands = append(b.commands, shown{command: line[2:]})
		case in:
			b := &blocks[len(blocks)-1]
			last := &b.commands[len(b.commands)-1]
			last.output = append(last.output, line)
		}
	}
	return blocks
}

// Every command that README shows is run, in order, in one folder, and prints
// what README says; a line of three dots stands for any lines. With
// UPDATE_GOLDEN set the outputs shown are written anew.
func TestReadme(t *testing.T) {
	path := filepath.Join(repo, "README.md")
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	dir := readmeFolder(t)
	text := string(before)
	run := 0
	for _, b := range consoleBlocks(text) {
		for _, c := range b.commands {
			switch c.command {
			case "go mod download", "go test ./...", "go build -o hollowbed ./cmd/hollowbed":
				continue // what has just been done to run this test
			}
			run++
			got := readmeRun(t, dir, c.command)
			if len(c.output) == 0 {
				continue
			}
			if os.Getenv("UPDATE_GOLDEN") != "" && !hasDots(c.output) {
				old := "$ " + c.command + "\n" + strings.Join(c.output, "\n") + "\n"
				text = strings.Replace(text, old, "$ "+c.command+"\n"+got, 1)
				continue
			}
			assert.True(t, matchDots(c.output, strings.Split(strings.TrimRight(got, "\n"), "\n")),
				"%s\nshown:\n%s\nprinted:\n%s", c.command, strings.Join(c.output, "\n"), got)
		}
	}
	assert.GreaterOrEqual(t, run, 10, "commands found in README")
	if text != string(before) {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
}

// readmeFolder is an empty folder with the program on the path, and links to
// what README's commands name in the repository.
func readmeFolder(t *testing.T) string {
	dir := t.TempDir()
	root, err := filepath.Abs(repo)
	require.NoError(t, err)
	for _, name := range []string{"testdata", "data", "cmd", "plants", "zones", "search", "go.mod", "go.sum"} {
		require.NoError(t, os.Symlink(filepath.Join(root, name), filepath.Join(dir, name)))
	}
	bin := t.TempDir()
	build := exec.Command("go", "build", "-o", filepath.Join(bin, "hollowbed"), "./cmd/hollowbed")
	build.Dir = root
	out, err := build.CombinedOutput()
	require.NoError(t, err, string(out))
	t.Setenv("PATH", bin+string(os.PathListSeparator)+os.Getenv("PATH"))
	return dir
}

func readmeRun(t *testing.T, dir, command string) string {
	cmd := exec.Command("sh", "-c", command)
	cmd.Dir = dir
	if strings.HasPrefix(command, "go run ") {
		cmd.Dir = repo
	}
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	require.NoError(t, cmd.Run(), "%s\n%s%s", command, &stdout, &stderr)
	return stdout.String()
}

func hasDots(lines []string) bool {
	for _, l := range lines {
		if strings.TrimSpace(l) == "..." {
			return true
		}
	}
	return false
}

// matchDots compares lines; "..." matches any number of them.
func matchDots(want, got []string) bool {
	if len(want) == 0 {
		return len(got) == 0
	}
	if strings.TrimSpace(want[0]) == "..." {
		for i := 0; i <= len(got); i++ {
			if matchDots(want[1:], got[i:]) {
				return true
			}
		}
		return false
	}
	return len(got) > 0 && strings.TrimRight(want[0], " ") == strings.TrimRight(got[0], " ") && matchDots(want[1:], got[1:])
}

func TestMatchDots(t *testing.T) {
	assert.True(t, matchDots([]string{"a", "...", "d"}, []string{"a", "b", "c", "d"}))
	assert.True(t, matchDots([]string{"..."}, nil))
	assert.False(t, matchDots([]string{"a", "...", "d"}, []string{"a", "b"}))
	assert.False(t, matchDots([]string{"a"}, []string{"a", "b"}))
}
