package report

import (
	"fmt"
	"io"
	"slices"

	"kerfold/cost"
	"kerfold/nest/week"
)

// WriteStudyList writes several studies, a line each, and the cautions that
// apply to any of them.
func WriteStudyList(w io.Writer, studies []*week.Study) error {
	out := &stickyWriter{w: w}
	t := &textTable{
		head: []string{"order", "material", "mm", "grade", "parts", "a sheet", "yield", "layers", "machine s", "single", "money", "single", "wins", "from parts", "no deeper because"},
		left: map[int]bool{0: true, 1: true, 3: true, 14: true},
	}
	var lists [][]cost.Caution
	for _, s := range studies {
		t.rows = append(t.rows, studyLine(s))
		lists = append(lists, forAll(s.Cautions))
	}
	fmt.Fprintf(out, "each order cut by itself; seconds and %s for one part\n\n", studies[0].Job.Setup.Rates.Currency)
	t.write(out)
	notes(out, "take care (local codes and licensed practice decide)", cautionTexts(cost.MergeCautions(lists...)))
	return out.err
}

// forAll leaves out the cautions whose figures hold for one order only.
func forAll(cs []cost.Caution) []cost.Caution {
	return slices.DeleteFunc(slices.Clone(cs), func(c cost.Caution) bool { return c.Topic == cost.TopicThinWeb })
}

func studyLine(s *week.Study) []string {
	n := float64(s.Order.Quantity)
	best, single := &s.Depths[s.Best], &s.Depths[0]
	even := "-"
	if s.BreakEven > 0 {
		even = fmt.Sprint(s.BreakEven)
	}
	why := ""
	if last := &s.Depths[len(s.Depths)-1]; !last.Allowed() && last.Depth == best.Depth+1 {
		why = clip(oneLine(last.Refusal), 60)
	}
	return []string{
		oneLine(s.Order.ID), oneLine(s.Order.Material), Length(s.Order.ThicknessMM), s.Order.Grade.String(), fmt.Sprint(s.Order.Quantity),
		fmt.Sprint(s.PerSheet), Percent(s.Yield), fmt.Sprint(best.Depth), per(best.Seconds(), n), per(single.Seconds(), n),
		fmt.Sprintf("%.2f", best.Money()/n), fmt.Sprintf("%.2f", single.Money()/n), winWords(best), even, why,
	}
}

func clip(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most-1]) + "…"
}
