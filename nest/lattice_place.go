package nest

import (
	"context"
	"slices"

	"kerfold/geom"
)

// latMany is how many copies of a part are worth a lattice.
const latMany = 6

// Lattice lays out problems in which some parts come in many copies: it clips
// the densest periodic layouts of each such part to the sheets in every allowed
// direction, fills their rims with single copies, and lays whole sheets of one
// part as long as there are enough copies left for one. What is left over,
// other parts included, is laid by the bottom-left search on the remaining
// sheets. On a strip it takes one kind of part only.
func Lattice(ctx context.Context, p Problem, o Options) (Result, error) {
	pre, err := prepare(p)
	if err != nil {
		return Result{}, err
	}
	fits := newFits(pre, o.Memo)
	core := p.core(func(part int) bool { return len(fits.usable(part)) > 0 })
	r, err := lattice(ctx, core, pre, fits, o)
	if err != nil {
		return Result{}, err
	}
	return r.completed(ctx, p, o.Memo)
}

func lattice(ctx context.Context, p Problem, pre *prepared, fits *fits, o Options) (Result, error) {
	store, err := sepNewStore(p)
	if err != nil {
		return Result{}, err
	}
	l := &latSearcher{problem: p, options: o, store: store, pre: pre, fits: fits, meter: sepNewMeter(o), full: map[[2]int]*latFull{}}
	if p.StripWidth > 0 {
		return l.strip(ctx)
	}
	return l.sheets(ctx)
}

// A latSearcher is a lattice search under way.
type latSearcher struct {
	problem Problem
	options Options
	store   *sepStore
	pre     *prepared
	fits    *fits
	meter   sepMeter
	left    []int // copies still to lay, by part
	spare   []int // sheets still unused, by kind
	full    map[[2]int]*latFull
	layouts []Layout
	moves   int64
}

// A latFull is a sheet full of one part.
type latFull struct {
	sheet latSheet
	cells []latCell
	picks []sepPick
}

// sheets lays whole sheets of one part and leaves the rest to bottom-left.
func (l *latSearcher) sheets(ctx context.Context) (Result, error) {
	for _, part := range l.problem.Parts {
		l.left = append(l.left, part.Quantity)
	}
	for _, s := range l.problem.Sheets {
		l.spare = append(l.spare, s.Count)
	}
	many := l.many()
	if len(many) == 0 {
		return Result{}, ErrUnsupported
	}
	for _, part := range many {
		l.wholeSheets(ctx, part)
	}
	return l.rest(ctx)
}

// many lists the parts that are worth a lattice, the largest share of the work
// first.
func (l *latSearcher) many() []int {
	var list []int
	for i, part := range l.problem.Parts {
		if part.Quantity >= latMany && part.Kit == "" && !part.Filler {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		wa := l.store.kinds[a].area * float64(l.left[a])
		wb := l.store.kinds[b].area * float64(l.left[b])
		switch {
		case wa > wb:
			return -1
		case wa < wb:
			return 1
		}
		return 0
	})
	return list
}

// wholeSheets lays sheets full of one part, on the kind of sheet that costs
// least per copy, while there are copies for a full one.
func (l *latSearcher) wholeSheets(ctx context.Context, part int) {
	for ctx.Err() == nil {
		best, price := -1, 0.0
		for g := range l.problem.Sheets {
			if l.spare[g] == 0 {
				continue
			}
			n := len(l.fullOf(ctx, part, g).picks)
			if n == 0 || n > l.left[part] {
				continue
			}
			if c := l.cost(g) / float64(n); best < 0 || c < price {
				best, price = g, c
			}
		}
		if best < 0 {
			return
		}
		l.lay(best, l.fullOf(ctx, part, best).picks)
	}
}

func (l *latSearcher) cost(g int) float64 {
	s := l.problem.Sheets[g]
	if s.Cost > 0 {
		return s.Cost
	}
	return sepArea(s)
}

// lay uses up a sheet and the copies on it.
func (l *latSearcher) lay(g int, picks []sepPick) {
	layout := l.layout(g, picks)
	for _, pl := range layout.Placements {
		l.left[pl.Part]--
	}
	l.spare[g]--
	l.layouts = append(l.layouts, layout)
}

func (l *latSearcher) layout(g int, picks []sepPick) Layout {
	layout := Layout{Sheet: g}
	for _, p := range picks {
		part := l.store.kinds[l.store.forms[p.form].kind].part
		layout.Placements = append(layout.Placements, Placement{Part: part, Pose: l.store.pose(p.form, p.angle, p.x, p.y)})
	}
	return layout
}

// fullOf returns a sheet full of a part, made when first asked for.
func (l *latSearcher) fullOf(ctx context.Context, part, g int) *latFull {
	key := [2]int{part, g}
	f := l.full[key]
	if f == nil {
		f = l.newFull(part, g)
		l.full[key] = f
		f.picks = f.sheet.fill(ctx, f.cells)
		l.press(ctx, f)
	}
	return f
}

func (l *latSearcher) newFull(part, g int) *latFull {
	b := geom.Bounds(l.problem.Sheets[g].Outline)
	m := l.problem.Margin
	f := &latFull{sheet: latSheet{
		store: l.store, kind: part, ground: int32(g), seed: l.options.Seed, pre: l.pre, fits: l.fits,
		box: sepBox{b.Min[0] + m, b.Min[1] + m, b.Max[0] - m, b.Max[1] - m},
	}}
	for _, z := range l.store.zonesOf(g) {
		k := &l.store.kinds[z]
		f.sheet.zones = append(f.sheet.zones, sepPick{form: int32(k.form0), x: k.centre[0], y: k.centre[1]})
		f.sheet.zoneOf = append(f.sheet.zoneOf, z)
	}
	f.cells = l.cells(part, int32(g))
	return f
}

