package report

import (
	"embed"
	"fmt"
	"html/template"
	"io"

	"kerfold/nest/week"
)

//go:embed html
var htmlFiles embed.FS

// pageTemplates are the pages of the report and the labels. A page is one file:
// it carries its own style and script, and asks for nothing else.
var pageTemplates = template.Must(template.New("pages").ParseFS(htmlFiles, "html/*.tmpl"))

// WriteReport writes the plan as one HTML page for people: the week at a glance,
// what is late, what was compared, the stock, and a sheet of paper per layout.
func WriteReport(w io.Writer, p *week.Plan) error {
	return writePage(w, "report.tmpl", newReportPage(p))
}

func writePage(w io.Writer, name string, data any) error {
	out := &stickyWriter{w: w}
	if err := pageTemplates.ExecuteTemplate(out, name, data); err != nil {
		return err
	}
	return out.err
}

// embeddedCSS and embeddedJS are files of this package, so they need no escaping.
func embeddedCSS(name string) template.CSS { return template.CSS(embedded(name)) }

func embeddedJS(name string) template.JS { return template.JS(embedded(name)) }

func embedded(name string) string {
	data, err := htmlFiles.ReadFile("html/" + name)
	if err != nil {
		panic(err) // the build embeds it
	}
	return string(data)
}

// A reportPage is what the report's template shows.
type reportPage struct {
	CSS      template.CSS
	JS       template.JS
	Job      string
	Status   string
	Made     string // seed and effort
	Currency string
	Tiles    []tile
	Timeline timeline
	Changes  []string
	Late     []orderLine
	Cures    []cureRow
	Cured    []timeline
	CureCare []string
	Orders   []orderLine
	Groups   []groupLine
	Machines []machineLine
	Use      []useGroup
	Costs    []costLine
	Ways     []wayTable
	Stock    []stockLine
	Rule     string
	Kinds    []partKind
	Layouts  []layoutPage
	Warnings []string
	Cautions []string
	Length   string // the unit of lengths
}

func newReportPage(p *week.Plan) *reportPage {
	m := measureOf(p)
	return &reportPage{
		Length: m.unit("mm"),
		CSS:    embeddedCSS("report.css"), JS: embeddedJS("report.js"),
		Job: p.Job, Status: statusSentence(p), Made: madeWords(p), Currency: p.Currency,
		Tiles: tiles(p), Timeline: newTimeline(p), Changes: m.texts(p.Changes), Late: lateLines(p), Cures: cureRows(p), Cured: cureTimelines(p), CureCare: cureCautions(p), Orders: orderLines(p), Groups: groupLines(p),
		Machines: machineLoads(p), Use: useGroups(p), Costs: costLines(p), Ways: wayTables(p), Stock: stockLines(p), Rule: remnantRule(p),
		Kinds: partKinds(p), Layouts: layoutPages(p), Warnings: m.texts(p.Warnings), Cautions: m.texts(p.Cautions),
	}
}

// madeWords is how the same plan can be made again.
func madeWords(p *week.Plan) string {
	if p.Effort == 0 {
		return fmt.Sprintf("seed %d, searched for a set time", p.Seed)
	}
	return fmt.Sprintf("seed %d, effort %s", p.Seed, Length(p.Effort))
}
