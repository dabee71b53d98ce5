package drawing

import (
	"fmt"
	"math"

	"kerfold/geom"
)

// maxSize bounds the data in bytes that Read takes: places in it are counted
// in 32 bits.
const maxSize = math.MaxInt32

// Bounds of the join tolerance in mm. Gaps wider than the upper one are drawn,
// not left; a hundredth of the lower one, which makes two ends one point, is
// about the grid.
const (
	minJoin = 1e-4
	maxJoin = 10
)

// Read reads a drawing. The name is used in messages only; what the data are
// is told by their content. The error is not nil when the data are no drawing
// or nothing in them can be read; problems in single contours are findings.
//
// Read works in the memory of its arguments and keeps nothing between calls:
// calls may run side by side.
func Read(name string, data []byte, o Options) (Intake, error) {
	in, err := read(data, o)
	in.Name = name
	if err != nil {
		return in, fmt.Errorf("%s: %w", name, err)
	}
	return in, nil
}

func read(data []byte, o Options) (Intake, error) {
	if len(data) > maxSize {
		return Intake{}, fmt.Errorf("the file has %d bytes; drawings beyond 2 GB are not read", len(data))
	}
	if o.Units != UnitAuto {
		if _, ok := o.Units.MM(); !ok {
			return Intake{}, fmt.Errorf("unit %q has no length", o.Units)
		}
	}
	if t := o.JoinTolerance; t != 0 && !(t >= minJoin && t <= maxJoin) {
		return Intake{}, fmt.Errorf("a join tolerance of %v mm cannot be used: state one from %v to %v, or 0 for the default", t, minJoin, maxJoin)
	}
	data = toBytes(data)
	f, err := detect(data)
	if err != nil {
		return Intake{}, err
	}
	d := newDraft(newLog(), len(data))
	var in Intake
	if f == formatSVG {
		in, err = readSVG(data, d, o)
	} else {
		in, err = readDXF(data, f, d, o)
	}
	if err != nil {
		return in, err
	}
	finish(&in, d, o)
	return in, nil
}

// readDXF parses and expands a DXF file onto the draft.
func readDXF(data []byte, f format, d *draft, o Options) (Intake, error) {
	doc := parseDXF(data, f, d.log)
	if len(doc.model) == 0 && len(doc.blocks) == 0 && doc.version == "" {
		return Intake{}, fmt.Errorf("no entities found; the data begin like a DXF but hold none")
	}
	in := Intake{Format: doc.describe(f)}
	in.Units, in.UnitsFrom = doc.unitsOf(o)
	factor, ok := in.Units.MM()
	if !ok {
		factor = 1 // said by judgeUnits
	}
	expand(doc, d, o, factor)
	return in, nil
}

// versions names the values of $ACADVER as people do.
var versions = map[string]string{
	"AC1006": "R10", "AC1009": "R12", "AC1012": "R13", "AC1014": "R14", "AC1015": "R2000",
	"AC1018": "R2004", "AC1021": "R2007", "AC1024": "R2010", "AC1027": "R2013", "AC1032": "R2018",
}

func (d *document) describe(f format) string {
	v, ok := versions[d.version]
	if !ok {
		v = "of unnamed version"
	}
	if f == formatBinary {
		return "DXF " + v + " binary"
	}
	return "DXF " + v + " ASCII"
}

// finish heals the draft and fills in the intake.
func finish(in *Intake, d *draft, o Options) {
	d.keepSomething(o)
	size, moved := d.settle()
	in.Moved = moved
	judgeUnits(d.log, in.Units, in.UnitsFrom, size)
	in.Layers = d.layerUse()
	h := heal(d, o)
	ns := h.sortLoops(h.crossings())
	in.Parts = h.parts(ns, o)
	for _, c := range h.open {
		in.Open = append(in.Open, geom.Path(onGrid(c.verts)))
	}
	for _, l := range h.refused {
		in.Refused = append(in.Refused, onGrid(l.verts))
	}
	in.measure()
	in.shortPieces(d.log)
	if len(in.Parts) == 0 {
		text := "no closed contour was found"
		if len(d.entities) == 0 {
			text = "the drawing holds no outline at all: no lines, arcs or curves in its model"
		}
		d.log.add(Finding{Kind: NoContour, Level: Problem, Text: text})
	}
	in.Entities, in.Skipped = d.entities, d.skipped
	in.Drawn = d.drawn
	in.Findings = d.log.findings
}

// measure sets the length and extents of what is kept.
func (in *Intake) measure() {
	in.PathMM, in.Bounds = 0, emptyBound()
	for _, p := range in.Parts {
		in.PathMM += p.Length()
		in.Bounds = grow(in.Bounds, boundOf(p.Outer))
	}
	for _, p := range in.Open {
		in.PathMM += p.Length()
		in.Bounds = growBy(in.Bounds, pathSegments(p))
	}
	for _, c := range in.Refused {
		in.PathMM += c.Length()
		in.Bounds = grow(in.Bounds, boundOf(c))
	}
}

// shortPieces reports pieces of the parts too short for a machine to turn
// into and out of. They are kept: without them contours would not close.
func (in *Intake) shortPieces(l *log) {
	f := Finding{Kind: ShortPiece, Level: Note, HasAt: true, Text: "a contour has a piece shorter than " + mm(ShortLength) + "; kept"}
	for _, p := range in.Parts {
		for _, c := range append([]geom.Contour{p.Outer}, p.Holes...) {
			for _, s := range contourSegments(c) {
				if s.length() < ShortLength {
					f.At = s.a
					l.add(f)
				}
			}
		}
	}
}
