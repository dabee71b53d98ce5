package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"kerfold/cost"
	"kerfold/nest/week"
)

// WriteBid writes what a bid takes: a line per group, the totals with their
// ranges, a price per order, and what would change it most. It is plain text in
// columns.
func WriteBid(w io.Writer, b *week.Bid, units cost.UnitSystem) error {
	out, m := &stickyWriter{w: w}, measureOfBid(b, units)
	fmt.Fprintf(out, "%s: %s\n\n", oneLine(b.Job), bidSentence(b))
	bidGroupTable(b, units).write(out)
	fmt.Fprintf(out, "\n%s\n\n", bidTotals(b))
	bidLineTable(b).write(out)
	if len(b.Changes) > 0 {
		fmt.Fprintf(out, "\nwhat would change it most (each worked out like the bid, remnants credited)\n\n")
		changeTable(b, m).write(out)
	}
	notes(out, "not possible", m.texts(refusedLines(b)))
	if b.Omitted > 0 {
		fmt.Fprintf(out, "%s not worked out: time was up; give more --seconds\n", plural(b.Omitted, "change"))
	}
	notes(out, "what the price range rests on", causeLines(b.Money, b.Currency, 1+b.Markup))
	notes(out, "worth reading", m.texts(b.Warnings))
	notes(out, "take care (local codes and licensed practice decide)", m.texts(b.Cautions))
	return out.err
}

func bidSentence(b *week.Bid) string {
	parts, orders := 0, 0
	for i := range b.Groups {
		parts, orders = parts+b.Groups[i].Parts, orders+len(b.Groups[i].Orders)
	}
	s := fmt.Sprintf("bid for %s, %s, in %s; prices are ", plural(parts, "part"), plural(orders, "order"), plural(len(b.Groups), "group"))
	if b.Markup == 0 {
		return s + "your costs, nothing added"
	}
	return s + fmt.Sprintf("your costs and %s", Percent(b.Markup))
}

func bidGroupTable(b *week.Bid, units cost.UnitSystem) *textTable {
	_, unit := units.Show(0, "mm")
	t := &textTable{
		head: []string{"group", "material", unit, "grade", "parts", "sheets", "to buy", "yield", "90 % range", "layers", "machine time", "low", "likely " + b.Currency, "high", "done"},
		left: map[int]bool{0: true, 1: true, 3: true, 8: true, 14: true},
	}
	for i := range b.Groups {
		g := &b.Groups[i]
		row := []string{g.ID, oneLine(g.Material), lengthIn(g.ThicknessMM, units), g.Grade.String(), fmt.Sprint(g.Parts)}
		if g.Refusal != "" {
			t.rows = append(t.rows, append(row, "-", "-", "-", "-", "-", "-", "-", "-", "-", "cannot be cut"))
			continue
		}
		sheets, buy := g.SheetCount()
		r := g.MoneyRange
		t.rows = append(t.rows, append(
			row, fmt.Sprint(sheets), fmt.Sprint(buy), Percent(g.Yield.Likely), percentRange(g.Yield), bidDepths(g), Duration(g.Seconds.Likely),
			bidMoney(b, r.Low), bidMoney(b, r.Likely), bidMoney(b, r.High), bidFinish(g.Finish),
		))
	}
	return t
}

func percentRange(r cost.Interval) string {
	return fmt.Sprintf("%.1f to %s", 100*r.Low, Percent(r.High))
}

func bidMoney(b *week.Bid, cost float64) string { return fmt.Sprintf("%.2f", cost*(1+b.Markup)) }

func bidDepths(g *week.BidGroup) string {
	low, high := math.MaxInt, 0
	for _, r := range g.Runs {
		low, high = min(low, r.Depth), max(high, r.Depth)
	}
	if low >= high {
		return fmt.Sprint(high)
	}
	return fmt.Sprintf("%d-%d", low, high)
}

// bidFinish is a day of the calendar, or how many working days it takes.
func bidFinish(f week.Finish) string {
	switch {
	case f.Workday == 0:
		return "-"
	case f.Day.IsZero():
		return fmt.Sprintf("day %d", f.Workday)
	}
	return f.Day.Format("Mon 2 Jan 2006")
}

func bidTotals(b *week.Bid) string {
	m, s := b.MoneyRange, b.SecondsRange
	lines := []string{
		fmt.Sprintf("sheets:       %d, %d of them to buy; yield %s (%s)", b.Sheets, b.ToBuy, Percent(b.Yield.Likely), percentRange(b.Yield)),
		fmt.Sprintf("price:        low %s, likely %s, high %s %s (90 %% range; %s at %.2f in it; remnants worth %.2f not taken off)",
			bidMoney(b, m.Low), bidMoney(b, m.Likely), bidMoney(b, m.High), b.Currency, plural(b.Setups, "set-up"), setupMoney(b), b.RemnantCredit),
		fmt.Sprintf("machine time: %s (%s to %s), set-ups included", Duration(s.Likely), Duration(s.Low), Duration(s.High)),
		"earliest finish: " + finishSentence(b),
	}
	if b.Due != nil {
		lines = append(lines, "due dates:    "+dueSentence(b))
	}
	return strings.Join(lines, "\n")
}

