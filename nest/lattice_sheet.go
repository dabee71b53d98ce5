package nest

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A latSheet lays as many copies of one part as it can on one empty sheet: the
// cells, turned and shifted, are clipped to the sheet; what is left free at its
// rim takes single copies.
type latSheet struct {
	store     *sepStore
	kind      int
	ground    int32
	box       sepBox
	zones     []sepPick
	zoneOf    []int // the zones' kinds
	seed      uint64
	workers   int
	clippings int       // that single copies are laid beside
	pre       *prepared // with fits, for laying single copies exactly
	fits      *fits
}

// A latClip is one way to clip: a turned cell, its origin and how many copies
// the bare box holds.
type latClipped struct {
	t     *latTurned
	o     orb.Point
	count int
}

const (
	latPerCell = 4   // shifts of a turned cell that are looked at further
	latClips   = 150 // clippings that single copies are laid beside, usually
	latFilled  = 8   // clippings whose rim is then searched at random
)

// turns lays every cell in every turn that the sheet allows.
func (l *latSheet) turns(cells []latCell) []latTurned {
	var list []latTurned
	for i := range cells {
		for _, deg := range latAngles(l.store, l.kind, &cells[i]) {
			if t, ok := cells[i].turned(l.store, l.kind, l.ground, deg); ok {
				list = append(list, t)
			}
		}
	}
	return list
}

// clips lists the most promising clippings of all turned cells, most copies first.
func (l *latSheet) clips(turned []latTurned) []latClipped {
	var list []latClipped
	for i := range turned {
		list = append(list, l.shifts(&turned[i])...)
	}
	slices.SortStableFunc(list, func(a, b latClipped) int { return b.count - a.count })
	return list[:min(len(list), l.clippings)]
}

// fill lays the best clipping found with its rim filled.
func (l *latSheet) fill(ctx context.Context, turned []latTurned) []sepPick {
	laid := l.fillings(ctx, turned)
	if len(laid) == 0 {
		return nil
	}
	return laid[0]
}

// fillings lists clippings with their rims filled, the fullest first: single copies
// beside every promising clipping, and a random search at the rims of the best of
// those.
func (l *latSheet) fillings(ctx context.Context, turned []latTurned) [][]sepPick {
	clips := l.clips(turned)
	laid := make([][]sepPick, len(clips))
	sideBySide(l.workers, clips, func(i int, c latClipped) {
		if i == 0 || ctx.Err() == nil {
			laid[i] = l.exactRim(l.settle(c.t.picks(l.box, c.o, 0)))
		}
	})
	l.fullestFirst(laid)
	best := laid[:min(len(laid), latFilled)]
	sideBySide(l.workers, best, func(i int, picks []sepPick) {
		if ctx.Err() == nil {
			best[i] = l.randomRim(picks, uint64(i))
		}
	})
	l.fullestFirst(laid)
	return slices.DeleteFunc(laid, func(picks []sepPick) bool { return len(picks) == 0 })
}

// fullestFirst sorts layouts by copies, and then by where the last one ends.
func (l *latSheet) fullestFirst(laid [][]sepPick) {
	slices.SortStableFunc(laid, func(a, b []sepPick) int {
		return cmp.Or(len(b)-len(a), cmp.Compare(latReach(l.store, a), latReach(l.store, b)))
	})
}

func (l *latSheet) randomRim(picks []sepPick, stream uint64) []sepPick {
	lane := l.lane(picks, stream)
	l.fillRim(lane)
	return latPicks(lane)
}

// settle slides all copies together into the box's corner and drops those that
// the zones do not allow.
func (l *latSheet) settle(picks []sepPick) []sepPick {
	if len(l.zones) > 0 {
		return l.clear(picks)
	}
	left, low := math.Inf(1), math.Inf(1)
	for _, p := range picks {
		_, ext := l.store.lie(p.form, p.angle)
		left, low = min(left, p.x+ext.x0-l.box.x0), min(low, p.y+ext.y0-l.box.y0)
	}
	for i := range picks {
		picks[i].x -= left
		picks[i].y -= low
	}
	return picks
}

// clear keeps the copies that run into no zone.
func (l *latSheet) clear(picks []sepPick) []sepPick {
	lane := l.lane(picks, 0)
	var out []sepPick
	for i := range picks {
		if !lane.collides(i) {
			out = append(out, picks[i])
		}
	}
	return out
}

