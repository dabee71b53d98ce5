package cost

import (
	"fmt"
	"math"
)

// A PartJob asks how deep to stack for one kind of part.
type PartJob struct {
	Setup Setup // Layers is ignored
	// Part is one copy: its strokes, and the rapid moves it takes on average. At,
	// where not nil, is the same for a stack of that depth, whose leads are longer.
	Part     Work
	At       func(depth int) Work
	PerSheet int // copies on a full sheet
	Quantity int
	// SheetMoney is the price of a sheet; RemnantShare is what the unused share
	// of a sheet that is not full is still worth, 0 to 1.
	SheetMoney, RemnantShare float64
	MaxDepth                 int // deepest stack to look at; 0 is as deep as allowed
}

// A PartRun is one run: layers on top of each other with as many copies each.
type PartRun struct {
	Layers, PerLayer int // PerLayer is copies
	Time             Time
	Ledger           Ledger
}

// A PartDepth is one depth of the comparison: FullRuns stacks of that many full
// sheets, and a last run of what is left.
type PartDepth struct {
	Depth    int // layers of a full stack
	FullRuns int
	Full     PartRun // one of them
	Rest     PartRun // Layers is 0 where nothing is left
	Sheets   int
	Surplus  int // copies beyond the quantity
	Speed    Speed
	Bottom   Quality
	// Limit is what holds the cut back at this depth, and LimitShare the share of
	// the cutting time that goes to it; see [Time.Limit].
	Limit      Limit
	LimitShare float64
	// All runs together:
	Time            Time
	Ledger          Ledger
	SecondsEstimate Estimate // machine occupied
	MoneyEstimate   Estimate
	Wins            float64 // probability of being cheaper than depth 1
	Refusal         string  // why this depth is not allowed
}

// Allowed says whether the depth may be cut.
func (d PartDepth) Allowed() bool { return d.Refusal == "" }

// Money is what all runs cost.
func (d PartDepth) Money() float64 { return d.Ledger.Money.Total() }

// Seconds is how long all runs hold the machine.
func (d PartDepth) Seconds() float64 { return d.Ledger.Usage.OccupiedSec }

// A PartStudy is the comparison of depths for one kind of part.
type PartStudy struct {
	Depths []PartDepth
	Best   int // index of the cheapest
	// Stack is the cheapest depth of more than one layer, 0 where none is allowed.
	Stack int
	// WhatIfs says how the choice between Stack and single sheets hangs on numbers
	// that are assumed; see [WhatIf].
	WhatIfs []WhatIf
	// BreakEven is the smallest quantity, up to BreakEvenLimit, from which some
	// stack of up to 40 layers is cheaper than single sheets; 0 where there is none.
	BreakEven, BreakEvenLimit int
}

// breakEvenSheets bounds the search for a break-even quantity, in full sheets.
const breakEvenSheets = 60

// StudyPart compares stack depths 1, 2, … for a quantity of one part. It ends
// with the first depth that is refused, or that is deeper than the quantity. The
// error says what is wrong with the job, or is that of [Setup.Check] for a single
// sheet.
func StudyPart(j PartJob) (PartStudy, error) {
	if j.Quantity < 1 || j.PerSheet < 1 {
		return PartStudy{}, fmt.Errorf("%d parts, %d on a sheet: give 1 or more of each", j.Quantity, j.PerSheet)
	}
	if !within(j.RemnantShare, 0, 1) {
		return PartStudy{}, fmt.Errorf("remnant share %v: give a share between 0 and 1", j.RemnantShare)
	}
	if err := j.Setup.At(1).Check(); err != nil {
		return PartStudy{}, err
	}
	p := newPartRuns(j)
	if err := p.likelyRun(1, j.PerSheet).Time.finite(); err != nil {
		return PartStudy{}, err
	}
	study := PartStudy{Depths: p.depths()}
	for i, d := range study.Depths {
		if d.Allowed() && d.better(study.Depths[study.Best]) {
			study.Best = i
		}
	}
	study.Stack = cheapestStack(study.Depths)
	study.WhatIfs = j.whatIfs(study.Stack, len(study.Depths))
	study.BreakEvenLimit = breakEvenSheets * j.PerSheet
	study.BreakEven = p.breakEven(study.BreakEvenLimit)
	return study, nil
}

