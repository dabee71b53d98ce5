package week

import (
	"context"
	"slices"

	"kerfold/nest/shop"
)

// A bid on a job with due dates weighs them much as a plan does: a jury tries ways of
// cutting on trial calendars, at the price the job puts on lateness (latecharge.go).
// It is less thorough than a plan's (jury.go): of each group the way that lays early
// parts together and the cheapest other, few calendars, each shaken less, and runs
// priced where they cost least.

const (
	// bidTrials bounds the trial calendars of a bid, and bidTrialShare says how
	// many times less each is shaken than a plan's.
	bidTrials     = 24
	bidTrialShare = 25
	// mostBidRivals is how many ways of a group are put to the jury beside the best:
	// that which cuts early parts first, and those that look cheapest.
	mostBidRivals = 2
)

// DueWeighing says how due dates were weighed in a bid.
type DueWeighing struct {
	// Why says why they were not; all else is then empty.
	Why     string
	PerHour float64 // what an hour of lateness costs
	Trials  int     // calendars tried
	// Late is the orders that are late on the last of them all the same, and
	// LateMoney what that weighs. No money of the bid has it in it.
	Late      []string
	LateMoney float64
	// Groups are those cut otherwise so that less is late. It takes so many
	// Sheets and so much Money more, and lateness weighs Spared less.
	Groups        []string
	Sheets        int
	Money, Spared float64
	// Cut tells that time was up before every way was tried.
	Cut bool
}

// weighDates chooses between each group's ways once more where orders would be
// late; nil where nothing is due.
func (b *bidder) weighDates(ctx context.Context) (*DueWeighing, error) {
	if !slices.ContainsFunc(b.job.Orders, func(o shop.Order) bool { return !o.Due.IsZero() }) {
		return nil, nil
	}
	d := &DueWeighing{PerHour: b.job.Rates.LatePerHour}
	j := b.bidJury()
	switch {
	case d.PerHour <= 0:
		d.Why = "late_per_hour is 0, so that being late costs nothing"
	case len(j.job.Days) == 0:
		d.Why = "no calendar is known"
	case j.most < 1:
		d.Why = "there are too many stacks to try calendars with"
	}
	if d.Why != "" {
		return d, nil
	}
	if err := j.open(ctx); err != nil {
		return nil, err
	}
	b.late = j.now.money
	if err := j.hear(ctx); err != nil {
		return nil, err
	}
	d.Trials, d.Late, d.LateMoney = j.trials, j.now.orders, j.now.money
	d.Spared, d.Cut = b.late-j.now.money, b.late > 0 && ctx.Err() != nil
	for i, c := range j.chosen {
		b.decide(d, i, c)
	}
	return d, nil
}

// bidJury is a jury on the calendar behind the load, with the best way of every
// group as it is.
func (b *bidder) bidJury() *lateJury {
	b.found = make([][]*candidate, len(b.tasks))
	for i, t := range b.tasks {
		c := b.bases[i].best
		if c == nil {
			c = t.newCandidate(DirectName) // nothing of it is cut
			c.care = routedCare
		}
		b.found[i] = []*candidate{c}
	}
	j := b.jury()
	job, taken := b.calendar()
	j.job, j.taken, j.share, j.most, j.ready = &job, taken, bidTrialShare, min(j.most, bidTrials), b.ready
	return j
}

// ready puts the ways to the jury that lateness could bring forward in the next
// group, as long as there is lateness to save. Those of the groups after it are
// worked out meanwhile, so that no worker is idle; how many never changes a figure.
func (b *bidder) ready(ctx context.Context, next []int, late float64) error {
	i := next[0]
	if late <= 0 || b.bases[i].heard {
		return nil
	}
	err := b.each(func(k int, t *task) error {
		if base := &b.bases[k]; base.rivals == nil && base.best != nil && slices.Contains(next[:min(len(next), b.o.Workers)], k) {
			return b.rivals(ctx, k, t)
		}
		return nil
	})
	base := &b.bases[i]
	base.heard = true
	for _, c := range base.rivals {
		b.found[i] = append(b.found[i], c)
		if !slices.Contains(base.found, c.rough) {
			base.found = append(base.found, c.rough)
		}
	}
	return err
}

// rivals routes the ways of a group that the jury may hear.
func (b *bidder) rivals(ctx context.Context, i int, t *task) error {
	base := &b.bases[i]
	base.rivals = []*candidate{}
	rivals := slices.Clone(base.found[1:])
	c, err := b.urgentWay(ctx, t, base)
	if err != nil {
		return err
	}
	if c != nil {
		rivals = append([]*candidate{c}, rivals...)
	}
	for _, c := range rivals {
		if ctx.Err() != nil || len(base.rivals) == mostBidRivals {
			break
		}
		if c.way.Short > base.best.way.Short || c.way.Money >= base.best.way.Money+b.late {
			continue
		}
		routed := *c
		if err := routed.price(ctx, t, b.o.Remnants, routedCare); err != nil {
			return err
		}
		routed.rough = c
		base.rivals = append(base.rivals, &routed)
	}
	return nil
}

// urgentWay lays parts due early together; nil where that is no way of its own.
func (b *bidder) urgentWay(ctx context.Context, t *task, base *bidBase) (*candidate, error) {
	for _, w := range t.bidWays(base.best.way.Sheets, b.engine.fill) {
		if w.name != UrgentName || ctx.Err() != nil {
			continue
		}
		c, err := b.work(ctx, t, w, b.quick(t), rough)
		if err != nil || ctx.Err() != nil {
			return nil, err
		}
		return c, nil
	}
	return nil, nil
}

// decide makes the jury's choice a group's.
func (b *bidder) decide(d *DueWeighing, i int, c *candidate) {
	base := &b.bases[i]
	if base.best == nil || c == base.best {
		return
	}
	d.Groups = append(d.Groups, b.tasks[i].group.ID)
	d.Sheets += c.way.Sheets - base.best.way.Sheets
	d.Money += c.way.Money - base.best.way.Money
	base.best, base.dated = c, true
	at := slices.Index(base.found, c.rough)
	base.found = slices.Insert(slices.Delete(base.found, at, at+1), 0, c.rough)
}
