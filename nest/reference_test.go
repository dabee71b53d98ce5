package nest

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// This file holds a slow bottom-left rule written on its own: it collects every
// vertex of every no-fit polygon and every crossing of two borders, and takes
// the leftmost, then lowest one at which geom's exact overlap test finds nothing.

// border is the pieces of a region's border.
func regionBorder(r geom.Region, dx, dy float64) [][2]orb.Point {
	var out [][2]orb.Point
	r = r.Translate(orb.Point{dx, dy})
	for _, ring := range r.Rings {
		for i := range ring {
			out = append(out, [2]orb.Point{ring[i], ring[(i+1)%len(ring)]})
		}
	}
	out = append(out, r.Segments...)
	for _, p := range r.Points {
		out = append(out, [2]orb.Point{p, p})
	}
	return out
}

// crossing is where two segments cross, when they do and are not parallel.
func crossing(a, b [2]orb.Point) (orb.Point, bool) {
	ux, uy := a[1][0]-a[0][0], a[1][1]-a[0][1]
	vx, vy := b[1][0]-b[0][0], b[1][1]-b[0][1]
	det := ux*vy - uy*vx
	if det == 0 {
		return orb.Point{}, false
	}
	wx, wy := b[0][0]-a[0][0], b[0][1]-a[0][1]
	s, t := (wx*vy-wy*vx)/det, (wx*uy-wy*ux)/det
	const e = 1e-9
	if s < -e || s > 1+e || t < -e || t > 1+e {
		return orb.Point{}, false
	}
	return orb.Point{geom.Snap(a[0][0] + s*ux), geom.Snap(a[0][1] + s*uy)}, true
}

// referenceLowest is the slow rule for one shape on a strip or a sheet.
func referenceLowest(pre *prepared, g *ground, placed []spot, shape int) (x, y float64, ok bool) {
	moving := pre.shapes[shape]
	var borders [][2]orb.Point
	if g.strip {
		w := g.width - moving.h
		if w < 0 {
			return 0, 0, false
		}
		borders = append(borders, [2]orb.Point{{g.margin, g.margin}, {g.margin, g.margin + w}},
			[2]orb.Point{{g.margin, g.margin}, {1e5, g.margin}}, [2]orb.Point{{g.margin, g.margin + w}, {1e5, g.margin + w}})
	} else {
		for _, piece := range g.region {
			borders = append(borders, regionBorder(geom.InnerFit(piece, moving.outline), 0, 0)...)
		}
	}
	for _, s := range placed {
		borders = append(borders, regionBorder(geom.NoFit(pre.shapes[s.shape].body, moving.body), s.x, s.y)...)
	}
	var points []orb.Point
	for i, a := range borders {
		points = append(points, a[0], a[1])
		for _, b := range borders[:i] {
			if p, ok := crossing(a, b); ok {
				points = append(points, p)
			}
		}
	}
	sort.Slice(points, func(i, j int) bool { return lessPoint(points[i], points[j]) })
	for _, p := range points {
		if referenceLegal(pre, g, placed, shape, p) {
			return p[0], p[1], true
		}
	}
	return 0, 0, false
}

func referenceLegal(pre *prepared, g *ground, placed []spot, shape int, p orb.Point) bool {
	moving := pre.shapes[shape]
	outline := geom.TranslatePolygon(moving.outline, p)
	if g.strip {
		b := geom.Bounds(outline)
		if b.Min[0] < g.margin || b.Min[1] < g.margin || b.Max[1] > g.margin+g.width {
			return false
		}
	} else if !onSome(g.region, outline) {
		return false
	}
	body := geom.TranslatePolygon(moving.body, p)
	for _, s := range placed {
		other := geom.TranslatePolygon(pre.shapes[s.shape].body, orb.Point{s.x, s.y})
		if geom.OverlapsBeyond(body, other, geom.TouchTolerance) {
			return false
		}
	}
	return true
}

func onSome(region []orb.Polygon, outline orb.Polygon) bool {
	for _, piece := range region {
		if !geom.SticksOutBeyond(outline, piece, geom.TouchTolerance) {
			return true
		}
	}
	return false
}

