package report

import (
	"io"
	"time"

	"github.com/xuri/excelize/v2"

	"kerfold/nest/week"
)

// WriteWorkbook writes the cut list, the ledger, what each order costs, the
// calendar and, where orders are late, their cures as one workbook (ECMA-376). The same plan gives the same bytes: the
// times in the file are the plan's first day, not the clock's.
func WriteWorkbook(w io.Writer, p *week.Plan) error {
	b := newWorkbook()
	tables := []bookTable{cutListTable(p), ledgerTable(p), orderTable(p), calendarTable(p)}
	if cures := cureTable(p); len(cures.rows) > 0 {
		tables = append(tables, cures)
	}
	for _, t := range tables {
		b.sheet(t)
	}
	day := bookDay(p)
	b.try(b.f.SetDocProps(&excelize.DocProperties{Title: p.Job, Creator: "kerfold", Created: day, Modified: day}))
	if b.err == nil {
		_, b.err = b.f.WriteTo(w)
	}
	b.try(b.f.Close())
	return b.err
}

// bookDay is a time for the file's properties that only hangs on the plan.
func bookDay(p *week.Plan) string {
	day := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	if len(p.Days) > 0 {
		day = p.Days[0]
	}
	return day.UTC().Format(time.RFC3339)
}

// A column is the head of a column, how wide it is and how it shows numbers.
type column struct {
	head  string
	width float64 // characters
	kind  columnKind
}

type columnKind int

const (
	plainColumn columnKind = iota
	moneyColumn
	hoursColumn
	dateColumn
	shareColumn
)

// numberFormats are the formats of the kinds, in the order of their constants.
var numberFormats = []string{"General", "0.00", "0.00", "yyyy-mm-dd", "0.0%"}

// A bookTable is one sheet of the workbook: a head and rows of cells, a cell
// being a string, a number, a date or nil.
type bookTable struct {
	name    string
	columns []column
	rows    [][]any
	total   bool // the last row is a sum
}

// A workbook keeps the first error, like a stickyWriter.
type workbook struct {
	f            *excelize.File
	err          error
	opened       bool // the first sheet is
	head         int
	styles, sums []int // by columnKind
}

func newWorkbook() *workbook {
	b := &workbook{f: excelize.NewFile()}
	b.head = b.style(&excelize.Style{
		Font: &excelize.Font{Bold: true}, Border: []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}},
		Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"},
	})
	for i := range numberFormats {
		b.styles = append(b.styles, b.style(&excelize.Style{CustomNumFmt: &numberFormats[i]}))
		b.sums = append(b.sums, b.style(&excelize.Style{
			CustomNumFmt: &numberFormats[i], Font: &excelize.Font{Bold: true},
			Border: []excelize.Border{{Type: "top", Color: "000000", Style: 1}},
		}))
	}
	return b
}

func (b *workbook) try(err error) {
	if b.err == nil {
		b.err = err
	}
}

func (b *workbook) style(s *excelize.Style) int {
	id, err := b.f.NewStyle(s)
	b.try(err)
	return id
}

func (b *workbook) sheet(t bookTable) {
	if b.err != nil {
		return
	}
	b.open(t.name)
	for i, c := range t.columns {
		b.column(t, i, c)
	}
	for y, row := range t.rows {
		for x, v := range row {
			if v != nil {
				b.cell(t, x, y, v)
			}
		}
	}
	b.try(b.f.SetPanes(t.name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	landscape, fit, wide, high := "landscape", true, 1, 0
	b.try(b.f.SetPageLayout(t.name, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &wide, FitToHeight: &high}))
	b.try(b.f.SetSheetProps(t.name, &excelize.SheetPropsOptions{FitToPage: &fit}))
}

// open makes a sheet; the first takes the place of the one every new file has.
func (b *workbook) open(name string) {
	if first := b.f.GetSheetName(0); !b.opened {
		b.opened = true
		b.try(b.f.SetSheetName(first, name))
		return
	}
	_, err := b.f.NewSheet(name)
	b.try(err)
}

func (b *workbook) column(t bookTable, i int, c column) {
	name, err := excelize.ColumnNumberToName(i + 1)
	b.try(err)
	b.try(b.f.SetColWidth(t.name, name, name, c.width))
	b.try(b.f.SetCellStr(t.name, name+"1", c.head))
	b.try(b.f.SetCellStyle(t.name, name+"1", name+"1", b.head))
}

// cell writes a value below the head.
func (b *workbook) cell(t bookTable, x, y int, v any) {
	at, err := excelize.CoordinatesToCellName(x+1, y+2)
	b.try(err)
	b.try(b.f.SetCellValue(t.name, at, v))
	kind := t.columns[x].kind
	switch {
	case t.total && y == len(t.rows)-1:
		b.try(b.f.SetCellStyle(t.name, at, at, b.sums[kind]))
	case kind != plainColumn:
		b.try(b.f.SetCellStyle(t.name, at, at, b.styles[kind]))
	}
}

// bookDate is a date as a cell; nil where there is none.
func bookDate(d time.Time) any {
	if d.IsZero() {
		return nil
	}
	return d
}
