package week

import (
	"cmp"
	"context"
	"math"
	"slices"

	"kerfold/cost"
	"kerfold/nest"
)

// Column generation: the master's prices say what one more copy of each part is
// worth; a layout whose parts are worth more than it costs is filled, and the
// master solved again (Gilmore and Gomory 1961 and 1963, "A linear programming
// approach to the cutting-stock problem", parts I and II). The fills are
// searches, so the end of it proves nothing about layouts nobody found; what
// no plan can beat is worked out apart (bounds.go).

// A pricer makes columns for a pool.
type pricer struct {
	pool    *pool
	engine  engine
	seed    uint64
	worth   []float64 // of a copy beyond its cutting, by part, as of the last master
	cutting []float64 // least money of cutting a copy, by part
	fillers []float64 // what a copy is worth by itself
	fills   int
}

func newPricer(p *pool, e engine, seed uint64) (*pricer, error) {
	pr := &pricer{pool: p, engine: e, seed: seed}
	var err error
	if pr.cutting, err = p.t.leastCutting(); err != nil {
		return nil, err
	}
	pr.fillers, err = p.t.fillerWorth(p.rule)
	return pr, err
}

// leastCutting is what cutting one more copy of each part costs at least, at
// the machine and depth that suit it best.
func (t *task) leastCutting() ([]float64, error) {
	rates, err := t.rates()
	if err != nil {
		return nil, err
	}
	least := make([]float64, len(t.group.Parts))
	for i := range least {
		least[i] = math.Inf(1)
		for k := range rates {
			for d := range rates[k].depths {
				least[i] = math.Min(least[i], rates[k].depths[d].copyFloor(i))
			}
		}
	}
	return least, nil
}

// copyFloor is the least that a copy of a part adds to the money of a run, for
// each layer. With two tables handling may hide behind cutting: it is left out.
func (d *depthTariff) copyFloor(part int) float64 {
	one := d.parts[part]
	if d.setup.Machine.Filled().Tables >= 2 {
		one.HandleSec = 0
	}
	none := cost.LedgerOf(d.setup, cost.Time{}, 0).Money.Total()
	return (cost.LedgerOf(d.setup, one, 0).Money.Total() - none) / float64(d.setup.Depth())
}

// runFloor is the least that a run costs beside its copies, for each layer.
func (d *depthTariff) runFloor(sheet float64) float64 {
	bare := d.bare
	if d.setup.Machine.Filled().Tables >= 2 {
		bare.HandleSec = 0
	}
	return cost.LedgerOf(d.setup, bare, sheet).Money.Total() / float64(d.setup.Depth())
}

// alone fills sheets with each part by itself, the parts that need most area
// first. Parts that could fill a sheet are laid in lattices, as far as the
// effort goes; those take long.
func (pr *pricer) alone(ctx context.Context, effort float64) error {
	t := pr.pool.t
	var parts []int
	for i := range t.group.Parts {
		parts = append(parts, i)
	}
	need := func(i int) float64 { return float64(t.group.Parts[i].Quantity) * t.area[i] }
	slices.SortStableFunc(parts, func(a, b int) int { return cmp.Compare(need(b), need(a)) })
	kinds := t.kindsByPrice()
	each := math.Min(aloneEffort, effort/aloneKinds)
	for _, i := range parts[:min(aloneKinds, len(parts))] {
		for _, s := range kinds[:min(2, len(kinds))] {
			values := make([]float64, len(t.group.Parts))
			values[i] = 1
			p, worth := pr.pose(s, values)
			if !p.solvable() || need(i) < aloneShare*t.round[s] || ctx.Err() != nil {
				continue
			}
			lay := pr.engine.fill
			if effort >= latticeWork {
				lay, effort = pr.engine.alone, effort-latticeWork
			}
			if err := pr.keep(ctx, &p, lay, worth, each); err != nil {
				return err
			}
		}
	}
	return nil
}

const (
	aloneKinds  = 12   // kinds of part laid by themselves
	aloneShare  = 0.4  // least share of a sheet that all copies of a part come to
	aloneEffort = 0.02 // for each, at most
	latticeWork = 0.8  // effort that a lattice takes, whatever it is given
)

