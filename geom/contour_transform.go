package geom

import "slices"

// Reverse returns the contour run the other way from the same first vertex.
func (c Contour) Reverse() Contour {
	n := len(c)
	r := make(Contour, n)
	for i := range c {
		j := (n - i) % n
		r[i] = Vertex{P: c[j].P, Bulge: -c[(j+n-1)%n].Bulge}
	}
	return r
}

// Oriented returns the contour run counter-clockwise, or clockwise when ccw is
// false.
func (c Contour) Oriented(ccw bool) Contour {
	if c.IsCCW() == ccw {
		return slices.Clone(c)
	}
	return c.Reverse()
}

// Transform returns the contour where the pose takes it. A mirroring pose keeps
// the contour's sense: it reverses the order of the vertices.
func (c Contour) Transform(p Pose) Contour {
	t := make(Contour, len(c))
	for i, v := range c {
		t[i] = Vertex{P: p.Apply(v.P), Bulge: v.Bulge}
		if p.Mirror {
			t[i].Bulge = -v.Bulge
		}
	}
	if p.Mirror {
		return t.Reverse()
	}
	return t
}

// Reverse returns the path run from its last vertex to its first.
func (p Path) Reverse() Path {
	n := len(p)
	r := make(Path, n)
	for i := range p {
		r[i].P = p[n-1-i].P
		if i < n-1 {
			r[i].Bulge = -p[n-2-i].Bulge
		}
	}
	return r
}

// Transform returns the path where the pose takes it, in the same order.
func (p Path) Transform(pose Pose) Path {
	t := make(Path, len(p))
	for i, v := range p {
		t[i] = Vertex{P: pose.Apply(v.P), Bulge: v.Bulge}
		if pose.Mirror {
			t[i].Bulge = -v.Bulge
		}
	}
	return t
}

// Transform returns the shape where the pose takes it.
func (s Shape) Transform(p Pose) Shape {
	t := Shape{Outer: s.Outer.Transform(p)}
	for _, h := range s.Holes {
		t.Holes = append(t.Holes, h.Transform(p))
	}
	return t
}

// Oriented returns the shape with its outer contour counter-clockwise and its
// holes clockwise.
func (s Shape) Oriented() Shape {
	t := Shape{Outer: s.Outer.Oriented(true)}
	for _, h := range s.Holes {
		t.Holes = append(t.Holes, h.Oriented(false))
	}
	return t
}