func (d PartDepth) better(o PartDepth) bool {
	return better(d.Money(), o.Money(), d.Seconds(), o.Seconds())
}

// partRuns works out runs of a part. The head's time grows in proportion to the
// copies, so each depth is planned once, for one copy.
type partRuns struct {
	j      PartJob
	at     map[int]*response
	likely map[[2]int]PartRun // by layers and copies
}

func newPartRuns(j PartJob) *partRuns {
	return &partRuns{j: j, at: map[int]*response{}, likely: map[[2]int]PartRun{}}
}

// mostDepth is the deepest stack that is asked for: no deeper than there are
// parts.
func (j PartJob) mostDepth() int {
	if j.MaxDepth > 0 {
		return min(j.Quantity, j.MaxDepth)
	}
	return j.Quantity
}

func (p *partRuns) response(depth int) *response {
	r := p.at[depth]
	if r == nil {
		w := p.j.Part
		if p.j.At != nil {
			w = p.j.At(depth)
		}
		r = newResponse(p.j.Setup.At(depth), w)
		p.at[depth] = r
	}
	return r
}

// run is a run of so many copies on each of so many layers.
func (p *partRuns) run(layers, perLayer int, sh shift) PartRun {
	if layers == 0 {
		return PartRun{}
	}
	r := p.response(layers)
	t := r.time(sh).copies(float64(perLayer))
	t.HandleSec = r.s.handleSec(Work{Parts: perLayer}) * math.Exp(sh.handle)
	l := r.s.ledger(t, sh, p.j.SheetMoney)
	used := float64(perLayer) / float64(p.j.PerSheet)
	l.Money.Material *= 1 - p.j.RemnantShare*(1-used)
	return PartRun{Layers: layers, PerLayer: perLayer, Time: t, Ledger: l}
}

// likelyRun is run with every input at its likely value, remembered.
func (p *partRuns) likelyRun(layers, perLayer int) PartRun {
	key := [2]int{layers, perLayer}
	r, known := p.likely[key]
	if !known {
		r = p.run(layers, perLayer, shift{})
		p.likely[key] = r
	}
	return r
}

// copies is the head's time n times over.
func (t Time) copies(n float64) Time {
	return Time{
		CutSec: n * t.CutSec, PierceSec: n * t.PierceSec, RapidSec: n * t.RapidSec, HandleSec: n * t.HandleSec,
		CutMM: n * t.CutMM, Pierces: int(n) * t.Pierces,
		LawSec: n * t.LawSec, CapSec: n * t.CapSec, MotionSec: n * t.MotionSec, LagSec: n * t.LagSec,
	}
}

func (t Time) plus(o Time) Time {
	return Time{
		CutSec: t.CutSec + o.CutSec, PierceSec: t.PierceSec + o.PierceSec, RapidSec: t.RapidSec + o.RapidSec,
		HandleSec: t.HandleSec + o.HandleSec, CutMM: t.CutMM + o.CutMM, Pierces: t.Pierces + o.Pierces,
		LawSec: t.LawSec + o.LawSec, CapSec: t.CapSec + o.CapSec, MotionSec: t.MotionSec + o.MotionSec, LagSec: t.LagSec + o.LagSec,
	}
}

func (p *partRuns) depths() []PartDepth {
	var out []PartDepth
	for d := 1; d <= p.j.mostDepth(); d++ {
		row := p.depth(d, p.j.Quantity)
		if row.Allowed() {
			p.estimate(&row, out)
		}
		out = append(out, row)
		if !row.Allowed() {
			break
		}
	}
	return out
}

