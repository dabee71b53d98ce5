package nest

import "math"

// exit returns the depth at a point as depth does, with the unit direction of
// the way out: moving by the depth along it clears the pair, exactly where the
// boundary is near, nearly where the depth is interpolated.
func (t *sepTable) exit(x, y float64) (d, ux, uy float64) {
	fx, fy := (x-t.x0)*t.perX, (y-t.y0)*t.perY
	if !(fx >= 0 && fy >= 0) {
		return 0, 0, 0
	}
	i, j := int(fx), int(fy)
	if i >= t.nx || j >= t.ny {
		return 0, 0, 0
	}
	switch cell := t.cells[j*t.nx+i]; cell {
	case sepFree:
		return 0, 0, 0
	case sepDeep:
		return t.slope(i, j, fx-float64(i), fy-float64(j))
	default:
		run := t.runs[cell]
		return t.exitNear(t.near[run.from:run.to], x, y)
	}
}

// slope is the interpolated depth with the direction in which it falls.
func (t *sepTable) slope(i, j int, fx, fy float64) (d, ux, uy float64) {
	at := j*(t.nx+1) + i
	a, b := float64(t.corner[at]), float64(t.corner[at+1])
	at += t.nx + 1
	c, e := float64(t.corner[at]), float64(t.corner[at+1])
	gx := ((b-a)*(1-fy) + (e-c)*fy) * t.perX
	gy := ((c-a)*(1-fx) + (e-b)*fx) * t.perY
	d = (a*(1-fx)+b*fx)*(1-fy) + (c*(1-fx)+e*fx)*fy
	g := math.Hypot(gx, gy)
	if g < sepFlat {
		return d, 0, 0
	}
	return d, -gx / g, -gy / g
}

// sepFlat is the slope of a depth, whose true slope is 1, below which there is
// no telling which way is out: the middle ground between two ways.
const sepFlat = 0.1

// exitNear finds the way out past the nearest of the segments.
func (t *sepTable) exitNear(list []uint16, x, y float64) (d, ux, uy float64) {
	signed := sepSigned(t.segs, list, x, y)
	d = t.gap + signed
	if d <= 0 {
		return 0, 0, 0
	}
	best, px, py := math.Inf(1), 0.0, 0.0
	var on *sepSeg
	for _, c := range list {
		s := &t.segs[c]
		along := min(max((x-s.ax)*s.ux+(y-s.ay)*s.uy, 0), s.length)
		qx, qy := s.ax+s.ux*along, s.ay+s.uy*along
		if e := (x-qx)*(x-qx) + (y-qy)*(y-qy); e < best {
			best, px, py, on = e, qx, qy, s
		}
	}
	r := math.Sqrt(best)
	if r <= sepTouch {
		return d, on.uy, -on.ux
	}
	ux, uy = (px-x)/r, (py-y)/r
	if signed < 0 {
		ux, uy = -ux, -uy
	}
	return d, ux, uy
}
