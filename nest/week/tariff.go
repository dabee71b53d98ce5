package week

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"kerfold/cost"
	"kerfold/geom"
	"kerfold/nest/shop"
)

// A tariff is what cutting a group takes, part by part, before any layout is
// made: the seconds of a layout are those of its parts, of the rapid moves and
// of one run's handling. With it thousands of layouts are priced without
// looking at a contour again.
type tariff []machineTariff

// A machineTariff is the tariff on one machine, by stack depth from 1.
type machineTariff struct {
	machine int // index into the job's machines
	rapid   float64
	accel   float64
	depths  []depthTariff
}

// A depthTariff is what one run of so many layers takes.
type depthTariff struct {
	setup cost.Setup
	bare  cost.Time   // without any part
	parts []cost.Time // what each copy adds
}

// rates makes the group's tariff the first time it is asked for. A task is
// worked on by one goroutine at a time.
func (t *task) rates() (tariff, error) {
	if t.prices != nil {
		return t.prices, nil
	}
	for _, m := range t.machines {
		mt, err := t.machineRates(m)
		if err != nil {
			return nil, err
		}
		t.prices = append(t.prices, mt)
	}
	return t.prices, nil
}

func (t *task) machineRates(m int) (machineTariff, error) {
	filled := t.job.Machines[m].Filled()
	mt := machineTariff{machine: m, rapid: filled.RapidMMPerMin / 60, accel: filled.AccelMMPerS2}
	for depth := 1; depth <= t.depthOn(m); depth++ {
		d := depthTariff{setup: t.setup(m, depth)}
		var err error
		if d.bare, err = cost.LayoutTime(d.setup, cost.Work{}); err != nil {
			return mt, err
		}
		for i := range t.group.Parts {
			one, err := cost.LayoutTime(d.setup, partWork(t.group.Parts[i].Shape))
			if err != nil {
				return mt, err
			}
			one.HandleSec -= d.bare.HandleSec
			d.parts = append(d.parts, one)
		}
		mt.depths = append(mt.depths, d)
	}
	return mt, nil
}

// partWork is the cutting of one part without leads and rapid moves.
func partWork(s geom.Shape) cost.Work {
	w := cost.Work{Parts: 1, Strokes: []cost.Stroke{{Contour: s.Outer}}}
	for _, h := range s.Holes {
		w.Strokes = append(w.Strokes, cost.Stroke{Contour: h})
	}
	return w
}

// run is the time of one run of a layout that carries so many of each part.
func (d *depthTariff) run(counts []int, rapid float64) cost.Time {
	t := d.bare
	t.RapidSec += rapid
	for i, n := range counts {
		if n > 0 {
			t = plusTimes(t, d.parts[i], float64(n))
			t.Pierces += n * d.parts[i].Pierces
		}
	}
	return t
}

func plusTimes(t, part cost.Time, n float64) cost.Time {
	t.CutSec += n * part.CutSec
	t.PierceSec += n * part.PierceSec
	t.HandleSec += n * part.HandleSec
	t.CutMM += n * part.CutMM
	return t
}

// A runPrice is what one run costs on one machine, by depth; index 0 is unused.
type runPrice struct {
	machine        int
	money, seconds []float64
}

func newRunPrice(machine int) runPrice {
	return runPrice{machine: machine, money: []float64{0}, seconds: []float64{0}}
}

func (r *runPrice) add(l cost.Ledger) {
	r.money, r.seconds = append(r.money, l.Money.Total()), append(r.seconds, l.Usage.OccupiedSec)
}

// roughRuns prices the runs of a layout by the tariff, on every machine that
// can take its sheet.
func (t *task) roughRuns(l *laid) ([]runPrice, error) {
	rates, err := t.rates()
	if err != nil {
		return nil, err
	}
	sheet := &t.group.Sheets[l.sheet]
	counts, moves := l.counts(len(t.group.Parts)), t.roughMoves(l)
	var out []runPrice
	for i := range rates {
		mt := &rates[i]
		if !shop.TakesSheet(&t.job.Machines[mt.machine], sheet) {
			continue
		}
		rapid := 0.0
		for _, mm := range moves {
			rapid += cost.TrapezoidTime(mm, mt.rapid, mt.accel)
		}
		r := newRunPrice(mt.machine)
		for k := range mt.depths[:min(len(mt.depths), max(1, t.mostRepeats(l)))] {
			d := &mt.depths[k]
			r.add(cost.LedgerOf(d.setup, d.run(counts, rapid), sheet.Cost))
		}
		out = append(out, r)
	}
	return out, nil
}

// mostRepeats bounds how deep a stack of a layout can be.
func (t *task) mostRepeats(l *laid) int { return max(l.repeats, t.group.Sheets[l.sheet].Count) }

// roughMoves is the rapid moves of a layout that nobody has routed: from part
// to part as they lie, mm.
func (t *task) roughMoves(l *laid) []float64 {
	var way []orb.Point
	for _, p := range l.placements {
		way = append(way, p.Pose.Apply(t.group.Parts[p.Part].Shape.Outer[0].P))
	}
	slices.SortFunc(way, func(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	var moves []float64
	for i := 1; i < len(way); i++ {
		moves = append(moves, chainLength(way[i-1:i+1]))
	}
	return moves
}

// routedRuns prices the runs of a layout by the cuts themselves, up to stacks of
// as many sheets as it has repeats.
func (t *task) routedRuns(l *laid, w cost.Work) ([]runPrice, error) {
	sheet := &t.group.Sheets[l.sheet]
	var out []runPrice
	for _, m := range t.machines {
		if !shop.TakesSheet(&t.job.Machines[m], sheet) {
			continue
		}
		r := newRunPrice(m)
		for depth := 1; depth <= min(l.repeats, t.depthOn(m)); depth++ {
			ledger, err := cost.LayoutLedger(t.setup(m, depth), w, sheet.Cost)
			if err != nil {
				return nil, err
			}
			r.add(ledger)
		}
		out = append(out, r)
	}
	return out, nil
}
