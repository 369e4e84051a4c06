package report

import (
	"encoding/csv"
	"io"

	"hollowbed/zones/table"
)

// writeRows writes a table for spreadsheets: a cell that a spreadsheet would
// run as a formula gets an apostrophe before it.
func writeRows(w io.Writer, rows [][]string) error {
	out := csv.NewWriter(w)
	for _, row := range rows {
		safe := make([]string, len(row))
		for i, cell := range row {
			safe[i] = table.Guard(cell)
		}
		if err := out.Write(safe); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
