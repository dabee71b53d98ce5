package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// A vec3 is a point or direction in space.
type vec3 [3]float64

func (a vec3) add(b vec3) vec3        { return vec3{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec3) scale(k float64) vec3   { return vec3{k * a[0], k * a[1], k * a[2]} }
func (a vec3) dot(b vec3) float64     { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec3) length() float64        { return math.Sqrt(a.dot(a)) }
func (a vec3) flat() orb.Point        { return orb.Point{a[0], a[1]} }
func along(p, d vec3, t float64) vec3 { return p.add(d.scale(t)) }

func (a vec3) cross(b vec3) vec3 {
	return vec3{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// unit returns the direction of a, and false where it has none.
func (a vec3) unit() (vec3, bool) {
	l := a.length()
	if l == 0 || !finite(l) {
		return vec3{}, false
	}
	return a.scale(1 / l), true
}

// An affine3 maps points of space: p becomes x·p[0] + y·p[1] + z·p[2] + o.
type affine3 struct{ x, y, z, o vec3 }

func identity3() affine3 { return affine3{x: vec3{1}, y: vec3{0, 1}, z: vec3{0, 0, 1}} }

func scale3(sx, sy, sz float64) affine3 {
	return affine3{x: vec3{sx}, y: vec3{0, sy}, z: vec3{0, 0, sz}}
}

func shift3(o vec3) affine3 {
	m := identity3()
	m.o = o
	return m
}

// turn3 turns about the z axis, counter-clockwise.
func turn3(sin, cos float64) affine3 {
	return affine3{x: vec3{cos, sin}, y: vec3{-sin, cos}, z: vec3{0, 0, 1}}
}

// dir maps a direction.
func (m affine3) dir(v vec3) vec3 {
	return m.x.scale(v[0]).add(m.y.scale(v[1])).add(m.z.scale(v[2]))
}

// at maps a point.
func (m affine3) at(p vec3) vec3 { return m.dir(p).add(m.o) }

// after returns the map that does n first, then m.
func (m affine3) after(n affine3) affine3 {
	return affine3{x: m.dir(n.x), y: m.dir(n.y), z: m.dir(n.z), o: m.at(n.o)}
}

// extruded returns the map from an entity's own coordinate system to the
// drawing's, given its extrusion direction: the arbitrary axis rule of the DXF
// reference.
func extruded(normal vec3) affine3 {
	n, ok := normal.unit()
	if !ok {
		return identity3()
	}
	up := vec3{0, 0, 1}
	if math.Abs(n[0]) < 1.0/64 && math.Abs(n[1]) < 1.0/64 {
		up = vec3{0, 1, 0}
	}
	x, _ := up.cross(n).unit()
	return affine3{x: x, y: n.cross(x), z: n}
}

// plan returns what the map does, seen from above, to the plane at height z.
func (m affine3) plan(z float64) affine2 {
	return affine2{m.x.flat(), m.y.flat(), along(m.o, m.z, z).flat()}
}

// unrolled returns what the map does to the plane at height z, seen square to
// where it puts it: lengths are true.
func (m affine3) unrolled(z float64) affine2 {
	x := m.x.length()
	if x == 0 {
		return m.plan(z)
	}
	across := m.x.dot(m.y) / x
	up := math.Sqrt(max(0, m.y.dot(m.y)-across*across))
	return affine2{orb.Point{x, 0}, orb.Point{across, up}, orb.Point{}}
}

// level reports whether the map leaves the plane parallel to itself.
func (m affine3) level() bool {
	return math.Abs(m.x[2]) <= 1e-9*m.x.length() && math.Abs(m.y[2]) <= 1e-9*m.y.length()
}

// An affine2 maps points of the plane: p becomes x·p[0] + y·p[1] + o.
type affine2 struct{ x, y, o orb.Point }

func (m affine2) dir(v orb.Point) orb.Point {
	return orb.Point{m.x[0]*v[0] + m.y[0]*v[1], m.x[1]*v[0] + m.y[1]*v[1]}
}

func (m affine2) at(p orb.Point) orb.Point {
	d := m.dir(p)
	return orb.Point{d[0] + m.o[0], d[1] + m.o[1]}
}

// after returns the map that does n first, then m.
func (m affine2) after(n affine2) affine2 {
	return affine2{m.dir(n.x), m.dir(n.y), m.at(n.o)}
}

func (m affine2) det() float64 { return m.x[0]*m.y[1] - m.x[1]*m.y[0] }

// similar reports whether circles stay circles.
func (m affine2) similar() bool { return sameCircle(m.x, m.y) }

// sameCircle reports whether u and v are the half axes of a circle: equally
// long and square to each other, to the precision that coordinates of a
// drawing carry.
func sameCircle(u, v orb.Point) bool {
	uu, vv := u[0]*u[0]+u[1]*u[1], v[0]*v[0]+v[1]*v[1]
	uv := u[0]*v[0] + u[1]*v[1]
	return math.Abs(uu-vv) <= 1e-9*(uu+vv) && math.Abs(uv) <= 1e-9*(uu+vv)
}
