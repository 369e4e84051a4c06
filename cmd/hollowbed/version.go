package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"

	"hollowbed/data"
)

// version names the build: its module version, or the revision it was built at.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			v += " " + s.Value
		}
	}
	return v
}

// program tells builds apart, so that lines of two are not mixed: the version
// where it says which sources were built, else, for a build from changed files or
// from none under version control, the digest of the program's own file as well.
// "" if that cannot be read.
func program() string { return programBy("sha256", sha256.New()) }

// programSoon is program for a cache of one's own: the sum of a file of 40 MB is
// taken by CRC-32C, in a fifth of the time.
func programSoon() string {
	return programBy("crc32c", crc32.New(crc32.MakeTable(crc32.Castagnoli)))
}

func programBy(name string, sum hash.Hash) string {
	info, ok := debug.ReadBuildInfo()
	if ok && saysSources(info.Main.Version) {
		return info.Main.Version
	}
	size, err := ownFile(sum)
	if err != nil {
		return ""
	}
	text := version() + " " + name + ":" + hex.EncodeToString(sum.Sum(nil))
	if sum.Size() < sha256.Size {
		text += " of " + strconv.FormatInt(size, 10) + " bytes"
	}
	return text
}

// saysSources reports whether a module version stands for one state of the
// sources.
func saysSources(v string) bool {
	return v != "" && v != "(devel)" && !strings.Contains(v, "+dirty")
}

// ownFile writes the file that runs to w, even if another stands in its place by
// now, and tells its size.
func ownFile(w io.Writer) (int64, error) {
	name := "/proc/self/exe"
	if runtime.GOOS != "linux" {
		var err error
		if name, err = os.Executable(); err != nil {
			return 0, err
		}
	}
	f, err := os.Open(name)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	return io.Copy(w, f)
}

// printVersion tells all that an answer rests on beside the files that its JSON
// names: the build, what it was built for, and the data and schemas in it.
func printVersion(w io.Writer) error {
	demo, err := digestOf(data.Files(), data.Season())
	if err != nil {
		return err
	}
	schemas, err := digestOf(data.Schemas())
	if err != nil {
		return err
	}
	name := program()
	if name == "" {
		name = version()
	}
	fmt.Fprintf(w, "hollowbed version %s\nbuilt by %s for %s/%s\ndemo data sha256:%s\nschemas   sha256:%s\n",
		name, runtime.Version(), runtime.GOOS, runtime.GOARCH, demo, schemas)
	return nil
}

// digestOf is one digest for all files of some folders: the SHA-256 of what
// sha256sum prints for them one folder after the other, each sorted by name.
func digestOf(folders ...fs.FS) (string, error) {
	all := sha256.New()
	for _, folder := range folders {
		entries, err := fs.ReadDir(folder, ".")
		if err != nil {
			return "", err
		}
		var names []string
		for _, e := range entries {
			if !e.IsDir() {
				names = append(names, e.Name())
			}
		}
		slices.Sort(names)
		for _, name := range names {
			text, err := fs.ReadFile(folder, name)
			if err != nil {
				return "", err
			}
			sum := sha256.Sum256(text)
			fmt.Fprintf(all, "%s  %s\n", hex.EncodeToString(sum[:]), name)
		}
	}
	return hex.EncodeToString(all.Sum(nil)), nil
}
