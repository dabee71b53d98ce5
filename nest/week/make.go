package week

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"golang.org/x/sync/errgroup"

	"kerfold/nest"
	"kerfold/nest/shop"
)

// Make plans a job's week. It first lays every group out quickly, so that there
// is a complete plan from early on, and then spends the effort on the groups
// where most money can still be won. When ctx ends, it returns the best plan so
// far, and the plan's status says so. A plan with parts that found no place is
// no error: see Group.Unplaced and the warnings.
func Make(ctx context.Context, job *shop.Job, o Options) (*Plan, error) {
	return makeWith(ctx, job, o, nestEngine)
}

// An engine is what lays parts out: once quickly, by a search with options, or
// one sheet for the most value, with any parts or with one kind alone.
type engine struct {
	quick  func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error)
	search func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error)
	fill   valueLayer
	alone  valueLayer
}

// A valueLayer fills one sheet with the parts that are worth most together.
type valueLayer func(ctx context.Context, p nest.Problem, values []float64, o nest.Options) (nest.Result, error)

var nestEngine = engine{
	quick: func(ctx context.Context, p nest.Problem, o nest.Options) (nest.Result, error) {
		return nest.BottomLeft(ctx, p, nil, o)
	},
	search: nest.Solve,
	fill:   nest.Fill,
	alone: func(ctx context.Context, p nest.Problem, values []float64, o nest.Options) (nest.Result, error) {
		r, err := nest.Lattice(ctx, p, o)
		if errors.Is(err, nest.ErrUnsupported) {
			return nest.Fill(ctx, p, values, o)
		}
		return r, err
	},
}

func makeWith(ctx context.Context, job *shop.Job, o Options, e engine) (*Plan, error) {
	if err := check(job); err != nil {
		return nil, err
	}
	o.Remnants = ruleFor(o.Remnants, job)
	m := maker{job: job, o: filled(o), engine: e, tasks: gather(job)}
	for _, t := range m.tasks {
		t.plain = m.o.Plain
	}
	m.meter = newMeter(m.o.Progress, len(m.tasks))
	ctx, cancel := m.limited(ctx)
	defer cancel()
	if err := m.first(ctx); err != nil {
		return nil, err
	}
	if err := m.improve(ctx); err != nil {
		return nil, err
	}
	return m.assemble(ctx)
}

func check(job *shop.Job) error {
	switch {
	case len(job.Orders) == 0:
		return errors.New("the job has no orders: add at least one")
	case len(job.Machines) == 0:
		return errors.New("the job has no machines: add at least one")
	case len(job.Days) == 0:
		return errors.New("the job has no working days: add at least one")
	}
	return nil
}

func filled(o Options) Options {
	o.Workers = max(1, o.Workers)
	return o
}

// A maker is a plan in the making. Its slices are indexed by task.
type maker struct {
	job    *shop.Job
	o      Options
	engine engine
	tasks  []*task
	meter  *meter
	found  [][]*candidate // best first: roughly priced, then the contenders routed
	ways   [][]Way        // of candidates that are out of the running
	chosen []*candidate   // by trial calendars, where there were any
	prior  *Plan          // that this one changes, if any
}

// each runs f for every task, at most Workers at once. Results go to places of
// their own, and the first error in task order is returned, so that nothing
// depends on how many workers there are.
func (m *maker) each(f func(i int, t *task) error) error {
	var g errgroup.Group
	g.SetLimit(m.o.Workers)
	errs := make([]error, len(m.tasks))
	for i, t := range m.tasks {
		g.Go(func() error {
			if err := f(i, t); err != nil {
				errs[i] = fmt.Errorf("group %s (%s, %v mm, %s): %w",
					t.group.ID, t.group.Material, t.group.ThicknessMM, t.group.Grade, err)
			}
			return nil
		})
	}
	g.Wait()
	return errors.Join(errs...)
}

// firstWaysShare is the share of a limited time after which no more ways are
// begun in haste.
const firstWaysShare = 0.25

// first lays every group out quickly in every way worth trying. The direct way
// is worked out even when ctx has ended, so that there is always a plan.
func (m *maker) first(ctx context.Context) error {
	m.found = make([][]*candidate, len(m.tasks))
	trying, cancel := m.within(ctx, firstWaysShare)
	defer cancel()
	return m.each(func(i int, t *task) error {
		direct, err := m.work(context.WithoutCancel(ctx), t, t.direct(), m.quick(t), rough)
		if err != nil {
			return err
		}
		m.found[i] = []*candidate{direct}
		for _, w := range t.planWays(direct.way.Sheets, m.eased(m.engine.fill)) {
			if trying.Err() != nil || m.o.Plain {
				break
			}
			c, err := m.work(trying, t, w, m.quick(t), rough)
			if err != nil {
				return err
			}
			if !c.sameAs(direct) {
				m.found[i] = append(m.found[i], c)
			}
		}
		slices.SortStableFunc(m.found[i], better)
		m.meter.firstDone(t.group.ID, m.found[i][0].way.Sheets)
		return nil
	})
}

// quick is the layer of the first layouts.
func (m *maker) quick(t *task) layer {
	return func(ctx context.Context, p nest.Problem) (nest.Result, error) {
		return m.engine.quick(ctx, p, nest.Options{Memo: &t.memo})
	}
}

// work lays a way out and prices it. Where nothing can be cut the candidate is
// empty.
func (m *maker) work(ctx context.Context, t *task, w plannedWay, lay layer, with care) (*candidate, error) {
	c := t.newCandidate(w.name)
	if len(t.machines) > 0 {
		var err error
		if c, err = w.lay(ctx, lay); err != nil {
			return nil, err
		}
	}
	c.plan = w
	return c, c.price(ctx, t, m.o.Remnants, with)
}
