package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"kerfold/geom/drawing"
)

// InspectCmd reads drawings and says what it found in them. It exits with 0
// when every contour of every drawing closes and can be cut, with 1 when one
// does not or an entity could not be read, with 2 when a file is no drawing
// that can be read.
type InspectCmd struct {
	Files   []string `arg:"" name:"file" help:"Drawings, DXF or SVG; - reads standard input."`
	JSON    bool     `name:"json" help:"Print the report as JSON."`
	SVG     string   `name:"svg" placeholder:"FILE" help:"Write a picture with problems marked where they are: a file ending in .svg, or a folder that receives one picture for each drawing."`
	Units   string   `help:"Unit the drawings are in, whatever they say themselves: mm, cm, m, in, ft …"`
	Layer   []string `help:"Use only this layer; may be given several times."`
	Without []string `help:"Leave this layer out; may be given several times."`
	Join    float64  `placeholder:"MM" help:"Largest gap between loose ends that is closed without asking, in mm (default 0.01)."`
}

// Run reads every file, whether or not another one failed.
func (cmd *InspectCmd) Run(c *console) error {
	o, err := cmd.options()
	if err != nil {
		return err
	}
	var reports []drawing.Report
	var failures []error
	faulty := false
	for _, name := range cmd.Files {
		in, err := inspectFile(name, o)
		if err == nil {
			err = cmd.picture(name, in)
		}
		if err != nil {
			failures = append(failures, err)
			continue
		}
		faulty = faulty || !in.Closed() || in.Worst() == drawing.Problem
		reports = append(reports, drawing.NewReport(in))
		if !cmd.JSON {
			if len(reports) > 1 {
				fmt.Fprintln(c.out)
			}
			if err := drawing.WriteReport(c.out, in); err != nil {
				return err
			}
		}
	}
	if cmd.JSON {
		if err := drawing.WriteReportJSON(c.out, reports); err != nil {
			return err
		}
	}
	if len(failures) == 0 && faulty {
		return errProblems
	}
	return errors.Join(failures...)
}

func (cmd *InspectCmd) options() (drawing.Options, error) {
	u, err := drawing.ParseUnit(cmd.Units)
	if err != nil {
		return drawing.Options{}, err
	}
	if strings.HasSuffix(strings.ToLower(cmd.SVG), ".svg") && len(cmd.Files) > 1 {
		return drawing.Options{}, fmt.Errorf("--svg %s names one picture for %d drawings: name a folder instead", cmd.SVG, len(cmd.Files))
	}
	return drawing.Options{Units: u, Layers: cmd.Layer, Exclude: cmd.Without, JoinTolerance: cmd.Join}, nil
}

func inspectFile(name string, o drawing.Options) (drawing.Intake, error) {
	if name == "-" {
		data, err := io.ReadAll(os.Stdin)
		if err != nil {
			return drawing.Intake{}, err
		}
		return drawing.Read("standard input", data, o)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return drawing.Intake{}, unread(name, "the drawing", err)
	}
	in, err := drawing.Read(filepath.Base(name), data, o)
	if err != nil && o.JoinTolerance == 0 {
		err = fmt.Errorf("%w: save it as DXF or SVG, or name another file", err)
	}
	if dir := filepath.Dir(name); err != nil && dir != "." {
		err = fmt.Errorf("%s%c%w", dir, filepath.Separator, err)
	}
	return in, err
}

// picture writes the picture where one is asked for.
func (cmd *InspectCmd) picture(name string, in drawing.Intake) error {
	if cmd.SVG == "" {
		return nil
	}
	out := cmd.SVG
	if !strings.HasSuffix(strings.ToLower(out), ".svg") {
		if err := os.MkdirAll(out, 0o777); err != nil {
			return err
		}
		out = filepath.Join(out, strings.ReplaceAll(filepath.Base(name), string(filepath.Separator), "_")+".svg")
	}
	if sameFile(out, name) {
		return fmt.Errorf("--svg %s would overwrite the drawing itself: name another file", out)
	}
	var buf bytes.Buffer
	if err := drawing.WritePicture(&buf, in); err != nil {
		return err
	}
	return writeWhole(out, buf.Bytes())
}

func sameFile(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}

// writeWhole puts a file in place in one step: a reader sees the old one or
// the new one, whole.
func writeWhole(name string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".writing-")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	defer os.Remove(f.Name()) // gone already where all went well
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(0o666&^umask), f.Close())
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

// umask is what new files are usually not open to.
const umask = 0o022
