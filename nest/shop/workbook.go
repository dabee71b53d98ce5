package shop

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// Bounds on what a workbook may unpack to, in bytes.
const (
	maxUnpacked   = 256 << 20
	maxUnpackedIn = 64 << 20 // kept in memory before a sheet goes to disk
)

// workbookRows reads one sheet of a workbook. Cells come as stored, not as
// shown, so that a narrow column loses no digits.
func (l *loader) workbookRows(spec *tableSpec, data []byte) []row {
	book, err := openBook(data)
	if err != nil {
		l.log.fault(spot{file: spec.name}, "", fmt.Sprintf("the workbook cannot be opened: %v", err), "save it as XLSX without a password, or the sheet as CSV")
		return nil
	}
	defer book.Close()
	sheet, ok := l.sheetName(spec, book.GetSheetList())
	if !ok {
		return nil
	}
	spec.comma = '\t' // no comma parts these cells
	if props, err := book.GetWorkbookProps(); err == nil && props.Date1904 != nil {
		spec.from1904 = *props.Date1904
	}
	spec.serialDates = true
	stored, err := book.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		l.log.fault(spot{file: spec.name}, "", fmt.Sprintf("sheet %s cannot be read: %v", sheet, err), "save the sheet as CSV")
		return nil
	}
	shown, err := book.GetRows(sheet)
	if err != nil {
		shown = nil
	}
	fillMerged(book, sheet, stored, shown)
	return l.bookRows(spec, stored, shown)
}

// openBook keeps a defect of the reader from ending the program.
func openBook(data []byte) (book *excelize.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			book, err = nil, fmt.Errorf("the workbook reader gave up: %v", r)
		}
	}()
	return excelize.OpenReader(bytes.NewReader(data), excelize.Options{UnzipSizeLimit: maxUnpacked, UnzipXMLSizeLimit: maxUnpackedIn})
}

func (l *loader) sheetName(spec *tableSpec, sheets []string) (string, bool) {
	switch {
	case spec.sheet == "" && len(sheets) == 0:
		l.log.fault(spec.at, "", spec.name+" holds no sheet", "name another file")
		return "", false
	case spec.sheet == "":
		if len(sheets) > 1 {
			l.log.warn(spec.at, "", fmt.Sprintf("%s holds %d sheets, and %s is read", spec.name, len(sheets), sheets[0]), "name one with sheet:")
		}
		return sheets[0], true
	case slices.Contains(sheets, spec.sheet):
		return spec.sheet, true
	}
	l.log.fault(spec.at, "", fmt.Sprintf("%s has no sheet %q", spec.name, spec.sheet), didYouMean(spec.sheet, sheets))
	return "", false
}

func (l *loader) bookRows(spec *tableSpec, stored, shown [][]string) []row {
	if len(stored) > maxRows {
		l.log.fault(spot{file: spec.name, line: maxRows}, "", fmt.Sprintf("more than %d rows", maxRows), "split the table")
		stored = stored[:maxRows]
	}
	rows := make([]row, len(stored))
	for i, texts := range stored {
		for k, text := range texts {
			at := spot{spec.name, i + 1, k + 1}
			if i < len(shown) && k < len(shown[i]) && strings.HasSuffix(shown[i][k], "%") {
				text = shown[i][k]
			}
			if isCellError(text) {
				l.log.fault(at, "", fmt.Sprintf("the cell holds %s", text), "mend its formula")
				text = ""
			}
			rows[i] = append(rows[i], cell{text, at})
		}
	}
	return rows
}

// fillMerged gives the value of cells merged downwards to each row they cover:
// one customer beside three parts is the customer of all three. Rows that hold
// nothing else stay blank, and a title merged across columns stays in its first.
func fillMerged(book *excelize.File, sheet string, tables ...[][]string) {
	merged, err := book.GetMergeCells(sheet, true)
	if err != nil {
		return
	}
	for _, m := range merged {
		column, from, err := excelize.CellNameToCoordinates(m.GetStartAxis())
		_, to, err2 := excelize.CellNameToCoordinates(m.GetEndAxis())
		if err != nil || err2 != nil {
			continue
		}
		for _, rows := range tables {
			fillDown(rows, column-1, from-1, to-1)
		}
	}
}

func fillDown(rows [][]string, column, from, to int) {
	if from >= len(rows) || column >= len(rows[from]) || rows[from][column] == "" {
		return
	}
	for i := from + 1; i <= min(to, len(rows)-1); i++ {
		if len(rows[i]) == 0 {
			continue
		}
		for len(rows[i]) <= column {
			rows[i] = append(rows[i], "")
		}
		if rows[i][column] == "" {
			rows[i][column] = rows[from][column]
		}
	}
}

// isCellError knows what a formula leaves when it fails.
func isCellError(s string) bool {
	return slices.Contains([]string{"#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#N/A", "#NUM!", "#NULL!", "#SPILL!", "#CALC!"}, s)
}

// serialDate turns a workbook's day number into a date; other text stays.
func serialDate(text string, from1904 bool) string {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(x) || x < 20000 || x > 100000 {
		return text
	}
	t, err := excelize.ExcelDateToTime(x, from1904)
	if err != nil {
		return text
	}
	return t.Format(time.DateOnly)
}
