package main

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// --version tells digests that sha256sum finds too.
func TestVersion(t *testing.T) {
	t.Parallel()
	status, out, errs := ask(t, "", "--version")
	require.Zero(t, status, errs)
	assert.Regexp(t, `^hollowbed version .+\nbuilt by go\S+ for \w+/\w+\ndemo data sha256:[0-9a-f]{64}\nschemas   sha256:[0-9a-f]{64}\n$`, out)
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no shell")
	}
	root, err := filepath.Abs(repo)
	require.NoError(t, err)
	for line, folders := range map[string][]string{"demo data sha256:": {"data", "data/season"}, "schemas   sha256:": {"data/schema"}} {
		script := "set -e; export LC_ALL=C; ("
		for _, folder := range folders {
			script += "cd '" + filepath.Join(root, folder) + "' && ls -p | grep -v -e / -e '\\.go$' -e '\\.md$' | xargs sha256sum; "
		}
		made, err := exec.Command(sh, "-c", script+") | sha256sum").Output()
		require.NoError(t, err)
		assert.Contains(t, out, line+strings.Fields(string(made))[0]+"\n")
	}
}

// executable writes a program to be run. No other test may start a process while the
// file is open: until that process is another program it would hold it too, and the
// kernel runs nothing that is written to ("text file busy").
func executable(t *testing.T, file string, text []byte) {
	syscall.ForkLock.RLock()
	defer syscall.ForkLock.RUnlock()
	require.NoError(t, os.WriteFile(file, text, 0o755))
}

// A build that does not say which sources it is from is told from others by its
// own file; two of one released version are one program.
func TestProgram(t *testing.T) {
	t.Parallel()
	for version, says := range map[string]bool{
		"": false, "(devel)": false, "v1.2.3": true, "v0.0.0-20261129123456-abcdef123456": true, "v0.0.0-20261129123456-abcdef123456+dirty": false, "v1.2.3+dirty": false,
	} {
		assert.Equal(t, says, saysSources(version), version)
	}
	if runtime.GOOS == "darwin" {
		t.Skip("no program there runs with a byte too many")
	}
	from, err := exec.LookPath("hollowbed")
	require.NoError(t, err)
	text, err := os.ReadFile(from)
	require.NoError(t, err)
	dir := t.TempDir()
	tell := func(folder string, text []byte) string {
		file := filepath.Join(dir, folder, filepath.Base(from)) // by whose name the test binary becomes the program
		require.NoError(t, os.Mkdir(filepath.Dir(file), 0o755))
		executable(t, file, text)
		out, err := exec.Command(file, "--version").Output()
		require.NoError(t, err)
		first, _, _ := strings.Cut(string(out), "\n")
		return first
	}
	one := tell("one", text)
	sum := sha256.Sum256(text)
	assert.Regexp(t, " sha256:"+hex.EncodeToString(sum[:])+"$", one)
	assert.Equal(t, one, tell("same", text))
	assert.NotEqual(t, one, tell("other", append(text, 0)))
}

// One byte, one name, or a file more makes another digest.
func TestDigestOf(t *testing.T) {
	t.Parallel()
	of := func(files map[string]string) string {
		folder := fstest.MapFS{}
		for name, text := range files {
			folder[name] = &fstest.MapFile{Data: []byte(text)}
		}
		digest, err := digestOf(folder)
		require.NoError(t, err)
		return digest
	}
	seen := map[string]bool{}
	for _, files := range []map[string]string{{}, {"a": "1"}, {"a": "2"}, {"b": "1"}, {"a": "1", "b": ""}, {"a": "1", "b": "1"}} {
		seen[of(files)] = true
		assert.Equal(t, of(files), of(files))
	}
	assert.Len(t, seen, 6)
}
