package nest

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// A walker is one member of the population: an order with its layout, and a
// walk through neighbouring orders that sometimes goes uphill (simulated
// annealing, Kirkpatrick, Gelatt and Vecchi 1983).
//
// The walk looks at neighbours from the end of the order towards its start. A
// neighbour shares its first placements with the walker's order up to the first
// change, so the decoder never has to build anything twice until the walk
// begins at the end again.
type walker struct {
	dec   *decoder
	rng   *rand.Rand
	by    rating
	order []gene
	value float64 // of order, by the walker's own rating
	best  []gene
	plan  []int32 // the plan best was decoded with
	key   key     // of best
	trial []gene
	spots []int
}

// A key ranks layouts as the caller sees them: first what is missing, then what
// the grounds cost, then how far the layout reaches on the last one, then how
// far right its parts lie.
type key struct {
	left              int32
	cost, reach, fill float64
	sheets            int     // for reports only
	bought            float64 // area of the sheets; for reports only
}

func (a key) less(b key) bool {
	switch {
	case a.left != b.left:
		return a.left < b.left
	case a.cost != b.cost:
		return a.cost < b.cost
	case a.reach != b.reach:
		return a.reach < b.reach
	}
	return a.fill < b.fill
}

// key ranks the decoder's complete layout.
func (d *decoder) key() key {
	st := d.last()
	k := key{left: st.left, reach: st.reach, fill: st.fill}
	for _, fd := range d.open[:min(d.used, len(d.open))] {
		if fd != nil && len(fd.placed) > 0 {
			k.cost += fd.ground.cost
			k.bought += fd.ground.area
			k.sheets++
		}
	}
	return k
}

// start gives the walker an order to walk from.
func (w *walker) start(order []gene) {
	w.order = append(w.order[:0], order...)
	w.value = w.dec.decode(w.order, w.by, math.Inf(1))
	w.note()
}

// note keeps the decoder's complete layout when it is the walker's best.
func (w *walker) note() {
	if k := w.dec.key(); w.best == nil || k.less(w.key) {
		w.key = k
		w.best = append(w.best[:0], w.dec.genes...)
		w.plan = w.dec.plan
	}
}

// walk looks at neighbours until the given work is done.
func (w *walker) walk(ctx context.Context, heat float64, work int64) {
	until := w.dec.clip.work + work
	for w.dec.clip.work < until && ctx.Err() == nil {
		w.sweep(ctx, heat, until)
	}
}

// sweep looks at one neighbour each for as many random places of the order as
// it has, last places first.
func (w *walker) sweep(ctx context.Context, heat float64, until int64) {
	n := len(w.order)
	w.spots = w.spots[:0]
	for range n {
		w.spots = append(w.spots, w.rng.IntN(n))
	}
	slices.Sort(w.spots)
	for k := n - 1; k >= 0 && w.dec.clip.work < until && ctx.Err() == nil; k-- {
		w.dec.clip.work += neighbourWork
		w.trial = append(w.trial[:0], w.order...)
		if !w.dec.change(w.trial, w.spots[k], w.rng) {
			continue
		}
		limit := w.value - heat*math.Log(1-w.rng.Float64())
		if v := w.dec.decode(w.trial, w.by, limit); v <= limit {
			w.order, w.trial = w.trial, w.order
			w.value = v
			w.note()
		}
	}
}

// neighbourWork is what looking at a neighbour costs beyond the decode, in the
// decoder's unit of work; it also makes every walk end.
const neighbourWork = 20
