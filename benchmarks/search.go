package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"kerfold/nest"
)

// A search is a named way to lay an instance out.
type search struct {
	name string
	run  func(context.Context, nest.Problem, nest.Options) (nest.Result, error)
}

// searches lists what -search takes, in the order "all" runs them.
var searches = []search{
	{"solve", nest.Solve},
	{"bottom-left", func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error) {
		return nest.BottomLeft(ctx, p, nil, o)
	}},
	{"tile", nest.Tile},
	{"genetic", nest.Genetic},
	{"separate", func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error) {
		return nest.Separate(ctx, p, nest.Result{}, o)
	}},
	{"lattice", nest.Lattice},
}

// searchNamed picks searches by a list of names.
func searchNamed(names string) ([]search, error) {
	if names == "all" {
		return searches, nil
	}
	var chosen []search
	for _, name := range strings.Split(names, ",") {
		at := slices.IndexFunc(searches, func(s search) bool { return s.name == name })
		if at < 0 {
			return nil, fmt.Errorf("no search is called %q; choose from %s, or all", name, strings.Join(searchNames(), ", "))
		}
		chosen = append(chosen, searches[at])
	}
	return chosen, nil
}

func searchNames() []string {
	var names []string
	for _, s := range searches {
		names = append(names, s.name)
	}
	return names
}
