package nest

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"
)

// When the parts' area is that of a whole number of sheets, a layout on so few
// has no waste at all, and that makes it easier to find: the lowest free corner
// of a sheet, leftmost of equals, must be filled by a part whose own lowest
// corner lies there and whose side runs along the edge that bounds the free
// angle. That leaves few choices at each step, and a search that goes back on a
// corner nothing fits finds its way through dozens of parts.

// A sepJigsaw is such a search under way.
type sepJigsaw struct {
	store  *sepStore
	box    sepBox // every sheet's
	ground int32
	rng    *rand.Rand
	shapes []sepTile // by form
	left   []int     // copies to lay, by kind
	count  int       // copies to lay
	sheets [][]sepLaid
	best   [][]sepLaid // the full sheets of the fullest plan met
	work   int64
	limit  int64
}

// A sepTile is a form with its lowest corner.
type sepTile struct {
	ring       orb.Ring // about the reference point
	low        orb.Point
	from, to   float64 // angle of the corner's interior, radians
	run, reach float64 // length of the sides along from and to
}

// A sepLaid is a part laid on the sheet under way.
type sepLaid struct {
	form int32
	x, y float64 // reference point
}

// A sepSpan is a range of directions around a point that is taken, with how far
// the edges run that bound it.
type sepSpan struct {
	from, to       float64
	fromRun, toRun float64
}

const (
	sepSameAngle  = 1e-8 // radians; directions that count as one
	sepSameLength = 1e-5 // mm; lengths that count as one
)

// sepNewJigsaw prepares the search; ok is false for problems it is not for:
// sheets with zones or of several kinds, parts with clearances, holes, kits or
// free angles, or an area that leaves waste.
func sepNewJigsaw(p Problem, store *sepStore, seed uint64) (*sepJigsaw, bool) {
	if len(p.Sheets) != 1 || p.Spacing != 0 || p.Margin != 0 || len(store.zonesOf(0)) > 0 {
		return nil, false
	}
	b := p.Sheets[0].Outline.Bound()
	j := &sepJigsaw{store: store, rng: rand.New(rand.NewPCG(seed, sepJigsawStream))}
	j.box = sepBox{b.Min[0], b.Min[1], b.Max[0], b.Max[1]}
	area := 0.0
	for i, part := range p.Parts {
		if part.Kit != "" || part.Filler || store.kinds[i].free || len(part.Outline) > 1 {
			return nil, false
		}
		j.left = append(j.left, part.Quantity)
		j.count += part.Quantity
		area += float64(part.Quantity) * store.kinds[i].area
	}
	sheets := area / sepArea(p.Sheets[0])
	if math.Abs(sheets-math.Round(sheets)) > sepNoWaste*sheets || int(math.Round(sheets)) > p.Sheets[0].Count || sheets < 0.5 {
		return nil, false
	}
	for f := range store.forms {
		j.shapes = append(j.shapes, sepNewTile(store, int32(f)))
	}
	return j, true
}

// sepJigsawStream keeps the search's random stream apart from the lanes'.
const sepJigsawStream = 1 << 32

// sepNoWaste is the share of a sheet that may be left over.
const sepNoWaste = 1e-6

func sepNewTile(s *sepStore, form int32) sepTile {
	f := &s.forms[form]
	var t sepTile
	for _, p := range s.kinds[f.kind].lean[0] {
		x, y := f.rot.apply(p[0], p[1])
		t.ring = append(t.ring, orb.Point{x, y})
	}
	if f.turn.Mirror {
		slices.Reverse(t.ring)
	}
	at, n := sepLowest(t.ring), len(t.ring)
	t.low = t.ring[at]
	next, prev := t.ring[(at+1)%n], t.ring[(at+n-1)%n]
	t.from, t.run = sepBearing(t.low, next)
	t.to, t.reach = sepBearing(t.low, prev)
	return t
}

// sepBearing is the direction from one point to another, in [0, 2π), and the
// distance.
func sepBearing(a, b orb.Point) (angle, dist float64) {
	angle = math.Atan2(b[1]-a[1], b[0]-a[0])
	if angle < -sepSameAngle {
		angle += 2 * math.Pi
	}
	return max(0, angle), math.Hypot(b[0]-a[0], b[1]-a[1])
}

// Restarts go through sepJigsawFirst steps, then ever more by the factor, up to
// sepJigsawMost.
const (
	sepJigsawFirst  = 20_000
	sepJigsawGrowth = 1.5
	sepJigsawMost   = 4_000_000
)

