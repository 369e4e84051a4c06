package doc

import (
	"encoding/csv"
	"io"

	"hollowbed/zones/table"
)

// CSV writes a table for spreadsheets: a cell that a spreadsheet would run as a
// formula gets an apostrophe before it.
func CSV(w io.Writer, t Table) error {
	out := csv.NewWriter(w)
	row := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		row[i] = table.Guard(c.Head)
	}
	for i := 0; ; i++ {
		if err := out.Write(row); err != nil {
			return err
		}
		if i == len(t.Rows) {
			break
		}
		for k, c := range t.Rows[i] {
			row[k] = table.Guard(c.Words)
		}
	}
	out.Flush()
	return out.Error()
}
