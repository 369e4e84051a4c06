package season

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"

	"hollowbed/zones/table"
)

// Notes are a season.csv as it was read.
//
// season.csv is a table in the form of RFC 4180 with a header line. Entries are
// only ever added, one line each; a mistake is put right by a later line whose
// `corrects` holds the number of the entry that it replaces.
//
//	entry     number of the entry, from 1; a line without takes the next
//	date      such as 2026-04-30
//	stake     of the plant; for watered also bottom, slope, rim or all
//	kind      seen, watered, moved, planted, removed, struck, pond or sun; may be empty
//	vigour    0 (dead or nearly), 1 (poor), 3 (average) to 5 (excellent)
//	signs     such as wilted|soil dry|not eaten
//	water_l   litres
//	id        of the species, x_m, y_m: place, for moved, planted and removed
//	corrects  number of the entry that this one replaces
//	remark    anything
//	pond_mm   water over the bottom at the time `from`, left_mm at the time `to`, 0 for
//	          gone by then: for pond; `from` and `to` alone: for sun. Times such as 08:00
//	photo_file  name of a photograph in the folder photos
//	drift_count   where stake is the letter of a drift: of how many of its plants, as 3
//	            or, where the others do not show it, 3 of 11
//	drift_plants  their stakes on that day, such as TAR1 TAR2; may be empty
//
// Only date and stake have to be there, and what the kind needs.
type Notes struct {
	Entries  []Entry // as they stand in the file
	Warnings table.Faults
	Torn     *table.Fault // the last line is cut off and was not read

	at        map[int]int // place in Entries, by number
	corrected map[int]int // number of the entry that replaces, by that replaced
	first     map[int]int // number of the entry that a chain of corrections began with, by that of each in it
	holds     map[int]int // number of the last entry of a chain, by that of its first
	last      int         // highest number
	current   []Entry
	of        map[string][]Entry // of current, by stake in capitals
}

// MaxBytes bounds what is read of a season.csv.
const MaxBytes = 64_000_000

// Read reads a season.csv; name is for messages. The error is table.Faults, all of them,
// or what r reports. A last line that was cut off loses only itself: see Torn.
func Read(name string, r io.Reader) (*Notes, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(data) > MaxBytes {
		return nil, table.Faults{{File: name, Line: 1, Column: 1, Want: fmt.Sprintf("expected a file of at most %d MB", MaxBytes/1_000_000)}}
	}
	data, _ = table.Decode(data)
	body, tail := cutTail(data)
	if len(tail) == 0 {
		return read(name, data)
	}
	line := bytes.Count(body, []byte{'\n'}) + 1
	if rec, err := read(name, data); err == nil { // it may just lack its line end
		if len(rec.Entries) > 0 {
			rec.Warnings = append(rec.Warnings, table.Fault{
				File: name, Line: line, Column: 1, Want: "the last line has no line end: look whether it is whole",
			})
		}
		return rec, nil
	}
	rec, err := read(name, body)
	if err != nil {
		return nil, err
	}
	rec.Torn = &table.Fault{
		File: name, Line: line, Column: 1, Value: string(bytes.TrimRight(tail, "\x00")),
		Want: "this line is cut off and was not read: complete it or take it away, and end it with a line end",
	}
	return rec, nil
}

// cutTail parts what stands behind the last line end outside quotes: text, or
// the empty bytes that a file system may leave where it lost the end of a file.
func cutTail(data []byte) (body, tail []byte) {
	quoted, end := false, 0
	for i, b := range data {
		switch {
		case b == '"':
			quoted = !quoted
		case b == '\n' && !quoted:
			end = i + 1
		}
	}
	return data[:end:end], data[end:]
}

func read(name string, data []byte) (*Notes, error) {
	raw, err := table.ReadWithin(name, bytes.NewReader(data), table.Limits{FileBytes: MaxBytes, RowBytes: 1_000_000})
	if err != nil {
		return nil, err
	}
	rec, in := &Notes{}, reader{raw: raw}
	ours := entryColumns()
	meant := ours[:len(ours)-1] // people have columns photo and photos of their own
	for _, i := range in.columns(ours[1:3], ours) {
		line, column := raw.Position(-1, i)
		fault := table.Fault{File: name, Line: line, Column: column, Value: raw.Header[i], Want: "not a column of ours: passed over"}
		if want := table.OrMeant("not a column of ours", raw.Header[i], meant); want != "not a column of ours" {
			fault.Want = want // what stands in it would be lost
			in.faults = append(in.faults, fault)
		} else {
			rec.Warnings = append(rec.Warnings, fault)
		}
	}
	if len(in.faults) > 0 {
		return nil, in.done()
	}
	said := sync.OnceValue(howSaid)
	for i := range raw.Rows {
		if !slices.ContainsFunc(raw.Rows[i], func(s string) bool { return strings.TrimSpace(s) != "" }) {
			continue
		}
		e := decode(func(c string) string { return in.figure(i, c) }, func(c, want string) { in.fault(i, c, want) }, said)
		e.Line, _ = raw.Position(i, -1)
		rec.take(e, &in, i)
	}
	rec.settle()
	return rec, in.done()
}

// take adds an entry and looks whether its numbers go with those before it.
func (r *Notes) take(e Entry, in *reader, row int) {
	if e.Number == 0 {
		e.Number = r.last + 1
	}
	if twice, ok := r.Of(e.Number); ok {
		in.fault(row, "entry", fmt.Sprintf("stands in line %d already: want each number once", twice.Line))
	}
	if e.Corrects != 0 {
		if _, ok := r.Of(e.Corrects); !ok {
			in.fault(row, "corrects", "want the number of an entry above this one")
		} else if by, twice := r.corrected[e.Corrects]; twice {
			in.fault(row, "corrects", fmt.Sprintf("entry %d is corrected by entry %d already: want that one's number", e.Corrects, by))
		}
	}
	r.add(e)
}

