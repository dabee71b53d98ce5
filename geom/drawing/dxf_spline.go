package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// A spline as a drawing gives it: by control points and knots, or only by
// points it passes through.
type spline struct {
	degree           int
	knots, weights   []float64
	control, through []vec3
	startDir, endDir vec3
	bad              bool
}

// spline reads a SPLINE.
func (p *parser) spline(f *fields) shape {
	s := &spline{degree: f.int[1]}
	for _, g := range p.rec.tags {
		if g.code == 101 {
			break
		}
		if g.code >= 10 && g.code <= 41 && g.code != 38 && g.code != 39 {
			v, ok := p.float(g)
			s.bad = s.bad || !ok
			s.take(g.code, v)
		}
	}
	if s.bad || len(s.control) == 0 && len(s.through) < 2 {
		return nil
	}
	if len(s.control) > 0 {
		flat := make([]orb.Point, len(s.control))
		if _, ok := newNURBS(s.degree, s.knots, flat, s.weights); !ok {
			return nil
		}
	}
	return s
}

// take files one number. Groups 10, 20, 30 are a control point's x, y, z; 11 …
// a point passed through; 12 … and 13 … end directions.
func (s *spline) take(code int32, v float64) {
	axis := int(code/10) - 1
	switch {
	case code == 40:
		s.knots = append(s.knots, v)
	case code == 41:
		s.weights = append(s.weights, v)
	case axis > 2:
	case code%10 == 0:
		s.control = setAxis(s.control, axis, v)
	case code%10 == 1:
		s.through = setAxis(s.through, axis, v)
	case code%10 == 2:
		s.startDir[axis] = v
	case code%10 == 3:
		s.endDir[axis] = v
	}
}

// setAxis begins a new point with its x, or sets y or z of the last one.
func setAxis(pts []vec3, axis int, v float64) []vec3 {
	if axis == 0 {
		return append(pts, vec3{v})
	}
	if len(pts) > 0 {
		pts[len(pts)-1][axis] = v
	}
	return pts
}

func (s *spline) draw(p *pen, m affine3) {
	if len(s.control) > 0 {
		flat := p.flattened(s.control, m)
		if c, ok := newNURBS(s.degree, s.knots, flat, s.weights); ok {
			p.fitted(c)
		}
	} else {
		flat := p.flattened(s.through, m)
		p.fitted(through(flat, m.dir(s.startDir).flat(), m.dir(s.endDir).flat()))
		p.draft.log.add(Finding{
			Kind: CurveFitted, Level: Suspect, Layer: p.draft.layers[p.layer].name, Line: p.from.line, Handle: p.from.name(),
			Text: "SPLINE is given only by points it passes through: between them a cubic curve was drawn, which the sender's program may draw differently",
		})
	}
	p.end(false)
}

// flattened maps points to the plane and notes how far they climb.
func (p *pen) flattened(pts []vec3, m affine3) []orb.Point {
	out := make([]orb.Point, len(pts))
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, q := range pts {
		q = m.at(q)
		lo, hi = min(lo, q[2]), max(hi, q[2])
		out[i] = q.flat()
	}
	p.climbs(hi - lo)
	return out
}
