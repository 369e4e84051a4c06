package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"hash"
	"io"
	"io/fs"

	"hollowbed/cmd/hollowbed/report"
)

// mostBytes bounds a file that is read whole; readers have bounds of their own.
const mostBytes = 64 << 20

// inputs are the files that one run has read, in the order of reading, with
// the digest of the very bytes that it read.
type inputs []report.FileDigest

// read lets take read an open file, and notes it under a name. A file that is
// written to meanwhile is refused, as far as its size and time tell: half of
// the old and half of the new could pass for a whole. So is one that was read
// before in this run and is another now.
func (n *inputs) read(file fs.File, name, shown string, take func(io.Reader) error) error {
	before, err := file.Stat()
	if err != nil {
		return err
	}
	in := &input{File: file, sum: sha256.New()}
	faults := take(in)
	after, err := file.Stat()
	if err != nil {
		return err
	}
	if before.Mode().IsRegular() && (before.Size() != after.Size() || !before.ModTime().Equal(after.ModTime())) {
		return &changedInput{shown}
	}
	if in.ended { // not so if it was refused for its size
		err = n.note(report.FileDigest{Name: name, SHA256: in.SHA256()}, shown)
	} else if faults == nil {
		panic(shown + ": not read to its end, so that its digest would be wrong")
	}
	if faults != nil {
		return faults
	}
	return err
}

func (n *inputs) note(d report.FileDigest, shown string) error {
	for _, known := range *n {
		if known.Name == d.Name {
			if known.SHA256 != d.SHA256 {
				return &changedInput{shown}
			}
			return nil
		}
	}
	*n = append(*n, d)
	return nil
}

// changedInput says that a file was written to while it was read.
type changedInput struct{ file string }

func (e *changedInput) Error() string {
	return e.file + ": was written to while it was read: run again when that is done"
}

// input is a file that is summed as it is read.
type input struct {
	fs.File
	sum   hash.Hash
	ended bool
}

func (in *input) Read(p []byte) (int, error) {
	n, err := in.File.Read(p)
	in.sum.Write(p[:n])
	in.ended = in.ended || errors.Is(err, io.EOF)
	return n, err
}

// Seek goes back to the start, from which it is summed anew.
func (in *input) Seek(offset int64, whence int) (int64, error) {
	file, ok := in.File.(io.Seeker)
	if !ok || offset != 0 || whence != io.SeekStart {
		return 0, errors.ErrUnsupported
	}
	in.sum.Reset()
	in.ended = false
	return file.Seek(0, io.SeekStart)
}

// SHA256 is the digest of what was read so far, in hexadecimal.
func (in *input) SHA256() string { return hex.EncodeToString(in.sum.Sum(nil)) }

// whole reads a file to its end.
func whole(r io.Reader, shown string) ([]byte, error) {
	if s, ok := r.(interface{ Stat() (fs.FileInfo, error) }); ok {
		if info, err := s.Stat(); err == nil && info.Size() > mostBytes {
			return nil, usagef("%s: too large: want a file of at most %d MB", shown, mostBytes>>20)
		}
	}
	text, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err == nil && len(text) > mostBytes {
		err = usagef("%s: too large: want a file of at most %d MB", shown, mostBytes>>20)
	}
	return text, err
}
