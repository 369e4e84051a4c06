package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
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

// pagesForUsers are README and the pages that it leads to for those who use the program,
// in the order in which their commands are run.
func pagesForUsers() []string {
	return []string{"README.md", "data/FINDING.md", "data/PLANT-TABLE.md", "data/MANY-GARDENS.md"}
}

// Every command that README and its pages show is run, in order, in one folder,
// and prints what they say; a line of three dots stands for any lines. With
// UPDATE_GOLDEN set the outputs shown are written anew. An ordinary run does README.
func TestReadme(t *testing.T) {
	t.Parallel()
	dir := readmeFolder(t)
	pages, run := pagesForUsers(), 0
	if !testenv.Heavy() && os.Getenv("UPDATE_GOLDEN") == "" {
		pages = pages[:1]
	}
	for _, page := range pages {
		run += readmePage(t, dir, filepath.Join(repo, page))
	}
	assert.GreaterOrEqual(t, run, testenv.Of(10, 25), "commands found")
}

func readmePage(t *testing.T, dir, path string) (run int) {
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	text := string(before)
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
				"%s: %s\nshown:\n%s\nprinted:\n%s", path, c.command, strings.Join(c.output, "\n"), got)
		}
	}
	assert.Positive(t, run, path)
	if text != string(before) {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	return run
}

// README leads to every page for people, each link to a page that is there, and
// is at most 10 kB long.
func TestReadmeLinks(t *testing.T) {
	for _, page := range append(pagesForUsers(), "DEVELOPERS.md", "data/GARDEN-FILE.md", "data/TRUST.md", "data/FILES.md", "data/METHOD.md", "data/MEASURED.md") {
		text, err := os.ReadFile(filepath.Join(repo, page))
		require.NoError(t, err)
		for _, m := range regexp.MustCompile(`\]\(([^)#]+)[^)]*\)`).FindAllStringSubmatch(string(text), -1) {
			assert.FileExists(t, filepath.Join(repo, filepath.Dir(page), m[1]), page)
		}
		if page != "README.md" {
			continue
		}
		assert.LessOrEqual(t, len(text), 10_000)
		for _, other := range []string{"FINDING", "PLANT-TABLE", "MANY-GARDENS", "GARDEN-FILE", "TRUST", "FILES", "METHOD", "MEASURED", "SOURCES"} {
			assert.Contains(t, string(text), "data/"+other+".md")
		}
	}
}

// readmeFolder is an empty folder with links to what README's commands name in
// the repository.
func readmeFolder(t *testing.T) string {
	dir := t.TempDir()
	root, err := filepath.Abs(repo)
	require.NoError(t, err)
	for _, name := range []string{"testdata", "data", "cmd", "plants", "zones", "search", "go.mod", "go.sum"} {
		require.NoError(t, os.Symlink(filepath.Join(root, name), filepath.Join(dir, name)))
	}
	return dir
}

// readmeRun runs a command with the program on the path, where TestMain puts it.
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
	t.Parallel()
	assert.True(t, matchDots([]string{"a", "...", "d"}, []string{"a", "b", "c", "d"}))
	assert.True(t, matchDots([]string{"..."}, nil))
	assert.False(t, matchDots([]string{"a", "...", "d"}, []string{"a", "b"}))
	assert.False(t, matchDots([]string{"a"}, []string{"a", "b"}))
}
