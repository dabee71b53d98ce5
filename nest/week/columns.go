package week

import (
	"math"
	"slices"

	"kerfold/geom"
)

// A pool is the layouts the integer plan chooses from, met in other ways or
// made for it, each with what its repeats cost.
type pool struct {
	t       *task
	rule    RemnantRule
	layouts []laid // repeats are 1
	columns []column
}

// add takes a layout in, unless one of the same sheet and parts that costs no
// more is there already. It tells whether it did.
func (p *pool) add(l laid) (bool, error) {
	l.repeats = 1
	c, err := p.column(&l)
	if err != nil || c.most() == 0 {
		return false, err
	}
	for j := range p.columns {
		if p.columns[j].sheet != c.sheet || !slices.Equal(p.columns[j].counts, c.counts) {
			continue
		}
		if c.curve[c.most()] < p.columns[j].curve[c.most()]-moneyGrain {
			p.columns[j], p.layouts[j] = c, l
			return true, nil
		}
		return false, nil
	}
	p.columns, p.layouts = append(p.columns, c), append(p.layouts, l)
	return true, nil
}

// column works out what repeats of a layout cost.
func (p *pool) column(l *laid) (column, error) {
	t := p.t
	c := column{sheet: l.sheet, curve: []float64{0}}
	most := 0
	credit := p.credit(l)
	worth, err := t.fillerWorth(p.rule)
	if err != nil {
		return c, err
	}
	for i, n := range l.counts(len(t.group.Parts)) {
		if n > 0 {
			c.counts = append(c.counts, copies{i, n})
			most = max(most, (t.group.Parts[i].Quantity+n-1)/n)
			credit += float64(n) * worth[i]
		}
	}
	most = min(most, t.group.Sheets[l.sheet].Count)
	prices, err := t.roughRuns(l)
	if err != nil {
		return c, err
	}
	splits := make([]split, len(prices))
	for i := range prices {
		splits[i] = prices[i].newSplit(most)
	}
	for n := 1; n <= most && len(splits) > 0; n++ {
		least := math.Inf(1)
		for i := range splits {
			least = math.Min(least, splits[i].money[n])
		}
		c.curve = append(c.curve, least-float64(n)*credit)
	}
	return c, nil
}

// credit is what one sheet's remnant is worth. Sheets too full to leave one are
// not looked at closely.
func (p *pool) credit(l *laid) float64 {
	t := p.t
	used := 0.0
	for _, pl := range l.placements {
		used += math.Abs(geom.RingArea(t.flat[pl.Part][0]))
	}
	if free := t.round[l.sheet] - used; p.rule.Worth(free, t.pricePerMM2(l.sheet)) <= 0 {
		return 0
	}
	return t.credit(l.sheet, t.remnant(l, p.rule), p.rule)
}

// mix poses the integer plan over the pool.
func (p *pool) mix(cap int) *mix {
	t := p.t
	m := &mix{columns: p.columns, fixed: t.layoutMoney(), cap: cap}
	spent := 0.0
	for i := range t.group.Sheets {
		m.sheets = append(m.sheets, t.group.Sheets[i].Count)
	}
	price := t.sheetPrice()
	for i := range t.group.Parts {
		o := &t.group.Parts[i]
		m.want, m.most = append(m.want, o.Quantity), append(m.most, o.Quantity+o.Extra)
		m.surplus = append(m.surplus, price*t.area[i])
		if o.Filler {
			m.want[i] = 0
		}
	}
	for j := range p.columns {
		c := &p.columns[j]
		spent = math.Max(spent, c.curve[1]+m.fixed)
	}
	// A copy more can need one more sheet, and can push others off theirs.
	m.missing = 1000 * (1 + spent)
	for i := range t.group.Parts {
		if t.group.Parts[i].Filler {
			m.surplus[i] = m.missing
		}
	}
	return m
}

// fillerWorth is what a copy of each filler is worth: what cutting it costs at
// least, and as much of the sheet's money under it as a remnant would bring. So
// they are cut where they cost nothing else, and no way is dearer for having
// more of them. Other parts have their worth by being wanted.
func (t *task) fillerWorth(rule RemnantRule) ([]float64, error) {
	if t.fillers != nil {
		return t.fillers, nil
	}
	cutting, err := t.leastCutting()
	if err != nil {
		return nil, err
	}
	t.fillers = make([]float64, len(cutting))
	for i := range cutting {
		if t.group.Parts[i].Filler && len(t.machines) > 0 {
			t.fillers[i] = cutting[i] + rule.ValueShare*t.sheetPrice()*t.area[i]
		}
	}
	return t.fillers, nil
}

// sheetPrice is the group's dearest sheet money per mm².
func (t *task) sheetPrice() float64 {
	price := 0.0
	for i := range t.group.Sheets {
		if t.round[i] > 0 {
			price = math.Max(price, t.group.Sheets[i].Cost/t.round[i])
		}
	}
	return price
}

// layoutMoney is what each different layout costs by itself.
func (t *task) layoutMoney() float64 {
	return t.job.Rates.ProgramSec / 3600 * t.job.Rates.LabourPerHour
}
