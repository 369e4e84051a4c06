package store

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/testdata/testenv"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"hollowbed-rewrite": rewriteForever})
}

// rewriteForever is a program that writes a large file anew, with A and B by
// turns, in the way of its first argument.
func rewriteForever() {
	way, file := os.Args[1], os.Args[2]
	for i := 0; ; i++ {
		text := bytes.Repeat([]byte{"AB"[i%2]}, rewrittenBytes)
		var err error
		switch way {
		case "replace":
			err = Replace(file, text)
		case "new":
			os.Remove(file)
			err = New(file, text)
		case "claim": // a disk without links
			os.Remove(file)
			err = newBy(func(*os.Root, string, string) error { return errors.ErrUnsupported }, file, text)
		case "plain":
			err = os.WriteFile(file, text, 0o644)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

const rewrittenBytes = 4 << 20

// TestKilledWhileWriting kills runs that do nothing but write, so that nearly
// every kill falls into a write, and counts the torn files. The plain way of
// writing must tear one, however few kills the others get, or else the test
// sees nothing.
func TestKilledWhileWriting(t *testing.T) {
	testenv.NotRaced(t)
	program, err := exec.LookPath("hollowbed-rewrite")
	require.NoError(t, err)
	for way, sound := range map[string]bool{"replace": true, "new": true, "claim": true, "plain": false} {
		t.Run(way, func(t *testing.T) {
			dir := t.TempDir()
			file := filepath.Join(dir, "file")
			require.NoError(t, os.WriteFile(file, bytes.Repeat([]byte("A"), rewrittenBytes), 0o644))
			torn := 0
			most := testenv.Of(8, 150)
			if !sound {
				most = 1000
			}
			for range most {
				if !sound && torn > 0 {
					break
				}
				cmd := exec.Command(program, way, file)
				require.NoError(t, cmd.Start())
				awaitChange(dir, time.Second)
				time.Sleep(time.Duration(rand.Float64() * float64(20*time.Millisecond)))
				_ = cmd.Process.Kill()
				_ = cmd.Wait()
				text, err := os.ReadFile(file)
				switch {
				case os.IsNotExist(err) && way != "replace": // removed, and not there anew
				case way == "claim" && err == nil && len(text) == 0: // as claim says
				case err != nil || len(text) != rewrittenBytes || bytes.Count(text, text[:1]) != rewrittenBytes:
					torn++
				}
				entries, err := os.ReadDir(dir)
				require.NoError(t, err)
				for _, e := range entries {
					if e.Name() != "file" {
						require.NoError(t, os.Remove(filepath.Join(dir, e.Name())))
						assert.True(t, strings.HasPrefix(e.Name(), draftPrefix), e.Name())
					}
				}
			}
			assert.Equal(t, sound, torn == 0, "%d files are torn", torn)
		})
	}
}

// awaitChange waits until a file of a folder appears or changes its size, and
// not for ever.
func awaitChange(dir string, most time.Duration) {
	look := func() (files int, bytes int64) {
		entries, _ := os.ReadDir(dir)
		for _, e := range entries {
			if info, err := e.Info(); err == nil {
				bytes += info.Size()
			}
		}
		return len(entries), bytes
	}
	files, bytes := look()
	for end := time.Now().Add(most); time.Now().Before(end); time.Sleep(10 * time.Microsecond) {
		if f, b := look(); f != files || b != bytes {
			return
		}
	}
}
