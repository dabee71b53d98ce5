package nest

import (
	"cmp"
	"context"
	"slices"
)

// fillSheets lays everything out in one pass, sheet by sheet: each sheet takes,
// of what is left, the largest units that fit, then smaller ones. That is first
// fit by decreasing area, computed one sheet at a time, so that only one sheet's
// fronts are in memory. A layout that can be repeated with what is left is
// repeated without being computed again. At the end sheets give way to cheaper
// ones where these do, and what is welcome fills the gaps.
func fillSheets(ctx context.Context, pre *prepared, fits *fits, workers int) Result {
	return finishSheets(ctx, pre, fits, packSheets(ctx, pre, fits, workers))
}

// packSheets is the pass without its end.
func packSheets(ctx context.Context, pre *prepared, fits *fits, workers int) []*field {
	f := newFiller(pre, fits)
	f.side = newSideways(workers)
	f.fill(ctx, freeGrounds(pre, nil))
	return f.fields
}

// fill lays what is wanted on the grounds that are free.
func (f *filler) fill(ctx context.Context, free []int) {
	for _, g := range groundsByPrice(f.pre) {
		for left := free[g]; left > 0 && f.wanting(); {
			done := f.sheet(ctx, &f.pre.grounds[g], left)
			if done == 0 {
				break
			}
			left -= done
		}
	}
}

// add places what fits on a field that holds something already.
func (f *filler) add(ctx context.Context, fd *field) {
	for _, u := range f.order {
		for f.wanted[u] > 0 && ctx.Err() == nil && fd.placeUnit(&f.dem.units[u], AnyTurn) {
			f.wanted[u]--
		}
	}
}

// finishSheets exchanges sheets for cheaper ones, fills up what they leave and
// reports them.
func finishSheets(ctx context.Context, pre *prepared, fits *fits, fields []*field) Result {
	fields = swapDown(ctx, pre, fits, fields)
	rest := newLeftovers(pre, demandOf(pre.problem, pre.kinds))
	for _, fd := range fields {
		if rest.some() && ctx.Err() == nil {
			rest.fill(fd)
			fd.forget()
		}
	}
	return sheetsResult(pre, layoutsOf(fields))
}

// A filler is the state of one such pass.
type filler struct {
	pre    *prepared
	fits   *fits
	dem    demand
	order  []int // units by decreasing area
	wanted []int // still to place
	clip   *clipper
	fields []*field // without their fronts
	side   *sideways
}

func newFiller(pre *prepared, fits *fits) *filler {
	dem := demandOf(pre.problem, pre.kinds)
	return &filler{
		pre: pre, fits: fits, dem: dem, order: unitsBy(pre, dem, byArea), clip: &clipper{},
		wanted: slices.Clone(dem.wanted),
	}
}

// single tells whether every unit is one copy, which is never taken back.
func (d *demand) single() bool {
	return !slices.ContainsFunc(d.units, func(u unit) bool { return len(u.kinds) > 1 })
}

func (f *filler) wanting() bool {
	for _, n := range f.wanted {
		if n > 0 {
			return true
		}
	}
	return false
}

// sheet fills one sheet, in columns where time is up, repeats it as often as what is left allows but no more
// than most times, and returns how many sheets that made.
func (f *filler) sheet(ctx context.Context, g *ground, most int) int {
	fd := newField(f.pre, f.fits, g, f.clip)
	fd.side, fd.final = f.side, f.dem.single()
	placed := f.place(func(u *unit) bool { return ctx.Err() == nil && fd.placeUnit(u, AnyTurn) })
	if ctx.Err() != nil {
		fd = newField(f.pre, f.fits, g, f.clip)
		placed = f.place(newShelver(fd).unit)
	}
	if len(fd.placed) == 0 {
		return 0
	}
	fd.forget()
	times := f.times(placed, most)
	for u := range placed {
		f.wanted[u] -= times * placed[u]
	}
	f.forgetPlaced(placed)
	for range times {
		f.fields = append(f.fields, fd.copy())
	}
	return times
}

// place places what is wanted, unit by unit, as long as one finds a place, and counts
// it by unit.
func (f *filler) place(one func(u *unit) bool) []int {
	placed := make([]int, len(f.dem.units))
	for _, u := range f.order {
		for placed[u] < f.wanted[u] && one(&f.dem.units[u]) {
			placed[u]++
		}
	}
	return placed
}

// forgetPlaced gives up what is known of kinds that are all placed now, so that
// thousands of parts of hundreds of kinds fit in memory.
func (f *filler) forgetPlaced(placed []int) {
	if len(f.pre.shapes) < forgetShapes {
		return
	}
	for u, n := range placed {
		if n > 0 && f.wanted[u] == 0 && f.dem.welcome[u] == 0 && len(f.dem.units[u].kinds) == 1 {
			f.fits.forget(int(f.dem.units[u].kinds[0]))
		}
	}
}

// times is how many sheets with these units on each what is left allows.
func (f *filler) times(placed []int, most int) int {
	for u := range placed {
		if placed[u] > 0 {
			most = min(most, f.wanted[u]/placed[u])
		}
	}
	return most
}

// groundsByPrice lists the grounds by what a unit of their area costs, the
// larger first among equals.
func groundsByPrice(pre *prepared) []int {
	list := make([]int, len(pre.grounds))
	for i := range list {
		list[i] = i
	}
	price := func(i int) float64 { return pre.grounds[i].cost / pre.grounds[i].area }
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Or(cmp.Compare(price(a), price(b)), cmp.Compare(pre.grounds[b].area, pre.grounds[a].area))
	})
	return list
}

// openingOrder lists every sheet there is in the order to open them; of a kind
// never more than there are copies to place.
func openingOrder(pre *prepared) []int32 {
	copies := 1
	for _, p := range pre.problem.Parts {
		copies += p.Quantity
	}
	var plan []int32
	for _, g := range groundsByPrice(pre) {
		for range min(pre.grounds[g].count, copies) {
			plan = append(plan, int32(g))
		}
	}
	return plan
}