// cells finds the part's periodic layouts in the turns a ground allows.
func (l *latSearcher) cells(part int, ground int32) []latCell {
	k := &l.store.kinds[part]
	var turns []Turn
	for i := k.form0; i < k.form0+k.forms; i++ {
		f := &l.store.forms[i]
		if !l.store.allowed(int32(i), ground) {
			continue
		}
		turns = append(turns, f.turn)
		if f.free {
			turns = append(turns, Turn{AngleDeg: 180, Mirror: f.turn.Mirror})
		}
	}
	if len(turns) == 0 {
		return nil
	}
	cells := latCells(k, turns, 2, l.problem.Spacing, l.options.Seed)
	if !k.free { // a free part's lattice can be turned until its rows run along
		cells = append(cells, latCellsIn(k, turns, 2, l.problem.Spacing, l.options.Seed, latLevel)...)
		cells = append(cells, latCellsIn(k, turns, 2, l.problem.Spacing, l.options.Seed, latUpright)...)
	}
	return cells
}

// rest lays what is left over and puts the result together.
func (l *latSearcher) rest(ctx context.Context) (Result, error) {
	p := l.problem
	p.Parts = slices.Clone(p.Parts)
	p.Sheets = slices.Clone(p.Sheets)
	left := 0
	for i := range p.Parts {
		p.Parts[i].Quantity = l.left[i]
		left += l.left[i]
	}
	for i := range p.Sheets {
		p.Sheets[i].Count = l.spare[i]
	}
	r := Result{Layouts: l.layouts, Status: sepStatus(ctx)}
	if left > 0 {
		tail, err := l.tail(ctx, p)
		if err != nil {
			return Result{}, err
		}
		r.Layouts = append(r.Layouts, tail.Layouts...)
		r.Unplaced, r.Warnings = tail.Unplaced, tail.Warnings
		if tail.Status != Finished {
			r.Status = tail.Status
		}
	}
	r.Density = l.density(r.Layouts)
	r.Stats = Stats{Seed: l.options.Seed, Effort: l.options.Effort, Moves: l.moves, Won: "lattice"}
	return r, nil
}

// tail lays the rest by bottom-left, or, when one part is left and one clipped
// sheet takes it, on as short a piece of that as will do, if that is shorter.
func (l *latSearcher) tail(ctx context.Context, p Problem) (Result, error) {
	part, g := l.onlyPart(), l.cheapestFor(ctx)
	r, err := BottomLeft(ctx, p, nil, Options{Seed: l.options.Seed, Effort: 1, Workers: l.options.Workers})
	if err != nil || part < 0 || g < 0 {
		return r, err
	}
	picks := l.leftmost(l.full[[2]int{part, g}].picks, l.left[part])
	if len(r.Layouts) == 1 && r.Layouts[0].Sheet == g && l.reachOf(r.Layouts[0]) <= latReach(l.store, picks) {
		return r, nil
	}
	if len(r.Unplaced) == 0 && len(r.Layouts) == 1 && l.cost(r.Layouts[0].Sheet) < l.cost(g) {
		return r, nil
	}
	return Result{Layouts: []Layout{l.layout(g, picks)}}, nil
}

// onlyPart is the one part of which copies are left, or −1.
func (l *latSearcher) onlyPart() int {
	only := -1
	for i, n := range l.left {
		switch {
		case n == 0:
		case only >= 0:
			return -1
		default:
			only = i
		}
	}
	return only
}

// cheapestFor is the cheapest kind of sheet left that takes all that is left of
// the only part, or −1.
func (l *latSearcher) cheapestFor(ctx context.Context) int {
	part := l.onlyPart()
	if part < 0 {
		return -1
	}
	best := -1
	for g := range l.problem.Sheets {
		if l.spare[g] == 0 || l.problem.Parts[part].Quantity < latMany {
			continue
		}
		if len(l.fullOf(ctx, part, g).picks) >= l.left[part] && (best < 0 || l.cost(g) < l.cost(best)) {
			best = g
		}
	}
	return best
}

// leftmost keeps the n copies that end first along x.
func (l *latSearcher) leftmost(picks []sepPick, n int) []sepPick {
	end := func(p sepPick) float64 {
		_, ext := l.store.lie(p.form, p.angle)
		return p.x + ext.x1
	}
	sorted := slices.Clone(picks)
	slices.SortStableFunc(sorted, func(a, b sepPick) int {
		switch ea, eb := end(a), end(b); {
		case ea < eb:
			return -1
		case ea > eb:
			return 1
		}
		return 0
	})
	return sorted[:n]
}

func (l *latSearcher) reachOf(layout Layout) float64 {
	var picks []sepPick
	for _, pl := range layout.Placements {
		if at, ok := l.store.place(pl); ok {
			picks = append(picks, at)
		}
	}
	return latReach(l.store, picks)
}

func (l *latSearcher) density(layouts []Layout) float64 {
	parts, sheets := 0.0, 0.0
	for _, layout := range layouts {
		sheets += sepArea(l.problem.Sheets[layout.Sheet])
		for _, pl := range layout.Placements {
			parts += l.store.kinds[pl.Part].area
		}
	}
	if sheets == 0 {
		return 0
	}
	return parts / sheets
}
