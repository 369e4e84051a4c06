package catalogue

import (
	"encoding/csv"
	"fmt"
	"io"

	"github.com/gocarina/gocsv"
)

// Write writes a plant table that Read reads back to the same plants, except
// for their Line. It refuses plants with faults, since Read would. Free text
// that a spreadsheet would take for a formula is written behind an apostrophe,
// which Read takes away; numbers, months, ids and lists are never touched.
func Write(w io.Writer, plants []Plant) error {
	if faults, _ := Check(plants); len(faults) > 0 {
		return faults
	}
	rows := make([]row, len(plants))
	for i := range plants {
		rows[i] = rowOf(&plants[i])
	}
	if err := gocsv.MarshalCSV(rows, gocsv.NewSafeCSVWriter(csv.NewWriter(w))); err != nil {
		return fmt.Errorf("write plant table: %w", err)
	}
	return nil
}
