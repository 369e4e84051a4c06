package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"hollowbed/cmd/hollowbed/plainfile"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/zones"
)

// writes is a file that a command line asks to be written.
type writes struct {
	option, file string
	picture      bool
	makes        string // the file of a garden that it may well be, if there is none yet
}

// guard refuses files to be written that would destroy what the run rests on: any
// that it reads, any of a garden, and each other. It stands before all work.
// Devices and pipes lose nothing.
func guard(outputs []writes, inputs ...string) error {
	for i, o := range outputs {
		if o.file == "" {
			continue
		}
		ending := strings.ToLower(filepath.Ext(o.file))
		if o.picture && ending != "" && ending != ".svg" && ending != ".png" {
			return usagef("%s: %s: pictures end in .svg or .png: expected such a name", o.option, o.file)
		}
		if info, err := os.Stat(o.file); err == nil && !info.Mode().IsRegular() {
			continue
		}
		if err := o.spares(inputs); err != nil {
			return err
		}
		for _, other := range outputs[:i] {
			if same(o.file, other.file) {
				return usagef("%s and %s: both go to %s: expected a file for each", other.option, o.option, o.file)
			}
		}
	}
	return nil
}

// spares refuses an output that is an input or a file of a garden.
func (o writes) spares(inputs []string) error {
	target, err := store.Target(o.file)
	if err != nil {
		return err
	}
	if strings.HasPrefix(filepath.Base(target), ".hollowbed") {
		return usagef("%s: %s: is a file that Hollowbed itself keeps: expected another name", o.option, o.file)
	}
	for _, name := range inputs {
		if same(target, name) {
			return usagef("%s: %s: is read for this: expected another name, so that it is kept", o.option, o.file)
		}
	}
	dir, err := filepath.Abs(filepath.Dir(target))
	if err != nil {
		return err
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	for above := ""; dir != above; above, dir = dir, filepath.Dir(dir) {
		for _, name := range gardenFiles(dir) {
			if same(target, name) && filepath.Base(name) != o.makes {
				return usagef("%s: %s: is a file of the garden in %s: expected another name, so that it is kept", o.option, o.file, dir)
			}
		}
	}
	return nil
}

// ownFiles are the names that a garden's folder has for files of its own.
func ownFiles() []string { return []string{"garden.yaml", "planted.csv", "season.csv", "plants.csv"} }

// gardenFiles are the files that a garden's folder has or may have; none where
// there is no garden.
func gardenFiles(dir string) []string {
	if _, err := os.Stat(dir + string(filepath.Separator) + "garden.yaml"); err != nil {
		return nil
	}
	names := ownFiles()
	if file, err := plainfile.Dir(dir).Open("garden.yaml"); err == nil {
		if g, err := zones.ReadGarden("garden.yaml", file); err == nil {
			for _, file := range []string{g.Weather.File, g.Weather.Monthly} {
				if file != "" {
					names = append(names, file)
				}
			}
		}
		file.Close()
	}
	for i := range names {
		names[i] = dir + string(filepath.Separator) + filepath.FromSlash(names[i])
	}
	return names
}

// same says whether two names stand for one file, by whatever link or spelling;
// neither need be there.
func same(a, b string) bool {
	if a == "" || b == "" {
		return false
	}
	infoA, errA := os.Stat(a)
	infoB, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return os.SameFile(infoA, infoB)
	}
	a, errA = store.Target(a)
	b, errB = store.Target(b)
	if errA != nil || errB != nil {
		return false
	}
	return sameFolder(filepath.Dir(a), filepath.Dir(b)) && sameName(filepath.Base(a), filepath.Base(b))
}

// sameName compares names as most disks of the system do.
func sameName(a, b string) bool {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		return strings.EqualFold(a, b)
	}
	return a == b
}

// guard is guard for a command that reads a garden; inputs are what it reads
// beside it.
func (f *folder) guard(outputs []writes, inputs ...string) error {
	inputs = append(inputs, f.learned)
	if f.dir != "" {
		inputs = append(inputs, gardenFiles(f.dir)...)
	}
	return guard(outputs, inputs...)
}
