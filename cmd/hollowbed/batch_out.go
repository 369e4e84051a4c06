package main

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/cmd/hollowbed/store"
	"hollowbed/zones/table"
)

// batchOut is where the lines of a batch go.
type batchOut struct {
	name string
	file *store.Lines // nil for the standard output
	std  io.Writer
}

// sink opens where the lines go. With --resume it goes through the rows that
// are done already.
func (o *batchOptions) sink(b *batchRun) (*batchOut, error) {
	out := &batchOut{name: o.outFile + o.resume, std: o.out} // one of them at most
	var err error
	switch {
	case o.outFile != "":
		out.file, err = store.NewLines(o.outFile)
	case o.resume != "":
		if out.file, err = store.MoreLines(o.resume); err == nil {
			if err = b.skip(out); err != nil {
				err = errors.Join(err, out.close())
			}
		}
	}
	return out, err
}

func (o *batchOut) write(line []byte) error {
	if o.file != nil {
		return o.file.Add(line)
	}
	if _, err := o.std.Write(line); err != nil {
		return err
	}
	return failedOutput(o.std)
}

func (o *batchOut) close() error {
	if o.file == nil {
		return nil
	}
	return o.file.Close()
}

// skip reads the whole lines of an output, holds each against its row, and
// cuts a torn last one off. Nothing is changed if a line does not belong here.
func (b *batchRun) skip(out *batchOut) error {
	in := bufio.NewReaderSize(out.file, 1<<16)
	whole := int64(0)
	for n := 1; ; n++ {
		line, err := wholeLine(in)
		if errors.Is(err, io.EOF) { // what is left has no end
			if !torn(line) {
				return table.Faults{{File: out.name, Line: n, Want: notALine}}
			}
			break
		} else if err != nil {
			return err
		}
		want := notALine
		if len(line) <= maxLineBytes {
			want = b.match(line)
		}
		if want != "" {
			return table.Faults{{File: out.name, Line: n, Want: want}}
		}
		whole += int64(len(line))
	}
	if b.done > 0 {
		fmt.Fprintf(b.o.err, "%s: lines for %s are there; going on.\n", out.name, report.Gardens(b.done))
	}
	return out.file.CutAt(whole)
}

// torn says whether a text may be the beginning of a line of batch.
func torn(text []byte) bool {
	const begin = `{"row":`
	return strings.HasPrefix(string(text), begin) || strings.HasPrefix(begin, string(text))
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

// failedOutput is the error of the standard output so far: it is remembered
// there and else told only at the end, which here may be hours away.
func failedOutput(w io.Writer) error {
	if paper, ok := w.(report.Paper); ok {
		w = paper.Writer
	}
	if out, ok := w.(*output); ok && out.failed != nil {
		return fmt.Errorf("the output could not be written: %w", out.failed)
	}
	return nil
}
