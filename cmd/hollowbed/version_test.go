package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// --version tells digests that sha256sum finds too.
func TestVersion(t *testing.T) {
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

// One byte, one name, or a file more makes another digest.
func TestDigestOf(t *testing.T) {
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