// depth works one depth out for a quantity.
func (p *partRuns) depth(d, quantity int) PartDepth {
	row := PartDepth{Depth: d}
	s := p.j.Setup.At(d)
	if err := s.Check(); err != nil {
		row.Refusal = reason(err)
		return row
	}
	s = s.filled()
	row.FullRuns = quantity / (d * p.j.PerSheet)
	rest := quantity % (d * p.j.PerSheet)
	row.Full = p.likelyRun(d, p.j.PerSheet)
	row.Rest = p.rest(d, rest, row.FullRuns == 0)
	row.Surplus = row.Rest.Layers*row.Rest.PerLayer - rest
	row.Sheets = row.FullRuns*d + row.Rest.Layers
	row.Ledger = row.Full.Ledger.Times(float64(row.FullRuns)).Plus(row.Rest.Ledger)
	row.Time = row.Full.Time.copies(float64(row.FullRuns)).plus(row.Rest.Time)
	row.Speed = s.speed()
	row.Bottom = s.qualityAt(row.Speed.MMPerMin, s.depthMM(d))
	row.Limit = p.response(d).likely.limitBy(row.Speed)
	row.LimitShare = p.response(d).likely.LimitShare()
	return row
}

// rest is the cheapest run of what full stacks leave over. Where there is no
// full stack it is as deep as the depth that is being looked at.
func (p *partRuns) rest(d, parts int, deep bool) PartRun {
	var best PartRun
	if parts == 0 {
		return best
	}
	for layers := 1; layers <= min(d, parts); layers++ {
		perLayer := (parts + layers - 1) / layers
		if perLayer > p.j.PerSheet || deep && layers < min(d, parts) {
			continue
		}
		if r := p.likelyRun(layers, perLayer); best.Layers == 0 || below(r.Ledger.Money.Total(), best.Ledger.Money.Total()) {
			best = r
		}
	}
	return best
}

// estimate adds what makes a depth's time and price uncertain, and the
// probability that it beats the first row.
func (p *partRuns) estimate(row *PartDepth, rows []PartDepth) {
	full := p.uncertain(row.Full).Times(float64(row.FullRuns))
	all := full.Plus(p.uncertain(row.Rest))
	row.SecondsEstimate, row.MoneyEstimate = all.OccupiedSec, all.Money
	if len(rows) > 0 {
		row.Wins = row.MoneyEstimate.Minus(rows[0].MoneyEstimate).BelowZero()
	}
}

func (p *partRuns) uncertain(r PartRun) RunEstimate {
	if r.Layers == 0 {
		return RunEstimate{}
	}
	as := Assumptions(p.response(r.Layers).s)
	of := func(get func(PartRun) float64) Estimate {
		return propagate(as, func(sh shift) float64 { return get(p.run(r.Layers, r.PerLayer, sh)) })
	}
	return RunEstimate{
		HeadSec:     of(func(r PartRun) float64 { return r.Time.HeadSec() }),
		OccupiedSec: of(func(r PartRun) float64 { return r.Ledger.Usage.OccupiedSec }),
		Money:       of(func(r PartRun) float64 { return r.Ledger.Money.Total() }),
	}
}

// breakEven is the smallest quantity from 2 to limit for which some stack is
// cheaper than single sheets, or 0.
func (p *partRuns) breakEven(limit int) int {
	deepest := p.deepest()
	if deepest < 2 {
		return 0
	}
	for n := 2; n <= limit; n++ {
		single := p.money(1, n)
		for d := 2; d <= min(deepest, n); d++ {
			if below(p.money(d, n), single) {
				return n
			}
		}
	}
	return 0
}

// money is what depth d costs for a quantity.
func (p *partRuns) money(d, quantity int) float64 {
	full, rest := quantity/(d*p.j.PerSheet), quantity%(d*p.j.PerSheet)
	m := 0.0
	if full > 0 {
		m = float64(full) * p.likelyRun(d, p.j.PerSheet).Ledger.Money.Total()
	}
	if rest > 0 {
		m += p.rest(d, rest, full == 0).Ledger.Money.Total()
	}
	return m
}

// deepest bounds the stacks among which a break-even is sought where nobody sets a
// bound: deeper ones pay later than these [Derived].
const deepest = 40

// deepest is the greatest depth that is allowed and asked for.
func (p *partRuns) deepest() int {
	d := 1
	for d < deepest && (p.j.MaxDepth == 0 || d < p.j.MaxDepth) && p.j.Setup.At(d+1).Check() == nil {
		d++
	}
	return d
}