// lane makes a separator that holds the copies, with the zones last. Copies
// that collide with a zone are the caller's to drop.
func (l *latSheet) lane(picks []sepPick, stream uint64) *sepLane {
	cast := &sepCast{ground: []int32{l.ground}, free: len(picks)}
	plan := sepPlan{boxes: []sepBox{l.box}}
	for _, p := range picks {
		plan.add(p)
		cast.add(l.kind, -1)
	}
	for i, z := range l.zones {
		plan.add(z)
		cast.add(l.zoneOf[i], -1)
	}
	return sepNewLane(l.store, cast, plan, l.seed, int(stream))
}

// latPicks lists where a lane's movable items are.
func latPicks(l *sepLane) []sepPick {
	var out []sepPick
	for i := range l.free {
		out = append(out, sepPick{form: l.form[i], angle: l.angle[i], sheet: l.sheet[i], x: l.x[i], y: l.y[i]})
	}
	return out
}

// latReach is where the last of the copies ends along x.
func latReach(s *sepStore, picks []sepPick) float64 {
	x := math.Inf(-1)
	for _, p := range picks {
		_, ext := s.lie(p.form, p.angle)
		x = max(x, p.x+ext.x1)
	}
	return x
}

// exactRim lays single copies at the leftmost places left, as the bottom-left
// search does, while there are any in the part's listed turns.
func (l *latSheet) exactRim(picks []sepPick) []sepPick {
	if l.store.kinds[l.kind].free || l.pre.grounds[0].strip {
		return picks
	}
	layout := Layout{Sheet: int(l.ground)}
	for _, p := range picks {
		layout.Placements = append(layout.Placements, Placement{Part: l.kind, Pose: l.store.pose(p.form, p.angle, p.x, p.y)})
	}
	fd := l.pre.fieldOf(l.fits, layout)
	fd.final = true
	fd.fillWithin(l.kind, sepMostItems, stripReach)
	for _, pl := range fd.layout().Placements[len(picks):] {
		at, ok := l.store.place(pl)
		if !ok {
			return picks
		}
		picks = append(picks, at)
	}
	return picks
}

// latMisses is how many failed searches for a free place end the filling.
const latMisses = 3

// fillRim adds single copies where they fit.
func (l *latSheet) fillRim(lane *sepLane) {
	for misses := 0; misses < latMisses && lane.n < sepMostItems; {
		pick, ok := l.place(lane)
		if !ok {
			misses++
			continue
		}
		lane.insert(pick, l.kind)
		misses = 0
	}
}

// latShallow is how deep, as a share of the size and summed over its neighbours,
// a pose may collide to be worth a nudge.
const latShallow = 0.3

// latProbes is how many poses one search for a free place samples.
const latProbes = 400

// place looks for a free place for one more copy.
func (l *latSheet) place(lane *sepLane) (sepPick, bool) {
	m := &lane.mover
	m.begin()
	size := l.store.kinds[l.kind].size
	for _, at := range l.aims(lane) {
		for range latProbes {
			c, ok := m.rimSample(lane.sepState, at, size)
			if ok && (c.price == 0 || (c.price < size*latShallow && m.nudge(lane.sepState, &c, size/2))) {
				return c, true
			}
		}
	}
	return sepPick{}, false
}

// aims readies probes for a copy that is not on the sheet yet, one per form, or
// a few angles per form.
func (l *latSheet) aims(lane *sepLane) []int {
	k := &l.store.kinds[l.kind]
	lots := k.forms
	if k.free {
		lots *= 4
	}
	var out []int
	for f := range lots {
		angle := 0.0
		if k.free {
			angle = l.store.guess(k, lane.mover.rng)
		}
		if at := lane.mover.probe(lane.sepState, -1, int32(k.form0+f%k.forms), angle, 0); at >= 0 {
			out = append(out, at)
		}
	}
	return out
}

// rimSample prices a pose, half of the time anywhere and half near an edge of
// the field.
func (m *sepMover) rimSample(s *sepState, at int, size float64) (sepPick, bool) {
	p := &m.probes[at]
	b := p.field
	x, y := b.x0+m.rng.Float64()*(b.x1-b.x0), b.y0+m.rng.Float64()*(b.y1-b.y0)
	switch m.rng.Uint32() & 7 {
	case 0:
		x = b.x0 + m.rng.Float64()*size
	case 1:
		x = b.x1 - m.rng.Float64()*size
	case 2:
		y = b.y0 + m.rng.Float64()*size
	case 3:
		y = b.y1 - m.rng.Float64()*size
	}
	x, y = p.clamp(x, y)
	price := p.price(s, x, y, math.Inf(1))
	return sepPick{form: p.form, angle: p.angle, x: x, y: y, price: price, probe: at}, price < math.Inf(1)
}
