package main

import (
	"fmt"
	"slices"
	"strings"
)

// The usual column of the families: all searches for a minute.
var familyColumn = column{search: "solve", limit: 60, seed: 1, workers: 2}

// familyAim measures one instance of a family after a minute.
func familyAim(name string, figure func(record) (string, bool)) func(view) (string, bool) {
	return func(v view) (string, bool) {
		r, ok := find(v.families, name, familyColumn)
		if !ok {
			return "", false
		}
		return figure(r)
	}
}

// nearAim compares a minute's yield with that of ten.
func nearAim(name string) func(view) (string, bool) {
	return func(v view) (string, bool) {
		long := familyColumn
		long.limit = 600
		a, ok1 := find(v.families, name, familyColumn)
		b, ok2 := find(v.families, name, long)
		if !ok1 || !ok2 {
			return "", false
		}
		return fmt.Sprintf("%.2f %% and %.2f %%", a.Density, b.Density), a.Density >= 0.99*b.Density
	}
}

// latticeAim compares all searches with the lattice alone, where there is one kind
// of part.
func latticeAim(v view) (string, bool) {
	lattice := familyColumn
	lattice.search = "lattice"
	n := 0
	var thinner []string
	for _, r := range familyColumn.of(v.families) {
		alone, ok := find(v.families, r.Instance, lattice)
		if !ok || r.Kinds != 1 {
			continue
		}
		if n++; alone.denser(r) {
			thinner = append(thinner, fmt.Sprintf("%s %.2f against %.2f %%, fullest sheet %.2f against %.2f %%", r.Instance, r.Density, alone.Density, r.Fullest, alone.Fullest))
		}
	}
	if n == 0 {
		return "", false
	}
	slices.Sort(thinner)
	said := fmt.Sprintf("%d of %d", n-len(thinner), n)
	if len(thinner) > 0 {
		said += "; thinner: " + strings.Join(thinner, ", ")
	}
	return said, len(thinner) == 0
}

// clipAim compares the fullest sheets with the most whole copies that a lattice
// has on such a sheet.
func clipAim(v view) (string, bool) {
	return familiesReach(v, 97, func(r record) (float64, string) { return r.clip(), clipWord(r) })
}

// shareAim compares the fullest sheets with the densest lattice in the plane. No
// sheet of finite size reaches it, the less the larger its parts.
func shareAim(v view) (string, bool) {
	return familiesReach(v, 97, func(r record) (float64, string) { return r.Lattice, latticeWord(r) })
}

// familiesReach counts the instances whose figure is at least reach, and names the
// others. A figure of 0 is none.
func familiesReach(v view, reach float64, figure func(record) (float64, string)) (string, bool) {
	n := 0
	var short []string
	for _, r := range familyColumn.of(v.families) {
		x, word := figure(r)
		if x == 0 {
			continue
		}
		if n++; x < reach {
			short = append(short, r.Instance+" "+word)
		}
	}
	if n == 0 {
		return "", false
	}
	said := fmt.Sprintf("%d of %d", n-len(short), n)
	if len(short) > 0 {
		said += "; less: " + strings.Join(short, ", ")
	}
	return said, len(short) == 0
}
