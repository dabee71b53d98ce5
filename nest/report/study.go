package report

import (
	"fmt"
	"io"

	"kerfold/cost"
	"kerfold/nest/week"
)

// WriteStudy writes a comparison of stack depths: what each takes in time and
// money for one part, what bounds it, and what the bottom edge is like. It is
// plain text in columns.
func WriteStudy(w io.Writer, s *week.Study, units cost.UnitSystem) error {
	out, m := &stickyWriter{w: w}, measureOfStudy(s, units)
	c := s.Job.Setup.Rates.Currency
	fmt.Fprintf(out, "%s: %d parts of %s, %s, %s, on %s\n", oneLine(partTitle(s)), s.Order.Quantity, oneLine(s.Order.Material),
		m.length(s.Order.ThicknessMM), s.Order.Grade, oneLine(s.Job.Setup.Machine.ID))
	fmt.Fprintf(out, "%d on a sheet %s, yield %s\n\n", s.PerSheet, oneLine(s.Sheet.ID), Percent(s.Yield))
	studyTime(s, c).write(out)
	fmt.Fprintln(out)
	studyUse(s, units).write(out)
	fmt.Fprintf(out, "\n%s\n", verdict(s))
	refusals(out, s, m)
	whatIfs(out, s, m)
	notes(out, "worth reading", m.texts(s.Warnings))
	notes(out, "take care (local codes and licensed practice decide)", m.texts(cautionTexts(s.Cautions)))
	return out.err
}

func partTitle(s *week.Study) string {
	if s.Order.Part != "" && s.Order.Part != s.Order.ID {
		return s.Order.ID + " (" + s.Order.Part + ")"
	}
	return s.Order.ID
}

// studyTime is what a depth takes for each part wanted; surplus parts are not
// counted as parts.
func studyTime(s *week.Study, currency string) *textTable {
	t := &textTable{
		head: []string{"layers", "runs", "cut s", "pierce s", "rapid s", "handle s", "machine s", currency, "90 % range", "wins", "", "bounded by, of cut"},
		left: map[int]bool{1: true, 8: true, 10: true, 11: true},
	}
	n := float64(s.Order.Quantity)
	for i := range s.Depths {
		d := &s.Depths[i]
		if !d.Allowed() {
			continue
		}
		r := d.MoneyEstimate.Times(1 / n).Interval(cost.DefaultLevel)
		t.rows = append(t.rows, []string{
			fmt.Sprint(d.Depth), runWords(d), per(d.Time.CutSec, n), per(d.Time.PierceSec, n), per(d.Time.RapidSec, n), per(d.Time.HandleSec, n),
			per(d.Seconds(), n), fmt.Sprintf("%.3f", d.Money()/n), fmt.Sprintf("%.3f to %.3f", r.Low, r.High), winWords(d), bestMark(s, i), limitOf(d),
		})
	}
	return t
}

func per(v, n float64) string { return fmt.Sprintf("%.1f", v/n) }

// runWords says how the quantity is cut: 3×4 is three runs of four layers.
func runWords(d *cost.PartDepth) string {
	switch {
	case d.FullRuns == 0:
		return fmt.Sprintf("1×%d", d.Rest.Layers)
	case d.Rest.Layers == 0:
		return fmt.Sprintf("%d×%d", d.FullRuns, d.Depth)
	}
	return fmt.Sprintf("%d×%d + 1×%d", d.FullRuns, d.Depth, d.Rest.Layers)
}

func winWords(d *cost.PartDepth) string {
	if d.Depth == 1 {
		return "-"
	}
	return chance(d.Wins)
}

// chance writes a probability; nothing is certain.
func chance(p float64) string {
	const sure = 0.99
	switch {
	case p > sure:
		return "> 99 %"
	case p < 1-sure:
		return "< 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// limitOf is what bounds the cut and how much of the cutting time goes to it.
func limitOf(d *cost.PartDepth) string {
	return fmt.Sprintf("%s, %.0f %%", d.Limit, 100*d.LimitShare)
}

func bestMark(s *week.Study, i int) string {
	if i == s.Best {
		return "best"
	}
	return ""
}

// studyUse is what a depth uses and leaves, in the units asked for.
func studyUse(s *week.Study, units cost.UnitSystem) *textTable {
	head := func(name, unit string) string {
		_, u := units.Show(0, unit)
		return name + u
	}
	t := &textTable{
		head: []string{
			"layers", "sheets", "surplus", head("", "mm/min"), "bottom grade", head("edge off ", "mm"), head("taper ", "mm"),
			head("water ", "L"), head("abrasive ", "kg"), head("sludge ", "kg"), "kWh",
		},
		left: map[int]bool{4: true},
	}
	for i := range s.Depths {
		if d := &s.Depths[i]; d.Allowed() {
			t.rows = append(t.rows, useRow(d, units))
		}
	}
	return t
}

func useRow(d *cost.PartDepth, units cost.UnitSystem) []string {
	x := func(v float64, unit, format string) string {
		v, _ = units.Show(v, unit)
		return fmt.Sprintf(format, v)
	}
	feed, edge := "%.0f", "%.3f"
	if units == cost.US {
		feed, edge = "%.1f", "%.4f"
	}
	u := d.Ledger.Usage
	return []string{
		fmt.Sprint(d.Depth), fmt.Sprint(d.Sheets), fmt.Sprint(d.Surplus), x(d.Speed.MMPerMin, "mm/min", feed), gradeWords(d.Bottom),
		x(d.Bottom.ShiftMM, "mm", edge), x(d.Bottom.TaperMM, "mm", edge),
		x(u.WaterL, "L", "%.0f"), x(u.AbrasiveKg, "kg", "%.1f"), x(u.SludgeKg, "kg", "%.1f"), x(u.EnergyKWh, "kWh", "%.1f"),
	}
}

func gradeWords(q cost.Quality) string {
	if q.Grade == 0 {
		return "below separate"
	}
	return q.Grade.String()
}

// verdict says what is best and from which quantity on stacking pays.
func verdict(s *week.Study) string {
	best := &s.Depths[s.Best]
	text := "best: single sheets"
	if best.Depth > 1 {
		text = fmt.Sprintf("best: %d layers, %s less money and %s less machine time than single sheets, cheaper with a probability of %s",
			best.Depth, Percent(1-best.Money()/s.Depths[0].Money()), Percent(1-best.Seconds()/s.Depths[0].Seconds()), chance(best.Wins))
	}
	switch {
	case s.BreakEven > 0:
		return fmt.Sprintf("%s\nbreak-even: from %d parts on some stack is cheaper than single sheets", text, s.BreakEven)
	case len(s.Depths) > 1 && s.Depths[1].Allowed():
		return fmt.Sprintf("%s\nbreak-even: none up to %d parts", text, s.BreakEvenLimit)
	}
	return text
}

func refusals(w io.Writer, s *week.Study, m measure) {
	for i := range s.Depths {
		if d := &s.Depths[i]; !d.Allowed() {
			fmt.Fprintf(w, "%d layers and more: not allowed: %s\n", d.Depth, m.text(oneLine(d.Refusal)))
		}
	}
}

func cautionTexts(cs []cost.Caution) []string {
	out := make([]string, len(cs))
	for i, c := range cs {
		out[i] = c.Text
	}
	return out
}
