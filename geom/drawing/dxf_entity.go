package drawing

import "math"

// A shape knows how to draw itself onto a draft, through the map that takes
// its block to the drawing's plane in mm.
type shape interface {
	draw(p *pen, m affine3)
}

// role says what an entity type is to us.
type role int

const (
	outline      role = iota // draws an outline
	annotation               // talks about the part
	construction             // helps to draw
	companion                // belongs to the entity before it
	hidden                   // holds geometry that only its own program can read
)

// roles sorts the entity types of the DXF reference.
var roles = map[string]role{
	"LINE": outline, "ARC": outline, "CIRCLE": outline, "ELLIPSE": outline, "SPLINE": outline,
	"LWPOLYLINE": outline, "POLYLINE": outline, "INSERT": outline,
	"VERTEX": companion, "SEQEND": companion,
	"TEXT": annotation, "MTEXT": annotation, "RTEXT": annotation, "ARCALIGNEDTEXT": annotation,
	"ATTRIB": annotation, "ATTDEF": annotation, "DIMENSION": annotation, "ARC_DIMENSION": annotation,
	"LARGE_RADIAL_DIMENSION": annotation, "LEADER": annotation, "MLEADER": annotation, "MULTILEADER": annotation,
	"TOLERANCE": annotation, "HATCH": annotation, "SOLID": annotation, "TRACE": annotation,
	"POINT": annotation, "SHAPE": annotation, "WIPEOUT": annotation, "IMAGE": annotation,
	"OLEFRAME": annotation, "OLE2FRAME": annotation, "VIEWPORT": annotation, "ACAD_TABLE": annotation,
	"LIGHT": annotation, "SUN": annotation, "SECTION": annotation, "GEOPOSITIONMARKER": annotation,
	"PDFUNDERLAY": annotation, "DWFUNDERLAY": annotation, "DGNUNDERLAY": annotation, "CAMERA": annotation,
	"RAY": construction, "XLINE": construction,
}

// takeEntity reads the current record as an entity of the open block or the
// model.
func (p *parser) takeEntity() {
	r, known := roles[p.rec.typ]
	if !known {
		r = hidden
	}
	if p.rec.typ == "VERTEX" {
		p.takeVertex()
		return
	}
	p.finishPolyline()
	switch r {
	case outline:
		p.takeOutline()
	case annotation, construction, hidden:
		if known || p.section != "END" && p.section != "" {
			p.takeOther(r)
		}
	}
}

// takeOther counts an entity that draws nothing.
func (p *parser) takeOther(r role) {
	var f fields
	p.common(&f, false)
	p.countOther(p.rec.typ, origin{p.rec.typ, p.rec.line, f.handle}, f, r)
}

func (p *parser) countOther(typ string, from origin, f fields, r role) {
	from.typ = typ
	key := otherKey{p.block, typ, f.layer, f.paper}
	o := p.others[key]
	if o == nil {
		o = &otherEntities{origin: from, layer: f.layer, paper: f.paper, role: r}
		p.others[key] = o
		if p.block != nil {
			p.block.others = append(p.block.others, o)
		} else {
			p.doc.others = append(p.doc.others, o)
		}
	}
	o.count++
}

// takeOutline reads an entity that draws an outline.
func (p *parser) takeOutline() {
	var f fields
	var s shape
	switch p.rec.typ {
	case "LWPOLYLINE":
		p.common(&f, false)
		s = p.lwPolyline(&f)
	case "SPLINE":
		p.common(&f, false)
		s = p.spline(&f)
	case "POLYLINE":
		p.common(&f, true)
		p.openPolyline(f)
		return
	default:
		p.common(&f, true)
		s = f.simple(p.rec.typ)
		if s == nil && p.rec.typ == "INSERT" {
			s = p.insert(&f)
		}
	}
	if s == nil || f.bad {
		p.badEntity()
		return
	}
	p.keep(f, s)
}

func (p *parser) badEntity() {
	p.log.add(Finding{
		Kind: BadEntity, Level: Problem, Line: p.rec.line,
		Text: p.rec.typ + " lacks a number it needs, or holds one that is none; left out",
	})
}

// keep files an entity.
func (p *parser) keep(f fields, s shape) {
	e := entity{
		origin: origin{p.rec.typ, p.rec.line, f.handle},
		layer:  f.layer, ltype: f.ltype, paper: f.paper, invisible: f.invisible, shape: s,
	}
	p.file(e)
}

func (p *parser) file(e entity) {
	if p.block != nil {
		p.block.entities = append(p.block.entities, e)
	} else {
		p.doc.model = append(p.doc.model, e)
	}
}

