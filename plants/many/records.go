package many

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"

	"hollowbed/zones"
	"hollowbed/zones/site"
	"hollowbed/zones/table"
)

// How many records are kept at once. A record of 30 years takes 3 MB. Tables
// that go through more than these in turn read them again.
const (
	keptFiles    = 8
	keptClimates = 16
	keptSums     = 4096 // their digests
)

// noRecord stands in a digest for a record that is not there.
const noRecord = "none"

// recordName is the weather record of a row: the one it names itself, or what
// its garden file says.
func (b *Batch) recordName(row Row) (file string, besideTable bool) {
	if row.Record.Text != "" {
		return row.Record.Text, true
	}
	if !slices.ContainsFunc(row.Cells, func(c zones.Cell) bool { return c.Key == "weather" || c.Key == "weather.file" }) {
		return b.WeatherFile, false
	}
	g, err := b.Base.With(row.Cells)
	if err != nil {
		return "", false
	}
	return WeatherFile(g.Weather), false
}

// WeatherFile is the file that weather rests on; "" if it rests on none.
func WeatherFile(w zones.Weather) string {
	if w.File == "" {
		return w.Monthly
	}
	return w.File
}

// climate gives the weather record of a garden, ready for the balance; nil if
// there is none.
func (b *Batch) climate(g *zones.Garden, row Row) (*zones.Climate, error) {
	file, beside := g.Weather.File, false
	if row.Record.Text != "" {
		file, beside = row.Record.Text, true
	}
	if g.Weather.FromClimate() && !beside {
		return b.made(g)
	}
	key := recordKey(g, file, beside)
	read, err := b.files.get(key, func() (*site.Record, error) {
		content, shown, err := b.Open(file, beside)
		if err != nil {
			return nil, err
		}
		defer content.Close()
		sum := sha256.New()
		read, err := site.ReadRecord(shown, io.TeeReader(content, sum), g.Weather.Format, g.Site.LatitudeDeg)
		if err != nil {
			return nil, err
		}
		if _, err := io.Copy(sum, content); err != nil {
			return nil, err
		}
		if told, err := b.recordSum(file, beside); err != nil || told != hex.EncodeToString(sum.Sum(nil)) {
			return nil, table.Faults{{File: shown, Want: "was written to while it was read: run again when that is done"}}
		}
		return read, nil
	})
	switch c := row.Record; {
	case errors.Is(err, fs.ErrNotExist) && beside:
		return nil, table.Faults{{File: c.File, Line: c.Line, Column: c.Col, Name: columnRecord, Value: c.Text, Want: "no such file: want a weather record, named from the folder of the table"}}
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	}
	key += fmt.Sprintf("|%v|%v|%v", g.Site.LatitudeDeg, g.Weather.ET0ByMonthMM, g.Weather.Snow)
	return b.climates.get(key, func() (*zones.Climate, error) {
		filled := *read
		filled.Days, filled.Notes = slices.Clone(filled.Days), slices.Clone(filled.Notes)
		return g.Climate(&filled)
	})
}

// made gives weather that a climate makes, wholly or in part.
func (b *Batch) made(g *zones.Garden) (*zones.Climate, error) {
	key := fmt.Sprintf("%+v|%v|%v|%v", g.Weather, g.Site.LatitudeDeg, g.Site.LongitudeDeg, g.Units)
	return b.climates.get(key, func() (*zones.Climate, error) {
		rec, err := g.ReadWeather(func(file string, take func(string, io.Reader) error) error {
			content, shown, err := b.Open(file, false)
			if err != nil {
				return err
			}
			defer content.Close()
			return take(shown, content)
		})
		if err != nil {
			return nil, err
		}
		return g.Climate(rec)
	})
}

// recordKey tells records apart by all that decides how a file is read. A time
// zone is printed by its name, though each garden has a copy of its own.
func recordKey(g *zones.Garden, file string, beside bool) string {
	return fmt.Sprintf("%q|%v|%+v", file, beside, g.Weather.Format)
}

// Digest is SHA-256 over all that a row's line is made from: what the rows
// share, what the row says, and the bytes of its weather record.
func (b *Batch) Digest(row Row) string {
	file, beside := b.recordName(row)
	record, err := b.recordSum(file, beside)
	if err != nil {
		record = noRecord
	}
	lines := make([]string, 0, len(row.Cells)+len(row.Faults))
	for _, c := range row.Cells {
		lines = append(lines, fmt.Sprintf("%q %q", c.Key, c.Text))
	}
	slices.Sort(lines)
	for _, f := range row.Faults {
		lines = append(lines, fmt.Sprintf("fault %q %q", f.Name, f.Want))
	}
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%q\n%q\n%s\n%s", b.Shared.Digest, b.What, row.ID, row.Record.Text, record, strings.Join(lines, "\n")))
	return hex.EncodeToString(sum[:])
}

// recordSum is the SHA-256 of a weather record.
func (b *Batch) recordSum(file string, besideTable bool) (string, error) {
	return b.sums.get(fmt.Sprintf("%q|%v", file, besideTable), func() (string, error) {
		content, _, err := b.Open(file, besideTable)
		if err != nil {
			return "", err
		}
		defer content.Close()
		sum := sha256.New()
		_, err = io.Copy(sum, io.LimitReader(content, site.MaxRecordBytes+1)) // a longer one is refused
		return hex.EncodeToString(sum.Sum(nil)), err
	})
}
