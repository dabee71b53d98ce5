package main

import (
	"fmt"
	"io"
	"slices"
)

// riseParts and riseUntil say where a yield should still rise: on instances with
// more parts than that, after that many seconds.
const (
	riseParts = 40
	riseUntil = 30.0
)

// curveSection shows yields over time and tells whether they rise to the end.
func (v view) curveSection(w io.Writer) {
	fmt.Fprintf(w, `## Yield over time

![Yield against time of every strip](%s)

Does the search still find better layouts late in its time? "Last rise" is when the
yield improved last, "settled" when it first was within %g percentage points of its
last value; the other columns give the yield at that time as a share of the last.
On instances with more than %d parts, and limits above %g s, the last column says
whether the yield settled after %g s: "rises", or "flat" for a plateau before that.

`, stripPlot, settledWithin, riseParts, riseUntil, riseUntil)
	for _, c := range columns(v.strips) {
		v.riseTable(w, c)
	}
}

// riseTimes are the columns of the table, in seconds.
var riseTimes = []float64{5, 10, 30, 60, 300}

func (v view) riseTable(w io.Writer, c column) {
	list := c.of(v.strips)
	slices.SortStableFunc(list, func(a, b record) int { return b.Parts - a.Parts })
	t := table{head: []string{c.String(), "parts", "last yield"}}
	for _, s := range riseTimes {
		t.head = append(t.head, fmt.Sprintf("at %g s", s))
	}
	t.head = append(t.head, "last rise", "settled", "after 30 s")
	for _, r := range list {
		t.rows = append(t.rows, riseRow(r))
	}
	t.write(w)
}

func riseRow(r record) []string {
	row := []string{r.Instance, fmt.Sprint(r.Parts), percent(r.Density)}
	for _, s := range riseTimes {
		if s > r.Limit {
			row = append(row, "")
			continue
		}
		row = append(row, fmt.Sprintf("%.1f %%", r.Curve.shareAt(s)))
	}
	return append(row, fmt.Sprintf("%.1f s", r.Curve.lastRise()), fmt.Sprintf("%.1f s", r.Curve.settled()), r.rises())
}

// rises is the verdict on one curve, where one is asked for.
func (r record) rises() string {
	switch {
	case r.Parts <= riseParts || r.Limit <= riseUntil:
		return ""
	case r.Curve.settled() > riseUntil:
		return "rises"
	}
	return "flat"
}
