package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"kerfold/geom/drawing"
)

// A drawn is a drawing file as read once.
type drawn struct {
	name   string // as messages name it
	key    string // file and options
	intake drawing.Intake
	err    error
	told   map[string]bool // findings already told
}

// drawing reads a file, once for each way of reading it.
func (l *loader) drawing(f *fields, file string, opt drawing.Options) *drawn {
	name, ok := l.resolve(f, "drawing", file)
	if !ok {
		return nil
	}
	key := fmt.Sprintf("%s|%s|%q|%q", name, opt.Units, opt.Layers, opt.Exclude)
	d := l.drawn[key]
	if d == nil {
		d = &drawn{name: name, key: key, told: map[string]bool{}}
		d.intake, d.err = l.readDrawing(name, opt)
		l.drawn[key] = d
		if d.err == nil {
			l.job.Drawings = append(l.job.Drawings, d.intake)
		}
	}
	if d.err != nil {
		f.fault(f.at("drawing"), fmt.Sprintf("drawing %s cannot be read: %v", d.name, plainReason(d.err)), l.drawingMend(d))
		return nil
	}
	return d
}

func (l *loader) readDrawing(name string, opt drawing.Options) (drawing.Intake, error) {
	data, err := l.read(name)
	if err != nil {
		return drawing.Intake{}, err
	}
	return drawing.Read(name, data, opt)
}

// plainReason says why a file could not be had without repeating its name.
func plainReason(err error) error {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file")
	case errors.As(err, &at):
		return at.Err
	}
	return err
}

func (l *loader) drawingMend(d *drawn) string {
	if !errors.Is(d.err, fs.ErrNotExist) {
		return "save it as DXF or SVG, or name another file"
	}
	return l.fileMend(d.name)
}

// fileMend names the file that was probably meant.
func (l *loader) fileMend(name string) string {
	const usual = "names are relative to the job file, with upper and lower case as on disk"
	if _, err := fs.ReadDir(l.fsys, path.Dir(name)); err != nil {
		return fmt.Sprintf("there is no folder %s; %s", path.Dir(name), usual)
	}
	if near, ok := l.nearFile(name); ok {
		return fmt.Sprintf("did you mean %s? %s", near, usual)
	}
	return usual
}

// nearFile is the file in the same folder whose name is nearest.
func (l *loader) nearFile(name string) (string, bool) {
	entries, err := fs.ReadDir(l.fsys, path.Dir(name))
	if err != nil {
		return "", false
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() {
			names = append(names, e.Name())
		}
	}
	near, ok := nearest(path.Base(name), names)
	return path.Join(path.Dir(name), near), ok
}

// findings tells what the drawing's reader met: what cannot be cut stops the
// order unless it accepts that kind of finding, what is doubtful is warned of.
func (l *loader) findings(f *fields, d *drawn, accept []string) {
	for _, kind := range accept {
		if !slices.ContainsFunc(d.intake.Findings, func(x drawing.Finding) bool { return string(x.Kind) == kind }) {
			f.warn(f.at("accept"), fmt.Sprintf("accept names %q, which %s does not show", kind, d.name), "remove it")
		}
	}
	for _, x := range d.intake.Findings {
		at := spot{file: d.name, line: x.Line}
		switch {
		case x.Level == drawing.Problem && !slices.Contains(accept, string(x.Kind)):
			l.once(d, x, func() {
				f.log.fault(at, f.subject, x.Text, fmt.Sprintf("mend the drawing, leave out its layer, or let the order say accept: [%s]", x.Kind))
			})
			f.faulty = true
		case x.Level >= drawing.Suspect:
			l.once(d, x, func() { f.warn(at, x.Text, "") })
		}
	}
}

// once keeps a drawing that serves many orders from being told of each time.
func (l *loader) once(d *drawn, x drawing.Finding, tell func()) {
	key := fmt.Sprintf("%s|%d|%s|%s", x.Kind, x.Line, x.Handle, strings.TrimSpace(x.Text))
	if !d.told[key] {
		d.told[key] = true
		tell()
	}
}
