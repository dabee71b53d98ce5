package main

import (
	"fmt"
	"io"
	"slices"
)

// binSection compares bins with their known optimum.
func (v view) binSection(w io.Writer) {
	fmt.Fprint(w, `## Sheets with a known optimum

Jigsaws cut from full sheets. F is the mean of the squared use of the sheets; "at
last" is when the slowest run found its last layout.

`)
	t := table{head: []string{"set", "search", "instances", "at the optimum", "worst", "mean F", "at last"}}
	for _, set := range append(setsOf(v.bins), "") {
		mine := slices.DeleteFunc(slices.Clone(v.bins), func(r record) bool { return set != "" && r.Set != set })
		for _, c := range columns(mine) {
			t.rows = append(t.rows, binRow(set, c, c.of(mine)))
		}
	}
	t.write(w)
	v.overOptimum(w)
}

func binRow(set string, c column, list []record) []string {
	last := 0.0
	for _, r := range list {
		last = max(last, r.Curve.lastRise())
	}
	at := atOptimum(list)
	worst, _ := worstAim(list)
	f, _ := squareAim(list)
	if set == "" {
		set = "**all**"
	}
	return []string{
		set, c.String(), fmt.Sprint(len(list)), fmt.Sprintf("%d (%.0f %%)", at, 100*float64(at)/float64(len(list))),
		worst, f, fmt.Sprintf("%.1f s", last),
	}
}

func over(n int) string {
	if n <= 0 {
		return "optimum"
	}
	return fmt.Sprintf("optimum + %d", n)
}

// overOptimum names the instances that need more than the optimum.
func (v view) overOptimum(w io.Writer) {
	t := table{head: []string{"above the optimum", "search", "parts", "sheets", "optimum", "F"}}
	for _, r := range v.bins {
		if r.Bins > r.Optimum {
			t.row(r.Set+"/"+r.Instance, columnOf(r).String(), fmt.Sprint(r.Parts), fmt.Sprint(r.Bins), fmt.Sprint(r.Optimum), fmt.Sprintf("%.3f", r.F))
		}
	}
	if len(t.rows) > 0 {
		t.write(w)
	}
}

// builtInSection lists the instances the program carries.
func (v view) builtInSection(w io.Writer) {
	fmt.Fprint(w, `## Instances the program carries

All can be laid out without waste; the known best is a length or a number of sheets.

`)
	cols := columns(v.builtIn)
	t := table{head: []string{"instance", "parts", "known best"}}
	for _, c := range cols {
		t.head = append(t.head, c.String())
	}
	for _, name := range instances(v.builtIn) {
		row := []string{name, "", ""}
		for _, c := range cols {
			r, ok := find(v.builtIn, name, c)
			if !ok {
				row = append(row, "–")
				continue
			}
			row[1], row[2] = fmt.Sprint(r.Parts), knownBest(r)
			row = append(row, reached(r))
		}
		t.rows = append(t.rows, row)
	}
	t.write(w)
	v.pictureTable(w, v.builtIn)
}

func knownBest(r record) string {
	if r.strip() {
		return fmt.Sprintf("length %g", r.Best)
	}
	return fmt.Sprintf("%d sheets", r.Optimum)
}

func reached(r record) string {
	if r.strip() {
		return fmt.Sprintf("%.2f %% at %.1f s", r.Density, r.Curve.lastRise())
	}
	return fmt.Sprintf("%d sheets at %.1f s", r.Bins, r.Curve.lastRise())
}

