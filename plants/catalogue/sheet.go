package catalogue

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"hollowbed/zones/table"
)

// ReadTable reads a table of plants: text, as table.Read does, or a sheet of a workbook
// (.xlsx, ISO/IEC 29500) as its cells show, the first for "". A fault's column is then
// the cell's number in its row; line ends within a cell become semicolons.
func ReadTable(name string, r io.Reader, sheet string) (*table.Table, error) {
	return readTable(name, r, sheet, table.DefaultLimits(), nil)
}

func readTable(name string, r io.Reader, sheet string, lim table.Limits, wanted func(column string) bool) (*table.Table, error) {
	in := bufio.NewReader(r)
	if start, _ := in.Peek(4); string(start) != "PK\x03\x04" { // no archive: APPNOTE of the ZIP format, 4.3.7
		if sheet != "" {
			return nil, table.Faults{{File: name, Name: "sheet", Value: sheet, Want: "the file has no sheets: expected a workbook (.xlsx), or no sheet in the map"}}
		}
		return table.ReadColumns(name, in, lim, wanted)
	}
	data, err := table.ReadAll(name, in, lim.FileBytes)
	if err != nil {
		return nil, err
	}
	book, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: lim.FileBytes, UnzipXMLSizeLimit: lim.FileBytes})
	if err != nil {
		return nil, table.Faults{{File: name, Want: fmt.Sprintf("a workbook that can't be read (%v): expected .xlsx, or a sheet saved as CSV UTF-8", err)}}
	}
	defer book.Close()
	all := book.GetSheetList()
	if sheet == "" {
		sheet = all[0]
	}
	if !slices.Contains(all, sheet) {
		return nil, table.Faults{{File: name, Name: "sheet", Value: sheet, Want: "expected a sheet of the workbook: " + strings.Join(all, ", ")}}
	}
	text, err := sheetText(book, sheet, lim)
	if err != nil {
		return nil, table.Faults{{File: name, Name: "sheet", Value: sheet, Want: err.Error()}}
	}
	lim.ByCell = true
	t, err := table.ReadColumns(name, text, lim, wanted)
	if err == nil {
		t.Sheet, t.OtherSheets = sheet, slices.DeleteFunc(all, func(s string) bool { return s == sheet })
	}
	return t, err
}

// sheetText writes a sheet as text with tabs, a line for each of its rows.
func sheetText(book *excelize.File, sheet string, lim table.Limits) (io.Reader, error) {
	rows, err := book.Rows(sheet)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var text bytes.Buffer
	out := csv.NewWriter(&text)
	out.Comma = '\t'
	width := 0 // of the header; cells that are empty at the end of a row are not stored
	for rows.Next() {
		cells, err := rows.Columns()
		if err != nil {
			return nil, err
		}
		for i, s := range cells {
			cells[i] = strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == '\n' || r == '\r' }), "; ")
		}
		for width > len(cells) {
			cells = append(cells, "")
		}
		if width == 0 && !blank(cells) {
			width = len(cells)
		}
		if blank(cells) {
			cells = []string{""} // the lines are those of the sheet
		}
		if err := out.Write(cells); err != nil {
			return nil, err
		}
		if out.Flush(); int64(text.Len()) > lim.FileBytes {
			return nil, errors.New("expected a sheet of at most " + table.InBytes(lim.FileBytes))
		}
	}
	return &text, rows.Error()
}

func blank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(s string) bool { return strings.TrimSpace(s) != "" })
}
