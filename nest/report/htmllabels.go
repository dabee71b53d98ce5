package report

import (
	"fmt"
	"html/template"
	"io"
	"strings"

	qr "github.com/piglig/go-qr"

	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// labelsPerSheet is what fits both A4 and Letter: three across, six down.
const labelsPerSheet = 18

// WriteLabels writes part labels as one HTML page to print: a label for each
// bundle, which is the copies of one part from one layout, in cutting-list
// order. The code on it is plain text, the order and the part.
func WriteLabels(w io.Writer, p *week.Plan) error {
	return writePage(w, "labels.tmpl", newLabelPage(p))
}

type labelPage struct {
	CSS    template.CSS
	Job    string
	Count  int
	Sheets []labelSheet
}

// A labelSheet is one sheet of paper.
type labelSheet struct {
	Number, Of int
	Labels     []label
}

// A label goes onto one bundle of parts.
type label struct {
	Part, Order, Customer, Due, Material, Note string
	Layout                                     string
	Number, Copies, Wanted                     int
	Code                                       qrCode
}

// A qrCode is a code as an SVG path of one unit a module, quiet zone included.
type qrCode struct {
	Text, Path string
	Size       int
}

func newLabelPage(p *week.Plan) *labelPage {
	all := labels(p)
	page := &labelPage{CSS: embeddedCSS("labels.css"), Job: p.Job, Count: len(all)}
	sheets := (len(all) + labelsPerSheet - 1) / labelsPerSheet
	for i := range sheets {
		from := i * labelsPerSheet
		page.Sheets = append(page.Sheets, labelSheet{i + 1, sheets, all[from:min(from+labelsPerSheet, len(all))]})
	}
	return page
}

func labels(p *week.Plan) []label {
	var out []label
	for gi := range p.Groups {
		g := &p.Groups[gi]
		for li := range g.Layouts {
			l := &g.Layouts[li]
			for _, r := range legendRows(g, l) {
				o := &g.Parts[r.part]
				out = append(out, label{
					Part: o.Part, Order: o.ID, Customer: o.Customer, Due: dayOrDash(o.Due), Note: o.Note,
					Material: plateWords(p, g),
					Layout:   l.ID, Number: r.part + 1, Copies: r.onSheet * l.Repeats, Wanted: o.Quantity, Code: newQRCode(o),
				})
			}
		}
	}
	return out
}

// quietZone is the empty rim a reader needs, in modules (ISO/IEC 18004).
const quietZone = 4

// longestCode is where a code of label size gets too fine to read, in bytes
// (derived: 150 bytes make 49 modules at medium correction, half a millimetre
// each).
const longestCode = 150

// newQRCode encodes an order and its part; where that is too long for a label,
// the order alone. No code is better than an unreadable one.
func newQRCode(o *shop.Order) qrCode {
	text := strings.TrimSpace(o.ID + " " + o.Part)
	if len(text) > longestCode {
		text = o.ID
	}
	if len(text) > longestCode {
		return qrCode{}
	}
	code, err := qr.EncodeText(text, qr.Medium)
	if err != nil {
		return qrCode{}
	}
	return qrCode{Text: text, Path: modulePath(code), Size: code.Size() + 2*quietZone}
}

// modulePath draws each row's dark runs as bars.
func modulePath(code *qr.QrCode) string {
	var b strings.Builder
	n := code.Size()
	for y := range n {
		for x := 0; x < n; x++ {
			run := 0
			for x+run < n && code.Module(x+run, y) {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", x+quietZone, y+quietZone, run, run)
				x += run
			}
		}
	}
	return b.String()
}
