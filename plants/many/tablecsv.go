package many

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"hollowbed/zones"
	"hollowbed/zones/table"
)

// csvRows reads rows of a table below a header of keys.
type csvRows struct {
	name string
	rows *table.Rows
	keys []string
}

// newCSVRows reads the header.
func newCSVRows(name string, in io.Reader, unknown func([]zones.Cell) table.Faults) (*csvRows, error) {
	c := &csvRows{name: name, rows: table.Stream(name, in, table.Limits{RowBytes: maxRowBytes})}
	if err := c.rows.Next(); err != nil {
		if f := (table.Fault{}); errors.As(err, &f) {
			return nil, table.Faults{f}
		}
		return nil, err
	}
	if n := len(c.rows.Cells); n > maxKeys {
		return nil, table.Faults{{File: name, Line: c.rows.Line, Want: fmt.Sprintf("%d columns: want at most %d, keys of a garden file", n, maxKeys)}}
	}
	var cells []zones.Cell
	var faults table.Faults
	for i, h := range c.rows.Cells {
		cell := c.cell(i, strings.TrimSpace(h), "")
		wrong := func(want string) {
			faults = append(faults, table.Fault{File: name, Line: cell.Line, Column: cell.Col, Name: cell.Key, Want: want})
		}
		if slices.Contains(c.keys, cell.Key) {
			wrong("this column stands twice in the header: want it once")
		}
		if want := otherCase(cell.Key); want != "" {
			wrong(want)
		} else if cell.Key != columnID && cell.Key != columnRecord {
			cells = append(cells, cell)
		}
		c.keys = append(c.keys, cell.Key)
	}
	if faults = append(faults, unknown(cells)...); len(faults) > 0 {
		return nil, faults
	}
	return c, nil
}

// cell is the i-th of the row that was read.
func (c *csvRows) cell(i int, key, text string) zones.Cell {
	line, col := c.rows.Place(i)
	return zones.Cell{File: c.name, Line: line, Col: col, Key: key, Text: text}
}

func (c *csvRows) next() (Row, error) {
	err := c.rows.Next()
	row := Row{File: c.name, Line: c.rows.Line}
	if f := (table.Fault{}); errors.As(err, &f) {
		row.Faults = table.Faults{f}
		return row, nil
	}
	if err != nil {
		return Row{}, err
	}
	if len(c.rows.Cells) != len(c.keys) {
		row.Faults = table.Faults{c.rows.WrongWidth(len(c.keys))}
		return row, nil
	}
	for i, text := range c.rows.Cells {
		if key := c.keys[i]; key != columnID && key != columnRecord {
			text = c.quantity(text)
		}
		row.take(c.cell(i, c.keys[i], text))
	}
	return row, nil
}

// quantity writes a quantity that has a decimal comma, such as 1,5 m, with a
// point. Other text stays as it is.
func (c *csvRows) quantity(text string) string {
	if c.rows.Separator == ',' {
		return text
	}
	text = strings.TrimSpace(text)
	unit := strings.TrimLeft(text, "+-,.0123456789")
	return table.Decimal(strings.TrimSuffix(text, unit)) + unit
}
