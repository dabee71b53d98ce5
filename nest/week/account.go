package week

import (
	"fmt"
	"math"

	"kerfold/cost"
	"kerfold/nest/shop"
)

// An Account tells how some figures come about, step by step.
type Account struct {
	Title string
	Trace cost.Trace
}

// ExplainBid accounts for every run of a bid, for its groups and for its totals.
func ExplainBid(b *Bid) ([]Account, error) {
	var out []Account
	for i := range b.Groups {
		g := &b.Groups[i]
		for k := range g.Runs {
			r := &g.Runs[k]
			tr, err := cost.Explain(r.Setup, r.Work, r.Price)
			if err != nil {
				return nil, err
			}
			out = append(out, Account{fmt.Sprintf("%s: one run of %d sheets of %s on %s, cut %d times", g.ID, r.Depth, r.Sheet, b.Machines[r.Machine], r.Count), tr})
		}
		if len(g.Runs) > 0 {
			out = append(out, Account{g.ID + ": all runs", g.account(b.Currency)})
		}
	}
	return append(out, Account{"the bid", b.account()}), nil
}

func (g *BidGroup) account(currency string) cost.Trace {
	from := func(symbol, name string, v float64, unit string) cost.Input {
		return cost.Input{Symbol: symbol, Name: name, Value: v, Unit: unit, Source: cost.Derived}
	}
	m := g.Ledger.Money
	return cost.Trace{
		{
			Name: "yield", Formula: "parts/sheets; range: what a full search was seen to change, see below", Value: g.Yield.Likely, Source: cost.Derived,
			Inputs: []cost.Input{from("parts", "area of the parts, holes taken off", g.PartArea, "mm²"), from("sheets", "area of the sheets cut", g.SheetArea, "mm²")},
			Note:   fmt.Sprintf("%.0f %% between %.4g and %.4g: a full plan needs a sheet more or less", 100*g.Yield.Level, g.Yield.Low, g.Yield.High),
		},
		{
			Name: "cost", Formula: "Σ runs·money of a run, each on the machine where it costs least", Value: m.Total(), Unit: currency, Source: cost.Derived,
			Inputs: []cost.Input{from("sheets", "of it material", m.Material, currency), from("work", "of it work", m.Process(), currency)},
			Note:   fmt.Sprintf("%.0f %% between %.4g and %.4g %s: the runs' assumptions, the layout (yield), the path of the head", 100*g.MoneyRange.Level, g.MoneyRange.Low, g.MoneyRange.High, currency),
		},
		{
			Name: "machine time", Formula: "Σ runs·occupied", Value: g.Seconds.Likely, Unit: "s", Source: cost.Derived,
			Inputs: []cost.Input{from("σ", "relative spread of a quick path against the planned one", pathSpread, "")},
			Note:   fmt.Sprintf("%.0f %% between %.4g and %.4g s", 100*g.SecondsRange.Level, g.SecondsRange.Low, g.SecondsRange.High),
		},
	}
}

func (b *Bid) account() cost.Trace {
	given := func(symbol, name string, v float64, unit string) cost.Input {
		return cost.Input{Symbol: symbol, Name: name, Value: v, Unit: unit, Source: cost.Derived}
	}
	tr := cost.Trace{{
		Name: "cost", Formula: "Σ groups + set-ups·money of a set-up", Value: b.Ledger.Money.Total(), Unit: b.Currency, Source: cost.Derived,
		Inputs: []cost.Input{given("set-ups", "changes of material or thickness", float64(b.Setups), "")},
		Note:   "causes of one name move together through all groups; different ones are independent (delta method, log-normal)",
	}, {
		Name: "price", Formula: "cost·(1 + markup)", Value: b.MoneyRange.Likely * (1 + b.Markup), Unit: b.Currency, Source: cost.Derived,
		Inputs: []cost.Input{given("markup", "added share", b.Markup, "")},
		Note:   fmt.Sprintf("%.0f %% between %.4g and %.4g %s", 100*b.MoneyRange.Level, b.MoneyRange.Low*(1+b.Markup), b.MoneyRange.High*(1+b.Markup), b.Currency),
	}}
	for _, c := range b.Money.Causes() {
		tr = append(tr, cost.Step{Name: "spread: " + c.Key, Formula: "one standard deviation of this cause", Value: math.Abs(c.Delta), Unit: b.Currency, Source: cost.Derived})
	}
	return tr
}

// ExplainPlan accounts for every kind of run of a plan of a job, and for the
// plan's totals.
func ExplainPlan(job *shop.Job, p *Plan) ([]Account, error) {
	var out []Account
	for i := range p.Groups {
		g := &p.Groups[i]
		for k := range g.Layouts {
			l := &g.Layouts[k]
			for _, r := range l.Runs {
				tr, err := explainRun(job, p, g, l, &r)
				if err != nil {
					return nil, fmt.Errorf("%s: %w", l.ID, err)
				}
				out = append(out, Account{fmt.Sprintf("%s: one run of %d sheets of %s on %s, cut %d times", l.ID, r.Depth, g.Sheets[l.Sheet].ID, p.Machines[r.Machine].ID, r.Count), tr})
			}
		}
	}
	return append(out, Account{"the plan", p.account()}), nil
}

func explainRun(job *shop.Job, p *Plan, g *Group, l *Layout, r *Run) (cost.Trace, error) {
	t := &task{job: job, group: *g, material: job.Materials[g.Material]}
	return cost.Explain(t.setup(r.Machine, r.Depth), headWork(&l.Route, len(l.Placements)), g.Sheets[l.Sheet].Cost)
}

func (p *Plan) account() cost.Trace {
	given := func(symbol, name string, v float64, unit string) cost.Input {
		return cost.Input{Symbol: symbol, Name: name, Value: v, Unit: unit, Source: cost.Derived}
	}
	setups := 0
	for i := range p.Machines {
		setups += p.Machines[i].Setups
	}
	range90 := func(r cost.Interval, unit string) string {
		return fmt.Sprintf("%.0f %% between %.4g and %.4g %s; causes of one name move together through all runs", 100*r.Level, r.Low, r.High, unit)
	}
	return cost.Trace{
		{
			Name: "machine time", Formula: "Σ runs·occupied + set-ups·time of one", Value: p.Seconds, Unit: "s", Source: cost.Derived,
			Inputs: []cost.Input{given("set-ups", "changes of material or thickness", float64(setups), "")}, Note: range90(p.SecondsRange, "s"),
		},
		{
			Name: "cost", Formula: "Σ runs·money of a run + set-ups·money of one", Value: p.Ledger.Money.Total(), Unit: p.Currency, Source: cost.Derived,
			Inputs: []cost.Input{given("sheets", "of it material", p.Ledger.Money.Material, p.Currency), given("work", "of it work", p.Ledger.Money.Process(), p.Currency)},
			Note:   range90(p.MoneyRange, p.Currency),
		},
	}
}
