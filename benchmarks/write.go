package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"

	"kerfold/geom"
	"kerfold/nest"
)

// layoutFile is a layout in JSON. A strip has placements and a length; bins have
// a list of placements each. A pose turns the outline counter-clockwise about
// its own (0, 0) and then moves it by (x, y); the strip runs from x = 0 with y
// in [0, width].
type layoutFile struct {
	Instance    string            `json:"instance"`
	Method      string            `json:"method"`
	Source      string            `json:"source"`
	Seed        uint64            `json:"seed"`
	Length      float64           `json:"length,omitempty"`
	Density     float64           `json:"density_percent"`
	Seconds     float64           `json:"seconds"`
	Placements  []placementFile   `json:"placements,omitempty"`
	Bins        [][]placementFile `json:"bins,omitempty"`
	Times       []int             `json:"times,omitempty"`         // of a kept layout, how often each of the bins is cut
	BinsLeftOut int               `json:"bins_left_out,omitempty"` // of a kept layout, the bins that are not in it
}

type placementFile struct {
	Part     string  `json:"part"`
	Rotation float64 `json:"rotation_deg"`
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
}

// writeOutcome writes a legal layout, and the curve of every search.
func writeOutcome(dir string, o outcome, b budget) error {
	name := o.in.Name + "-" + o.search
	if len(o.faults) == 0 {
		data, err := json.MarshalIndent(o.file(b), "", " ")
		if err != nil {
			return err
		}
		if err := writeWhole(filepath.Join(dir, name+".json"), append(data, '\n')); err != nil {
			return err
		}
	}
	var csv bytes.Buffer
	fmt.Fprintln(&csv, "seconds,density_percent,bins")
	for _, p := range o.curve {
		fmt.Fprintf(&csv, "%.3f,%.4f,%d\n", p.seconds, 100*p.density, p.sheets)
	}
	return writeWhole(filepath.Join(dir, name+".csv"), csv.Bytes())
}

func (o outcome) file(b budget) layoutFile {
	f := layoutFile{
		Instance: o.in.Name, Method: o.search, Source: "kerfold benchmarks", Seed: b.seed,
		Length: o.result.Length, Density: 100 * o.result.Density, Seconds: o.seconds,
	}
	for _, l := range o.result.Layouts {
		list := o.in.placements(l)
		if o.in.strip() {
			f.Placements = append(f.Placements, list...)
		} else {
			f.Bins = append(f.Bins, list)
		}
	}
	return f
}

func (in instance) placements(l nest.Layout) []placementFile {
	list := make([]placementFile, len(l.Placements))
	for i, p := range l.Placements {
		list[i] = placementFile{Part: in.Parts[p.Part].ID, Rotation: geom.NormalDeg(p.Pose.AngleDeg), X: p.Pose.X, Y: p.Pose.Y}
	}
	return list
}

// writeWhole writes a file that appears whole or not at all.
func writeWhole(path string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return renameio.WriteFile(path, data, 0o644)
}
