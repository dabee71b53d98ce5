package nest

import (
	"math"

	"github.com/paulmach/orb"
)

// Squeezing moves all items at once so that the strip gets as short as it can
// while every pair keeps to its side: each pair of a part and a convex sum near
// it keeps the half-plane it is in, which makes the shortest strip a linear
// program (Li and Milenkovic 1995; Gomes and Oliveira 2006). Half-planes are
// chosen afresh at the new places and the program is solved again.

// A sepSqueeze is the scratch of one lane.
type sepSqueeze struct {
	lp    sepSimplex
	x     []float64
	walls []sepWall // of the pair under way: direction and room
}

const (
	sepSqueezes = 6    // programs solved at most
	sepReach    = 0.04 // how far an item may move in one, as a share of the mean size
	sepSqueezed = 1e-5 // a gain below this share of the length ends it
	sepPivots   = 6    // pivots per item at most
)

// sepSqueezeItems is how many items a program may have; the tableau grows with
// the square.
const sepSqueezeItems = 400

// squeeze shortens the strip; the layout must be free of collisions and stays
// so.
func (l *sepLane) squeeze() {
	if l.free > sepSqueezeItems || l.rugged || l.loss() > 0 {
		return
	}
	reach := sepReach * l.meanSize()
	for range sepSqueezes {
		before := l.stripLength()
		l.keep.assign(&l.sepPlan)
		l.program(before, reach)
		l.squeezer.lp.solve(sepPivots * l.free)
		l.work += l.squeezer.lp.work / sepWorkPerEntry
		l.shift()
		after := l.stripLength()
		if !l.finite() || l.loss() > 0 || after >= before {
			l.adopt(&l.keep)
			return
		}
		l.boxes[0].x1 = after
		if before-after < sepSqueezed*before {
			return
		}
	}
}

// sepWorkPerEntry is how many tableau entries count as one lookup.
const sepWorkPerEntry = 16

func (l *sepLane) meanSize() float64 {
	sum := 0.0
	for i := range l.free {
		sum += l.kindOf(i).size
	}
	return sum / float64(l.free)
}

// program sets the linear program up: for item i the variables 2i and 2i+1 are
// its moves along x and y, the last variable is the change of the length.
func (l *sepLane) program(length, reach float64) {
	q := &l.squeezer
	n := 2*l.free + 1
	q.lp.reset(n)
	q.x = sepZeros(q.x, n)
	for i := range l.free {
		f := l.boxes[0].inside(l.ext[i])
		q.lp.lo[2*i], q.lp.hi[2*i] = min(0, max(-reach, f.x0-l.x[i])), reach
		q.lp.lo[2*i+1], q.lp.hi[2*i+1] = min(0, max(-reach, f.y0-l.y[i])), max(0, min(reach, f.y1-l.y[i]))
		end := l.x[i] + l.ext[i].x1
		if room := length - end; room < 2*reach {
			row := q.lp.row(room)
			row[2*i], row[n-1] = 1, -1
		}
		for j := range i {
			l.keepApart(i, j, reach)
		}
		for j := l.free; j < l.n; j++ {
			l.keepApart(i, j, reach)
		}
	}
	q.lp.lo[n-1], q.lp.hi[n-1] = -reach, 0
}

