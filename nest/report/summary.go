package report

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"kerfold/cost"
	"kerfold/nest/week"
)

// WriteSummary writes the plan at a glance: a line per group, the totals, what
// is late or left over, and the cautions. It is plain text in columns.
func WriteSummary(w io.Writer, p *week.Plan) error {
	out, m, units := &stickyWriter{w: w}, measureOf(p), p.Units
	fmt.Fprintf(out, "%s: %s\n\n", oneLine(p.Job), statusSentence(p))
	groupTable(p, units).write(out)
	fmt.Fprintf(out, "\n%s\n", totals(p, units))
	fmt.Fprintf(out, "%s\n", machineLines(p))
	notes(out, "chosen for less money or lateness (every run on its cheapest machine, remnants credited, programming counted; the table has the machines the calendar takes)", choices(p))
	notes(out, "changed against the earlier plan", m.texts(p.Changes))
	notes(out, "late, and the cheapest that would bring it in time (each was planned anew)", cureLines(p))
	notes(out, "before you choose", cureCautions(p))
	notes(out, "worth reading", m.texts(p.Warnings))
	notes(out, "take care (local codes and licensed practice decide)", m.texts(p.Cautions))
	return out.err
}

func statusSentence(p *week.Plan) string {
	late, short := 0, 0
	for _, o := range p.Orders {
		if o.Tardy() {
			late++
		}
		if o.Placed < o.Wanted {
			short++
		}
	}
	s := fmt.Sprintf("%s in %s", plural(len(p.Orders), "order"), plural(len(p.Groups), "group"))
	switch {
	case late == 0 && short == 0:
		s += ", all placed and on time"
	default:
		s += fmt.Sprintf(", %d late, %d not complete", late, short)
	}
	switch week.StatusWord(p.Status) {
	case "cancelled":
		s += "; stopped early, best plan so far"
	case "limit":
		s += "; time is up, best plan so far"
	}
	return s
}

// A textTable is rows in columns; columns after the first few are set right.
type textTable struct {
	head []string
	left map[int]bool
	rows [][]string
}

func (t *textTable) write(w io.Writer) {
	width := make([]int, len(t.head))
	for _, row := range append([][]string{t.head}, t.rows...) {
		for i, cell := range row {
			width[i] = max(width[i], len([]rune(cell)))
		}
	}
	t.line(w, width, t.head)
	rule := make([]string, len(width))
	for i, n := range width {
		rule[i] = strings.Repeat("-", n)
	}
	t.line(w, width, rule)
	for _, row := range t.rows {
		t.line(w, width, row)
	}
}

func (t *textTable) line(w io.Writer, width []int, row []string) {
	var b strings.Builder
	for i, cell := range row {
		pad := strings.Repeat(" ", width[i]-len([]rune(cell)))
		if i > 0 {
			b.WriteString("  ")
		}
		if t.left[i] {
			b.WriteString(cell + pad)
		} else {
			b.WriteString(pad + cell)
		}
	}
	fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
}

func groupTable(p *week.Plan, units cost.UnitSystem) *textTable {
	_, unit := units.Show(0, "mm")
	t := &textTable{
		head: []string{"group", "material", unit, "grade", "parts", "sheets", "layouts", "yield", "stack", "cut time", p.Currency, "last due", ""},
		left: map[int]bool{0: true, 1: true, 3: true, 11: true, 12: true},
	}
	for i := range p.Groups {
		g := &p.Groups[i]
		due, met := dueWords(p, i)
		t.rows = append(t.rows, []string{
			g.ID, g.Material, lengthIn(g.ThicknessMM, units), g.Grade.String(), fmt.Sprint(partsCut(g)), fmt.Sprint(g.SheetsUsed()),
			fmt.Sprint(len(g.Layouts)), Percent(g.Yield()), depthWords(g), Duration(g.Seconds),
			fmt.Sprintf("%.2f", g.Ledger.Money.Total()), due, met,
		})
	}
	return t
}

func partsCut(g *week.Group) int {
	n := 0
	for i := range g.Layouts {
		n += g.Layouts[i].Repeats * len(g.Layouts[i].Placements)
	}
	return n
}

// depthWords is the range of stack depths in a group.
func depthWords(g *week.Group) string {
	low, high := 0, 0
	for i := range g.Layouts {
		d := g.Layouts[i].Depth()
		high = max(high, d)
		if low == 0 || d < low {
			low = d
		}
	}
	switch {
	case high == 0:
		return "-"
	case low == high:
		return fmt.Sprint(high)
	}
	return fmt.Sprintf("%d-%d", low, high)
}

