package placement

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// WritePlanted writes a planted.csv that ReadPlanted reads back to the same
// plants. It refuses what ReadPlanted would. An id that a spreadsheet would take
// for a formula is written behind an apostrophe, which reading takes away.
//
// old is the text that the plants were read from, empty for none. Its header,
// separator, line ends and encoding stay; so do the cells of columns that are not ours,
// with the stake that they belong to. New plants get empty ones.
func WritePlanted(w io.Writer, old []byte, plants []Planted) error {
	if f := wrongPlants(plants); len(f) > 0 {
		return f
	}
	old, encoding, err := table.DecodeToWrite("planted.csv", old)
	if err != nil {
		return err
	}
	t := &plantedTable{Table: &table.Table{Header: plantedColumns()}}
	for k := range t.Header {
		t.column = append(t.column, k)
	}
	if len(bytes.TrimSpace(old)) > 0 {
		if t, err = readPlantedTable("planted.csv", bytes.NewReader(old)); err != nil {
			return err
		}
	}
	t.complete(plants)
	var text bytes.Buffer
	out := csv.NewWriter(&text)
	out.Comma, out.UseCRLF = rune(table.Separator(old)), bytes.Contains(old, []byte("\r\n"))
	rows := [][]string{t.Header}
	for _, p := range plants {
		row := make([]string, len(t.Header))
		copy(row, t.cells[strings.ToUpper(p.Stake)])
		for k, cell := range p.cells() {
			if i := t.column[k]; i >= 0 {
				row[i] = cell
			}
		}
		rows = append(rows, row)
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("write planted.csv: %w", err)
	}
	encoded, err := encoding.Encode(text.Bytes())
	if err != nil {
		return fmt.Errorf("write planted.csv: %w", err)
	}
	if _, err := w.Write(encoded); err != nil {
		return fmt.Errorf("write planted.csv: %w", err)
	}
	return nil
}

// complete adds the columns that plants need and the header lacks.
func (t *plantedTable) complete(plants []Planted) {
	for k, name := range plantedColumns() {
		if t.column[k] < 0 && slices.ContainsFunc(plants, func(p Planted) bool { return p.cells()[k] != "" }) {
			t.column[k], t.Header = len(t.Header), append(slices.Clip(t.Header), name)
		}
	}
}

// cells are in the order of plantedColumns.
func (p Planted) cells() []string {
	return []string{p.Stake, table.Guard(p.ID), metres(p.X), metres(p.Y), p.Planted, p.Zone, p.Drift}
}

func metres(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }

func wrongPlants(plants []Planted) (f table.Faults) {
	seen := map[string]bool{}
	for _, p := range plants {
		for _, want := range []string{WrongStake(p.Stake), wrongID(p.ID), wrongDate(p.Planted), wrongZone(p.Zone), WrongDrift(p.Drift)} {
			if want != "" {
				f = append(f, table.Fault{Want: fmt.Sprintf("stake %q: %s", p.Stake, want)})
			}
		}
		if seen[strings.ToUpper(p.Stake)] {
			f = append(f, table.Fault{Want: fmt.Sprintf("stake %q: want each stake once", p.Stake)})
		}
		seen[strings.ToUpper(p.Stake)] = true
		if !(p.X >= -1e6 && p.X <= 1e6 && p.Y >= -1e6 && p.Y <= 1e6) || p.ID != strings.TrimSpace(p.ID) {
			f = append(f, table.Fault{Want: fmt.Sprintf("stake %q: want metres within 1,000,000, and an id without blanks round it", p.Stake)})
		}
	}
	return f
}
