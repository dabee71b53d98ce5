package report

import (
	"bytes"
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"kerfold/nest/week"
)

// A browser is a headless Chromium showing one page, and what it complained of.
type browser struct {
	ctx   context.Context
	mu    sync.Mutex
	moans []string
}

// openPage shows a page written to a file, as a user would open it.
func openPage(t *testing.T, html []byte) *browser {
	t.Helper()
	program := chromium(t)
	name := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(name, html, 0o644); err != nil {
		t.Fatal(err)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(program), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-background-networking", true), chromedp.WSURLReadTimeout(2*time.Minute))
	ctx, stop := context.WithTimeout(context.Background(), 4*time.Minute)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(stop)
	b := &browser{}
	b.ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	if err := chromedp.Listen(b.ctx, b.listen); err != nil {
		t.Fatal(err)
	}
	call(t, b, log.Enable, cdp.Empty{})
	call(t, b, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
	b.do(t, chromedp.Navigate((&url.URL{Scheme: "file", Path: name}).String()))
	return b
}

func chromium(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("starts a browser; run without -short")
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if program, err := exec.LookPath(name); err == nil {
			return program
		}
	}
	t.Skip("no chromium on this machine: install it to test the pages in a browser")
	return ""
}

func (b *browser) listen(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.moans = append(b.moans, e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		b.moans = append(b.moans, fmt.Sprintf("console %s", e.Type))
	case *log.EventEntryAdded:
		b.moans = append(b.moans, fmt.Sprintf("%s: %s", e.Entry.Level, e.Entry.Text))
	}
}

func (b *browser) do(t *testing.T, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		t.Fatal(err)
	}
}

