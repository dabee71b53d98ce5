package nest

import (
	"math"
	"math/bits"
)

// A nudge frees a pose of shallow collisions exactly. Every colliding neighbour
// gives a half-plane, beyond its nearest way out, that the reference point must
// reach; the nearest point in all of them is the next pose. Half-planes are
// kept, so a pose between two neighbours ends where both touch: this is how
// parts come to lie in places that just fit.

// A sepWall is a half-plane: points with nx·x + ny·y ≥ c.
type sepWall struct{ nx, ny, c float64 }

const (
	sepWalls  = 10 // most walls of one nudge
	sepNudges = 5  // most steps of one nudge
)

// A sepNudge is the scratch of one nudge.
type sepNudge struct {
	walls [sepWalls]sepWall
	n     int
}

// nudge moves the candidate by at most reach to a place without collisions; it
// reports whether it found one. The candidate stays as it was if not.
func (m *sepMover) nudge(s *sepState, c *sepPick, reach float64) bool {
	p := &m.probes[c.probe]
	w := &m.walls
	w.box(p.field)
	x, y := c.x, c.y
	for range sepNudges {
		before := w.n
		if !p.wallsAt(s, w, x, y) {
			return false
		}
		if w.n == before {
			c.x, c.y, c.price = x, y, 0
			return true
		}
		var ok bool
		if x, y, ok = w.nearest(c.x, c.y, reach); !ok {
			return false
		}
	}
	return false
}

// box begins with the sides of the field.
func (w *sepNudge) box(b sepBox) {
	w.walls[0] = sepWall{1, 0, b.x0}
	w.walls[1] = sepWall{-1, 0, -b.x1}
	w.walls[2] = sepWall{0, 1, b.y0}
	w.walls[3] = sepWall{0, -1, -b.y1}
	w.n = 4
}

// wallsAt adds a wall for every neighbour that collides at the pose; it reports
// false when there are too many or one has no way out.
func (p *sepProbe) wallsAt(s *sepState, w *sepNudge, x, y float64) bool {
	c := sepSlot((x-p.field.x0)*p.kx) * p.words
	r := sepSlot((y-p.field.y0)*p.ky) * p.words
	s.work++
	for word := range p.words {
		m := p.cols[c+word] & p.rows[r+word]
		for m != 0 {
			n := &p.near[word<<6+bits.TrailingZeros64(m)]
			m &= m - 1
			mx, my := n.m.apply(x-n.x, y-n.y)
			d, ux, uy := p.exit(s, n, mx, my)
			if d <= sepTouch {
				continue
			}
			if w.n == sepWalls || (ux == 0 && uy == 0) {
				return false
			}
			nx, ny := n.m.inverse().apply(ux, uy)
			w.walls[w.n] = sepWall{nx, ny, nx*x + ny*y + d}
			w.n++
		}
	}
	return true
}

// exit is how deep the item runs into a neighbour and which way is out, in the
// frame asked in.
func (p *sepProbe) exit(s *sepState, n *sepNearby, mx, my float64) (d, ux, uy float64) {
	if n.loose >= 0 {
		s.work += 2 * sepPinWork
		l := &p.loose[n.loose]
		return sepExit(l.body, p.body, sepLink{l.turn, mx, my}, l.gap)
	}
	if n.t == nil {
		n.t = s.store.table(int(p.form), int(s.form[n.item]))
	}
	s.work += 2
	return n.t.exit(mx, my)
}

// nearest returns the point within all walls that is nearest to (x, y), if one
// is within reach: (x, y) itself, its foot on one wall or the meeting point of
// two.
func (w *sepNudge) nearest(x, y, reach float64) (bx, by float64, ok bool) {
	best := reach * reach
	consider := func(px, py float64) {
		if d := (px-x)*(px-x) + (py-y)*(py-y); d <= best && w.holds(px, py) {
			bx, by, best, ok = px, py, d, true
		}
	}
	consider(x, y)
	for i := range w.n {
		a := &w.walls[i]
		h := a.c - a.nx*x - a.ny*y
		consider(x+a.nx*h, y+a.ny*h)
		for j := range i {
			b := &w.walls[j]
			det := a.nx*b.ny - a.ny*b.nx
			if math.Abs(det) < sepParallel {
				continue
			}
			consider((a.c*b.ny-b.c*a.ny)/det, (a.nx*b.c-b.nx*a.c)/det)
		}
	}
	return bx, by, ok
}

// sepParallel is the sine of the angle below which two walls do not meet.
const sepParallel = 1e-6

// sepWallSlack lets a point that is computed on a wall count as within it.
const sepWallSlack = sepTouch / 4

func (w *sepNudge) holds(x, y float64) bool {
	for i := range w.n {
		a := &w.walls[i]
		if a.nx*x+a.ny*y < a.c-sepWallSlack {
			return false
		}
	}
	return true
}
