package main

import (
	"errors"
	"fmt"
	"hash/maphash"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"hollowbed/cmd/hollowbed/plainfile"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants/many"
	"hollowbed/zones"
	"hollowbed/zones/table"
)

type batchOptions struct {
	common
	what, shard, outFile, resume string
	cores                        int
}

func newBatch(w world) *cobra.Command {
	o := &batchOptions{common: common{world: w}}
	cmd := &cobra.Command{
		Use:   "batch FILE",
		Short: "Work out many gardens: a table in, one JSON object a line out",
		Long: `Work out every garden of a table, on all cores, and print one JSON object a
line, in the order of the table. FILE is CSV whose columns are keys of the
garden file (roof.area, bed.length, soil.rate, ...), or one JSON object a line;
- reads it from the standard input. A cell is written as in the garden file,
with its unit. An empty cell takes what the garden of --garden has; ~ leaves
the key out. The column id names a garden, and record another weather record,
looked for from the folder of the table.

Rows with faults are reported, get a line with "error" and are left out; the
status is then 2 when all others are done.`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := only(cmd, "out", "resume"); err != nil {
				return err
			}
			return o.run(args[0])
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.garden, "garden", "", "folder of the garden that rows start from (default: the embedded demo)")
	f.StringVar(&o.what, "what", string(many.Choose), "how far to go: `basin|zones|choose`, each with what stands before it")
	f.StringVar(&o.shard, "shard", "1/1", "take only share `i/n` of the rows, to split a table over machines")
	f.StringVar(&o.outFile, "out", "", "write to a new `FILE`, line by line")
	f.StringVar(&o.resume, "resume", "", "go on with `FILE` after a stop, or begin it")
	f.IntVar(&o.cores, "cores", runtime.GOMAXPROCS(0), "cores to use")
	return cmd
}

// share is which rows of a table one run takes.
type share struct{ i, n int }

func (s share) has(row int) bool { return (row-1)%s.n == s.i-1 }

func parseShare(text string) (share, error) {
	a, b, ok := strings.Cut(text, "/")
	i, wrongI := strconv.Atoi(a)
	n, wrongN := strconv.Atoi(b)
	if !ok || wrongI != nil || wrongN != nil || i < 1 || i > n {
		return share{}, usagef("--shard: %q: want i/n, such as 2/8 for the second of eight shares", text)
	}
	return share{i, n}, nil
}

// mostCores keeps a slip of the finger from asking for all memory at once.
const mostCores = 4096

func (o *batchOptions) run(file string) error {
	part, err := parseShare(o.shard)
	if err != nil {
		return err
	}
	if !slices.Contains(many.Whats(), many.What(o.what)) {
		return usagef("--what: %q: want basin, zones or choose", o.what)
	}
	if o.cores < 1 || o.cores > mostCores {
		return usagef("--cores: %d: want 1 or more, at most %d", o.cores, mostCores)
	}
	shared, err := o.shared(file)
	if err != nil {
		return err
	}
	table, closeTable, err := o.table(file, shared.Base)
	if err != nil {
		return err
	}
	defer closeTable()
	b := &batchRun{o: o, name: shownTable(file), program: o.build(), batch: many.New(shared), rows: sharedRows{
		name: shownTable(file), table: table, part: part, warn: o.err, lines: map[uint64]int{}, seed: maphash.MakeSeed(),
	}}
	if b.out, err = o.sink(b); err != nil {
		return err
	}
	if info, err := os.Stat(file); o.terminal && err == nil && info.Mode().IsRegular() { // a pipe can be read once only
		if err := b.measure(file); err != nil {
			return errors.Join(err, b.out.close())
		}
	}
	return errors.Join(b.work(o.cores), b.out.close(), closeTable())
}

func shownTable(file string) string {
	if file == "-" {
		return "standard input"
	}
	return file
}

