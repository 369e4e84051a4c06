package report

import (
	"io"

	"hollowbed/cmd/hollowbed/doc"
)

// writeRows writes rows, the first of them heads, as doc.CSV does.
func writeRows(w io.Writer, rows [][]string) error {
	var t doc.Table
	for _, head := range rows[0] {
		t.Columns = append(t.Columns, doc.Column{Head: head})
	}
	for _, row := range rows[1:] {
		t.Rows = append(t.Rows, doc.Cells(row...))
	}
	return doc.CSV(w, t)
}
