package catalogue

import (
	"encoding/csv"
	"fmt"
	"io"

	"hollowbed/zones/table"

	"github.com/gocarina/gocsv"
)

// Write writes a plant table that Read reads back to the same plants, but for Line. It
// refuses plants with faults and more than Read takes. Free text that a spreadsheet would
// take for a formula gets an apostrophe, which Read takes away.
func Write(w io.Writer, plants []Plant) error {
	return writeWithin(w, plants, table.DefaultLimits().FileBytes)
}

func writeWithin(w io.Writer, plants []Plant, most int64) error {
	if faults, _ := checkAll(plants, true); len(faults) > 0 {
		return faults
	}
	out := &bounded{w: w, most: most, left: most}
	safe := gocsv.NewSafeCSVWriter(csv.NewWriter(out))
	const atATime = 512 // so that little is held twice
	for from := 0; from == 0 || from < len(plants); from += atATime {
		part := plants[from:min(from+atATime, len(plants))]
		rows := make([]row, len(part))
		for i := range part {
			rows[i] = rowOf(&part[i])
		}
		marshal := gocsv.MarshalCSVWithoutHeaders
		if from == 0 {
			marshal = gocsv.MarshalCSV
		}
		if err := marshal(rows, safe); err != nil {
			return fmt.Errorf("write plant table: %w", err)
		}
		if err := safe.Error(); err != nil {
			return fmt.Errorf("write plant table: %w", err)
		}
	}
	return nil
}

// bounded refuses to write more than what is left.
type bounded struct {
	w          io.Writer
	most, left int64
}

// Write is io.Writer.
func (b *bounded) Write(p []byte) (int, error) {
	if b.left -= int64(len(p)); b.left < 0 {
		return 0, table.Faults{{Want: "want a plant table of at most " + table.InBytes(b.most) + ", since no more can be read back"}}
	}
	return b.w.Write(p)
}