// shared reads what all rows rest on.
func (o *batchOptions) shared(file string) (many.Shared, error) {
	f, err := o.open()
	if err != nil {
		return many.Shared{}, err
	}
	if err := f.guard([]writes{{option: "--out", file: o.outFile}, {option: "--resume", file: o.resume}}, file); err != nil {
		return many.Shared{}, err
	}
	s := many.Shared{WeatherFile: many.WeatherFile(f.garden.Weather), What: many.What(o.what)}
	err = f.take(f.files, "garden.yaml", "garden.yaml", func(r io.Reader) (err error) {
		s.Base, _, err = zones.ReadBase(f.name("garden.yaml"), r)
		return err
	})
	if err != nil {
		return s, err
	}
	if s.What == many.Choose {
		if err := f.plantsOfAll(o.err, &s); err != nil {
			return s, err
		}
	}
	for _, in := range f.inputs {
		s.Digest += in.Name + " " + in.SHA256 + "\n"
	}
	folder := "."
	if file != "-" {
		folder = filepath.Dir(file)
	}
	s.Open = func(name string, besideTable bool) (io.ReadCloser, string, error) {
		if !besideTable {
			content, err := plainfile.Open(f.files, name, f.name(name))
			return content, f.name(name), err
		}
		if filepath.IsAbs(name) {
			return nil, name, usagef("%s: want the name of a weather record from the folder of the table", name)
		}
		shown := filepath.Join(folder, name)
		content, err := plainfile.Open(plainfile.Dir(filepath.Dir(shown)), filepath.Base(shown), shown)
		return content, shown, err
	}
	return s, nil
}

// table opens the table of rows. Closing it is an error if somebody wrote to it
// meanwhile: rows may be torn then.
func (o *batchOptions) table(file string, base *zones.Base) (*many.Table, func() error, error) {
	if file == "-" {
		table, err := many.OpenTable(shownTable(file), o.in, base.CheckKeys)
		return table, func() error { return nil }, err
	}
	in, err := openTable(file, "a table of gardens in CSV, or one JSON object a line")
	if err != nil {
		return nil, nil, err
	}
	table, err := many.OpenTable(file, in, base.CheckKeys)
	if err != nil {
		return nil, nil, errors.Join(err, in.Close())
	}
	before, err := in.Stat()
	return table, func() error {
		now, wrong := in.Stat()
		if wrong == nil && now.Mode().IsRegular() && (now.Size() != before.Size() || !now.ModTime().Equal(before.ModTime())) {
			wrong = &changedInput{file}
		}
		return errors.Join(wrong, in.Close())
	}, err
}

// sharedRows gives the rows of one share of a table.
type sharedRows struct {
	name  string
	table *many.Table
	part  share
	total int // rows of the whole table so far

	warn  io.Writer      // of an id that stands there twice; nil to be silent
	lines map[uint64]int // of up to mostIDs ids so far, by their hash: a long table is not kept in memory
	seed  maphash.Seed
}

// mostIDs is how many ids are remembered, some 7 MB; after as many it begins anew.
const mostIDs = 100_000

// twice warns of an id that an earlier row has as well: nobody could tell their
// lines apart.
func (s *sharedRows) twice(row many.Row) {
	if s.warn == nil || row.ID == "" {
		return
	}
	key := maphash.String(s.seed, row.ID)
	if line, ok := s.lines[key]; !ok {
		if len(s.lines) == mostIDs {
			clear(s.lines)
		}
		s.lines[key] = row.Line
	} else if s.part.has(row.Number) {
		fmt.Fprintf(s.warn, "%s:%d: id: %q: stands in line %d already: both are worked out; tell them apart by their row\n", s.name, row.Line, report.Plain(row.ID), line)
	}
}

// next gives the next row of the share; more is false after the last.
func (s *sharedRows) next() (row many.Row, more bool, err error) {
	for {
		row, err := s.table.Next()
		if errors.Is(err, io.EOF) {
			if s.total == 0 {
				return row, false, table.Faults{{File: s.name, Want: "no rows: want a row for each garden below the header"}}
			}
			return row, false, nil
		} else if err != nil {
			return row, false, err
		}
		s.twice(row)
		if s.total++; s.part.has(row.Number) {
			return row, true, nil
		}
	}
}

