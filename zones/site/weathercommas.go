package site

import (
	"strconv"
	"strings"

	"hollowbed/zones/table"
)

// commas is what a file tells of the commas in its figures.
type commas struct {
	looked, shown bool
	point, comma  cellPlace // the first figures with either
}

// withComma reads a figure with a decimal comma. One that may be thousands, such
// as 1,500, is taken for one where another figure of the file surely is.
func (wr *weatherReader) withComma(t *walk, at int, cell string) (float64, bool) {
	point := table.Decimal(cell)
	if whole, comma := decimalComma(cell); point == cell && comma && wr.commasShown(t) {
		point = whole
	}
	if point == cell {
		return parseNumber(cell)
	}
	if wr.commas.comma.line == 0 {
		wr.commas.comma = cellPlace{cell, t.Line, t.col(at)}
		wr.note("decimals have a comma")
	}
	return parseNumber(point)
}

// commasShown looks for a figure whose comma can only be a decimal comma.
func (wr *weatherReader) commasShown(t *walk) bool {
	if wr.commas.looked {
		return wr.commas.shown
	}
	wr.commas.looked = true
	for body := t.body(); !wr.commas.shown; {
		more, bad := body.row()
		if !more {
			break
		}
		for _, ours := range []string{"rain", "tmin", "tmax", "temp", "et0"} {
			if at, ok := wr.columns[ours]; ok && bad == nil && at < len(body.Cells) {
				cell := strings.TrimSpace(body.Cells[at])
				wr.commas.shown = wr.commas.shown || table.Decimal(cell) != cell
			}
		}
	}
	return wr.commas.shown
}

// checkCommas refuses a file in which both comma and point part decimals.
func (wr *weatherReader) checkCommas() {
	if p, c := wr.commas.point, wr.commas.comma; p.line > 0 && c.line > 0 {
		wr.fault(p.line, p.col, "", p.cell, "a point here, and a comma in "+c.cell+" on line "+strconv.Itoa(c.line)+": want one of the two for decimals, and nothing between thousands")
	}
}
