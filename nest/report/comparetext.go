package report

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// WriteComparisonJSON writes a comparison for programs.
func WriteComparisonJSON(w io.Writer, c Comparison) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(c)
}

// WriteComparison writes a comparison for people: totals, groups, orders and
// layouts side by side, what matters most first. Changes are B less A. Unless all
// is asked for, what changes nothing that anybody plans by is counted, and the
// largest of it named.
func WriteComparison(w io.Writer, c Comparison, all bool) error {
	out := &stickyWriter{w: w}
	fmt.Fprintf(out, "A: %s\nB: %s\n\n", planName(c.A), planName(c.B))
	figureTable(c).write(out)
	if c.A.Currency != c.B.Currency {
		fmt.Fprintf(out, "\nA is in %s, B in %s: their money cannot be compared.\n", c.A.Currency, c.B.Currency)
	}
	notes(out, "late in A", c.LateA)
	notes(out, "late in B", c.LateB)
	notes(out, "orders that fare otherwise", orderChangeLines(c, all))
	writeGroupChanges(out, c, all)
	fmt.Fprintf(out, "\n%s\n", layoutChangeSentence(c))
	for _, line := range layoutChangeLines(c, all) {
		fmt.Fprintf(out, "  - %s\n", line)
	}
	return out.err
}

// writeGroupChanges writes the groups that change as a table, and how many others
// there are.
func writeGroupChanges(out io.Writer, c Comparison, all bool) {
	notable, minor := c.groupsByWeight()
	if all || len(notable) > 0 && len(minor) <= fewMinor {
		notable, minor = append(notable, minor...), nil
	}
	if len(notable) > 0 {
		fmt.Fprintln(out)
		groupChangeTable(c, notable).write(out)
	}
	if len(minor) > 0 {
		fmt.Fprintf(out, "\n%s\n", minorGroupsSentence(c, notable, minor))
	}
}

// minorGroupsSentence counts the groups that change too little to plan by.
func minorGroupsSentence(c Comparison, notable, minor []int) string {
	s, verb := plural(len(minor), "group"), "cut"
	if len(notable) > 0 {
		s = plural(len(minor), "other group")
	}
	if len(minor) == 1 {
		verb = "cuts"
	}
	s += " " + verb + " as many sheets in stacks as high"
	largest := &c.Groups[minor[0]]
	change := signed(largest.change(), 2)
	if change == "=" {
		return s + " at the same cost"
	}
	return fmt.Sprintf("%s, with time and cost changed by less than %s (most: %s, %s)",
		s, Percent(minorShare), largest.A.Group, strings.TrimSpace(change+" "+c.A.Currency))
}

func planName(f PlanFigures) string {
	s := fmt.Sprintf("%s, seed %d", oneLine(f.Job), f.Seed)
	if f.Effort > 0 {
		s += ", effort " + Length(f.Effort)
	}
	if f.Status != "finished" {
		s += ", " + f.Status
	}
	return s
}

func figureTable(c Comparison) *textTable {
	a, b := c.A, c.B
	t := &textTable{head: []string{"", "A", "B", "change"}, left: map[int]bool{0: true}}
	t.count("sheets", a.Sheets, b.Sheets)
	t.count("layouts", a.Layouts, b.Layouts)
	t.count("stacks", a.Stacks, b.Stacks)
	t.count("parts", a.Parts, b.Parts)
	t.share("yield", a.Yield, b.Yield)
	t.share("yield net of remnants", a.NetYield, b.NetYield)
	t.hours("machine hours", a.Seconds, b.Seconds)
	t.count("set-ups", a.Setups, b.Setups)
	comparable, in := a.Currency == b.Currency, ""
	if comparable && a.Currency != "" {
		in = ", " + a.Currency
	}
	t.money("cost"+in, a.Money, b.Money, comparable)
	t.money("  sheets"+in, a.SheetMoney, b.SheetMoney, comparable)
	t.money("  work"+in, a.WorkMoney, b.WorkMoney, comparable)
	t.money("remnants worth"+in, a.RemnantCredit, b.RemnantCredit, comparable)
	t.count("late orders", a.LateOrders, b.LateOrders)
	t.count("days late in all", a.LateDays, b.LateDays)
	t.count("missing parts", a.Missing, b.Missing)
	t.rows = append(t.rows, []string{"last day", dash(a.LastDay), dash(b.LastDay), ""})
	return t
}

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

func (t *textTable) count(name string, a, b int) {
	change := "="
	if a != b {
		change = fmt.Sprintf("%+d", b-a)
	}
	t.rows = append(t.rows, []string{name, strconv.Itoa(a), strconv.Itoa(b), change})
}

func (t *textTable) share(name string, a, b float64) {
	t.rows = append(t.rows, []string{name, Percent(a), Percent(b), points(b - a)})
}

// points writes the change of a share.
func points(change float64) string {
	s := signed(100*change, 1)
	if s == "=" {
		return s
	}
	return s + " percentage points"
}

