package nest

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// A latWindow is a rectangle of a sheet: the copies that lie wholly in it may be
// laid anew, those that reach into it or lie near stay.
type latWindow struct {
	box    sepBox
	inside []sepPick
	near   []sepPick
	far    []sepPick
}

const (
	latWindowFew   = 8   // copies that a window may be meant for: at least
	latWindowMany  = 100 // and at most
	latWindowLong  = 5   // most that a window is longer than wide
	latWindowAnew  = 18  // most copies that are all thrown in anew
	latWindowGrid  = 14  // points along each side at which its free room is measured
	latWindowLooks = 64  // points whose test counts as one lookup
	// latWindowRoom is the free room, in copies, that a window must have for one more.
	latWindowRoom = 1.0
)

// window draws a window and readies a layout with one copy more in it, or none
// where it has too little room.
func (l *latPressLane) window() (job *latPressJob, cost int64) {
	f := l.presser.full
	w := f.sheet.cut(f.picks, f.sheet.drawWindow(len(f.picks), l.rng))
	cost = 1 + latWindowGrid*latWindowGrid*int64(len(w.inside)+len(w.near))/latWindowLooks
	if len(w.inside) == 0 || f.sheet.room(&w) < latWindowRoom {
		return nil, cost
	}
	lane := f.sheet.windowLane(&w, l.rng)
	lane.begin(latWindowPatience)
	return &latPressJob{sepLane: lane, rest: append(w.near, w.far...)}, cost + lane.work
}

// drawWindow draws a window's rectangle; three of four touch the rim.
func (l *latSheet) drawWindow(copies int, rng *rand.Rand) sepBox {
	b := l.box
	wide, high := b.x1-b.x0, b.y1-b.y0
	most := min(latWindowMany, copies)
	share := float64(latWindowFew) / float64(copies) * math.Pow(float64(most)/latWindowFew, rng.Float64())
	long := math.Exp((2*rng.Float64() - 1) * math.Log(latWindowLong))
	side := math.Sqrt(share * wide * high)
	w, h := min(wide, side*long), min(high, side/long)
	x, y := b.x0+rng.Float64()*(wide-w), b.y0+rng.Float64()*(high-h)
	switch rng.IntN(16) / 3 {
	case 0:
		x = b.x0
	case 1:
		x = b.x1 - w
	case 2:
		y = b.y0
	case 3:
		y = b.y1 - h
	}
	return sepBox{x, y, x + w, y + h}
}

// cut sorts copies by how they lie to a window.
func (l *latSheet) cut(picks []sepPick, box sepBox) latWindow {
	w := latWindow{box: box}
	reach := 2 * l.store.kinds[l.kind].size
	for _, p := range picks {
		_, ext := l.store.lie(p.form, p.angle)
		switch {
		case p.x+ext.x0 >= box.x0-sepTouch && p.x+ext.x1 <= box.x1+sepTouch && p.y+ext.y0 >= box.y0-sepTouch && p.y+ext.y1 <= box.y1+sepTouch:
			w.inside = append(w.inside, p)
		case p.x+ext.x1 > box.x0-reach && p.x+ext.x0 < box.x1+reach && p.y+ext.y1 > box.y0-reach && p.y+ext.y0 < box.y1+reach:
			w.near = append(w.near, p)
		default:
			w.far = append(w.far, p)
		}
	}
	return w
}

// room is the free room of a window, in copies, measured on a grid of points.
func (l *latSheet) room(w *latWindow) float64 {
	free := 0
	for i := range latWindowGrid * latWindowGrid {
		x := w.box.x0 + (float64(i%latWindowGrid)+0.5)/latWindowGrid*(w.box.x1-w.box.x0)
		y := w.box.y0 + (float64(i/latWindowGrid)+0.5)/latWindowGrid*(w.box.y1-w.box.y0)
		if !l.covered(w.inside, x, y) && !l.covered(w.near, x, y) {
			free++
		}
	}
	area := (w.box.x1 - w.box.x0) * (w.box.y1 - w.box.y0) * float64(free) / (latWindowGrid * latWindowGrid)
	return area / l.store.kinds[l.kind].area
}

func (l *latSheet) covered(picks []sepPick, x, y float64) bool {
	for _, p := range picks {
		rot, ext := l.store.lie(p.form, p.angle)
		dx, dy := x-p.x, y-p.y
		if dx < ext.x0 || dx > ext.x1 || dy < ext.y0 || dy > ext.y1 {
			continue
		}
		dx, dy = rot.inverse().apply(dx, dy)
		for _, piece := range l.store.kinds[l.kind].pieces {
			if latInConvex(piece, dx, dy) {
				return true
			}
		}
	}
	return false
}

func latInConvex(ring orb.Ring, x, y float64) bool {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if (q[0]-p[0])*(y-p[1])-(q[1]-p[1])*(x-p[0]) < 0 {
			return false
		}
	}
	return true
}

// windowLane makes a separator of a window's copies and one more; half of the time
// they are all thrown in anew.
func (l *latSheet) windowLane(w *latWindow, rng *rand.Rand) *sepLane {
	cast := &sepCast{ground: []int32{l.ground}, free: len(w.inside) + 1}
	plan := sepPlan{boxes: []sepBox{w.box}}
	put := func(p sepPick, kind int) {
		plan.add(p)
		cast.add(kind, -1)
	}
	anew := rng.Uint32()&1 == 0 && len(w.inside) <= latWindowAnew
	for _, p := range w.inside {
		if anew {
			p = l.thrown(w.box, p, rng)
		}
		put(p, l.kind)
	}
	put(l.thrown(w.box, w.inside[0], rng), l.kind)
	for _, p := range w.near {
		put(p, l.kind)
	}
	for i, z := range l.zones {
		put(z, l.zoneOf[i])
	}
	return sepNewLane(l.store, cast, plan, l.seed, int(rng.Uint64()>>1))
}

// thrown is a random pose in a box, in an allowed form that fits it, else the one
// given.
func (l *latSheet) thrown(b sepBox, otherwise sepPick, rng *rand.Rand) sepPick {
	k := &l.store.kinds[l.kind]
	p := otherwise
	for range 4 {
		form, angle := int32(k.form0+rng.IntN(k.forms)), 0.0
		if k.free {
			angle = l.store.guess(k, rng)
		}
		_, ext := l.store.lie(form, angle)
		if l.store.allowed(form, l.ground) && b.holds(ext) {
			p.form, p.angle = form, angle
			break
		}
	}
	_, ext := l.store.lie(p.form, p.angle)
	f := b.inside(ext)
	p.x, p.y = f.x0+rng.Float64()*(f.x1-f.x0), f.y0+rng.Float64()*(f.y1-f.y0)
	return p
}