// kindsByPrice lists the kinds of sheet by money for the area, then the larger.
func (t *task) kindsByPrice() []int {
	var kinds []int
	for s := range t.group.Sheets {
		if t.group.Sheets[s].Count > 0 {
			kinds = append(kinds, s)
		}
	}
	price := func(s int) float64 { return t.group.Sheets[s].Cost / math.Max(t.round[s], 1) }
	slices.SortStableFunc(kinds, func(a, b int) int {
		return cmp.Or(cmp.Compare(price(a), price(b)), cmp.Compare(t.round[b], t.round[a]))
	})
	return kinds
}

// pose asks for one sheet of a kind, and the parts that are worth anything:
// those worth most for their area, until they would fill several sheets.
func (pr *pricer) pose(sheet int, values []float64) (posing, []float64) {
	return pr.poseFrom(pr.pool.t.full().want, sheet, values)
}

// poseFrom is pose for what is left of the demand.
func (pr *pricer) poseFrom(want []int, sheet int, values []float64) (posing, []float64) {
	t := pr.pool.t
	var parts []int
	for i, v := range values {
		if v > 0 && want[i] > 0 {
			parts = append(parts, i)
		}
	}
	slices.SortStableFunc(parts, func(a, b int) int {
		return cmp.Compare(values[b]/t.area[b], values[a]/t.area[a])
	})
	d := demand{make([]int, len(t.group.Parts)), make([]int, len(t.group.Sheets))}
	d.sheets[sheet] = 1
	area := 0.0
	for n, i := range parts {
		if n >= leastKinds && area > enoughArea*t.round[sheet] {
			break
		}
		d.want[i] = want[i]
		area += float64(d.want[i]) * t.area[i]
	}
	p := t.pose(d)
	worth := make([]float64, len(p.Parts))
	for k, i := range p.part {
		worth[k] = values[i]
	}
	return p, worth
}

// A fill is offered at least so many kinds of part, and beyond those only as
// many as would fill the sheet so many times over.
const (
	leastKinds = 16
	enoughArea = 3
)

// keep has a sheet filled and takes the layout into the pool.
func (pr *pricer) keep(ctx context.Context, p *posing, fill valueLayer, worth []float64, effort float64) error {
	pr.fills++
	o := nest.Options{Seed: streamSeed(pr.seed, uint64(pr.fills)), Effort: effort, Memo: &pr.pool.t.memo}
	r, err := fill(ctx, p.Problem, worth, o)
	if err != nil {
		return err
	}
	for _, l := range p.back(r.Layouts, 1) {
		if _, err := pr.pool.add(l); err != nil {
			return err
		}
	}
	return nil
}

// round fills one sheet of every kind for the prices of the master, and tells
// whether that brought a layout which pays.
func (pr *pricer) round(ctx context.Context, prices []float64, effort float64) (bool, error) {
	t := pr.pool.t
	parts := len(t.group.Parts)
	pr.worth = make([]float64, parts)
	for i := range pr.worth {
		pr.worth[i] = prices[i] - pr.cutting[i] + pr.fillers[i]
	}
	pays := false
	kinds := t.kindsByPrice()
	for _, s := range kinds {
		p, worth := pr.pose(s, pr.worth)
		if !p.solvable() || ctx.Err() != nil {
			continue
		}
		before := len(pr.pool.columns)
		if err := pr.keep(ctx, &p, pr.engine.fill, worth, effort/float64(len(kinds))); err != nil {
			return pays, err
		}
		for j := before; j < len(pr.pool.columns); j++ {
			if pr.pool.columns[j].reduced(prices, parts) < -moneyGrain {
				pays = true
			}
		}
	}
	return pays, nil
}

// reduced is what a repeat of a column costs beyond what the master's prices
// say its parts are worth, at its best.
func (c *column) reduced(prices []float64, parts int) float64 {
	least := math.Inf(1)
	for n := 1; n <= c.most(); n++ {
		least = math.Min(least, c.curve[n]/float64(n))
	}
	for _, k := range c.counts {
		least -= float64(k.n) * prices[k.part]
	}
	return least - prices[parts+c.sheet]
}
