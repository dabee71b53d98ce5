package main

import (
	"slices"

	"kerfold/nest"
)

// A stack is a layout with the number of sheets that are laid out so.
type stack struct {
	nest.Layout
	times int
}

// stacks puts equal layouts together, in the order of the first of each.
func stacks(list []nest.Layout) []stack {
	var all []stack
	for _, l := range list {
		i := slices.IndexFunc(all, func(s stack) bool { return s.Sheet == l.Sheet && slices.Equal(s.Placements, l.Placements) })
		if i < 0 {
			all = append(all, stack{l, 1})
			continue
		}
		all[i].times++
	}
	return all
}

// spread is a stack's layouts, one a sheet.
func spread(all []stack) []nest.Layout {
	var list []nest.Layout
	for _, s := range all {
		list = append(list, slices.Repeat([]nest.Layout{s.Layout}, s.times)...)
	}
	return list
}

// sheets counts the sheets of some stacks.
func sheets(all []stack) int {
	n := 0
	for _, s := range all {
		n += s.times
	}
	return n
}