func (r *Notes) add(e Entry) {
	if r.at == nil {
		r.at, r.corrected, r.first, r.holds = map[int]int{}, map[int]int{}, map[int]int{}, map[int]int{}
	}
	r.at[e.Number] = len(r.Entries)
	if e.Corrects != 0 {
		r.corrected[e.Corrects] = e.Number
	}
	first, ok := r.first[e.Corrects]
	if !ok {
		first = e.Number
	}
	r.first[e.Number], r.holds[first] = first, e.Number
	r.last = max(r.last, e.Number)
	r.Entries = append(r.Entries, e)
}

// Of finds an entry by its number.
func (r *Notes) Of(number int) (Entry, bool) {
	if i, ok := r.at[number]; ok {
		return r.Entries[i], true
	}
	return Entry{}, false
}

// Current lists the entries that hold, without those struck, by date and number.
func (r *Notes) Current() []Entry { return r.current }

// settle works out which entries hold, once all are there.
func (r *Notes) settle() {
	for _, e := range r.Entries {
		if _, gone := r.corrected[e.Number]; !gone && e.Kind != Struck {
			r.current = append(r.current, e)
		}
	}
	slices.SortStableFunc(r.current, func(a, b Entry) int {
		return cmp.Or(a.Date.Compare(b.Date), cmp.Compare(a.Number, b.Number))
	})
	r.index(func(e Entry) []Entry {
		if !e.OfDrift() || e.Some < len(e.Among) || e.Among == nil {
			return []Entry{e}
		}
		return r.spread(e) // of all its plants
	})
}

// index finds the entries that hold by stake, those of drifts by what they say of
// single plants.
func (r *Notes) index(single func(Entry) []Entry) {
	of := map[string][]Entry{}
	for _, e := range r.current {
		for _, one := range single(e) {
			of[strings.ToUpper(one.Stake)] = append(of[strings.ToUpper(one.Stake)], one)
		}
	}
	r.of = of
}

// About lists the entries that hold and name a stake, by date.
func (r *Notes) About(stake string) []Entry { return r.of[strings.ToUpper(stake)] }

// TornError says that nothing can be added to a file whose last line is cut off.
type TornError struct{ Fault table.Fault }

func (e *TornError) Error() string { return e.Fault.String() }

// BadInput marks the error as one that the user can mend.
func (e *TornError) BadInput() bool { return true }

// Append adds entries to the bytes of a season.csv, which may be empty; what is there
// stays byte for byte, unless a column has to be added. They take the next numbers, set
// in those returned. The encoding stays; an entry that it has no characters for is
// refused.
func Append(name string, old []byte, entries []Entry) ([]byte, []Entry, error) {
	rec, head := &Notes{}, entryColumns()
	old, encoding, err := table.DecodeToWrite(name, old)
	if err != nil {
		return nil, nil, err
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if len(bytes.TrimSpace(old)) == 0 {
		for _, column := range entryColumns()[usualColumns:] {
			if !needs(entries, column) {
				head = slices.DeleteFunc(head, func(h string) bool { return h == column })
			}
		}
		if err := w.Write(head); err != nil {
			return nil, nil, err
		}
	} else {
		if rec, err = Read(name, bytes.NewReader(old)); err != nil {
			return nil, nil, err
		}
		if rec.Torn != nil {
			return nil, nil, &TornError{*rec.Torn}
		}
		if head, err = continueTable(name, old, entries, w, &out); err != nil {
			return nil, nil, err
		}
	}
	added := slices.Clone(entries)
	next := rec.last
	for i := range added {
		next++
		added[i].Number = next
		row, cells := make([]string, len(head)), added[i].cells()
		for k, column := range head {
			row[k] = cells[columnName(column)]
		}
		if err := w.Write(row); err != nil {
			return nil, nil, err
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	text, err := encoding.Encode(out.Bytes())
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	// What was written is read once, so that a file is never made worse.
	after, err := Read(name, bytes.NewReader(text))
	if err != nil {
		return nil, nil, err
	}
	return text, after.Entries[len(rec.Entries):], nil
}

// needs says whether a column holds something of the entries.
func needs(entries []Entry, column string) bool {
	return slices.ContainsFunc(entries, func(e Entry) bool { return e.cells()[column] != "" })
}

// continueTable writes the table as it stands, with the columns that entries need, and
// returns its header.
func continueTable(name string, old []byte, entries []Entry, w *csv.Writer, out *bytes.Buffer) ([]string, error) {
	raw, err := table.Read(name, bytes.NewReader(old))
	if err != nil {
		return nil, err
	}
	w.Comma, w.UseCRLF = rune(table.Separator(old)), bytes.Contains(old, []byte("\r\n"))
	head := slices.Clone(raw.Header)
	for _, column := range entryColumns() {
		if needs(entries, column) && !slices.ContainsFunc(head, func(h string) bool { return columnName(h) == column }) && column != "entry" {
			head = append(head, column)
		}
	}
	if len(head) == len(raw.Header) {
		out.Write(old)
		if !bytes.HasSuffix(old, []byte("\n")) {
			out.WriteString(map[bool]string{true: "\r\n", false: "\n"}[w.UseCRLF])
		}
		return head, nil
	}
	if err := w.Write(head); err != nil {
		return nil, err
	}
	for _, row := range raw.Rows {
		if err := w.Write(append(slices.Clone(row), make([]string, len(head)-len(row))...)); err != nil {
			return nil, err
		}
	}
	return head, nil
}