// dueWords is a group's last due date and whether its orders meet theirs.
func dueWords(p *week.Plan, group int) (due, met string) {
	var last time.Time
	late, short := 0, 0
	for _, o := range p.Orders {
		if o.Group != group {
			continue
		}
		if o.Due.After(last) {
			last = o.Due
		}
		if o.Tardy() {
			late++
		}
		if o.Placed < o.Wanted {
			short++
		}
	}
	if due = "-"; !last.IsZero() {
		due = last.Format("Mon 2 Jan")
	}
	switch {
	case short > 0:
		return due, fmt.Sprintf("%d not complete", short)
	case late > 0:
		return due, fmt.Sprintf("%d late", late)
	}
	return due, "met"
}

func totals(p *week.Plan, units cost.UnitSystem) string {
	sheets, area, parts, kept := 0, 0.0, 0.0, 0.0
	for i := range p.Groups {
		g := &p.Groups[i]
		sheets += g.SheetsUsed()
		area += g.SheetArea
		parts += g.PartArea
		kept += keptArea(g)
	}
	u, m := p.Ledger.Usage, p.Ledger.Money
	return fmt.Sprintf("total: %s, yield %s (%s net of the remnants kept), machine time %s (%s to %s), cost %s (%.2f to %.2f; sheets %.2f, work %.2f; remnants worth %.2f)\n"+
		"used:  %s abrasive, %s water, %s, %s sludge",
		plural(sheets, "sheet"), Percent(ratio(parts, area)), Percent(ratio(parts, area-kept)), Duration(p.Seconds), Duration(p.SecondsRange.Low), Duration(p.SecondsRange.High),
		Amount(m.Total(), p.Currency), p.MoneyRange.Low, p.MoneyRange.High,
		m.Material, m.Process(), p.RemnantCredit, used(units.Show(u.AbrasiveKg, "kg")), used(units.Show(u.WaterL, "L")), used(u.EnergyKWh, "kWh"), used(units.Show(u.SludgeKg, "kg")))
}

// used writes an amount with no more digits than it is known to.
func used(v float64, unit string) string {
	switch {
	case unit == "L" && v >= 10000:
		return fmt.Sprintf("%.1f m³", v/1000)
	case v >= 10:
		return fmt.Sprintf("%.0f %s", v, unit)
	}
	return fmt.Sprintf("%.2g %s", v, unit)
}

// choices says where another way than cutting each sheet by itself was chosen,
// and what that saves.
func choices(p *week.Plan) []string {
	var out []string
	for i := range p.Groups {
		g := &p.Groups[i]
		for _, w := range g.Ways[min(1, len(g.Ways)):] {
			if w.Name == week.DirectName && w.Short == g.Ways[0].Short {
				line := fmt.Sprintf("%s: %s, %.2f instead of %.2f for %s",
					g.ID, g.Ways[0].Name, g.Ways[0].Money, w.Money, w.Name)
				if cost := g.Ledger.Money.Total(); math.Abs(cost-g.Ways[0].Money) >= 0.005 {
					line += fmt.Sprintf("; in the table %.2f", cost)
				}
				if moved := w.Moved - g.Ways[0].Moved; moved >= leastMoney {
					line += fmt.Sprintf(", and dearer machines and set-ups add %.2f %s less", moved, p.Currency)
				}
				if late := w.Late - g.Ways[0].Late; late > 0 {
					line += fmt.Sprintf(", and lateness weighs %.2f %s less", late, p.Currency)
				}
				out = append(out, line)
			}
		}
	}
	return out
}

// keptArea is the area of the remnants a group keeps, mm².
func keptArea(g *week.Group) float64 {
	a := 0.0
	for i := range g.Layouts {
		if l := &g.Layouts[i]; l.Remnant != nil {
			a += float64(l.Repeats) * l.Remnant.Area()
		}
	}
	return a
}

func ratio(part, whole float64) float64 {
	if whole <= 0 {
		return 0
	}
	return part / whole
}

func machineLines(p *week.Plan) string {
	var lines []string
	for i, m := range p.Machines {
		line := fmt.Sprintf("%s: %s of work, %s", m.ID, Duration(m.BusySec), plural(m.Setups, "set-up"))
		if end := lastEnd(p, i); end != "" {
			line += ", done " + end
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

func lastEnd(p *week.Plan, machine int) string {
	day := -1
	for _, s := range p.Calendar {
		if s.Machine == machine {
			day = max(day, s.EndDay)
		}
	}
	if day < 0 {
		return ""
	}
	return p.Days[day].Format("Mon 2 Jan")
}

func notes(w io.Writer, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s:\n", title)
	for _, l := range lines {
		fmt.Fprintf(w, "  - %s\n", l)
	}
}
