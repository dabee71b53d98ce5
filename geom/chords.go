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
// within tol of it, the first and last tangent taken at the arc's ends.
func (f chordFrame) circumscribed(tol, margin float64) []orb.Point {
	turn := 2 * math.Atan2(math.Sqrt(tol*(2*f.radius+tol)), f.radius)
	k := f.steps(turn)
	half := f.sweep / float64(2*k)
	extra := tangentExcess(f.radius, half) + margin/math.Cos(half)
	pts := make([]orb.Point, 0, k)
	for i := range k {
		pts = append(pts, f.at(f.sweep*((float64(i)+0.5)/float64(k)-0.5), extra))
	}
	return pts
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
