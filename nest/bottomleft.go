package nest

import (
	"context"
	"fmt"
)

// A Choice is one step of a placing order: a copy of a part and how it is
// turned. Turn indexes the turns [Problem.Turns] lists for the part; [AnyTurn]
// leaves the choice to the decoder, which takes the turn that ends leftmost.
type Choice struct {
	Part, Turn int
}

// AnyTurn in a [Choice] leaves the turn to the decoder.
const AnyTurn = -1

// BottomLeft places the parts one after another, each at the leftmost and then
// lowest legal point, gaps behind earlier parts and holes of parts included. On
// sheets each goes to the first sheet it fits on. A nil order places by
// decreasing area in whatever turn ends leftmost; it is quick enough for ten
// thousand parts. The parts of a given order are placed as often as it lists
// them, whatever the quantities say.
//
// The rule is the one of Burke, Hellier, Kendall and Whitwell 2006 turned on
// its side, on exact no-fit polygons instead of a grid of candidate lines.
// Options.Seed does not matter here.
func BottomLeft(ctx context.Context, p Problem, order []Choice, o Options) (Result, error) {
	pre, err := prepare(p)
	if err != nil {
		return Result{}, err
	}
	genes, err := genesOf(pre, order)
	if err != nil {
		return Result{}, err
	}
	fits := newFits(pre, o.Memo)
	var r Result
	if order == nil && p.StripWidth == 0 {
		r = fillSheets(ctx, pre, fits, o.Workers)
	} else {
		r = placeInOrder(ctx, pre, fits, genes)
	}
	r = r.ended(ctx)
	r.Stats = Stats{Seed: o.Seed, Effort: o.Effort, Decodes: 1, Won: "bottom-left"}
	return r, nil
}

// Turns lists the turns a [Choice] for the part may name: those that the grain
// of some sheet (or of the strip) allows.
func (p Problem) Turns(part int) []Turn {
	var turns []Turn
	for _, g := range grainsOf(p) {
		for _, t := range Turns(p.Parts[part], g) {
			turns = appendTurn(turns, t)
		}
	}
	return turns
}

func genesOf(pre *prepared, order []Choice) ([]gene, error) {
	if order == nil {
		return orderBy(pre, demandOf(pre.problem, pre.kinds), byArea), nil
	}
	genes := make([]gene, len(order))
	for i, c := range order {
		if c.Part < 0 || c.Part >= len(pre.kinds) {
			return nil, fmt.Errorf("step %d of the order names part %d of %d", i+1, c.Part+1, len(pre.kinds))
		}
		if c.Turn != AnyTurn && (c.Turn < 0 || c.Turn >= len(pre.kinds[c.Part].turns)) {
			return nil, fmt.Errorf("step %d of the order names turn %d of part %q, which has %d", i+1, c.Turn, pre.problem.Parts[c.Part].ID, len(pre.kinds[c.Part].turns))
		}
		genes[i] = gene{int32(c.Part), int32(c.Turn)}
	}
	return genes, nil
}

// placeInOrder decodes one order, fills up and reports.
func placeInOrder(ctx context.Context, pre *prepared, fits *fits, genes []gene) Result {
	dem := demandOf(pre.problem, pre.kinds)
	d := newDecoder(pre, fits, dem.units, openingOrder(pre))
	d.placeAll(ctx, genes)
	return d.result(ctx, dem)
}

// placeAll places genes until ctx ends.
func (d *decoder) placeAll(ctx context.Context, genes []gene) {
	for _, g := range genes {
		if ctx.Err() != nil {
			return
		}
		d.place(g)
	}
}

// result fills what the decoder placed up with what is welcome and reports it.
func (d *decoder) result(ctx context.Context, dem demand) Result {
	fields := d.inUse()
	if !d.pre.grounds[0].strip {
		return finishSheets(ctx, d.pre, d.fits, fields)
	}
	for _, fd := range fields {
		newLeftovers(d.pre, dem).fill(fd)
	}
	return stripResult(d.pre, fields)
}
