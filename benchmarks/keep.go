package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"kerfold/geom"
	"kerfold/nest"
)

// keptMost bounds the parts of a layout that is kept: of a plan with more, the
// first sheets are kept, at least one.
const keptMost = 600

// layoutName is the file of a kept layout, from the results folder. A run that is
// repeated overwrites it, as its record replaces the older one on the page.
func layoutName(r record) string {
	return fmt.Sprintf("layouts/%s-%s-%gs-seed%d.json", r.Instance, r.Search, r.Limit, r.Seed)
}

// keepLayout writes an outcome's layout in the form [layoutFile] without spaces.
func keepLayout(dir string, o outcome, b budget, name string) error {
	f := o.file(b)
	n := 0
	for i, bin := range f.Bins {
		if n += len(bin); n > keptMost && i > 0 {
			f.BinsLeftOut = len(f.Bins) - i
			f.Bins = f.Bins[:i]
			break
		}
	}
	data, err := json.Marshal(f)
	if err != nil {
		return err
	}
	return writeWhole(filepath.Join(dir, "results", name), append(data, '\n'))
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
		bins = [][]placementFile{f.Placements}
	}
	for _, bin := range bins {
		l, err := in.layoutOf(bin)
		if err != nil {
			return r, fmt.Errorf("%s: %w", file, err)
		}
		r.Layouts = append(r.Layouts, l)
	}
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
