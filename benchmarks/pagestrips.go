package main

import (
	"fmt"
	"io"
)

// stripSection compares strips with published densities.
func (v view) stripSection(w io.Writer) {
	fmt.Fprint(w, `## Strips beside published densities

Part area over strip width times length, in per cent; one run each. Bold: at least
the best of the published averages. (m): from memory, unverified.

`)
	cols := columns(v.strips)
	t := table{head: []string{"instance", "parts"}}
	for _, c := range cols {
		t.head = append(t.head, c.String())
	}
	for _, p := range publishedColumns {
		t.head = append(t.head, p.title)
	}
	for _, name := range instances(v.strips) {
		t.rows = append(t.rows, v.stripRow(name, cols))
	}
	t.rows = append(t.rows, v.meanRow(cols))
	t.write(w)
	fmt.Fprintf(w, "```text\n%s\n```\n\n", citations)
	v.pictureTable(w, v.strips)
}

// A publishedColumn is one of the papers' columns.
type publishedColumn struct {
	title   string
	average bool
	of      func(published) float64
}

var publishedColumns = []publishedColumn{
	{"2006 best [1]", false, func(p published) float64 { return p.hybrid2006 }},
	{"2013 average [2]", true, func(p published) float64 { return p.cuckooAvg }},
	{"2013 best [2]", false, func(p published) float64 { return p.cuckooBest }},
	{"2019 average [3]", true, func(p published) float64 { return p.rasterAvg }},
	{"2019 best [3]", false, func(p published) float64 { return p.rasterBest }},
	{"2025 average [4]", true, func(p published) float64 { return p.separateAvg }},
	{"2025 best [4]", false, func(p published) float64 { return p.separateB }},
}

// bestAverage is the best of a row's published averages.
func bestAverage(p published) float64 { return max(p.cuckooAvg, p.rasterAvg, p.separateAvg) }

func (v view) stripRow(name string, cols []column) []string {
	known := publishedDensities[name]
	row := []string{name, ""}
	for _, c := range cols {
		r, ok := find(v.strips, name, c)
		if ok {
			row[1] = fmt.Sprint(r.Parts)
		}
		row = append(row, ours(r.Density, ok, bestAverage(known)))
	}
	for _, p := range publishedColumns {
		row = append(row, theirs(p.of(known), p.of(fromMemory[name]) != 0))
	}
	return row
}

// meanRow is the mean of the twelve, of the columns that have all of them; of the
// published means one is of best runs and from memory.
func (v view) meanRow(cols []column) []string {
	row := []string{"**mean of the 12**", ""}
	for _, c := range cols {
		mean, ok := meanOfTwelve(v.strips, c)
		row = append(row, ours(mean, ok, 0))
	}
	for _, p := range publishedColumns {
		switch mean := p.of(publishedMeans); {
		case mean == 0:
			row = append(row, "")
		case p.average:
			row = append(row, fmt.Sprintf("**%.1f**", mean))
		default:
			row = append(row, fmt.Sprintf("%.1f (m, averages)", mean))
		}
	}
	return row
}

func ours(density float64, known bool, reach float64) string {
	switch {
	case !known:
		return "–"
	case rounded(density, 2) >= reach:
		return "**" + percent(density) + "**"
	}
	return percent(density)
}

func theirs(density float64, remembered bool) string {
	switch {
	case density == 0:
		return "–"
	case remembered:
		return percent(density) + " (m)"
	}
	return percent(density)
}
