package week

import (
	"context"
	"fmt"
	"slices"

	"golang.org/x/sync/errgroup"

	"kerfold/cost"
	"kerfold/nest"
	"kerfold/nest/route"
	"kerfold/nest/shop"
)

// StudyOptions says how to compare stack depths for one order.
type StudyOptions struct {
	Machine  string // its id; empty takes the machine that is cheapest
	Sheet    string // stock id; empty takes the largest whole sheet that fits
	MaxDepth int    // 0 is as deep as allowed
	Seed     uint64
	Effort   float64 // of the search for a full sheet; 0 means 0.3
	Workers  int
	Remnants RemnantRule
}

// A Study compares stack depths for one order cut by itself: a full sheet of
// the part, verified, and what every depth takes in time and money.
type Study struct {
	Order    shop.Order
	Sheet    shop.Stock
	Machine  int // index into the job's machines
	PerSheet int
	Yield    float64 // of a full sheet, 0 to 1
	Job      cost.PartJob
	cost.PartStudy
	Cautions []cost.Caution
	Warnings []string
}

// defaultStudyEffort fills one sheet with one kind of part in a second or so.
const defaultStudyEffort = 0.3

// StudyOrder compares stack depths for one order of a job, given by its place
// in the job's orders. The count of sheets in stock is not looked at.
func StudyOrder(ctx context.Context, job *shop.Job, order int, o StudyOptions) (*Study, error) {
	return studyWith(ctx, job, order, o, nest.Solve)
}

func studyWith(ctx context.Context, job *shop.Job, order int, o StudyOptions, search searcher) (*Study, error) {
	if o.Effort == 0 {
		o.Effort = defaultStudyEffort
	}
	o.Remnants = ruleFor(o.Remnants, job)
	part := &job.Orders[order]
	machines, err := studyMachines(job, part, o)
	if err != nil {
		return nil, fmt.Errorf("order %s: %w", part.ID, err)
	}
	full, err := fillSheet(ctx, job, part, machines, o, search)
	if err != nil {
		return nil, fmt.Errorf("order %s: %w", part.ID, err)
	}
	var best *Study
	for _, m := range machines {
		if !shop.TakesSheet(&job.Machines[m], &full.whole) {
			continue
		}
		s, err := studyOn(ctx, job, part, m, full, o)
		if err != nil {
			return nil, fmt.Errorf("order %s on %s: %w", part.ID, job.Machines[m].ID, err)
		}
		if best == nil || s.Depths[s.Best].Money() < best.Depths[best.Best].Money() {
			best = s
		}
	}
	return best, nil
}

// studyMachines lists the machines that can cut the order one sheet at a time.
func studyMachines(job *shop.Job, part *shop.Order, o StudyOptions) ([]int, error) {
	var out []int
	var ids, reasons []string
	for m := range job.Machines {
		ids = append(ids, job.Machines[m].ID)
		if o.Machine != "" && job.Machines[m].ID != o.Machine {
			continue
		}
		if err := studySetup(job, part, m).Check(); err != nil {
			reasons = append(reasons, fmt.Sprintf("%s: %v", job.Machines[m].ID, err))
			continue
		}
		out = append(out, m)
	}
	switch {
	case len(out) > 0:
		return out, nil
	case len(reasons) == 0:
		return nil, fmt.Errorf("no machine %q: the job has %s", o.Machine, joinOr(ids, "none"))
	}
	return nil, fmt.Errorf("no machine can cut it: %s", joinOr(reasons, "there are none"))
}

func studySetup(job *shop.Job, part *shop.Order, m int) cost.Setup {
	return cost.Setup{
		Machine: job.Machines[m], Material: job.Materials[part.Material], Rates: job.Rates,
		ThicknessMM: part.ThicknessMM, Grade: part.Grade, ToleranceMM: part.ToleranceMM,
	}
}

// studyOn compares depths on one machine.
func studyOn(ctx context.Context, job *shop.Job, part *shop.Order, m int, full *fullSheet, o StudyOptions) (*Study, error) {
	setup := studySetup(job, part, m)
	rapids, err := full.rapids(ctx, setup)
	if err != nil {
		return nil, err
	}
	j := cost.PartJob{
		Setup: setup, PerSheet: full.count, Quantity: part.Quantity,
		SheetMoney: full.whole.Cost, RemnantShare: o.Remnants.ValueShare, MaxDepth: o.MaxDepth,
	}
	var failed error
	j.At = func(depth int) cost.Work {
		w, err := onePart(ctx, part, setup.At(depth), rapids)
		if err != nil && failed == nil {
			failed = err
		}
		return w
	}
	j.Part = j.At(1)
	s, err := cost.StudyPart(j)
	if err != nil || failed != nil {
		return nil, firstOf(err, failed)
	}
	study := &Study{
		Order: *part, Sheet: full.whole, Machine: m, PerSheet: j.PerSheet, Yield: full.yield,
		Job: j, PartStudy: s, Warnings: slices.Clone(full.warnings),
	}
	study.Cautions, err = cost.Cautions(withWebs(setup.At(s.Depths[s.Best].Depth), []shop.Order{*part}))
	return study, err
}

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// onePart is what the head does for one copy that lies alone, with the leads
// of the setup's stack and an even share of the sheet's rapid moves.
func onePart(ctx context.Context, part *shop.Order, s cost.Setup, rapids []float64) (cost.Work, error) {
	r, err := route.Plan(ctx, route.Input{Pieces: []route.Piece{{Name: part.Part, Shape: part.Shape}}}, studyRoute(s))
	if err != nil {
		return cost.Work{}, err
	}
	w := cost.Work{Parts: 1, RapidsMM: rapids}
	for i := range r.Cuts {
		c := &r.Cuts[i]
		w.Strokes = append(w.Strokes, cost.Stroke{LeadIn: c.LeadIn, Contour: c.Contour, LeadOut: c.LeadOut})
	}
	return w, nil
}

func studyRoute(s cost.Setup) route.Options {
	m := s.Machine.Filled()
	bore := m.TubeMM
	if s.Material.Process == cost.Plain {
		bore = m.PlainOrificeMM
	}
	o := route.Defaults(bore, s.SolidMM())
	o.KerfMM = s.KerfMM()
	o.PierceMM = cost.PierceHoleMM(s.PierceMethod(), bore) / 2
	return o
}

// StudyOrders is [StudyOrder] for several orders, o.Workers at a time. Studies
// and errors stand in the orders' places; where one is nil the other is not.
func StudyOrders(ctx context.Context, job *shop.Job, orders []int, o StudyOptions) ([]*Study, []error) {
	studies, errs := make([]*Study, len(orders)), make([]error, len(orders))
	var g errgroup.Group
	g.SetLimit(max(1, o.Workers))
	if len(orders) > 1 {
		o.Workers = 1
	}
	for i, order := range orders {
		g.Go(func() error {
			studies[i], errs[i] = StudyOrder(ctx, job, order, o)
			return nil
		})
	}
	g.Wait()
	return studies, errs
}