// keepApart adds a row for every convex sum of a pair that the pair could come
// to overlap.
func (l *sepLane) keepApart(i, j int, reach float64) {
	far := 2 * reach
	gap := l.store.clearance(int(l.kind[i]), int(l.kind[j]))
	box := l.ext[j].around(l.ext[i], gap+far)
	dx, dy := l.x[i]-l.x[j], l.y[i]-l.y[j]
	if dx <= box.x0 || dx >= box.x1 || dy <= box.y0 || dy >= box.y1 {
		return
	}
	sums, m := l.sumsOf(i, j)
	q := &l.squeezer
	q.walls = q.walls[:0]
	w := orb.Point{}
	w[0], w[1] = m.apply(dx, dy)
	far *= math.Sqrt2
	for k := range sums {
		if !sums[k].meets(w, gap+far) {
			continue
		}
		h, nx, ny := sums[k].beyond(w[0], w[1], gap)
		if h -= gap; h < far {
			q.bar(nx, ny, max(0, h))
		}
	}
	l.work += int64(len(sums))
	for _, wall := range q.walls {
		nx, ny := m.inverse().apply(wall.nx, wall.ny)
		row := q.lp.row(wall.c)
		row[2*i], row[2*i+1] = -nx, -ny
		if j < l.free {
			row[2*j], row[2*j+1] = nx, ny
		}
	}
}

// bar notes that a pair has room h along a direction, unless it has no more
// along the same one already.
func (q *sepSqueeze) bar(nx, ny, h float64) {
	for k := range q.walls {
		w := &q.walls[k]
		if math.Abs(w.nx-nx) < sepParallel && math.Abs(w.ny-ny) < sepParallel {
			w.c = min(w.c, h)
			return
		}
	}
	q.walls = append(q.walls, sepWall{nx, ny, h})
}

// sumsOf returns the convex sums of item i moving around item j and the map
// into their frame: the table's, or, without a table, made for the occasion.
func (l *sepLane) sumsOf(i, j int) ([]sepSum, sepMatrix) {
	fi, fj := int(l.form[i]), int(l.form[j])
	r := &l.store.rels[fi*len(l.store.forms)+fj]
	if r.slot >= 0 {
		return l.store.table(fi, fj).sums(), r.m
	}
	back := l.rot[j].inverse()
	l.work += int64(sepPinWork * len(l.kindOf(i).pieces) * len(l.kindOf(j).pieces))
	return sepSums(l.kindOf(j).pieces, sepTurned(l.kindOf(i).pieces, back.times(l.rot[i]))), back
}

// beyond returns how far the point lies beyond the sum, and the outward unit
// normal of the line that shows it: of the edge it is farthest beyond, or, with
// a clearance to keep, from the corner it is nearest to.
func (s *sepSum) beyond(x, y, gap float64) (h, nx, ny float64) {
	h = math.Inf(-1)
	for i := range s.edges {
		e := &s.edges[i]
		if d := e.uy*(x-e.ax) - e.ux*(y-e.ay); d > h {
			h, nx, ny = d, e.uy, -e.ux
		}
	}
	if gap == 0 || h <= 0 {
		return h, nx, ny
	}
	for _, p := range s.ring {
		d := math.Hypot(x-p[0], y-p[1])
		if ux, uy := (x-p[0])/d, (y-p[1])/d; d > h && s.supports(p[0], p[1], ux, uy) {
			h, nx, ny = d, ux, uy
		}
	}
	return h, nx, ny
}

// supports reports whether no point of the sum lies farther along the direction
// than the corner.
func (s *sepSum) supports(px, py, ux, uy float64) bool {
	for _, q := range s.ring {
		if (q[0]-px)*ux+(q[1]-py)*uy > 0 {
			return false
		}
	}
	return true
}

// shift moves the items as the program says.
func (l *sepLane) shift() {
	q := &l.squeezer
	q.lp.solution(q.x)
	for i := range l.free {
		l.x[i] += q.x[2*i]
		l.y[i] += q.x[2*i+1]
	}
	for i := range l.free {
		f := l.boxes[0].inside(l.ext[i])
		l.x[i] = max(l.x[i], f.x0)
		l.y[i] = max(min(l.y[i], f.y1), f.y0)
	}
	l.measure()
}

// finite reports whether every place is a number: a collision is not seen at a
// place that is none.
func (l *sepLane) finite() bool {
	for i := range l.free {
		if math.IsNaN(l.x[i]+l.y[i]) || math.IsInf(l.x[i]+l.y[i], 0) {
			return false
		}
	}
	return true
}
