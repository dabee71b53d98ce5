package report

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	qr "github.com/piglig/go-qr"
	"pgregory.net/rapid"

	"kerfold/nest/shop"
)

func labelsOf(t *testing.T, layouts int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteLabels(&b, widePlan(layouts, 4)); err != nil {
		t.Fatal(err)
	}
	keep(t, "labels.html", b.Bytes())
	return b.Bytes()
}

func TestLabels(t *testing.T) {
	page := string(labelsOf(t, 10))
	// Ten layouts with two parts each make two sheets of at most 18.
	if got := strings.Count(page, `<article class="label">`); got != 20 {
		t.Errorf("%d labels, want 20", got)
	}
	if got := strings.Count(page, `<section class="paper"`); got != 2 {
		t.Errorf("%d sheets, want 2", got)
	}
	for _, want := range []string{
		"<h2>flange DN 80</h2>", `<p class="order">K-101/1</p>`, "due <b>Wed 5 Mar</b>", "aluminium 6061, 6 mm, medium",
		"<b>8</b> of 12", "G1-L10 no. 2", `aria-label="Code: K-102/1 bracket, left and right"`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q on the labels", want)
		}
	}
}

// What is drawn is what was meant, whatever the name: a reader gets it back
// from the path's modules.
func TestCodesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := &shop.Order{
			ID:   rapid.StringMatching(`[A-Z]{1,3}-[0-9]{1,5}/[0-9]`).Draw(t, "id"),
			Part: rapid.StringMatching(`[a-zA-Z0-9 äöüß°×.,/-]{0,60}`).Draw(t, "part"),
		}
		code := newQRCode(o)
		want := strings.TrimSpace(o.ID + " " + o.Part)
		img := rasterize(t, code)
		if got, err := qr.Decode(img); err != nil || got != want {
			t.Fatalf("reads %q (%v), want %q", got, err, want)
		}
		if got, err := scan(img); err != nil || got != want {
			t.Fatalf("another reader reads %q (%v), want %q", got, err, want)
		}
	})
}

// scan reads a code with a library that had no part in drawing it. Its search
// for the three corners goes astray on some flawless pictures, one in hundreds,
// so the picture is also read as what it is: a code and nothing beside it.
func scan(img image.Image) (string, error) {
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		return "", err
	}
	alone := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true}
	r, err := qrcode.NewQRCodeReader().Decode(bitmap, alone)
	if err != nil {
		r, err = qrcode.NewQRCodeReader().Decode(bitmap, nil)
	}
	if err != nil {
		return "", err
	}
	return r.GetText(), nil
}

func TestLongNamesLeaveTheOrder(t *testing.T) {
	o := &shop.Order{ID: "K-1", Part: strings.Repeat("long ", 60)}
	if got := newQRCode(o).Text; got != "K-1" {
		t.Errorf("the code says %q, want the order alone", got)
	}
	o.ID = strings.Repeat("k", longestCode+1)
	if got := newQRCode(o); got.Path != "" {
		t.Errorf("a code too fine to read is drawn: %q", got.Text)
	}
}

// rasterize paints a code's path, four pixels a module.
func rasterize(t *rapid.T, code qrCode) image.Image {
	const scale = 4
	img := image.NewGray(image.Rect(0, 0, code.Size*scale, code.Size*scale))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for _, bar := range strings.Split(strings.TrimPrefix(code.Path, "M"), "M") {
		var x, y, n, back int
		if _, err := fmt.Sscanf(bar, "%d %dh%dv1h-%dz", &x, &y, &n, &back); err != nil || n != back {
			t.Fatalf("bar %q: %v", bar, err)
		}
		for py := y * scale; py < (y+1)*scale; py++ {
			for px := x * scale; px < (x+n)*scale; px++ {
				img.Pix[py*img.Stride+px] = 0
			}
		}
	}
	return img
}

func TestLabelsInBrowser(t *testing.T) {
	b := openPage(t, labelsOf(t, 19)) // 38 labels, three sheets
	b.mustBeQuiet(t)
	const perPixel = 2
	b.do(t, chromedp.EmulateViewport(900, 1200, chromedp.EmulateScale(perPixel)))
	shot := get(t, b, chromedp.CaptureScreenshot())
	keep(t, "screen.png", shot)
	screen, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		t.Fatal(err)
	}
	box := ask[[4]float64](t, b, `(() => { const r = document.querySelector('.label svg').getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]; })()`)
	crop := image.Rect(int(perPixel*box[0]), int(perPixel*box[1]), int(perPixel*box[2]), int(perPixel*box[3]))
	img := screen.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(crop)
	if got, err := qr.Decode(img); err != nil || got != "K-101/1 flange DN 80" {
		t.Errorf("the code on the screen reads %q (%v)", got, err)
	}
	if got, err := scan(img); err != nil || got != "K-101/1 flange DN 80" {
		t.Errorf("another reader reads %q on the screen (%v)", got, err)
	}
	over := ask[int](t, b, `[...document.querySelectorAll('.words')].filter(e => e.scrollHeight > e.clientHeight + 1).length`)
	if over > 0 {
		t.Errorf("%d labels hold more than fits", over)
	}
	for _, paper := range papers {
		data := get(t, b, chromedp.PrintToPDF(chromedp.PDFPaper(paper.size), chromedp.PDFMargin(printMargin), chromedp.PDFPrintBackground()))
		keep(t, paper.name+".pdf", data)
		if texts, _ := pdfPages(t, data); len(texts) != 3 {
			t.Errorf("%s: %d pages, want 3", paper.name, len(texts))
		}
	}
}