func setupMoney(b *week.Bid) float64 {
	rest := b.Ledger.Money.Total()
	for i := range b.Groups {
		rest -= b.Groups[i].Ledger.Money.Total()
	}
	return rest * (1 + b.Markup)
}

func finishSentence(b *week.Bid) string {
	f := b.Finish
	if f.Workday == 0 {
		return "never: no machine works any hours"
	}
	s := fmt.Sprintf("%s, %s into the working day, on %s", bidFinish(f), Duration(f.Sec), oneLine(b.Machines[f.Machine]))
	if f.Day.IsZero() {
		s = fmt.Sprintf("working day %d, %s into it, on %s", f.Workday, Duration(f.Sec), oneLine(b.Machines[f.Machine]))
	}
	if b.Loaded == "" {
		return s + "; all machines are taken to be free: give --load PLAN"
	}
	return s + fmt.Sprintf("; after the work of %q", oneLine(b.Loaded))
}

// dueSentence says how due dates were weighed and what came of it.
func dueSentence(b *week.Bid) string {
	d := b.Due
	if d.Why != "" {
		return "not weighed: " + d.Why
	}
	s := fmt.Sprintf("weighed on %s, an hour late at %.2f %s: ", plural(d.Trials, "trial calendar"), d.PerHour, b.Currency)
	if len(d.Groups) > 0 {
		verb := "is"
		if len(d.Groups) > 1 {
			verb = "are"
		}
		s += fmt.Sprintf("%s %s cut in another way, for %s and %+.2f %s (remnants credited), so that lateness weighs %.2f less; ",
			strings.Join(d.Groups, ", "), verb, moreSheets(d.Sheets), d.Money*(1+b.Markup), b.Currency, d.Spared)
	}
	if len(d.Late) == 0 {
		s += "nothing is late"
	} else {
		s += fmt.Sprintf("late all the same: %s (weighs %.2f, in no price)", oneLine(strings.Join(d.Late, ", ")), d.LateMoney)
	}
	if d.Cut {
		s += "; not all was tried: time was up, give more --seconds"
	}
	return s
}

func moreSheets(n int) string {
	switch {
	case n > 0:
		return plural(n, "sheet") + " more"
	case n < 0:
		return plural(-n, "sheet") + " less"
	}
	return "as many sheets"
}

func bidLineTable(b *week.Bid) *textTable {
	t := &textTable{head: []string{"order", "part", "quantity", "likely " + b.Currency, "each", "of it sheets"}, left: map[int]bool{0: true, 1: true}}
	for i := range b.Groups {
		for _, l := range b.Groups[i].Lines {
			t.rows = append(t.rows, []string{
				oneLine(l.Order), oneLine(l.Part), fmt.Sprint(l.Quantity), bidMoney(b, l.Money),
				bidMoney(b, l.Money/math.Max(1, float64(l.Quantity))), bidMoney(b, l.SheetMoney),
			})
		}
	}
	return t
}

// mostOfKind is how many changes of a kind are worth reading.
const mostOfKind = 4

// changeTable lists the changes that are possible, most money first, and of a
// kind no more than mostOfKind.
func changeTable(b *week.Bid, m measure) *textTable {
	t := &textTable{
		head: []string{"group", "change", b.Currency, "machine time", "sheets", "yield"},
		left: map[int]bool{0: true, 1: true},
	}
	shown := map[week.ChangeKind]int{}
	for _, c := range b.Changes {
		if shown[c.Kind]++; c.Refusal != "" || shown[c.Kind] > mostOfKind {
			continue
		}
		t.rows = append(t.rows, []string{c.Group, m.text(c.Text), signedMoney(c.Money * (1 + b.Markup)), signedDuration(c.Seconds), fmt.Sprintf("%+d", c.Sheets), Percent(c.Yield)})
	}
	return t
}

// refusedLines are the changes that cannot be made, and why.
func refusedLines(b *week.Bid) []string {
	var out []string
	for _, c := range b.Changes {
		if c.Refusal != "" {
			out = append(out, fmt.Sprintf("%s: %s: %s", c.Group, c.Text, oneLine(c.Refusal)))
		}
	}
	return out
}

func signedMoney(v float64) string { return fmt.Sprintf("%+.2f", v) }

func signedDuration(sec float64) string {
	if math.Round(sec) < 0 {
		return "-" + Duration(-sec)
	}
	return "+" + Duration(math.Abs(sec))
}

// causeLines are the largest causes of uncertainty, each at one standard deviation.
func causeLines(e cost.Estimate, currency string, factor float64) []string {
	const most = 6
	var out []string
	for _, c := range e.Causes() {
		if len(out) == most {
			break
		}
		out = append(out, fmt.Sprintf("%s: ± %.2f %s (one standard deviation)", c.Key, math.Abs(c.Delta)*factor, currency))
	}
	return out
}
