package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// A pen draws one entity after another onto a draft: curves in, chains of
// lines and arcs out.
type pen struct {
	context
	hosts  []context // of the inserts being drawn, outermost first
	draft  *draft
	doc    *document
	choice []Kind    // for each layer: why it is left out, "" where it is used
	segs   []segment // the chain being drawn
	slope  bool      // the entity leaves the plane
	curved bool      // arcs were fitted to it
	space  float64   // its length in space, mm, where it does; 0 where not known
	fit    fitter
	visits int // copies of blocks, and entities in them
}

// A context says what is being drawn and why it may be left out.
type context struct {
	from   *origin
	layer  int
	ltype  int  // index into the document's linetypes, or byLayer
	out    Kind // why it is left out, "" where it is used
	passOn Kind // why everything inside is left out too, where this is an insert
}

// lineTo adds a straight piece.
func (p *pen) lineTo(a, b orb.Point) { p.segs = append(p.segs, segment{a, b, 0}) }

// largestBulge is the largest bulge that can mean an arc: at 1e9 the chord is a
// billionth of the circle.
const largestBulge = 1e9

// bulgeTo adds an arc. Arcs beyond a half circle are split, so that no bulge
// is larger than 1; arcs too flat to show are lines.
func (p *pen) bulgeTo(s segment) {
	b := math.Abs(s.bulge)
	switch {
	case b*dist(s.a, s.b)/2 < straightTolerance:
		s.bulge = 0
	case b > largestBulge:
		s.bulge = math.Inf(1) // place will refuse it
	case b > 1:
		first, second := s.split(0.5)
		p.segs = append(p.segs, first, second)
		return
	}
	p.segs = append(p.segs, s)
}

// ellipseTo adds part of an ellipse: arcs where it is round, else arcs fitted
// to it.
func (p *pen) ellipseTo(e conic) {
	if sameCircle(e.u, e.v) {
		r, w := math.Hypot(e.u[0], e.u[1]), e.sweep
		a0 := math.Atan2(e.u[1], e.u[0])
		if e.u[0]*e.v[1]-e.u[1]*e.v[0] < 0 { // mirrored
			p.segs = append(p.segs, arcSegments(e.c, r, a0-e.from, -w)...)
		} else {
			p.segs = append(p.segs, arcSegments(e.c, r, a0+e.from, w)...)
		}
		return
	}
	p.fitted(e)
}

// fitted adds arcs that follow a curve.
func (p *pen) fitted(c curve) {
	p.segs = p.fit.arcs(p.segs, c)
	p.curved = true
}

// end finishes the chain and files it.
func (p *pen) end(closed bool) {
	p.draft.add(p.segs, closed, p.from, p.layer, p.out)
	if p.slope {
		if p.space > 0 {
			p.draft.drawn.PathMM += p.space - total(p.segs)
		}
		p.draft.log.add(Finding{
			Kind: NotFlat, Level: Suspect, Layer: p.draft.layers[p.layer].name, Line: p.from.line, Handle: p.from.name(),
			Text: p.from.typ + " leaves the drawing plane; its view from above was used",
		})
	}
	p.noteFitted()
	p.slope, p.space, p.segs = false, 0, p.segs[:0]
}

// noteFitted reports that the entity's curves became arcs.
func (p *pen) noteFitted() {
	if p.curved {
		p.curved = false
		if p.fit.left <= 0 {
			p.draft.log.add(Finding{
				Kind: TooMuch, Level: Problem, Layer: p.draft.layers[p.layer].name, Line: p.from.line, Handle: p.from.name(),
				Text: "curves are so long or so wild that they cannot all be followed within " + mm(CurveTolerance) + "; the rest is coarse: check the drawing's unit",
			})
		}
		p.draft.log.add(Finding{
			Kind: CurveFitted, Level: Note, Layer: p.draft.layers[p.layer].name,
			Text: p.from.typ + " turned into tangent arcs within " + mm(CurveTolerance),
		})
	}
}

// total is the length of segments in mm.
func total(segs []segment) (sum float64) {
	for _, s := range segs {
		sum += s.length()
	}
	return sum
}

// measured returns the length of what f draws, without keeping it.
func (p *pen) measured(f func()) float64 {
	segs, curved := p.segs, p.curved
	p.segs = nil
	f()
	sum := total(p.segs)
	p.segs, p.curved = segs, curved
	return sum
}

// climbs notes a difference in height, in mm, along an entity.
func (p *pen) climbs(dz float64) { p.slope = p.slope || math.Abs(dz) > climbTolerance }

// A line runs between two points of space.
type line struct{ a, b vec3 }

func (l line) draw(p *pen, m affine3) {
	a, b := m.at(l.a), m.at(l.b)
	p.climbs(a[2] - b[2])
	if p.slope {
		p.space = along(a, b, -1).length()
	}
	p.lineTo(a.flat(), b.flat())
	p.end(false)
}

// An arc is part of a circle or ellipse: centre + u·cos t + v·sin t for t
// from from over sweep, in radians.
type arc struct {
	centre, u, v vec3
	from, sweep  float64
}

func (a arc) draw(p *pen, m affine3) {
	u, v := m.dir(a.u), m.dir(a.v)
	p.climbs(u[2])
	p.climbs(v[2])
	if p.slope {
		tilted := affine3{x: u, y: v}.unrolled(0)
		p.space = p.measured(func() { p.ellipseTo(conic{u: tilted.x, v: tilted.y, from: a.from, sweep: a.sweep}) })
	}
	if a.round() && !sameCircle(u.flat(), v.flat()) {
		p.as("ELLIPSE")
	}
	p.ellipseTo(conic{m.at(a.centre).flat(), u.flat(), v.flat(), a.from, a.sweep})
	p.end(a.sweep >= 2*math.Pi)
}

// round reports whether the arc is circular as drawn.
func (a arc) round() bool {
	return math.Abs(a.u.dot(a.u)-a.v.dot(a.v)) <= 1e-9*a.u.dot(a.u) && math.Abs(a.u.dot(a.v)) <= 1e-9*a.u.dot(a.u)
}

// as makes the entity count as another type, which is what it became in an
// insert that stretches it.
func (p *pen) as(typ string) {
	from := *p.from
	from.typ = typ
	p.from = &from
}

// other reports entities that draw no outline.
func (p *pen) other(o *otherEntities) {
	typ := o.typ
	f := Finding{Kind: Annotation, Level: Note, Layer: p.draft.layers[o.layer].name, Line: o.line, Handle: o.name(), Count: o.count}
	switch {
	case o.paper:
		typ += onSheet
		f.Kind, f.Text = PaperSpace, o.typ+sheetText
	case o.role == construction:
		f.Kind, f.Text = Construction, o.typ+" is a construction line without ends; left out"
	case o.role == hidden:
		f.Kind, f.Level = Unreadable, Suspect
		f.Text = o.typ + " holds geometry that could not be read; have it exploded to lines and arcs if it belongs to the part"
	default:
		f.Text = o.typ + " is annotation; left out"
	}
	p.draft.skipped[typ] += o.count
	p.draft.log.add(f)
}

// How entities on sheet layouts are counted and reported.
const (
	onSheet   = " on a sheet layout"
	sheetText = " is drawn on a sheet layout, not in the model; left out"
)
