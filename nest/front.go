package nest

import "math"

// A seg is a straight piece of the border of the free space; a dot when its ends
// are one point.
type seg struct {
	ax, ay, bx, by float64
}

// A front is, for one shape that is to be placed, the border of the space where
// its corner may still legally lie: the pieces of the inner-fit region's and the
// no-fit polygons' edges that lie inside no other no-fit polygon. Free space of
// no width (an exact fit) is in it as a seg or a dot. The leftmost legal point is
// always an end of one of its segs.
//
// The front is brought up to date lazily, one placed shape after another, and
// can be taken back: every step keeps what it removed. So a decode that shares
// its first placements with the one before resumes from there.
type front struct {
	shape int
	segs  []seg
	steps []frontStep
	gone  []goneSeg  // segs removed by the steps, in order
	near  []placedNo // no-fit polygons of the placed shapes, in placing order
	dead  int        // how many were placed when the shape first found no place, or -1
	final bool       // nothing is taken back, so what steps remove is not kept
}

// frontStep is what one placed shape did to the front.
type frontStep struct {
	kept    int // segs left standing of those before
	goneLen int // len(front.gone) before the step
}

type goneSeg struct {
	at int // index in segs before the step
	seg
}

// placedNo is the no-fit polygon of a placed shape against the front's shape,
// where it lies, and its extent.
type placedNo struct {
	no                 *nofit
	x, y               float64
	loX, hiX, loY, hiY float64
}

func newPlacedNo(no *nofit, x, y float64) placedNo {
	return placedNo{no: no, x: x, y: y, loX: no.loX + x, hiX: no.hiX + x, loY: no.loY + y, hiY: no.hiY + y}
}

func (p *placedNo) blocks(x, y float64) bool {
	return x > p.loX && x < p.hiX && y > p.loY && y < p.hiY && p.no.blocks(x-p.x, y-p.y)
}

// rollback undoes steps until only n are left.
func (f *front) rollback(n int) {
	for len(f.steps) > n {
		f.undo()
	}
	if f.dead > n {
		f.dead = -1
	}
}

func (f *front) undo() {
	last := len(f.steps) - 1
	st := f.steps[last]
	f.steps = f.steps[:last]
	f.near = f.near[:last]
	back := f.gone[st.goneLen:]
	total := st.kept + len(back)
	for cap(f.segs) < total {
		f.segs = append(f.segs[:cap(f.segs)], seg{})
	}
	f.segs = f.segs[:total]
	from := st.kept - 1
	for to, b := total-1, len(back)-1; b >= 0; to-- {
		if back[b].at == to {
			f.segs[to] = back[b].seg
			b--
		} else {
			f.segs[to] = f.segs[from]
			from--
		}
	}
	f.gone = f.gone[:st.goneLen]
}

// free tells whether the front's shape may lie at the point, seen from the
// placed shapes alone.
func (f *front) free(x, y float64, upTo int) bool {
	near := f.near[:upTo]
	for i := len(near) - 1; i >= 0; i-- {
		if near[i].blocks(x, y) {
			return false
		}
	}
	return true
}

func (s seg) length() float64 {
	dx, dy := s.bx-s.ax, s.by-s.ay
	return math.Sqrt(dx*dx + dy*dy)
}

// off tells whether both ends lie beyond one side of a box.
func (s *seg) off(loX, hiX, loY, hiY float64) bool {
	return s.ax < loX && s.bx < loX || s.ax > hiX && s.bx > hiX || s.ay < loY && s.by < loY || s.ay > hiY && s.by > hiY
}
