package main

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/zones/site"
)

// batchOut is where the lines of a batch go. Each is written by itself and at
// once, so that a run that is killed leaves whole lines, and at most one torn
// one at the end, which --resume takes away.
type batchOut struct {
	name   string
	file   *os.File // nil for the standard output
	std    io.Writer
	unlock func()
}

// sink opens where the lines go. With --resume it goes through the rows that
// are done already.
func (o *batchOptions) sink(b *batchRun) (*batchOut, error) {
	switch {
	case o.outFile != "":
		return newBatchOut(o.outFile, os.O_WRONLY|os.O_CREATE|os.O_EXCL)
	case o.resume != "":
		out, err := newBatchOut(o.resume, os.O_RDWR|os.O_CREATE)
		if err != nil {
			return nil, err
		}
		if err := b.skip(out); err != nil {
			return nil, errors.Join(err, out.close())
		}
		return out, nil
	}
	return &batchOut{std: o.out}, nil
}

// newBatchOut opens a file for lines, and keeps other runs from it.
func newBatchOut(name string, flags int) (*batchOut, error) {
	if flags&os.O_EXCL != 0 {
		if err := free(name); err != nil {
			return nil, fmt.Errorf("%w, or --resume to go on with it", err)
		}
	}
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() { // a device may never end
		return nil, usagef("%s: is no plain file: want one; without --out and --resume the lines go to the standard output", name)
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		return nil, notWritten(name, err)
	}
	unlock, err := lockFile(name)
	if err != nil {
		return nil, err
	}
	file, err := os.OpenFile(name, flags, 0o666)
	if err != nil {
		unlock()
		return nil, notWritten(name, err)
	}
	return &batchOut{name: name, file: file, unlock: unlock}, nil
}

// lockFile keeps other runs from writing to a file, whatever link they name it
// by, by a lock beside it that goes away with unlock.
func lockFile(name string) (unlock func(), err error) {
	target, err := followed(name)
	if err != nil {
		return nil, err
	}
	path := filepath.Join(filepath.Dir(target), "."+filepath.Base(target)+".lock")
	for {
		lock := flock.New(path)
		ok, err := lock.TryLock()
		if err != nil {
			return nil, fmt.Errorf("%s: not locked: %w", name, err)
		}
		if !ok {
			return nil, fmt.Errorf("%s: another hollowbed writes to it: wait for that, or give each run a file of its own", name)
		}
		held, err := lock.Stat()
		if now, wrong := os.Stat(path); err == nil && wrong == nil && os.SameFile(held, now) {
			return func() {
				if os.Remove(path) != nil { // a system that removes no open file
					defer os.Remove(path)
				}
				_ = lock.Unlock()
			}, nil
		}
		_ = lock.Unlock() // the run before took it away just now
	}
}

func (o *batchOut) write(line []byte) error {
	if o.file == nil {
		if _, err := o.std.Write(line); err != nil {
			return err
		}
		return failedOutput(o.std)
	}
	if _, err := o.file.Write(line); err != nil {
		return fmt.Errorf("%w; what is whole stays: go on with --resume %s", notWritten(o.name, err), o.name)
	}
	return nil
}

func (o *batchOut) close() error {
	if o == nil || o.file == nil {
		return nil
	}
	defer o.unlock()
	if err := o.file.Close(); err != nil {
		return notWritten(o.name, err)
	}
	return nil
}

// skip reads the whole lines of an output, holds each against its row, and
// cuts a torn last one off. Nothing is changed if a line does not belong here.
func (b *batchRun) skip(out *batchOut) error {
	in := bufio.NewReaderSize(out.file, 1<<16)
	whole := int64(0)
	for n := 1; ; n++ {
		line, err := wholeLine(in)
		if errors.Is(err, io.EOF) {
			break // what is left has no end
		} else if err != nil {
			return err
		}
		want := notALine
		if len(line) <= maxLineBytes {
			want = b.match(line)
		}
		if want != "" {
			return site.Faults{{File: out.name, Line: n, Want: want}}
		}
		whole += int64(len(line))
	}
	if err := out.file.Truncate(whole); err != nil {
		return notWritten(out.name, err)
	}
	_, err := out.file.Seek(whole, io.SeekStart)
	if b.done > 0 {
		fmt.Fprintf(b.o.err, "%s: lines for %s are there; going on.\n", out.name, report.Gardens(b.done))
	}
	return err
}

// maxLineBytes is far more than a line has: a row has at most 1 MB.
const maxLineBytes = 16 << 20

// wholeLine reads a line to its end, or a little further than any may be long.
func wholeLine(in *bufio.Reader) ([]byte, error) {
	var line []byte
	for {
		part, err := in.ReadSlice('\n')
		line = append(line, part...)
		if !errors.Is(err, bufio.ErrBufferFull) || len(line) > maxLineBytes {
			if len(line) > maxLineBytes {
				err = nil
			}
			return line, err
		}
	}
}

const notALine = "want a line that batch wrote; name another file, and this one is left as it is"

// match holds a line against the next row; "" if it was made from it, else
// what would be right.
func (b *batchRun) match(line []byte) string {
	var has struct {
		Row     int      `json:"row"`
		Digest  string   `json:"digest"`
		Program string   `json:"program"`
		Error   []string `json:"error"`
	}
	if err := json.Unmarshal(bytes.TrimSpace(line), &has); err != nil || has.Digest == "" {
		return notALine
	}
	row, more, err := b.rows.next()
	switch {
	case err != nil:
		return err.Error()
	case !more:
		return "want no more lines than the table has rows for this share: this file belongs to another table"
	case row.Number != has.Row:
		return fmt.Sprintf("want row %d of the table here, not %d: this file belongs to another share or table", row.Number, has.Row)
	case has.Program != b.program || b.program == "":
		return fmt.Sprintf("made by another build of the program, %s; this is %s: go on with that one, or begin anew with --out, so that one build makes all lines", shownBuild(has.Program), shownBuild(b.program))
	case b.batch.Digest(row) != has.Digest:
		return fmt.Sprintf("row %d was something else when this line was made (row, garden file, plants, weather record or --what): begin anew with --out", has.Row)
	}
	b.count(len(has.Error) > 0, true)
	return ""
}

func shownBuild(program string) string { return cmp.Or(program, "one that does not tell") }
