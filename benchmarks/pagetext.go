package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// page writes the whole page.
func (v view) page(w io.Writer) {
	fmt.Fprint(w, pageHead)
	v.seriesTable(w)
	v.aimTable(w)
	for _, s := range []struct {
		list  []record
		write func(io.Writer)
	}{
		{v.strips, v.stripSection},
		{v.strips, v.curveSection},
		{v.bins, v.binSection},
		{v.families, v.familySection},
		{v.builtIn, v.builtInSection},
		{v.armed(), v.armSection},
		{v.refused, v.refusedSection},
	} {
		if len(s.list) > 0 {
			s.write(w)
		}
	}
	v.sources(w)
}

const pageHead = `# Recorded yields

This file, the plots and the pictures are made from [the records](results/records.jsonl)
by ` + "`go run ./benchmarks page`" + `, without running a search; change nothing here by hand.
What the figures mean is told in [README.md](README.md). One command runs whatever
is not yet recorded with the searches that are checked out, adds it to the records
and remakes this page; interrupted, it goes on where it stopped:

    go run ./benchmarks record

` + "`-series`, `-instances`, `-seed` and `-seconds`" + ` run less than all. Every layout was
judged by ` + "`nest/verify`" + ` and by a second library before it was recorded. Of several
records of the same run the newest is shown.

`

// seriesTable says what the command runs and how much of it is recorded.
func (v view) seriesTable(w io.Writer) {
	t := table{head: []string{"series", "instances", "searches", "limit for each", "runs shown here"}}
	all := slices.Concat(v.strips, v.bins, v.builtIn, v.families)
	for _, s := range allSeries {
		n := 0
		for _, r := range all {
			if r.Series == s.name {
				n++
			}
		}
		t.row(s.name, strings.ReplaceAll(s.instances, ",", ", "), strings.Join(s.searches, ", "), limitWord(s.seconds), fmt.Sprint(n))
	}
	t.write(w)
}

// A table is one in Markdown.
type table struct {
	head []string
	rows [][]string
}

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

func (t *table) write(w io.Writer) {
	line := func(cells []string) {
		for i, c := range cells {
			cells[i] = strings.ReplaceAll(c, "|", "\\|")
		}
		fmt.Fprintf(w, "| %s |\n", strings.Join(cells, " | "))
	}
	line(t.head)
	line(slices.Repeat([]string{"---"}, len(t.head)))
	for _, r := range t.rows {
		line(r)
	}
	fmt.Fprintln(w)
}

// percent is a density as tables print it.
func percent(x float64) string { return fmt.Sprintf("%.2f", x) }

// sources says of every column where its figures were made.
func (v view) sources(w io.Writer) {
	all := slices.Concat(v.strips, v.bins, v.builtIn, v.families)
	if len(all) == 0 {
		return
	}
	fmt.Fprint(w, `## Where and when

Processor time is that of the whole program over the time it ran: 2 means that two
cores were free for it all along, less that the search used fewer or that the
machine did other work. Where it "is the limit", seconds are processor time divided
by the workers, as -processor counts them, so that other work matters little. Engine is the last commit that changed what lays parts out;
checked out is the one to take to repeat the figures.

`)
	t := table{head: []string{"runs", "date", "seed", "workers", "processor time", "machine", "engine", "checked out", "note"}}
	for _, set := range setsOf(all) {
		mine := slices.DeleteFunc(slices.Clone(all), func(r record) bool { return r.Set != set })
		for _, c := range columns(mine) {
			t.rows = append(t.rows, sourceRow(set, c, c.of(mine)))
		}
	}
	t.write(w)
}

func sourceRow(set string, c column, list []record) []string {
	cpu, took := 0.0, 0.0
	for _, r := range list {
		if r.CPU > 0 && r.Clock == "" {
			cpu, took = cpu+r.CPU, took+r.Took
		}
	}
	cores := "unknown"
	if took > 0 {
		cores = fmt.Sprintf("%.2f", cpu/took)
	}
	if slices.ContainsFunc(list, func(r record) bool { return r.Clock == processorClock }) {
		cores = "is the limit"
	}
	return []string{
		fmt.Sprintf("%s: %s (%d)", set, c, len(list)), each(list, func(r record) string { return r.Date }),
		fmt.Sprint(c.seed), fmt.Sprint(c.workers), cores, each(list, func(r record) string { return r.Machine }),
		each(list, func(r record) string { return r.Engine }), each(list, func(r record) string { return r.Commit }),
		each(list, func(r record) string { return r.Note }),
	}
}

// each lists the different words of some records.
func each(list []record, word func(record) string) string {
	var all []string
	for _, r := range list {
		if s := word(r); s != "" && !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return strings.Join(all, "; ")
}

func setsOf(list []record) []string {
	return distinct(list, func(r record) string { return r.Set })
}

func (v view) refusedSection(w io.Writer) {
	fmt.Fprint(w, "## Refused\n\nThese runs gave no layout that counts.\n\n")
	t := table{head: []string{"run", "why"}}
	for _, r := range v.refused {
		t.row(r.key(), r.Fault)
	}
	t.write(w)
}
