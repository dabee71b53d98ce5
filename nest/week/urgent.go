package week

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"kerfold/nest"
)

// UrgentName names the way that lays parts due early together.
const UrgentName = "urgent parts first"

const (
	// urgentFills bounds the sheets filled one by one; what is left then is laid
	// out at once.
	urgentFills = 12
	// urgentFactor is how many times as much the same area is worth when it is
	// due one date earlier, and urgentSteps how many dates are told apart.
	urgentFactor = 16.0
	urgentSteps  = 4
)

// urgent fills sheet after sheet with what is due first, so that the first
// sheets cut complete the first orders; what is due later fills their gaps.
func (t *task) urgent(fill valueLayer) plannedWay {
	return plannedWay{name: UrgentName, lay: func(ctx context.Context, lay layer) (*candidate, error) {
		c, err := t.fillSheets(ctx, fill, sheetFills{UrgentName, -1, t.urgency(), t.wanting, quickFills})
		if err != nil {
			return nil, err
		}
		return c, t.layRest(ctx, lay, c)
	}}
}

// dueBy fills sheets until all that is due by a date lies on them, beginning with
// those of a kind, and lays out at once what is left. It has the search choose the
// sheets of what can wait, which urgent fills one by one.
func (t *task) dueBy(fill valueLayer, date time.Time, kind int, care fillCare) plannedWay {
	name := fmt.Sprintf("due by %s first, on %s", date.Format("Mon 2 Jan"), t.group.Sheets[kind].ID)
	lay := func(ctx context.Context, lay layer) (*candidate, error) {
		open := func(d demand) bool { return t.owing(d, date) }
		c, err := t.fillSheets(ctx, fill, sheetFills{name, kind, t.urgencyBy(date), open, care})
		if err != nil {
			return nil, err
		}
		return c, t.layRest(ctx, lay, c)
	}
	return plannedWay{name: name, lay: lay, again: func(f fillCare) plannedWay { return t.dueBy(fill, date, kind, f) }}
}

// owing tells whether anything but fillers is wanted by a date.
func (t *task) owing(d demand, date time.Time) bool {
	for i, n := range d.want {
		if o := &t.group.Parts[i]; n > 0 && !o.Filler && !dueOrLast(o.Due).After(date) {
			return true
		}
	}
	return false
}

// sheetFills says how sheets are filled one by one.
type sheetFills struct {
	name   string
	kind   int       // of sheet to begin with; -1 is any
	values []float64 // of a copy of each part
	more   func(left demand) bool
	care   fillCare
}

// fillSheets fills sheets one by one for the most value, first those of a kind
// and then those with the best price, as long as more says.
func (t *task) fillSheets(ctx context.Context, fill valueLayer, f sheetFills) (*candidate, error) {
	c := t.newCandidate(f.name)
	pr := &pricer{pool: &pool{t: t}}
	for range urgentFills {
		rest := c.rest(t.full())
		s := f.kind
		if s < 0 || rest.sheets[s] == 0 {
			s = t.firstKind(rest.sheets)
		}
		if !f.more(rest) || s < 0 || ctx.Err() != nil {
			break
		}
		p, worth := pr.poseFrom(rest.want, s, f.values)
		r, err := fill(ctx, p.Problem, worth, nest.Options{Seed: f.care.seed, Effort: f.care.effort, Memo: &t.memo})
		if err != nil {
			return nil, err
		}
		got := p.back(r.Layouts, 1)
		if len(got) == 0 {
			break
		}
		got[0].repeats = max(1, min(rest.sheets[s], timesWithin(got[0].counts(len(rest.want)), rest.want)))
		c.take(got[0])
		c.stats = r.Stats
	}
	return c, nil
}

// dueWays lists the ways that lay what is due by one of the first dates on
// sheets of its own, for each kind of sheet to begin with.
func (t *task) dueWays(fill valueLayer) []plannedWay {
	var out []plannedWay
	dates, kinds := t.dueDates(), t.kindsByPrice()
	for _, date := range dates[:min(dueDatesTried, max(0, len(dates)-1))] {
		for _, s := range kinds[:min(dueKindsTried, len(kinds))] {
			out = append(out, t.dueBy(fill, date, s, quickFills))
		}
	}
	return out
}

// Bounds of the dates and of the kinds of sheet that dueWays tries.
const (
	dueDatesTried = 2
	dueKindsTried = 3
)

// wanting tells whether anything but fillers is wanted.
func (t *task) wanting(d demand) bool {
	for i, n := range d.want {
		if n > 0 && !t.group.Parts[i].Filler {
			return true
		}
	}
	return false
}

// urgencyBy values parts by area, more if they are due by a date.
func (t *task) urgencyBy(date time.Time) []float64 {
	values := make([]float64, len(t.group.Parts))
	for i := range values {
		values[i] = t.area[i]
		switch o := &t.group.Parts[i]; {
		case o.Filler:
			values[i] /= urgentFactor
		case !dueOrLast(o.Due).After(date):
			values[i] *= urgentFactor
		}
	}
	return values
}

// urgency values parts by area, the more the earlier they are due.
func (t *task) urgency() []float64 {
	dates := t.dueDates()
	values := make([]float64, len(t.group.Parts))
	for i := range values {
		rank := slices.IndexFunc(dates, func(d time.Time) bool { return d.Equal(dueOrLast(t.group.Parts[i].Due)) })
		if rank = min(rank, urgentSteps); t.group.Parts[i].Filler {
			rank = urgentSteps + 1
		}
		values[i] = t.area[i] * math.Pow(urgentFactor, -float64(rank))
	}
	return values
}

// dueDates lists the group's due dates, earliest first.
func (t *task) dueDates() []time.Time {
	var dates []time.Time
	for i := range t.group.Parts {
		dates = append(dates, dueOrLast(t.group.Parts[i].Due))
	}
	slices.SortFunc(dates, time.Time.Compare)
	return slices.CompactFunc(dates, time.Time.Equal)
}

// firstKind is the kind of sheet with the best price that some are left of; -1
// where there are none.
func (t *task) firstKind(left []int) int {
	for _, s := range t.kindsByPrice() {
		if left[s] > 0 {
			return s
		}
	}
	return -1
}

// byUrgency puts the layouts first that carry what is due first, so that they
// are numbered and, where nothing else decides, cut in that order. It costs
// nothing.
func (c *candidate) byUrgency(t *task) {
	due := func(l *laid) time.Time {
		first := noDue
		for _, p := range l.placements {
			if d := dueOrLast(t.group.Parts[p.Part].Due); d.Before(first) {
				first = d
			}
		}
		return first
	}
	slices.SortStableFunc(c.laid, func(a, b laid) int { return cmp.Compare(due(&a).Unix(), due(&b).Unix()) })
}
