package main

import (
	"fmt"
	"slices"
	"strings"
)

// A series is a list of runs that the recording does together: every search on
// every instance with one limit. To have a new family of instances recorded, give
// its instances a set of their own, add them to [generated] or to the public folder,
// and add a series here; page and pictures follow from the records.
type series struct {
	name      string
	instances string // names or sets, as -instances takes them
	searches  []string
	seconds   float64 // for each search on each instance
	pictures  bool    // keep the layouts, for pictures of the best ones
}

// allSeries are run in this order.
var allSeries = []series{
	{"built-in-10", builtInSet, []string{"genetic", "solve"}, 10, true},
	{"strips-60", "strip", []string{"genetic", "separate", "solve"}, 60, true},
	{"bins-60", "terashima1,terashima2", []string{"solve"}, 60, false},
	{"gaskets-60", gasketSet, []string{"genetic", "separate", "lattice", "solve"}, 60, true},
	{"mix-60", mixSet, []string{"genetic", "solve"}, 60, true},
	{"strips-600", "strip", []string{"solve"}, 600, true},
	{"mix-600", mixSet, []string{"solve"}, 600, true},
	{"strips-1200", "strip", []string{"solve"}, 1200, true},
}

// seriesNamed picks series by a comma-separated list of names; all of them
// without one.
func seriesNamed(names string) ([]series, error) {
	if names == "" || names == "all" {
		return allSeries, nil
	}
	var chosen []series
	for _, name := range strings.Split(names, ",") {
		at := slices.IndexFunc(allSeries, func(s series) bool { return s.name == strings.TrimSpace(name) })
		if at < 0 {
			return nil, fmt.Errorf("no series is called %q; choose from %s, or all", name, strings.Join(seriesNames(), ", "))
		}
		chosen = append(chosen, allSeries[at])
	}
	return chosen, nil
}

func seriesNames() []string {
	var names []string
	for _, s := range allSeries {
		names = append(names, s.name)
	}
	return names
}

// ways are the searches of the series.
func (s series) ways() ([]search, error) {
	return searchNamed(strings.Join(s.searches, ","))
}
