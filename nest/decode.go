package nest

import "math"

// A gene is one step of a placing order: a unit, and an index into its kind's
// turns or AnyTurn. Sets of kits always choose their turns as they go.
type gene struct {
	unit int32
	turn int32
}

// A decoder turns placing orders into layouts. Each unit goes to the first
// ground, in the order they are opened, on which it fits; on a strip there is
// only one. The decoder keeps the layout of the order it decoded last, so that
// an order which begins alike is decoded from where the two part.
type decoder struct {
	pre    *prepared
	fits   *fits
	units  []unit
	clip   *clipper
	usable [][]int32 // per kind, the turns that moves may give it
	plan   []int32   // ground to open first, second, …
	along  []scale   // of each position in the plan
	open   []*field  // by position in the plan; kept for reuse
	used   int       // how many positions are in use
	genes  []gene    // those placed, in order
	steps  []decodeStep
	count  int64 // layouts completed
}

// decodeStep is what became of one gene, with running sums.
type decodeStep struct {
	field  int32 // position in the plan, or -1 when the unit found no place
	copies int32
	used   int32   // positions in use before it
	left   int32   // units without a place so far
	reach  float64 // right end of the layout so far
	fill   float64 // sum of area · right end so far
}

// A scale lays the grounds of a plan one behind the other on one axis, so that a
// layout on sheets is rated like one on a strip: from is what the grounds before
// cost, and each millimetre along a ground adds its share of the ground's cost.
// The last ground counts only as far as it is used: what is left of it is kept.
type scale struct {
	from, perMM, origin float64
}

func (s scale) at(x float64) float64 { return s.from + (x-s.origin)*s.perMM }

func newDecoder(pre *prepared, fits *fits, units []unit, plan []int32) *decoder {
	d := &decoder{pre: pre, fits: fits, units: units, clip: &clipper{}}
	d.setPlan(plan)
	return d
}

// setPlan changes the order in which grounds are opened, and takes everything
// back.
func (d *decoder) setPlan(plan []int32) {
	d.rollback(0)
	d.plan, d.along = plan, make([]scale, len(plan))
	from := 0.0
	for i, gi := range plan {
		d.along[i] = d.pre.grounds[gi].scale(from)
		from += d.pre.grounds[gi].cost
	}
}

// A rating weighs a layout's reach against how far right its parts lie on the
// whole; lower is better. Both only grow while parts are placed.
type rating struct {
	reach, fill float64
}

func (r rating) of(st decodeStep) float64 { return r.reach*st.reach + r.fill*st.fill }

// unplacedPenalty rates one unit without a place worse than any layout that
// has one fewer.
const unplacedPenalty = 1e15

// decode places the genes in order and returns the layout's value. It gives up
// as soon as the value exceeds limit, and then returns +Inf.
func (d *decoder) decode(genes []gene, by rating, limit float64) float64 {
	d.rollback(d.shared(genes))
	for _, g := range genes[len(d.genes):] {
		d.place(g)
		if d.value(by) > limit {
			return math.Inf(1)
		}
	}
	d.count++
	if v := d.value(by); v <= limit {
		return v
	}
	return math.Inf(1)
}

func (d *decoder) value(by rating) float64 {
	st := d.last()
	return by.of(st) + unplacedPenalty*float64(st.left)
}

// shared is how many first genes are already placed.
func (d *decoder) shared(genes []gene) int {
	n := 0
	for n < len(genes) && n < len(d.genes) && genes[n] == d.genes[n] {
		n++
	}
	return n
}

func (d *decoder) last() decodeStep {
	if len(d.steps) == 0 {
		return decodeStep{}
	}
	return d.steps[len(d.steps)-1]
}

// rollback takes genes back until n are left.
func (d *decoder) rollback(n int) {
	if len(d.genes) <= n {
		return
	}
	for i := len(d.steps) - 1; i >= n; i-- {
		if st := d.steps[i]; st.field >= 0 {
			d.open[st.field].drop(int(st.copies))
		}
	}
	d.used = int(d.steps[n].used)
	d.genes, d.steps = d.genes[:n], d.steps[:n]
	for _, fd := range d.open {
		if fd != nil {
			fd.settle()
		}
	}
}

// place puts one gene's unit on the first ground that takes it.
func (d *decoder) place(g gene) bool {
	st := d.last()
	st.field, st.copies, st.used = -1, 0, int32(d.used)
	u := &d.units[g.unit]
	for i := range d.plan {
		if d.sameAsRefused(i) {
			continue
		}
		fd := d.field(i)
		before := len(fd.placed)
		if !fd.placeUnit(u, g.turn) {
			continue
		}
		st.field, st.copies = int32(i), int32(len(u.kinds))
		d.used = max(d.used, i+1)
		d.measure(&st, fd.placed[before:], i)
		break
	}
	if st.field < 0 {
		st.left++
	}
	d.genes, d.steps = append(d.genes, g), append(d.steps, st)
	return st.field >= 0
}

// measure adds copies to the running sums.
func (d *decoder) measure(st *decodeStep, copies []spot, at int) {
	for _, s := range copies {
		end := d.along[at].at(s.x + d.pre.shapes[s.shape].w)
		st.reach = max(st.reach, end)
		st.fill += d.pre.kinds[s.kind].area * end
	}
}

// sameAsRefused tells whether position i of the plan is an unused ground of the
// kind of the unused one before it.
func (d *decoder) sameAsRefused(i int) bool {
	return i > d.used && d.plan[i] == d.plan[i-1]
}

// field is the one at a position of the plan.
func (d *decoder) field(i int) *field {
	for len(d.open) <= i {
		d.open = append(d.open, nil)
	}
	g := &d.pre.grounds[d.plan[i]]
	if d.open[i] == nil || d.open[i].ground != g {
		d.open[i] = newField(d.pre, d.fits, g, d.clip)
	}
	return d.open[i]
}

// inUse lists the fields that hold something, in the order they were opened.
func (d *decoder) inUse() []*field {
	var list []*field
	for _, fd := range d.open[:min(d.used, len(d.open))] {
		if fd != nil && len(fd.placed) > 0 {
			list = append(list, fd)
		}
	}
	return list
}
