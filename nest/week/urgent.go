package week

import (
	"cmp"
	"context"
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
	urgentEffort = 0.05 // for each sheet
)

// urgent fills sheet after sheet with what is due first, so that the first
// sheets cut complete the first orders; what is due later fills their gaps.
func (t *task) urgent(fill valueLayer) plannedWay {
	return plannedWay{UrgentName, func(ctx context.Context, lay layer) (*candidate, error) {
		c := t.newCandidate(UrgentName)
		pr := &pricer{pool: &pool{t: t}}
		values := t.urgency()
		for range urgentFills {
			rest := c.rest(t.full())
			kind := t.firstKind(rest.sheets)
			if !t.wanting(rest) || kind < 0 || ctx.Err() != nil {
				break
			}
			p, worth := pr.poseFrom(rest.want, kind, values)
			r, err := fill(ctx, p.Problem, worth, nest.Options{Effort: urgentEffort, Memo: &t.memo})
			if err != nil {
				return nil, err
			}
			got := p.back(r.Layouts, 1)
			if len(got) == 0 {
				break
			}
			got[0].repeats = max(1, min(rest.sheets[kind], timesWithin(got[0].counts(len(rest.want)), rest.want)))
			c.take(got[0])
			c.stats = r.Stats
		}
		return c, t.layRest(ctx, lay, c)
	}}
}

// wanting tells whether anything but fillers is wanted.
func (t *task) wanting(d demand) bool {
	for i, n := range d.want {
		if n > 0 && !t.group.Parts[i].Filler {
			return true
		}
	}
	return false
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