func get[T any](t *testing.T, b *browser, action chromedp.Action[T]) T {
	t.Helper()
	v, err := chromedp.Run(b.ctx, action)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func call[P, R any](t *testing.T, b *browser, command cdp.Command[P, R], params P) {
	t.Helper()
	if _, err := chromedp.Call(b.ctx, command, params); err != nil {
		t.Fatal(err)
	}
}

// ask evaluates an expression on the page.
func ask[T any](t *testing.T, b *browser, expression string) T {
	t.Helper()
	return get(t, b, chromedp.Evaluate[T](expression))
}

func (b *browser) mustBeQuiet(t *testing.T) {
	t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, m := range b.moans {
		t.Errorf("the browser says: %s", m)
	}
}

// settle waits until the page is drawn.
func (b *browser) settle(t *testing.T) {
	t.Helper()
	call(t, b, runtime.Evaluate, runtime.EvaluateParams{
		Expression: `new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))`, AwaitPromise: new(true),
	})
}

// click brings an element into view, which may draw what lies around it and
// move it, and then clicks it.
func (b *browser) click(t *testing.T, selector string) {
	t.Helper()
	b.do(t, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.querySelector(%q).scrollIntoView({block: "center"})`, selector)))
	b.settle(t)
	b.do(t, chromedp.Click(selector))
}

// shoot keeps a picture of the window, or of the element under an id.
func (b *browser) shoot(t *testing.T, name, id string, w, h int64, dark bool) {
	t.Helper()
	if os.Getenv("KERFOLD_KEEP") == "" {
		return
	}
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	call(t, b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
	b.do(t, chromedp.EmulateViewport(w, h), chromedp.Evaluate[chromedp.Void](fmt.Sprintf(
		`document.getElementById(%q).scrollIntoView()`, id)),
		chromedp.Sleep(200*time.Millisecond))
	keep(t, name, get(t, b, chromedp.CaptureScreenshot()))
}

// pdf prints the page as the browser's print dialogue would on that paper, held
// across.
func (b *browser) pdf(t *testing.T, paper chromedp.PaperSize) []byte {
	t.Helper()
	return get(t, b, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFLandscape(),
		chromedp.PDFMargin(printMargin), chromedp.PDFPrintBackground()))
}

// printMargin is the style sheet's 9 mm in inches.
const printMargin = 0.354

// pdfPages gives the text of each page; without pdftotext only the number of
// pages, their texts empty.
func pdfPages(t *testing.T, data []byte) (texts []string, read bool) {
	t.Helper()
	count := len(regexp.MustCompile(`/Type\s*/Page\b[^s]`).FindAll(data, -1))
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		return make([]string, count), false
	}
	cmd := exec.Command(program, "-layout", "-", "-")
	cmd.Stdin = bytes.NewReader(data)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	texts = strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
	if len(texts) != count {
		t.Fatalf("%d pages by one count, %d by another", count, len(texts))
	}
	return texts, true
}

var papers = []struct {
	name string
	size chromedp.PaperSize
}{{"a4", chromedp.PaperA4}, {"letter", chromedp.PaperLetter}}

func browserReport(t *testing.T, p *week.Plan) *browser {
	t.Helper()
	var b bytes.Buffer
	if err := WriteReport(&b, p); err != nil {
		t.Fatal(err)
	}
	return openPage(t, b.Bytes())
}

func TestReportInBrowser(t *testing.T) {
	p := widePlan(4, 40)
	b := browserReport(t, p)
	t.Run("links", func(t *testing.T) { followLinks(t, b) })
	t.Run("zoom", func(t *testing.T) { zoomByKeys(t, b) })
	t.Run("find", func(t *testing.T) { findCopies(t, b) })
	t.Run("geometry", func(t *testing.T) { copiesLieWherePlaced(t, b, p) })
	t.Run("names", func(t *testing.T) { everythingIsNamed(t, b) })
	t.Run("phone", func(t *testing.T) { fitsPhone(t, b) })
	t.Run("print", func(t *testing.T) { printsOneLayoutAPage(t, b, p) })
	b.mustBeQuiet(t)
}

// followLinks clicks each link and looks that the page goes to its aim.
func followLinks(t *testing.T, b *browser) {
	lost := ask[[]string](t, b, `(() => {
		const lost = [];
		document.querySelectorAll('a[href^="#"]').forEach(a => {
			a.dispatchEvent(new MouseEvent('click', {bubbles: true, cancelable: true, view: window}));
			const aim = a.getAttribute('href');
			if (location.hash !== aim || !document.querySelector(':target')) lost.push(aim);
		});
		return lost;
	})()`)
	if len(lost) > 0 {
		t.Errorf("links that do not arrive: %v", lost)
	}
}

func zoomByKeys(t *testing.T, b *browser) {
	width := `document.querySelector('.pic').getBoundingClientRect().width`
	before := ask[float64](t, b, width)
	b.do(t, chromedp.Focus(".stage"), chromedp.KeyEvent("+"), chromedp.KeyEvent("+"))
	if after := ask[float64](t, b, width); after < 1.99*before || after > 2.01*before {
		t.Errorf("two plus keys make a picture of %.0f px one of %.0f, want twice", before, after)
	}
	b.do(t, chromedp.KeyEvent("0"))
	if after := ask[float64](t, b, width); after != before {
		t.Errorf("0 leaves %.0f px, want %.0f", after, before)
	}
	b.click(t, `.tools button[data-zoom="in"]`)
	if after := ask[float64](t, b, width); after < 1.49*before || after > 1.51*before {
		t.Errorf("the button makes %.0f px of %.0f, want half as much again", after, before)
	}
	b.click(t, `.tools button[data-zoom="fit"]`)
}

func findCopies(t *testing.T, b *browser) {
	b.click(t, `#G1-L2 .find[data-n="2"]`)
	found := ask[int](t, b, `document.querySelectorAll('.copies use.found').length`)
	want := ask[int](t, b, `document.querySelectorAll('#G1-L2 .copies use[data-n="2"]').length`)
	if want == 0 || found != want {
		t.Errorf("%d copies marked, want %d", found, want)
	}
	b.click(t, `#G1-L2 .find[data-n="2"]`)
}

// copiesLieWherePlaced compares the browser's boxes with those of the plan.
func copiesLieWherePlaced(t *testing.T, b *browser, p *week.Plan) {
	boxes := ask[[][]float64](t, b, `(() => {
		const pic = document.querySelector('#G1-L1 .pic');
		return [...pic.querySelectorAll('.copies use')].map(u => {
			const m = u.transform.baseVal.consolidate().matrix;
			const path = document.querySelector(u.getAttribute('href'));
			const n = 120, len = path.getTotalLength();
			let box = [Infinity, Infinity, -Infinity, -Infinity];
			for (let i = 0; i < n; i++) {
				const q = path.getPointAtLength(len * i / n).matrixTransform(m);
				box = [Math.min(box[0], q.x), Math.min(box[1], -q.y), Math.max(box[2], q.x), Math.max(box[3], -q.y)];
			}
			return box;
		});
	})()`)
	g := &p.Groups[0]
	if len(boxes) != len(g.Layouts[0].Placements) {
		t.Fatalf("%d copies drawn, want %d", len(boxes), len(g.Layouts[0].Placements))
	}
	for i, pl := range g.Layouts[0].Placements {
		want := posed(g.Parts[pl.Part].Shape, pl.Pose).Outer.Bounds()
		for k, v := range []float64{want.Min[0], want.Min[1], want.Max[0], want.Max[1]} {
			if d := boxes[i][k] - v; d > 10 || d < -10 { // sampled every 10 mm at most
				t.Errorf("copy %d: drawn box %v, want %v", i, boxes[i], want)
				break
			}
		}
	}
}

// everythingIsNamed looks for what a screen reader would stumble over.
func everythingIsNamed(t *testing.T, b *browser) {
	faults := ask[[]string](t, b, `(() => {
		const out = [], bad = (what, e) => out.push(what + ': ' + e.outerHTML.slice(0, 90));
		document.querySelectorAll('button, a, input').forEach(e => {
			const name = e.getAttribute('aria-label') || e.textContent.trim() || (e.labels && e.labels[0] && e.labels[0].textContent.trim());
			if (!name) bad('no name', e);
		});
		document.querySelectorAll('svg').forEach(e => {
			if (e.getAttribute('aria-hidden') !== 'true' && !e.getAttribute('aria-label') && !e.getAttribute('aria-labelledby')) bad('no text for', e);
		});
		document.querySelectorAll('table').forEach(e => { if (!e.caption || !e.caption.textContent.trim()) bad('no caption', e); });
		document.querySelectorAll('thead th').forEach(e => { if (!e.scope || !e.textContent.trim()) bad('no heading', e); });
		let level = 0;
		document.querySelectorAll('h1,h2,h3,h4').forEach(e => {
			const now = +e.tagName[1];
			if (now > level + 1) bad('heading skips a level', e);
			level = now;
		});
		for (const what of ['header', 'nav', 'main', 'footer', 'h1']) if (document.querySelectorAll('body > ' + what + ', header > ' + what).length < 1) out.push('no ' + what);
		document.querySelectorAll('.scroll[tabindex], .stage').forEach(e => {
			if (!e.getAttribute('aria-label') && !e.getAttribute('aria-labelledby')) bad('region without a name', e);
		});
		return out;
	})()`)
	for _, f := range faults {
		t.Error(f)
	}
}

// fitsPhone looks that nothing but its own regions scrolls sideways.
func fitsPhone(t *testing.T, b *browser) {
	b.do(t, chromedp.EmulateViewport(390, 844))
	if over := ask[int](t, b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
		t.Errorf("the page is %d px wider than a phone", over)
	}
	b.do(t, chromedp.EmulateViewport(1280, 900))
}

func printsOneLayoutAPage(t *testing.T, b *browser, p *week.Plan) {
	layouts := layoutPages(p)
	for _, paper := range papers {
		data := b.pdf(t, paper.size)
		keep(t, paper.name+".pdf", data)
		texts, read := pdfPages(t, data)
		if !read {
			t.Skipf("%d pages; install pdftotext to see what is on them", len(texts))
		}
		first := -1
		for i, text := range texts {
			if strings.Contains(text, "Load and cut") && first < 0 {
				first = i
			}
		}
		if got := len(texts) - first; first < 1 || got != len(layouts) {
			t.Errorf("%s: %d pages from the first layout on, want %d", paper.name, got, len(layouts))
			continue
		}
		for i, l := range layouts {
			text := texts[first+i]
			if !strings.Contains(text, l.ID) || strings.Count(text, "Load and cut") != 1 || !strings.Contains(text, "At the machine") {
				t.Errorf("%s: page %d is not the whole of %s", paper.name, first+i+1, l.ID)
			}
		}
	}
}

// A report of sixty crowded layouts is open, drawn once, within two seconds of
// the work of the page's thread. The clock on the wall is only logged: on a busy
// machine it tells of the others.
func TestReportOpensSoon(t *testing.T) {
	b := browserReport(t, widePlan(60, 100))
	b.settle(t)
	wall := ask[float64](t, b, `performance.timing.loadEventEnd - performance.timing.navigationStart`)
	m, err := chromedp.Call(b.ctx, performance.GetMetrics, cdp.Empty{})
	if err != nil {
		t.Fatal(err)
	}
	work := 0.0
	for _, metric := range m.Metrics {
		if metric.Name == "TaskDuration" {
			work = metric.Value
		}
	}
	t.Logf("60 layouts of 100 parts: %.2f s of work, %.2f s by the clock", work, wall/1000)
	if work <= 0 || work > 2 {
		t.Errorf("opening the report is %.2f s of work, want more than 0 and at most 2", work)
	}
	b.mustBeQuiet(t)
}

// TestReportLooks only takes pictures, for people to look at: set KERFOLD_KEEP
// to a folder, and KERFOLD_PLAN to a plan.json for another plan than the sample.
func TestReportLooks(t *testing.T) {
	if os.Getenv("KERFOLD_KEEP") == "" {
		t.Skip("takes pictures into the folder KERFOLD_KEEP; none is named")
	}
	p := widePlan(4, 40)
	if name := os.Getenv("KERFOLD_PLAN"); name != "" {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if p, err = ReadPlan(f); err != nil {
			t.Fatal(err)
		}
	}
	b := browserReport(t, p)
	layout := layoutPages(p)[0].ID
	b.shoot(t, "top-light.png", "top", 1280, 1000, false)
	b.shoot(t, "top-dark.png", "top", 1280, 1000, true)
	b.shoot(t, "top-phone.png", "top", 390, 1400, false)
	b.shoot(t, "groups.png", "groups", 1280, 1000, false)
	b.shoot(t, "charts.png", "charts", 1280, 1000, false)
	b.shoot(t, "charts-dark.png", "charts", 1280, 1000, true)
	b.shoot(t, "layout-light.png", layout, 1280, 1100, false)
	b.shoot(t, "layout-dark.png", layout, 1280, 1100, true)
	b.shoot(t, "layout-phone.png", layout, 390, 1600, false)
	for _, paper := range papers {
		keep(t, paper.name+".pdf", b.pdf(t, paper.size))
	}
	t.Logf("%d layouts", len(layoutPages(p)))
}
