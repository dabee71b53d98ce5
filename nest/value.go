package nest

import (
	"cmp"
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
)

// Fill lays, on one sheet, the parts that are worth most together. values says
// what one copy of each part is worth; parts worth nothing are left out. No more
// of a part is laid than its quantity and extra copies say, fillers are like
// other parts, and sets of kits stay whole. The problem has one kind of sheet,
// of which one is filled.
//
// It is a walk over placing orders, each decoded by bottom-left placement; what
// fits no more is skipped. It starts from orders by value, by value for the
// area and by area, and takes a neighbour that is worth no less. Such fills
// are the pricing step of column generation (Gilmore and Gomory 1961, "A linear
// programming approach to the cutting-stock problem"), with a search in place
// of their knapsack, because nothing exact is known for free shapes.
func Fill(ctx context.Context, p Problem, values []float64, o Options) (Result, error) {
	if p.StripWidth > 0 || len(p.Sheets) != 1 {
		return Result{}, ErrUnsupported
	}
	if len(values) != len(p.Parts) {
		return Result{}, errors.New("there must be one value for every part")
	}
	pre, err := prepare(p)
	if err != nil {
		return Result{}, err
	}
	f := newValueFill(pre, newFits(pre, o.Memo), values, o)
	f.search(ctx)
	r := sheetsResult(pre, f.layouts())
	r.Unplaced, r.Warnings, r.Status = nil, nil, Finished
	r = r.ended(ctx)
	r.Stats = Stats{Seed: o.Seed, Effort: o.Effort, Decodes: f.dec.count, Won: "value"}
	return r, nil
}

// A valueFill is such a walk.
type valueFill struct {
	pre    *prepared
	dem    demand
	values []float64 // of each unit
	most   []int     // copies of each unit worth listing
	dec    *decoder
	rng    *rand.Rand
	pace   pace
	best   []gene
	worth  float64
	fields []spot
}

func newValueFill(pre *prepared, fits *fits, values []float64, o Options) *valueFill {
	f := &valueFill{
		pre: pre, dem: demandOf(pre.problem, pre.kinds), rng: rand.New(rand.NewPCG(o.Seed, 0)), pace: newPace(o), worth: math.Inf(-1),
	}
	f.values, f.most = make([]float64, len(f.dem.units)), make([]int, len(f.dem.units))
	for u := range f.dem.units {
		for _, k := range f.dem.units[u].kinds {
			f.values[u] += values[k]
		}
		room := int(pre.grounds[0].room/math.Max(f.dem.units[u].area, 1)) + 1
		f.most[u] = min(f.dem.wanted[u]+f.dem.welcome[u], room)
	}
	f.dec = newDecoder(pre, fits, f.dem.units, []int32{0})
	f.dec.usable = make([][]int32, len(pre.kinds))
	for k := range f.dec.usable {
		f.dec.usable[k] = fits.usable(k)
	}
	return f
}

// search walks until the pace or ctx says stop. The first orders are always
// tried.
func (f *valueFill) search(ctx context.Context) {
	for i, by := range f.measures() {
		if i > 0 && ctx.Err() != nil {
			return
		}
		f.try(f.order(by))
	}
	if len(f.best) < 2 {
		return
	}
	trial := slices.Clone(f.best)
	for ctx.Err() == nil && f.pace.share() < 1 {
		trial = append(trial[:0], f.best...)
		f.mutate(trial)
		f.try(trial)
	}
}

// measures rank the units for the first orders, larger first: what a unit is
// worth for the area it takes, what it is worth, its area.
func (f *valueFill) measures() []func(u int) float64 {
	return []func(u int) float64{
		func(u int) float64 { return f.values[u] / f.dem.units[u].area },
		func(u int) float64 { return f.values[u] },
		func(u int) float64 { return f.dem.units[u].area },
	}
}

// order lists all that is worth anything by a measure.
func (f *valueFill) order(by func(u int) float64) []gene {
	var units []int
	for u := range f.dem.units {
		if f.values[u] > 0 && f.most[u] > 0 {
			units = append(units, u)
		}
	}
	slices.SortStableFunc(units, func(a, b int) int { return cmp.Compare(by(b), by(a)) })
	var genes []gene
	for _, u := range units {
		for range f.most[u] {
			genes = append(genes, gene{int32(u), AnyTurn})
		}
	}
	return genes
}

// try decodes an order and keeps it if it is worth no less than the best. Kept
// is what was placed first and then, in the order's sequence, what was not: so
// a walk changes what lies on the sheet.
func (f *valueFill) try(genes []gene) {
	d := f.dec
	d.clip.work += orderWork + int64(len(genes))
	d.rollback(d.shared(genes))
	for _, g := range genes[len(d.genes):] {
		d.place(g)
	}
	d.count++
	f.pace.done = d.clip.work
	worth := 0.0
	for i, st := range d.steps {
		if st.field >= 0 {
			worth += f.values[d.genes[i].unit]
		}
	}
	if worth < f.worth || len(genes) == 0 {
		return
	}
	f.worth = worth
	placed, rest := make([]gene, 0, len(genes)), []gene(nil)
	for i, st := range d.steps {
		if st.field >= 0 {
			placed = append(placed, d.genes[i])
		} else {
			rest = append(rest, d.genes[i])
		}
	}
	f.best = append(placed, rest...)
	f.fields = nil
	if fields := d.inUse(); len(fields) > 0 {
		f.fields = slices.Clone(fields[0].placed)
	}
}

// orderWork is what an order costs beyond its decode, and beyond its length, in
// the decoder's unit of work: an order that has been changed into itself must
// not be tried for ever.
const orderWork = 200

// mutate changes an order: a run of equal units moves elsewhere, two places
// change over, or a unit that found no place comes forward.
func (f *valueFill) mutate(genes []gene) {
	n := len(genes)
	lying := max(1, len(f.fields))
	i := f.rng.IntN(min(n, lying))
	switch r := f.rng.IntN(10); {
	case r < 4: // another unit at i
		for range 8 {
			if j := f.rng.IntN(n); genes[j].unit != genes[i].unit {
				genes[i], genes[j] = genes[j], genes[i]
				return
			}
		}
	case r < 6:
		f.turn(&genes[i])
	case r < 8: // a run of equal units moves
		end := i + 1
		for end < n && genes[end].unit == genes[i].unit {
			end++
		}
		moveRun(genes, i, end, f.rng.IntN(n))
	default:
		j := f.rng.IntN(n)
		moveRun(genes, j, j+1, i)
	}
}

// turn gives a gene a turn of its own, or leaves it open.
func (f *valueFill) turn(g *gene) {
	u := &f.dem.units[g.unit]
	if len(u.kinds) > 1 {
		return
	}
	choices := f.dec.usable[u.kinds[0]]
	if k := f.rng.IntN(len(choices) + 1); k < len(choices) {
		g.turn = choices[k]
	} else {
		g.turn = AnyTurn
	}
}

// moveRun moves genes[from:to] so that it begins at place at, or ends where the
// list does.
func moveRun(genes []gene, from, to, at int) {
	run := slices.Clone(genes[from:to])
	rest := slices.Delete(slices.Clone(genes), from, to)
	at = min(at, len(rest))
	copy(genes, slices.Insert(rest, at, run...))
}

func (f *valueFill) layouts() []Layout {
	if len(f.fields) == 0 {
		return nil
	}
	fd := &field{pre: f.pre, ground: &f.pre.grounds[0], placed: f.fields}
	return []Layout{fd.layout()}
}