func (t *textTable) hours(name string, a, b float64) {
	t.rows = append(t.rows, []string{name, fmt.Sprintf("%.2f", a/3600), fmt.Sprintf("%.2f", b/3600), signed((b-a)/3600, 2)})
}

func (t *textTable) money(name string, a, b float64, comparable bool) {
	change := signed(b-a, 2)
	if !comparable {
		change = "-"
	}
	t.rows = append(t.rows, []string{name, money(a), money(b), change})
}

// signed writes a change with its sign, = where rounding leaves none.
func signed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	zero := strconv.FormatFloat(0, 'f', decimals, 64)
	switch {
	case s == zero || s == "-"+zero:
		return "="
	case v > 0:
		return "+" + s
	}
	return s
}

func groupChangeTable(c Comparison, list []int) *textTable {
	t := &textTable{
		head: []string{"A", "B", "material", measure{units: c.Units}.unit("mm"), "grade", "sheets A", "B", "stack A", "B", "yield A", "B", "hours A", "B", "cost A", "B"},
		left: map[int]bool{0: true, 1: true, 2: true, 4: true},
	}
	for _, i := range list {
		g := &c.Groups[i]
		a, b := groupCells(g.A), groupCells(g.B)
		row := []string{a[0], b[0], g.Material, lengthIn(g.ThicknessMM, c.Units), g.Grade}
		for i := 1; i < len(a); i++ {
			row = append(row, a[i], b[i])
		}
		t.rows = append(t.rows, row)
	}
	return t
}

func groupCells(f *GroupFigures) [6]string {
	if f == nil {
		return [6]string{"-", "-", "-", "-", "-", "-"}
	}
	return [6]string{f.Group, strconv.Itoa(f.Sheets), f.Depth, Percent(f.Yield), fmt.Sprintf("%.2f", f.Seconds/3600), money(f.Money)}
}

func orderChangeLines(c Comparison, all bool) []string {
	list, moved := c.Orders, []OrderChange(nil)
	if at := slices.IndexFunc(list, func(o OrderChange) bool { return o.Kind == OrderMoved }); at >= 0 && len(list)-at > fewMinor && !all {
		list, moved = list[:at], list[at:]
	}
	lines := each(list, orderChangeLine)
	if len(moved) > 0 {
		lines = append(lines, fmt.Sprintf("%d others are cut on another day, and fare as well; the furthest moved: %s", len(moved), orderChangeLine(moved[0])))
	}
	return lines
}

func orderChangeLine(o OrderChange) string {
	switch o.Kind {
	case OrderOnlyInB:
		return fmt.Sprintf("%s: only in B: %s", o.Order, o.B)
	case OrderOnlyInA:
		return fmt.Sprintf("%s: only in A: %s", o.Order, o.A)
	}
	return fmt.Sprintf("%s: %s in A; %s in B", o.Order, o.A, o.B)
}

// layoutChangeLines says what became of layouts; those that change nothing but
// where parts lie are counted where there are many.
func layoutChangeLines(c Comparison, all bool) []string {
	notable, minor := c.layoutsByWeight()
	if all || len(minor) <= fewMinor {
		notable, minor = append(notable, minor...), nil
	}
	lines := each(notable, layoutChangeLine)
	if len(minor) > 0 {
		lines = append(lines, fmt.Sprintf("%d others, with as many sheets and nearly the same cost; the first of them: %s (--all lists them)", len(minor), layoutChangeLine(minor[0])))
	}
	return lines
}

func layoutChangeSentence(c Comparison) string {
	counts := map[Change]int{}
	for _, l := range c.Layouts {
		counts[l.Change]++
	}
	if counts[SameLayout] == len(c.Layouts) {
		return fmt.Sprintf("layouts: all %d are the same", len(c.Layouts))
	}
	return fmt.Sprintf("layouts: %d the same, %d cut otherwise, %d rearranged, %d only in A, %d only in B",
		counts[SameLayout], counts[CutOtherwise], counts[Rearranged], counts[OnlyInA], counts[OnlyInB])
}

func layoutChangeLine(l LayoutChange) string {
	switch l.Change {
	case OnlyInA:
		return fmt.Sprintf("%s of A: %s on %s, %s; not in B", l.A, plural(l.Parts, "part"), l.Sheet, l.CutA)
	case OnlyInB:
		return fmt.Sprintf("%s of B: %s on %s, %s; not in A", l.B, plural(l.Parts, "part"), l.Sheet, l.CutB)
	}
	s := fmt.Sprintf("%s of A is %s of B, on %s", l.A, l.B, l.Sheet)
	if l.Change == Rearranged {
		s += ", with its parts lying otherwise"
	}
	if l.CutA == l.CutB {
		return s + ": " + l.CutA
	}
	return fmt.Sprintf("%s: %s in A, %s in B", s, l.CutA, l.CutB)
}