// solve searches, in turn with parts as drawn only and in all turns, with
// restarts, until all parts are laid, its share is spent or ctx ends.
func (j *sepJigsaw) solve(ctx context.Context, meter *sepMeter) bool {
	budget := float64(sepJigsawFirst)
	for round := 0; meter.done() < sepJigsawShare && ctx.Err() == nil; round++ {
		before := j.work
		j.limit = before + int64(budget)
		j.sheets = [][]sepLaid{nil}
		done := j.extend(round%2 == 1)
		meter.at += (j.work - before) * sepJigsawWork / sepLaneCount
		if done {
			return true
		}
		budget = min(budget*sepJigsawGrowth, sepJigsawMost)
	}
	return false
}

// extend lays the next part at the free corner of the sheet under way, or opens
// the next sheet, and goes on from there; it reports whether all parts got laid.
// It leaves things as they were if not.
func (j *sepJigsaw) extend(turned bool) bool {
	if j.count == 0 {
		j.note(len(j.sheets))
		return true
	}
	if j.work > j.limit {
		return false
	}
	corner, wedge, ok := j.corner()
	if !ok {
		if !j.covered() {
			return false // a sliver, too thin to see its corner
		}
		j.note(len(j.sheets))
		j.sheets = append(j.sheets, nil)
		done := j.extend(turned)
		if !done {
			j.sheets = j.sheets[:len(j.sheets)-1]
		}
		return done
	}
	for _, form := range j.choices(wedge, turned) {
		if j.lay(form, corner) {
			if j.extend(turned) {
				return true
			}
			j.lift()
		}
	}
	return false
}

// covered reports whether the parts on the sheet under way cover it.
func (j *sepJigsaw) covered() bool {
	free := (j.box.x1 - j.box.x0) * (j.box.y1 - j.box.y0)
	whole := free
	for _, o := range j.sheets[len(j.sheets)-1] {
		free -= j.store.kinds[j.store.forms[o.form].kind].area
	}
	return free <= whole*sepNoWaste
}

// note keeps the full sheets when there are more than ever before.
func (j *sepJigsaw) note(full int) {
	if full <= len(j.best) {
		return
	}
	j.best = nil
	for _, s := range j.sheets[:full] {
		j.best = append(j.best, slices.Clone(s))
	}
}

// lay puts a form's lowest corner at the point if it fits there.
func (j *sepJigsaw) lay(form int32, corner orb.Point) bool {
	t, f := &j.shapes[form], &j.store.forms[form]
	x, y := corner[0]-t.low[0], corner[1]-t.low[1]
	if b := j.box.inside(f.ext); x < b.x0-sepTouch || x > b.x1+sepTouch || y < b.y0-sepTouch || y > b.y1+sepTouch {
		return false
	}
	at := len(j.sheets) - 1
	n := len(j.store.forms)
	for _, o := range j.sheets[at] {
		r := &j.store.rels[int(form)*n+int(o.form)]
		j.work++
		mx, my := r.m.apply(x-o.x, y-o.y)
		if j.store.table(int(form), int(o.form)).depth(mx, my) > sepTouch {
			return false
		}
	}
	j.sheets[at] = append(j.sheets[at], sepLaid{form, x, y})
	j.left[f.kind]--
	j.count--
	return true
}

// lift takes the last part back.
func (j *sepJigsaw) lift() {
	at := len(j.sheets) - 1
	last := j.sheets[at][len(j.sheets[at])-1]
	j.sheets[at] = j.sheets[at][:len(j.sheets[at])-1]
	j.left[j.store.forms[last.form].kind]++
	j.count++
}

// choices lists the forms that fit the wedge's start, the likeliest first:
// those that fill its angle, and whose sides are as long as the edges there.
func (j *sepJigsaw) choices(w sepSpan, turned bool) []int32 {
	type choice struct {
		form  int32
		score float64
	}
	var list []choice
	for f := range j.shapes {
		form, t := &j.store.forms[f], &j.shapes[f]
		if j.left[form.kind] == 0 || (!turned && f != j.store.kinds[form.kind].form0) || !j.store.allowed(int32(f), j.ground) {
			continue
		}
		if math.Abs(t.from-w.from) > sepSameAngle || t.to > w.to+sepSameAngle {
			continue
		}
		list = append(list, choice{int32(f), t.fits(w) + j.rng.Float64()})
	}
	j.work += int64(len(j.shapes)) / 8
	slices.SortStableFunc(list, func(a, b choice) int { return cmp.Compare(b.score, a.score) })
	out := make([]int32, len(list))
	for i, c := range list {
		out[i] = c.form
	}
	return out
}

// fits scores how well a tile meets the wedge.
func (t *sepTile) fits(w sepSpan) float64 {
	score := 0.0
	if math.Abs(t.run-w.fromRun) < sepSameLength {
		score += 4
	}
	if math.Abs(t.to-w.to) < sepSameAngle {
		score += 2
		if math.Abs(t.reach-w.toRun) < sepSameLength {
			score += 4
		}
	}
	return score
}

