package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"kerfold/cost"
	"kerfold/nest/report"
	"kerfold/nest/shop"
)

// TuneCmd learns the cut model's numbers from test cuts.
type TuneCmd struct {
	Cuts      string `arg:"" help:"Table of test cuts (CSV or XLSX): material, thickness_mm, pressure_mpa, orifice_mm, tube_mm, abrasive_g_per_min, grade and what was measured: speed_mm_per_min, or part_time_s with cut_length_mm and pierces, or pierce_time_s. Units as in the job file."`
	Materials string `help:"Material file to start from; its numbers are kept where the cuts teach nothing." placeholder:"FILE"`
	Out       string `help:"Material file to write, for the job file's material_file. Default: the table's name with -materials.yaml, in this folder." placeholder:"FILE"`
	Force     bool   `help:"Replace a file that was not written by this command."`
	DryRun    bool   `help:"Write no file."`
	Units     string `help:"Units of the text: metric or us (inch, inch a minute). The material file is metric; with us its comments give inches too." enum:"metric,us" default:"metric" placeholder:"SYSTEM"`
}

// tuneHead is the first line of the files this command writes, by which it
// knows its own.
const tuneHead = "materials learnt from test cuts"

// Run fits the cuts, tells what they teach and writes the material file.
func (cmd *TuneCmd) Run(c *console) error {
	known, err := cmd.known(c)
	if err != nil {
		return err
	}
	cuts, warnings, err := loadCuts(cmd.Cuts, known)
	if err != nil {
		return err
	}
	for _, w := range warnings {
		c.say("%s", w)
	}
	fit, err := cost.Tune(cuts, known)
	if err != nil {
		return fmt.Errorf("%s: %w", cmd.Cuts, err)
	}
	units, err := cost.ParseUnitSystem(cmd.Units)
	if err != nil {
		return err
	}
	if cmd.DryRun {
		return report.WriteFitIn(c.out, fit, units)
	}
	out := cmd.out()
	if err := cmd.mayWrite(out); err != nil {
		return err
	}
	if err := report.WriteFitIn(c.out, fit, units); err != nil {
		return err
	}
	note := []string{tuneHead, fmt.Sprintf("from %s, %d measurements", filepath.Base(cmd.Cuts), len(fit.Rows)), "name this file as material_file in a job file"}
	if err := writeWhole(out, shop.MarshalMaterialsIn(fit.Materials, units, note...)); err != nil {
		return err
	}
	c.say("wrote %s; name it as material_file in a job file", out)
	return nil
}

// known are the materials to start from.
func (cmd *TuneCmd) known(c *console) (map[string]cost.Material, error) {
	if cmd.Materials == "" {
		return cost.BuiltinMap(), nil
	}
	dir := filepath.Dir(cmd.Materials)
	known, warnings, err := shop.LoadMaterials(os.DirFS(dir), filepath.Base(cmd.Materials))
	for _, w := range warnings {
		c.say("%s", w)
	}
	return known, asNamed(err, dir)
}

func loadCuts(name string, known map[string]cost.Material) ([]cost.Cut, []string, error) {
	dir := filepath.Dir(name)
	cuts, warnings, err := shop.LoadCuts(os.DirFS(dir), filepath.Base(name), known)
	return cuts, warnings, asNamed(err, dir)
}

// asNamed tells faults by the file as the user named it.
func asNamed(err error, dir string) error {
	return underNames(err, func(file string) string { return filepath.Join(dir, filepath.FromSlash(file)) })
}

func (cmd *TuneCmd) out() string {
	if cmd.Out != "" {
		return cmd.Out
	}
	return strings.TrimSuffix(filepath.Base(cmd.Cuts), filepath.Ext(cmd.Cuts)) + "-materials.yaml"
}

// mayWrite refuses to overwrite an input, or a file of somebody else's.
func (cmd *TuneCmd) mayWrite(out string) error {
	for _, in := range []string{cmd.Cuts, cmd.Materials} {
		if in != "" && sameFile(out, in) {
			return fmt.Errorf("%s is an input of this command: name another file with --out", out)
		}
	}
	data, err := os.ReadFile(out)
	if err != nil || cmd.Force || bytes.HasPrefix(data, []byte("# "+tuneHead)) {
		return nil
	}
	return fmt.Errorf("%s is there and was not written by this command: name another file with --out, or give --force", out)
}
