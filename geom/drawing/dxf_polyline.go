package drawing

import "github.com/paulmach/orb"

// A polyline is a chain of vertices, flat in its own coordinate system or free
// in space.
type polyline struct {
	verts   []bulgePoint
	closed  bool
	spatial bool // vertices are points of space: no bulges
	height  float64
	normal  vec3
	bad     bool
}

// A waiting polyline is a POLYLINE whose vertices are still to come.
type waiting struct {
	polyline
	fields fields
	origin origin
	mesh   bool // a surface, no outline
}

// A bulgePoint is a vertex as drawn.
type bulgePoint struct {
	p     vec3
	bulge float64
}

// lwPolyline reads an LWPOLYLINE.
func (p *parser) lwPolyline(f *fields) shape {
	s := &polyline{closed: f.int[0]&1 != 0, normal: f.normal}
	for _, g := range p.rec.tags {
		if g.code == 101 { // an embedded object repeats the codes
			break
		}
		p.lwVertex(s, g)
	}
	if s.bad || len(s.verts) == 0 {
		return nil
	}
	return s
}

// lwVertex takes one group of an LWPOLYLINE; group 10 begins a vertex.
func (p *parser) lwVertex(s *polyline, g tag) {
	if g.code != 10 && g.code != 20 && g.code != 42 && g.code != 38 {
		return
	}
	v, ok := p.float(g)
	s.bad = s.bad || !ok
	if g.code == 10 {
		s.verts = append(s.verts, bulgePoint{p: vec3{v}})
		return
	}
	if g.code == 38 {
		s.height = v
		return
	}
	if len(s.verts) == 0 {
		s.bad = true
		return
	}
	last := &s.verts[len(s.verts)-1]
	if g.code == 20 {
		last.p[1] = v
	} else {
		last.bulge = v
	}
}

// Flags of POLYLINE and VERTEX.
const (
	polyClosed  = 1
	polySpatial = 8
	polyMesh    = 16
	polyFaces   = 64

	vertexFrame = 16 // a control point of a curve, not on the outline
)

// openPolyline starts a POLYLINE; its vertices are records of their own.
func (p *parser) openPolyline(f fields) {
	flags := f.int[0]
	p.poly = &waiting{
		fields: f, origin: origin{p.rec.typ, p.rec.line, f.handle}, mesh: flags&(polyMesh|polyFaces) != 0,
		polyline: polyline{
			closed: flags&polyClosed != 0, spatial: flags&polySpatial != 0,
			height: f.real[20], normal: f.normal, bad: f.bad,
		},
	}
}

// takeVertex adds a VERTEX to the open POLYLINE.
func (p *parser) takeVertex() {
	if p.poly == nil || p.poly.mesh {
		return
	}
	var v bulgePoint
	flags := 0
	for _, g := range p.rec.tags {
		switch g.code {
		case 10, 20, 30, 42:
			x, ok := p.float(g)
			p.poly.bad = p.poly.bad || !ok
			if g.code == 42 {
				v.bulge = x
			} else {
				v.p[g.code/10-1] = x
			}
		case 70:
			flags = p.int(g)
		}
	}
	if flags&vertexFrame == 0 {
		p.poly.verts = append(p.poly.verts, v)
	}
}

// finishPolyline files the open POLYLINE, if there is one.
func (p *parser) finishPolyline() {
	s := p.poly
	if s == nil {
		return
	}
	p.poly = nil
	f := s.fields
	e := entity{origin: s.origin, layer: f.layer, ltype: f.ltype, paper: f.paper, invisible: f.invisible}
	switch {
	case s.mesh:
		p.countOther("POLYLINE (surface)", s.origin, f, hidden)
		return
	case s.bad || len(s.verts) == 0:
		p.log.add(Finding{
			Kind: BadEntity, Level: Problem, Line: s.origin.line, Handle: s.origin.name(),
			Text: "POLYLINE has no vertices, or a number that is none; left out",
		})
		return
	default:
		chain := s.polyline
		e.shape = &chain
	}
	p.file(e)
}

// draw draws the chain.
func (s *polyline) draw(p *pen, m affine3) {
	if s.spatial {
		p.chainInSpace(s, m)
		return
	}
	if s.normal != (vec3{0, 0, 1}) {
		m = m.after(extruded(s.normal))
	}
	if !m.level() {
		p.slope = true
		p.space = p.measured(func() { p.flatChain(s, m.unrolled(s.height)) })
	}
	p.flatChain(s, m.plan(s.height))
	p.end(s.closed)
}

// flatChain draws a chain that lies in one plane.
func (p *pen) flatChain(s *polyline, m affine2) {
	n := len(s.verts)
	if !s.closed && n > 1 { // one vertex alone draws a line of no length
		n--
	}
	similar, mirrored := m.similar(), m.det() < 0
	for i := range n {
		a, b := s.verts[i], s.verts[(i+1)%len(s.verts)]
		from, to := a.p.flat(), b.p.flat()
		switch {
		case a.bulge == 0 || from == to:
			p.lineTo(m.at(from), m.at(to))
		case similar:
			bulge := a.bulge
			if mirrored {
				bulge = -bulge
			}
			p.bulgeTo(segment{m.at(from), m.at(to), bulge})
		default:
			p.squashedBulge(segment{from, to, a.bulge}, m)
		}
	}
}

// chainInSpace draws straight pieces between points of space.
func (p *pen) chainInSpace(s *polyline, m affine3) {
	n := len(s.verts)
	prev := m.at(s.verts[0].p)
	if s.closed {
		n++
	}
	for i := 1; i < n; i++ {
		next := m.at(s.verts[i%len(s.verts)].p)
		p.climbs(prev[2] - next[2])
		p.space += along(prev, next, -1).length()
		p.lineTo(prev.flat(), next.flat())
		prev = next
	}
	p.end(s.closed)
}

// squashedBulge draws an arc that the map turns into part of an ellipse.
func (p *pen) squashedBulge(s segment, m affine2) {
	c, _ := s.centre()
	u := orb.Point{s.a[0] - c[0], s.a[1] - c[1]}
	v := orb.Point{-u[1], u[0]} // square to u, as long
	p.ellipseTo(conic{m.at(c), m.dir(u), m.dir(v), 0, s.sweep()})
}