// corner finds the lowest point of the sheet under way, leftmost of equals, with
// a free direction above it, and the first free wedge there. ok is false when
// the sheet is full.
func (j *sepJigsaw) corner() (at orb.Point, wedge sepSpan, ok bool) {
	laid := j.sheets[len(j.sheets)-1]
	points := []orb.Point{{j.box.x0, j.box.y0}, {j.box.x1, j.box.y0}}
	for _, o := range laid {
		for _, p := range j.shapes[o.form].ring {
			points = append(points, orb.Point{p[0] + o.x, p[1] + o.y})
		}
	}
	slices.SortFunc(points, func(a, b orb.Point) int {
		return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0]))
	})
	for i, p := range points {
		if i > 0 && p == points[i-1] {
			continue
		}
		if w, free := j.wedge(p, laid); free {
			return p, w, true
		}
	}
	return at, wedge, false
}

// wedge finds the first range of free directions at a point, from 0 to π.
func (j *sepJigsaw) wedge(p orb.Point, laid []sepLaid) (sepSpan, bool) {
	var buf [24]sepSpan
	spans := j.walls(buf[:0], p)
	for _, o := range laid {
		e := &j.store.forms[o.form].ext
		x, y := p[0]-o.x, p[1]-o.y
		if x < e.x0-sepSameLength || x > e.x1+sepSameLength || y < e.y0-sepSameLength || y > e.y1+sepSameLength {
			continue
		}
		s, touches, inside := j.shapes[o.form].span(orb.Point{x, y})
		if inside {
			return sepSpan{}, false
		}
		if touches {
			spans = append(spans, s)
		}
	}
	j.work += int64(len(laid)) / 2
	return sepFirstGap(spans)
}

// walls lists what the sheet's edges take at a point.
func (j *sepJigsaw) walls(spans []sepSpan, p orb.Point) []sepSpan {
	b := j.box
	if p[1] <= b.y0+sepSameLength {
		spans = append(spans, sepSpan{math.Pi, 2 * math.Pi, p[0] - b.x0, b.x1 - p[0]})
	}
	if p[1] >= b.y1-sepSameLength {
		spans = append(spans, sepSpan{0, math.Pi, b.x1 - p[0], p[0] - b.x0})
	}
	if p[0] <= b.x0+sepSameLength {
		spans = append(spans, sepSpan{math.Pi / 2, 3 * math.Pi / 2, b.y1 - p[1], p[1] - b.y0})
	}
	if p[0] >= b.x1-sepSameLength {
		spans = append(spans, sepSpan{-math.Pi / 2, math.Pi / 2, p[1] - b.y0, b.y1 - p[1]})
	}
	return spans
}

// span is the range of directions that a tile takes at a point of its boundary.
func (t *sepTile) span(p orb.Point) (s sepSpan, touches, inside bool) {
	n := len(t.ring)
	crossings := false
	for i, a := range t.ring {
		b := t.ring[(i+1)%n]
		if math.Abs(a[0]-p[0]) < sepSameLength && math.Abs(a[1]-p[1]) < sepSameLength {
			prev := t.ring[(i+n-1)%n]
			s.from, s.fromRun = sepBearing(a, b)
			s.to, s.toRun = sepBearing(a, prev)
			if s.to < s.from {
				s.to += 2 * math.Pi
			}
			return s, true, false
		}
		angle, length := sepBearing(a, b)
		ux, uy := (b[0]-a[0])/length, (b[1]-a[1])/length
		along := (p[0]-a[0])*ux + (p[1]-a[1])*uy
		height := ux*(p[1]-a[1]) - uy*(p[0]-a[0])
		if math.Abs(height) < sepSameLength && along > 0 && along < length {
			return sepSpan{angle, angle + math.Pi, length - along, along}, true, false
		}
		if (a[1] > p[1]) != (b[1] > p[1]) && (height > 0) == (b[1] > a[1]) {
			crossings = !crossings
		}
	}
	return s, false, crossings
}

// sepFirstGap is the first range in [0, π] that no span takes.
func sepFirstGap(spans []sepSpan) (sepSpan, bool) {
	at, run := 0.0, 0.0
	for {
		next, more := -1, at
		gap, gapRun := math.Pi, 0.0
		for i := range spans {
			for _, turn := range [2]float64{0, 2 * math.Pi} {
				from, to := spans[i].from-turn, spans[i].to-turn
				switch {
				case from <= at+sepSameAngle && to > more+sepSameAngle:
					next, more = i, to
				case math.Abs(to-at) <= sepSameAngle:
					run = max(run, spans[i].toRun)
				case from > at+sepSameAngle && from < gap:
					gap, gapRun = from, spans[i].fromRun
				}
			}
		}
		if next < 0 {
			return sepSpan{at, gap, run, gapRun}, at < math.Pi-sepSameAngle
		}
		at, run = more, spans[next].toRun
		if at >= math.Pi-sepSameAngle {
			return sepSpan{}, false
		}
	}
}
