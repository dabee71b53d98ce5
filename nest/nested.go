package nest

import (
	"context"
	"errors"

	"github.com/paulmach/orb"

	"kerfold/geom"
)

// Nested lays out problems in which parts lie in the holes of others. It first
// packs the holes by themselves, as if each were a sheet, and so learns how many
// copies they take off the sheets. What is left is laid out as if it had no holes:
// fewer and plainer parts, which every search packs closer in the same time. Then
// the holes are filled again, where they lie now, and what finds no place in them
// goes wherever there is room.
func Nested(ctx context.Context, p Problem, o Options) (Result, error) {
	core := p.core(func(int) bool { return true })
	held := heldInHoles(ctx, core, o)
	if !worthNesting(core, held) {
		return Result{}, ErrUnsupported
	}
	shells, err := packShells(ctx, shellsOf(core, held), o)
	if err != nil {
		return Result{}, err
	}
	pre, err := prepareAround(core, shells.Layouts)
	if err != nil {
		return Result{}, err
	}
	r := filledUp(ctx, pre, newFits(pre, o.Memo), shells.Layouts)
	if r.Status == Finished {
		r.Status = sepStatus(ctx)
	}
	r.Stats = shells.Stats
	r.Stats.Won = "nested"
	return r.completed(ctx, p, o.Memo)
}

// packShells lays the outer parts out. Of several kinds separation alone packs most:
// lattices are of one kind, and orders of plain parts tell little.
func packShells(ctx context.Context, p Problem, o Options) (Result, error) {
	if kindsOf(p) == 1 || copiesOf(p) > sepMostItems {
		return Solve(ctx, p, o)
	}
	quick, err := BottomLeft(ctx, p, nil, o)
	if err != nil {
		return quick, err
	}
	r, err := Separate(ctx, p, quick, o)
	if errors.Is(err, ErrUnsupported) {
		return Solve(ctx, p, o)
	}
	return r, err
}

// heldInHoles counts, by part, the copies that go into holes when each hole of every
// copy is a sheet of its own, the largest copies first, and parts in them have none. Sets of kits and parts with
// a grain stay out: a hole is where its part will be, and lies as that will.
func heldInHoles(ctx context.Context, p Problem, o Options) []int {
	held := make([]int, len(p.Parts))
	holes := Problem{Parts: make([]Part, len(p.Parts)), Spacing: p.Spacing, Margin: p.Spacing}
	for i, part := range p.Parts {
		if part.Kit != "" || part.Grain != nil {
			part.Quantity = 0
		}
		part.Kit, part.Outline = "", part.Outline[:1]
		holes.Parts[i] = part
		for _, ring := range p.Parts[i].Outline[1:] {
			if n := p.Parts[i].Quantity; n > 0 {
				holes.Sheets = append(holes.Sheets, Sheet{Outline: geom.NormalPolygon(orb.Polygon{geom.ReverseRing(ring)}), Count: n})
			}
		}
	}
	if len(holes.Sheets) == 0 || len(holes.Sheets) > nestedHoles {
		return held
	}
	pre, err := prepare(holes)
	if err != nil {
		return held // a hole that is no sheet holds nothing
	}
	for _, fd := range packSheets(ctx, pre, newFits(pre, o.Memo), o.Workers) {
		for _, s := range fd.placed {
			held[s.kind]++
		}
	}
	return held
}

// nestedHoles is how many different holes are looked at.
const nestedHoles = 200

// worthNesting tells whether what lies in holes is a share of all outlines that
// makes the sheets' problem another one.
func worthNesting(p Problem, held []int) bool {
	all, inside := 0.0, 0.0
	for i, part := range p.Parts {
		area := geom.PolygonArea(part.Outline[:1])
		all += float64(part.Quantity) * area
		inside += float64(held[i]) * area
	}
	return inside > nestedShare*all
}

// nestedShare is that share.
const nestedShare = 0.1

// shellsOf is the problem of the copies that no hole takes, without their holes.
func shellsOf(p Problem, held []int) Problem {
	parts := make([]Part, len(p.Parts))
	for i, part := range p.Parts {
		part.Outline = part.Outline[:1]
		part.Quantity -= held[i]
		parts[i] = part
	}
	p.Parts = parts
	return p
}

// byOutline ranks units by what their outlines cover, holes and all.
func byOutline(pre *prepared, u *unit) float64 {
	sum := 0.0
	for _, k := range u.kinds {
		sum += geom.PolygonArea(pre.problem.Parts[k].Outline[:1])
	}
	return sum
}

// filledUp lays what is missing on layouts, the largest first, and on further sheets
// where it must.
func filledUp(ctx context.Context, pre *prepared, fits *fits, layouts []Layout) Result {
	f := newFiller(pre, fits)
	f.order = unitsBy(pre, f.dem, byOutline)
	for _, l := range layouts {
		for _, pl := range l.Placements {
			f.wanted[pl.Part]--
		}
	}
	free := freeGrounds(pre, nil)
	for _, l := range layouts {
		fd := pre.fieldOf(fits, l)
		if f.wanting() && ctx.Err() == nil {
			f.add(ctx, fd)
			fd.forget()
		}
		f.fields = append(f.fields, fd)
		free[fd.ground.index]--
	}
	if pre.grounds[0].strip {
		return stripResult(pre, f.fields)
	}
	f.fill(ctx, free)
	return sheetsResult(pre, layoutsOf(swapDown(ctx, pre, fits, f.fields)))
}