// randomPart is a star-shaped polygon on whole coordinates, sometimes a
// rectangle, sometimes with a rectangular hole.
func randomPart(rng *rand.Rand, size float64) orb.Polygon {
	if rng.IntN(3) == 0 {
		w, h := 2+math.Floor(rng.Float64()*size), 2+math.Floor(rng.Float64()*size)
		p := orb.Polygon{geom.RectRing(0, 0, w, h)}
		if rng.IntN(2) == 0 && w > 5 && h > 5 {
			p = append(p, geom.ReverseRing(geom.RectRing(1, 1, w-1, h-1)))
		}
		return p
	}
	for {
		n := 3 + rng.IntN(6)
		ring := make(orb.Ring, n)
		for i := range ring {
			r := size * (0.3 + 0.7*rng.Float64()) / 2
			s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.6*rng.Float64()) / float64(n))
			ring[i] = orb.Point{math.Round(r * c), math.Round(r * s)}
		}
		if geom.RingArea(geom.SnapRing(ring)) > size && simpleRing(ring) {
			return orb.Polygon{ring}
		}
	}
}

// simpleRing tells by brute force whether no two sides of a ring meet but
// neighbours at their corner.
func simpleRing(r orb.Ring) bool {
	n := len(r)
	for i := range n {
		if r[i] == r[(i+1)%n] {
			return false
		}
		for j := i + 1; j < n; j++ {
			a, b := [2]orb.Point{r[i], r[(i+1)%n]}, [2]orb.Point{r[j], r[(j+1)%n]}
			p, ok := crossing(a, b)
			if ok && !(j == i+1 && p == b[0]) && !(i == 0 && j == n-1 && p == a[0]) {
				return false
			}
			if !ok && geom.OnSegment(b[0], a[0], a[1]) && j != i+1 {
				return false
			}
		}
	}
	return true
}

// randomProblem is a small problem on a strip, or on sheets with a blocked zone.
func randomProblem(rng *rand.Rand, sheets bool, spacing, margin float64) Problem {
	p := Problem{Spacing: spacing, Margin: margin}
	for range 3 + rng.IntN(3) {
		angles := [][]float64{{0}, {0, 180}, {0, 90, 180, 270}, {0, 30}}[rng.IntN(4)]
		p.Parts = append(p.Parts, Part{Outline: randomPart(rng, 10), Quantity: 1 + rng.IntN(3), Angles: angles, Mirror: rng.IntN(3) == 0})
	}
	if !sheets {
		p.StripWidth = 16 + math.Floor(10*rng.Float64())
		return p
	}
	outline := orb.Polygon{{{0, 0}, {40, 0}, {40, 20}, {25, 30}, {0, 30}}, geom.ReverseRing(geom.RectRing(18, 10, 22, 14))}
	p.Sheets = []Sheet{{Outline: outline, Count: 20}}
	return p
}

// TestLowestAgainstReference places random parts in random turns and compares
// every spot with the slow rule's.
func TestLowestAgainstReference(t *testing.T) {
	rounds := 60
	if testing.Short() {
		rounds = 10
	}
	for seed := range rounds {
		rng := rand.New(rand.NewPCG(uint64(seed), 1))
		spacing := []float64{0, 0, 1.5}[seed%3]
		p := randomProblem(rng, seed%2 == 1, spacing, spacing/2)
		pre, err := prepare(p)
		if err != nil {
			t.Fatal(err)
		}
		g := &pre.grounds[0]
		fd := newField(pre, newFits(pre, nil), g, &clipper{})
		for range 8 {
			k := rng.IntN(len(pre.kinds))
			turn := rng.IntN(len(pre.kinds[k].turns))
			at, ok := fd.spot(int32(k), int32(turn))
			shape := pre.kinds[k].turns[turn].shape
			x, y, want := referenceLowest(pre, g, fd.placed, shape)
			if ok != want || ok && (at.x != x || at.y != y) {
				t.Fatalf("seed %d, copy %d: got (%v, %v) %v, want (%v, %v) %v", seed, len(fd.placed), at.x, at.y, ok, x, y, want)
			}
			if ok {
				fd.place(at)
			}
		}
	}
}
