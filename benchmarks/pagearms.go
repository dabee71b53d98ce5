package main

import (
	"fmt"
	"io"
	"slices"
)

// armed lists the records of all searches together that say which arm found the
// layout; older ones do not.
func (v view) armed() []record {
	var list []record
	for _, part := range [][]record{v.strips, v.bins, v.families, v.builtIn} {
		for _, r := range part {
			if r.Search == "solve" && r.Won != "" {
				list = append(list, r)
			}
		}
	}
	return list
}

// armSection tells which arm found the layouts of all searches together.
func (v view) armSection(w io.Writer) {
	fmt.Fprint(w, `## Which arm won

`+"`solve`"+` begins with bottom-left placement and then runs the other arms on what is
best so far. How often each of them had the last word, of the runs whose records say so
(older ones do not):

`)
	list := v.armed()
	arms := armsOf(list)
	t := table{head: append([]string{"set", "limit", "instances"}, arms...)}
	for _, set := range setsOf(list) {
		for _, c := range columns(list) {
			mine := slices.DeleteFunc(c.of(list), func(r record) bool { return r.Set != set })
			if len(mine) > 0 {
				t.rows = append(t.rows, armRow(set, c, mine, arms))
			}
		}
	}
	t.write(w)
}

func armRow(set string, c column, list []record, arms []string) []string {
	row := []string{set, limitWord(c.limit), fmt.Sprint(len(list))}
	for _, arm := range arms {
		n := 0
		for _, r := range list {
			if r.Won == arm {
				n++
			}
		}
		word := ""
		if n > 0 {
			word = fmt.Sprint(n)
		}
		row = append(row, word)
	}
	return row
}

// armsOf lists the arms that won anything, by name.
func armsOf(list []record) []string {
	arms := distinct(list, func(r record) string { return r.Won })
	slices.Sort(arms)
	return arms
}
