package report

import (
	"fmt"
	"io"

	"kerfold/cost"
	"kerfold/nest/week"
)

// WriteStudyList writes several studies, a line each, and the cautions that
// apply to any of them.
func WriteStudyList(w io.Writer, studies []*week.Study, units cost.UnitSystem) error {
	out := &stickyWriter{w: w}
	t := &textTable{
		head: []string{"order", "material", measure{units: units}.unit("mm"), "grade", "parts", "a sheet", "yield", "layers", "machine s", "single", "money", "single", "wins", "from parts", "no deeper because"},
		left: map[int]bool{0: true, 1: true, 3: true, 14: true},
	}
	var lists [][]cost.Caution
	for _, s := range studies {
		t.rows = append(t.rows, studyLine(s, units))
		lists = append(lists, s.Cautions)
	}
	fmt.Fprintf(out, "each order cut by itself; seconds and %s for one part\n\n", studies[0].Job.Setup.Rates.Currency)
	t.write(out)
	notes(out, "take care (local codes and licensed practice decide)", measure{units: units}.texts(cautionTexts(cost.MergeCautions(lists...))))
	return out.err
}

func studyLine(s *week.Study, units cost.UnitSystem) []string {
	n := float64(s.Order.Quantity)
	best, single := &s.Depths[s.Best], &s.Depths[0]
	even := "-"
	if s.BreakEven > 0 {
		even = fmt.Sprint(s.BreakEven)
	}
	return []string{
		oneLine(s.Order.ID), oneLine(s.Order.Material), lengthIn(s.Order.ThicknessMM, units), s.Order.Grade.String(), fmt.Sprint(s.Order.Quantity),
		fmt.Sprint(s.PerSheet), Percent(s.Yield), fmt.Sprint(best.Depth), per(best.Seconds(), n), per(single.Seconds(), n),
		fmt.Sprintf("%.2f", best.Money()/n), fmt.Sprintf("%.2f", single.Money()/n), winWords(best), even, measureOfStudy(s, units).text(deeperWords(s)),
	}
}

// deeperWords says why no deeper stack than the best is cut.
func deeperWords(s *week.Study) string {
	best := &s.Depths[s.Best]
	if s.Best+1 == len(s.Depths) {
		switch {
		case best.Depth >= s.Order.Quantity:
			return "no more layers than parts"
		case best.Depth == s.Job.MaxDepth:
			return "not asked for"
		}
		return "not looked at"
	}
	next := &s.Depths[s.Best+1]
	if !next.Allowed() {
		return oneLine(next.Refusal)
	}
	more := next.Money() - best.Money()
	if more < best.Money()*0.0005 {
		return fmt.Sprintf("%d layers cost the same", next.Depth)
	}
	return fmt.Sprintf("%d layers cost %s more", next.Depth, Percent(more/best.Money()))
}
