package nest

import (
	"context"
	"math"
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
// sheets. On a strip it takes one kind of part only. When time or effort are too
// short for that, the result is the bottom-left search's.
func Lattice(ctx context.Context, p Problem, o Options) (Result, error) {
	return latticeFrom(ctx, p, Result{}, latPressShare(p), o)
}

// latticeFrom is Lattice with a complete layout to return when the lattices leave
// something out; with none it makes its own. Pressing ends when the given share of
// the effort is spent.
func latticeFrom(ctx context.Context, p Problem, start Result, press float64, o Options) (Result, error) {
	if len(start.Layouts) == 0 {
		var err error
		if start, err = BottomLeft(ctx, p, nil, o); err != nil {
			return Result{}, err
		}
	}
	pre, err := prepare(p)
	if err != nil {
		return Result{}, err
	}
	fits := newFits(pre, o.Memo)
	core := p.core(func(part int) bool { return len(fits.usable(part)) > 0 })
	r, err := lattice(ctx, core, pre, fits, press, o)
	if err == nil {
		r, err = r.completed(ctx, p, o.Memo)
	}
	if err != nil || r.missing() <= start.missing() {
		return r, err
	}
	start.Stats.Effort = o.Effort
	return start.ended(ctx), nil
}

func lattice(ctx context.Context, p Problem, pre *prepared, fits *fits, press float64, o Options) (Result, error) {
	store, err := sepNewStore(p)
	if err != nil {
		return Result{}, err
	}
	l := &latSearcher{problem: p, options: o, store: store, pre: pre, fits: fits, meter: sepNewMeter(o), pressShare: press, full: map[[2]int]*latFull{}}
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
	parts   int   // how many parts are worth a lattice
	left    []int // copies still to lay, by part
	spare   []int // sheets still unused, by kind
	full    map[[2]int]*latFull
	layouts []Layout
	moves   int64

	pressShare float64 // share of the effort at which all pressing ends
	pressUntil float64 // and on the sheet under way
}

// A latFull is a sheet full of one part.
type latFull struct {
	sheet  latSheet
	cells  []latCell
	picks  []sepPick   // the fullest layout
	others [][]sepPick // other full ones
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
	l.parts = len(many)
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
		if part.Quantity >= latMany && part.Kit == "" && l.share(i) >= latWorth {
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

// latWorth is the share of the smallest sheet that a part's copies must cover
// in all before its lattice is looked for: with less there is no full sheet.
const latWorth = 0.3

// share is the area of what is left of a part over that of the smallest sheet.
func (l *latSearcher) share(part int) float64 {
	least := math.Inf(1)
	for g, s := range l.problem.Sheets {
		if l.spare[g] > 0 {
			least = min(least, sepArea(s))
		}
	}
	return l.leftArea(part) / least
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

// thrift is the share of the usual search for lattices, and of the clippings, that
// a small effort pays for.
func (l *latSearcher) thrift() float64 {
	if l.meter.total == 0 {
		return 1
	}
	return min(1, max(latThrift, latThriftPer*float64(l.meter.total)/latFullWork))
}

const (
	latThrift    = 0.2
	latThriftPer = 4 // a quarter of an effort pays for the whole search
)

// latFullWork is the work, in lookups per lane, of finding a part's lattices: about
// a second's.
const latFullWork = sepWorkPerEffort / sepLaneCount

// fullOf returns a sheet full of a part, made when first asked for.
func (l *latSearcher) fullOf(ctx context.Context, part, g int) *latFull {
	key := [2]int{part, g}
	f := l.full[key]
	if f == nil && len(l.full) > 0 && l.meter.done() >= l.pressShare {
		return &latFull{} // no more sheets are worked out in the time allowed
	}
	if f == nil {
		l.meter.at += latFullWork
		f = l.newFull(ctx, part, g)
		l.full[key] = f
		l.sharePress()
		if f.others = f.sheet.fillings(ctx, f.sheet.turns(f.cells)); len(f.others) > 0 {
			f.picks, f.others = f.others[0], f.others[1:]
		}
		l.press(ctx, f)
	}
	return f
}

// sharePress lets the sheet just made have its share of the effort for pressing,
// of which those still to come, one for every part on every kind of sheet, get as
// much each.
func (l *latSearcher) sharePress() {
	kinds := 0
	for _, n := range l.spare {
		if n > 0 {
			kinds++
		}
	}
	done := l.meter.done()
	l.pressUntil = done + max(0, l.pressShare-done)/float64(max(1, l.parts*kinds-len(l.full)+1))
}

func (l *latSearcher) newFull(ctx context.Context, part, g int) *latFull {
	b := geom.Bounds(stretched(l.problem.Sheets[g].Outline))
	m := l.problem.Margin
	f := &latFull{sheet: latSheet{
		store: l.store, kind: part, ground: int32(g), seed: l.options.Seed, workers: l.options.Workers, clippings: max(1, int(latClips*l.thrift())), pre: l.pre, fits: l.fits,
		box: sepBox{b.Min[0] + m, b.Min[1] + m, b.Max[0] - m, b.Max[1] - m},
	}}
	for _, z := range l.store.zonesOf(g) {
		k := &l.store.kinds[z]
		f.sheet.zones = append(f.sheet.zones, sepPick{form: int32(k.form0), x: k.centre[0], y: k.centre[1]})
		f.sheet.zoneOf = append(f.sheet.zoneOf, z)
	}
	f.cells = l.cells(ctx, part, int32(g))
	return f
}

// cells finds the part's periodic layouts in the turns a ground allows.
func (l *latSearcher) cells(ctx context.Context, part int, ground int32) []latCell {
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
	h := latHunt{ctx: ctx, turns: turns, most: 2, gap: l.problem.Spacing, seed: l.options.Seed, workers: l.options.Workers, thrift: l.thrift()}
	if k.free { // its lattice can be turned until its rows run along
		return h.cells(k, latAnyhow)
	}
	return h.cells(k, latAnyhow, latLevel, latUpright)
}

// rest lays what is left over and puts the result together: on the rims of the
// lattice sheets and on further sheets by the bottom-left rule; or with the most
// numerous of what is left as a block of lattice at the head of a further sheet,
// when that is better.
func (l *latSearcher) rest(ctx context.Context) (Result, error) {
	block, ok := l.block(ctx)
	if !ok && len(l.layouts) == 0 && l.onlyPart() < 0 {
		return Result{}, ErrUnsupported // no lattice was laid
	}
	best := l.topped(ctx, l.layouts)
	if ok && (len(l.layouts) == 0 || copiesOf(l.problem) <= sepMostItems) {
		if r := l.topped(ctx, append(slices.Clip(l.layouts), block)); r.better(best, l.problem) {
			best = r
		}
	}
	r, err := l.tail(ctx, best)
	if err != nil {
		return Result{}, err
	}
	if r.Status == Finished {
		r.Status = sepStatus(ctx)
	}
	r.Density = l.density(r.Layouts)
	r.Stats = Stats{Seed: l.options.Seed, Effort: l.options.Effort, Moves: l.moves, Won: "lattice"}
	return r, nil
}

// latTopped bounds the lattice sheets whose rims are filled with other parts.
const latTopped = 60

// topped fills the rims of layouts with what they leave of the problem, and
// lays the rest on further sheets.
func (l *latSearcher) topped(ctx context.Context, layouts []Layout) Result {
	pre, fits := l.around(layouts)
	f := newFiller(pre, fits)
	for _, layout := range layouts {
		for _, pl := range layout.Placements {
			f.wanted[pl.Part]--
		}
	}
	free := freeGrounds(pre, nil)
	for i, layout := range layouts {
		fd := pre.fieldOf(fits, layout)
		if i < latTopped && f.wanting() && ctx.Err() == nil {
			f.add(ctx, fd)
			fd.forget()
		}
		f.fields = append(f.fields, fd)
		free[layout.Sheet]--
	}
	f.fill(ctx, free)
	return sheetsResult(pre, layoutsOf(swapDown(ctx, pre, fits, f.fields)))
}

// around is the prepared problem with the turns that layouts lie in, which for
// parts at free angles are others than those listed.
func (l *latSearcher) around(layouts []Layout) (*prepared, *fits) {
	if !slices.ContainsFunc(l.store.kinds, func(k sepKind) bool { return k.free }) {
		return l.pre, l.fits
	}
	pre, err := prepareAround(l.pre.problem, layouts)
	if err != nil {
		return l.pre, l.fits // the problem was found valid before
	}
	return pre, newFits(pre, l.options.Memo)
}

// block lays all that is left of the part that is most left, by area, as a
// lattice from the left end of one more sheet. There is none when a part is
// alone, for tail sees to that, or when there are too few copies.
func (l *latSearcher) block(ctx context.Context) (Layout, bool) {
	part := -1
	for i, n := range l.left {
		if n >= latMany && l.problem.Parts[i].Kit == "" && l.share(i) >= latWorth/2 && (part < 0 || l.leftArea(i) > l.leftArea(part)) {
			part = i
		}
	}
	if part < 0 || l.onlyPart() >= 0 {
		return Layout{}, false
	}
	g := l.cheapestSheet(ctx, part)
	if g < 0 {
		return Layout{}, false
	}
	picks := l.fullOf(ctx, part, g).picks
	return l.layout(g, l.leftmost(picks, min(l.left[part], len(picks)))), true
}

func (l *latSearcher) leftArea(part int) float64 {
	return l.store.kinds[part].area * float64(l.left[part])
}

// cheapestSheet is the kind of sheet left that costs least per copy of a part
// that its lattice holds, or −1.
func (l *latSearcher) cheapestSheet(ctx context.Context, part int) int {
	best, price := -1, 0.0
	for g := range l.problem.Sheets {
		if l.spare[g] == 0 {
			continue
		}
		n := len(l.fullOf(ctx, part, g).picks)
		if n == 0 {
			continue
		}
		if c := l.cost(g) / float64(n); best < 0 || c < price {
			best, price = g, c
		}
	}
	return best
}

// tail looks at a result in which one part was left at the end: where one
// clipped sheet takes all that was left, it may end on a shorter piece of that
// than by the bottom-left rule.
func (l *latSearcher) tail(ctx context.Context, r Result) (Result, error) {
	part, g := l.onlyPart(), l.cheapestFor(ctx)
	if part < 0 || g < 0 {
		return r, nil
	}
	picks := l.leftmost(l.full[[2]int{part, g}].picks, l.left[part])
	other := sheetsResult(l.pre, append(slices.Clip(l.layouts), l.layout(g, picks)))
	if other.better(r, l.problem) {
		return other, nil
	}
	if r.better(other, l.problem) || len(r.Layouts) != len(l.layouts)+1 {
		return r, nil
	}
	if last := r.Layouts[len(r.Layouts)-1]; l.reachOf(last) <= latReach(l.store, picks) {
		return r, nil
	}
	return other, nil
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