// fields are the groups that many entity types share. Groups 10 to 59 hold
// coordinates, lengths and angles; groups 70 to 79 integers.
type fields struct {
	real      [50]float64
	has       uint64 // bit i: group 10+i was given
	int       [10]int
	normal    vec3
	elevation float64
	layer     int
	ltype     int
	handle    uint64
	paper     bool
	invisible bool
	name      tag // group 2
	bad       bool
}

// common reads the current record into f; reals says whether to read groups
// 10 to 59, which types with many vertices read themselves.
func (p *parser) common(f *fields, reals bool) {
	f.ltype = byLayer
	f.normal = vec3{0, 0, 1}
	layer := tag{}
	for _, g := range p.rec.tags {
		switch {
		case g.code >= 10 && g.code < 60:
			if reals {
				f.setReal(p, g)
			}
		case g.code >= 70 && g.code < 80:
			f.int[g.code-70] = p.int(g)
		case g.code == 101: // an embedded object repeats the codes
			f.layer = p.layerID(layer)
			return
		case g.code == 8:
			layer = g
		default:
			p.rare(f, g)
		}
	}
	f.layer = p.layerID(layer)
}

func (f *fields) setReal(p *parser, g tag) {
	v, ok := p.float(g)
	f.bad = f.bad || !ok
	f.real[g.code-10] = v
	f.has |= 1 << (g.code - 10)
	if g.code == 38 {
		f.elevation = v
	}
}

// rare reads the groups that few entities carry.
func (p *parser) rare(f *fields, g tag) {
	switch g.code {
	case 2:
		f.name = g
	case 5:
		f.handle = p.hex(g)
	case 6:
		f.ltype = p.ltypeID(g)
	case 60:
		f.invisible = p.int(g) == 1
	case 67:
		f.paper = p.int(g) == 1
	case 210, 220, 230:
		v, ok := p.float(g)
		f.bad = f.bad || !ok
		f.normal[g.code/10-21] = v
	}
}

// given reports whether all these groups were there.
func (f *fields) given(codes ...int) bool {
	for _, c := range codes {
		if f.has>>(c-10)&1 == 0 {
			return false
		}
	}
	return true
}

// point returns the point whose x is in group code: y is in code+10, z in
// code+20.
func (f *fields) point(code int) vec3 {
	return vec3{f.real[code-10], f.real[code], f.real[code+10]}
}

// simple builds the types that have a fixed number of groups; nil where one is
// missing.
func (f *fields) simple(typ string) shape {
	switch {
	case typ == "LINE" && f.given(10, 20, 11, 21):
		return line{f.point(10), f.point(11)}
	case typ == "CIRCLE" && f.given(10, 20, 40) && f.real[30] > 0:
		return f.arc(0, 2*math.Pi)
	case typ == "ARC" && f.given(10, 20, 40, 50, 51) && f.real[30] > 0:
		from := math.Mod(f.real[40], 360)
		sweep := math.Mod(f.real[41]-f.real[40], 360)
		if sweep <= 0 {
			sweep += 360
		}
		return f.arc(from*math.Pi/180, sweep*math.Pi/180)
	case typ == "ELLIPSE" && f.given(10, 20, 11, 21, 40) && f.real[30] != 0:
		return f.ellipse()
	}
	return nil
}

// arc builds a circular arc in the entity's own coordinate system.
func (f *fields) arc(from, sweep float64) shape {
	r := f.real[30]
	a := arc{centre: f.point(10), u: vec3{r}, v: vec3{0, r}, from: from, sweep: sweep}
	if f.normal != (vec3{0, 0, 1}) {
		m := extruded(f.normal)
		a.centre, a.u, a.v = m.at(a.centre), m.dir(a.u), m.dir(a.v)
	}
	return a
}

// ellipse builds an elliptical arc; its groups are in the drawing's
// coordinates.
func (f *fields) ellipse() shape {
	u := f.point(11)
	n, ok := f.normal.unit()
	if !ok {
		n = vec3{0, 0, 1}
	}
	a := arc{centre: f.point(10), u: u, v: n.cross(u).scale(f.real[30]), sweep: 2 * math.Pi}
	if f.given(41, 42) {
		a.from = math.Mod(f.real[31], 2*math.Pi)
		a.sweep = math.Mod(f.real[32]-f.real[31], 2*math.Pi)
		if a.sweep <= 1e-12 {
			a.sweep += 2 * math.Pi
		}
	}
	return a
}
