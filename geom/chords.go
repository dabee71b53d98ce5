package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// roundingMargin is how far, in mm, computed vertices are pushed to the safe
// side before they are rounded to the grid. Rounding moves a vertex by at most
// √2/2·Grid, and each overlay its edges go through moves them by as much again;
// an offset goes through two: 3·√2/2·Grid, rounded up to a power of two.
const roundingMargin = 4 * Grid

// maxChordTurn is the largest turn of one chord, in radians, however loose the
// tolerance: a full circle has at least six.
const maxChordTurn = math.Pi / 3

// A chordFrame describes an arc by its chord, which stays accurate for arcs so
// flat that their centre is far away.
type chordFrame struct {
	mid, along, out orb.Point // mid-chord, unit chord, unit normal on the arc's side
	radius, rise    float64   // rise is the arc's height over the chord
	sweep           float64   // > 0
}

func frameOf(a, b orb.Point, bulge float64) (chordFrame, bool) {
	arc, ok := ArcBetween(a, b, bulge)
	if !ok {
		return chordFrame{}, false
	}
	chord := math.Hypot(b[0]-a[0], b[1]-a[1])
	u := orb.Point{(b[0] - a[0]) / chord, (b[1] - a[1]) / chord}
	f := chordFrame{
		mid: orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}, along: u, out: orb.Point{u[1], -u[0]},
		radius: arc.Radius, rise: math.Abs(bulge) * chord / 2, sweep: math.Abs(arc.SweepRad),
	}
	if bulge < 0 {
		f.out = orb.Point{-u[1], u[0]}
	}
	return f, true
}

// at returns the point at angle phi from the arc's middle (the arc runs from
// −sweep/2 to sweep/2), extra mm outside the circle.
func (f chordFrame) at(phi, extra float64) orb.Point {
	s, c := math.Sincos(phi)
	h := math.Sin(phi / 2)
	x := (f.radius + extra) * s
	y := f.rise - 2*f.radius*h*h + extra*c
	return orb.Point{f.mid[0] + x*f.along[0] + y*f.out[0], f.mid[1] + x*f.along[1] + y*f.out[1]}
}

// inscribed returns the inner vertices of chords within tol of the arc, extra
// mm outside it.
func (f chordFrame) inscribed(tol, extra float64) []orb.Point {
	turn := 4 * math.Asin(math.Min(1, math.Sqrt(tol/(2*f.radius))))
	k := f.steps(turn)
	pts := make([]orb.Point, 0, k)
	for i := 1; i < k; i++ {
		pts = append(pts, f.at(f.sweep*(float64(i)/float64(k)-0.5), extra))
	}
	return pts
}

// circumscribed returns the corners of tangents that stay outside the arc and
// within tol of it. Tangents are taken at the arc's ends and at its extreme
// points along the axes, where the corners beside them lie on the tangent
// exactly: a disc of 100 mm stays 100 mm wide and high.
func (f chordFrame) circumscribed(tol, margin float64) []orb.Point {
	turn := 2 * math.Atan2(math.Sqrt(tol*(2*f.radius+tol)), f.radius)
	var pts []orb.Point
	cuts := f.extremes()
	for i := 1; i < len(cuts); i++ {
		pts = f.appendTangents(pts, cuts[i-1], cuts[i], turn, margin)
	}
	return pts
}

// appendTangents adds the corners between the tangents at two angles.
func (f chordFrame) appendTangents(pts []orb.Point, from, to, turn, margin float64) []orb.Point {
	k := int(math.Max(1, math.Ceil((to-from)/math.Min(turn, maxChordTurn)-1e3*epsilon)))
	half := (to - from) / float64(2*k)
	extra := tangentExcess(f.radius, half) + margin/math.Cos(half)
	for i := range k {
		p := f.at(from+float64(2*i+1)*half, extra)
		if i == 0 {
			p = f.ontoTangent(p, from)
		}
		if i == k-1 {
			p = f.ontoTangent(p, to)
		}
		pts = append(pts, p)
	}
	return pts
}

// axisSlack is how far from an axis, in radians, a direction may point that is
// taken for the axis's own: some steps of float64 noise.
const axisSlack = 64 * epsilon

// extremes returns the angles of the arc's ends and between them those at which
// its normal lies along an axis.
func (f chordFrame) extremes() []float64 {
	cuts := []float64{-f.sweep / 2}
	out := math.Atan2(f.out[1], f.out[0])
	if f.out[0]*f.along[1]-f.out[1]*f.along[0] < 0 {
		out = -out // the arc runs clockwise: so do its angles
	}
	for k := -6.0; k <= 6; k++ {
		if phi := k*math.Pi/2 - out; math.Abs(phi) < f.sweep/2-axisSlack {
			cuts = append(cuts, phi)
		}
	}
	return append(cuts, f.sweep/2)
}

// ontoTangent puts a corner beside the
// tangent at an angle onto it, where it runs along an axis, and rounds it
// away from the arc. Other corners stay.
func (f chordFrame) ontoTangent(p orb.Point, phi float64) orb.Point {
	s, c := math.Sincos(phi)
	normal := orb.Point{s*f.along[0] + c*f.out[0], s*f.along[1] + c*f.out[1]}
	touch := f.at(phi, 0)
	for k := range 2 {
		if math.Abs(normal[1-k]) > axisSlack {
			continue
		}
		p[k] = roundAway(touch[k], normal[k])
		p[1-k] = roundAway(p[1-k], p[1-k]-touch[1-k])
	}
	return p
}

// roundAway rounds to the grid in the direction of a number's sign, but takes
// float64 noise about a grid point for that point.
func roundAway(x, direction float64) float64 {
	near := Snap(x)
	switch {
	case math.Abs(x-near) < Grid/1024:
		return near
	case direction > 0:
		return math.Ceil(x/Grid) * Grid
	}
	return math.Floor(x/Grid) * Grid
}

// tangentExcess is how far outside a circle two tangents meet that touch it at
// an angle half to either side: r·(sec(half) − 1), without cancellation.
func tangentExcess(r, half float64) float64 {
	s := math.Sin(half / 2)
	return r * 2 * s * s / math.Cos(half)
}

func (f chordFrame) steps(turn float64) int {
	return int(math.Max(1, math.Ceil(f.sweep/math.Min(turn, maxChordTurn)-1e3*epsilon)))
}