// familySection lists the many-part families, where no best is known.
func (v view) familySection(w io.Writer) {
	fmt.Fprintf(w, `## Many parts on sheets

Generated families without a known best: the yield in per cent by each search, bold
where no search with the same limit is denser.

`)
	v.familyYields(w)
	fmt.Fprintf(w, `![Yield against time of every family](%s)

"At least" is a bound on the sheets any plan needs; "fullest" is the yield of the
fullest sheet, which tells searches apart that need equally many. Where there is one
kind of part, "of the clipping" sets the copies on it beside the most whole copies that
a lattice has on such a sheet, over every shift and turn and over all lattices found
that are at least %g %% as dense as the densest (which of the shifts has most is exact;
that no denser lattice exists is not proven); "of the lattice" sets it beside the densest
lattice in the plane on the area that parts and the gaps between them may take, with
nothing counted off for the rim. "First plan" is when the search
first reported a complete one (the judges examine the last); "of the longest" is the
yield as a share of that which the same search reached with the longest limit
recorded; memory is the most that was resident, the judges' included.

`, sheetPlot, 100*nearlyDense)
	t := table{head: []string{"instance", "parts", "kinds", "search", "sheets", "at least", "yield %", "fullest %", "of the clipping", "of the lattice", "of the longest", "first plan", "within 1 % of its last", "last rise", "memory"}}
	for _, r := range v.families {
		t.row(r.Instance, fmt.Sprint(r.Parts), fmt.Sprint(r.Kinds), columnOf(r).String(), fmt.Sprint(r.Bins), fmt.Sprint(r.target()), percent(r.Density), percent(r.Fullest), clipWord(r), latticeWord(r), v.ofLongest(r),
			fmt.Sprintf("%.2f s", r.Curve.first()), fmt.Sprintf("%.1f s", r.Curve.reaches(0.99)), fmt.Sprintf("%.1f s", r.Curve.lastRise()), memory(r.PeakMB))
	}
	t.write(w)
	v.pictureTable(w, v.families)
}

// familyYields sets the searches side by side.
func (v view) familyYields(w io.Writer) {
	cols := columns(v.families)
	t := table{head: []string{"instance", "parts"}}
	for _, c := range cols {
		t.head = append(t.head, c.String())
	}
	for _, name := range instances(v.families) {
		row := []string{name, ""}
		for _, c := range cols {
			r, ok := find(v.families, name, c)
			if ok {
				row[1] = fmt.Sprint(r.Parts)
			}
			row = append(row, ours(r.Density, ok, v.densest(name, c.limit)))
		}
		t.rows = append(t.rows, row)
	}
	t.write(w)
}

// densest is the best yield of a family's instance within a limit.
func (v view) densest(name string, limit float64) float64 {
	best := 0.0
	for _, r := range v.families {
		if r.Instance == name && r.Limit == limit {
			best = max(best, rounded(r.Density, 2))
		}
	}
	return best
}

// ofLongest is a record's yield over that of the same search with the longest
// limit; empty for that one itself.
func (v view) ofLongest(r record) string {
	longest := v.longest(r)
	if longest.Limit == r.Limit {
		return ""
	}
	return fmt.Sprintf("%.1f %%", 100*r.Density/longest.Density)
}

// longest is the record of the same search on the same instance that had most time.
func (v view) longest(r record) record {
	for _, q := range v.families {
		if q.Instance == r.Instance && q.Search == r.Search && q.Seed == r.Seed && q.Workers == r.Workers && q.Limit > r.Limit {
			r = q
		}
	}
	return r
}

func latticeWord(r record) string {
	if r.Lattice == 0 {
		return ""
	}
	return fmt.Sprintf("%.1f %%", r.Lattice)
}

// clipWord is the fullest sheet beside the best clipped lattice.
func clipWord(r record) string {
	if r.Clipped == 0 {
		return ""
	}
	return fmt.Sprintf("%d/%d, %.1f %%", r.Copies, r.Clipped, r.clip())
}

// clip is the fullest sheet's copies in per cent of the best clipped lattice's.
func (r record) clip() float64 {
	return 100 * rimShare{copies: r.Copies, clipped: r.Clipped}.clip()
}

func memory(mib float64) string {
	if mib == 0 {
		return "unknown"
	}
	return fmt.Sprintf("%.0f MiB", mib)
}
