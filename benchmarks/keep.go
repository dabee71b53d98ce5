package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"kerfold/geom"
	"kerfold/nest"
)

// keptMost bounds the parts of a layout that is kept, where equal sheets count
// once: of a plan with more, the first sheets are kept, at least one.
const keptMost = 600

// layoutName is the file of a kept layout, from the results folder. A run that is
// repeated overwrites it, as its record replaces the older one on the page.
func layoutName(r record) string {
	return fmt.Sprintf("layouts/%s-%s-%gs-seed%d.json", r.Instance, r.Search, r.Limit, r.Seed)
}

// keepLayout writes an outcome's layout in the form [layoutFile] without spaces,
// equal sheets once.
func keepLayout(dir string, o outcome, b budget, name string) error {
	kept := keptOf(stacks(o.result.Layouts))
	left := len(o.result.Layouts) - sheets(kept)
	o.result.Layouts = nil
	var times []int
	for _, s := range kept {
		o.result.Layouts = append(o.result.Layouts, s.Layout)
		times = append(times, s.times)
	}
	f := o.file(b)
	if !o.in.strip() {
		f.Times, f.BinsLeftOut = times, left
	}
	data, err := json.Marshal(f)
	if err != nil {
		return err
	}
	return writeWhole(filepath.Join(dir, "results", name), append(data, '\n'))
}

// keptOf is the first of some stacks, with [keptMost] parts at most.
func keptOf(all []stack) []stack {
	n := 0
	for i, s := range all {
		if n += len(s.Placements); n > keptMost && i > 0 {
			return all[:i]
		}
	}
	return all
}

// readKept reads a kept layout back as a search's result.
func readKept(dir, name string, in instance) (nest.Result, error) {
	file := filepath.Join(dir, "results", name)
	data, err := os.ReadFile(file)
	if err != nil {
		return nest.Result{}, err
	}
	var f layoutFile
	if err := json.Unmarshal(data, &f); err != nil {
		return nest.Result{}, fmt.Errorf("%s: %w", file, err)
	}
	r := nest.Result{Length: f.Length, Density: f.Density / 100}
	bins := f.Bins
	if in.strip() {
		bins, f.Times = [][]placementFile{f.Placements}, []int{1}
	}
	if len(bins) != len(f.Times) {
		return r, fmt.Errorf("%s: %d sheets and %d numbers of times", file, len(bins), len(f.Times))
	}
	var all []stack
	for i, bin := range bins {
		l, err := in.layoutOf(bin)
		if err != nil {
			return r, fmt.Errorf("%s: %w", file, err)
		}
		all = append(all, stack{l, f.Times[i]})
	}
	r.Layouts = spread(all)
	return r, nil
}

func (in instance) layoutOf(list []placementFile) (nest.Layout, error) {
	at := map[string]int{}
	for i, p := range in.Parts {
		at[p.ID] = i
	}
	var l nest.Layout
	for _, p := range list {
		i, known := at[p.Part]
		if !known {
			return l, fmt.Errorf("%s has no part %q", in.Name, p.Part)
		}
		l.Placements = append(l.Placements, nest.Placement{Part: i, Pose: geom.Pose{AngleDeg: p.Rotation, X: p.X, Y: p.Y}})
	}
	return l, nil
}