// batchRun is one run of a batch.
type batchRun struct {
	o       *batchOptions
	name    string
	program string
	batch   *many.Batch
	rows    sharedRows
	out     *batchOut
	bar     *progressbar.ProgressBar // nil if nobody looks

	done, faulty, broken int
}

// measure counts the rows that are left, for the bar.
func (b *batchRun) measure(file string) error {
	in, err := os.Open(file)
	if err != nil {
		return err
	}
	defer in.Close()
	table, err := many.OpenTable(file, in, func([]zones.Cell) table.Faults { return nil })
	if err != nil {
		return err
	}
	rows := sharedRows{table: table, part: b.rows.part}
	left := -b.done
	for {
		if _, more, err := rows.next(); err != nil || !more {
			break // the run itself says what is wrong
		}
		left++
	}
	b.bar = newBar(b.o.err, left, "gardens", progressbar.OptionShowCount())
	return nil
}

// newBar is a bar that says how long the rest takes, and is gone at the end.
func newBar(w io.Writer, most int, what string, more ...progressbar.Option) *progressbar.ProgressBar {
	return progressbar.NewOptions(most, append(more,
		progressbar.OptionSetWriter(w), progressbar.OptionSetDescription(what),
		progressbar.OptionSetPredictTime(true), progressbar.OptionSetWidth(30), progressbar.OptionThrottle(200*time.Millisecond),
		progressbar.OptionClearOnFinish(), progressbar.OptionEnableColorCodes(false))...)
}

// told is one answer, worded.
type told struct {
	line   []byte
	errors []string
	faulty bool // the user can mend it
	err    error
}

func (b *batchRun) answer(row many.Row) told {
	a := b.batch.Answer(row)
	doc := report.NewBatchLine(a, b.program)
	t := told{errors: doc.Error, faulty: a.Err != nil && many.Faulty(a.Err)}
	t.line, t.err = report.JSONLine(doc)
	return t
}

// work answers the rows and says at the end how it went.
func (b *batchRun) work(cores int) error {
	err := many.InOrder(cores, b.rows.next, b.answer, b.tell)
	if b.bar != nil {
		_ = b.bar.Finish()
	}
	if err != nil {
		return err
	}
	if b.out.file != nil {
		fmt.Fprintf(b.o.err, "Wrote %s: lines for %s.\n", b.out.name, report.Gardens(b.done))
	}
	if b.faulty+b.broken > 0 {
		return &rowsError{name: b.name, rows: b.done, faulty: b.faulty, broken: b.broken}
	}
	return nil
}

// tell passes one answer on.
func (b *batchRun) tell(t told) error {
	if t.err != nil {
		return t.err
	}
	if len(t.errors) > 0 && b.bar != nil {
		_ = b.bar.Clear()
	}
	for _, text := range t.errors {
		fmt.Fprintln(b.o.err, text)
	}
	if err := b.out.write(t.line); err != nil {
		return err
	}
	b.count(len(t.errors) > 0, t.faulty)
	if b.bar != nil {
		_ = b.bar.Add(1)
	}
	return nil
}

func (b *batchRun) count(wrong, faulty bool) {
	b.done++
	switch {
	case wrong && faulty:
		b.faulty++
	case wrong:
		b.broken++
	}
}

// rowsError says how many rows were left out.
type rowsError struct {
	name                 string
	rows, faulty, broken int
}

func (e *rowsError) Error() string {
	return fmt.Sprintf("%s: %d of %d rows left out, for the reasons above; each has a line with \"error\"; all others are done", e.name, e.faulty+e.broken, e.rows)
}

// BadInput says whether the user can mend all of it.
func (e *rowsError) BadInput() bool { return e.broken == 0 }

// whatNames lists how far a batch may go.
func whatNames() []string {
	var names []string
	for _, w := range many.Whats() {
		names = append(names, string(w))
	}
	return names
}
