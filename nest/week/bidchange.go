package week

import (
	"cmp"
	"context"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
)

// A ChangeKind classes what would change a bid.
type ChangeKind string

const (
	ChangeSheet    ChangeKind = "sheet"
	ChangeStacking ChangeKind = "stacking"
	ChangeSpacing  ChangeKind = "spacing"
	ChangeGrade    ChangeKind = "grade"
	ChangeMachine  ChangeKind = "machine"
)

// A Change is one thing done differently, worked out by the same model as the
// bid, and the difference it makes to the whole bid.
type Change struct {
	Group   string
	Kind    ChangeKind
	Text    string
	Money   float64 // more or less, remnants credited
	Seconds float64 // more or less machine time
	Sheets  int     // more or less
	Yield   float64 // of the group, afterwards
	Refusal string  // why it is not possible; the differences are then 0
}

// A variation is a change to be worked out.
type variation struct {
	kind ChangeKind
	text string
	// find works the varied group out. The differences are taken from against.
	find    func(ctx context.Context) (*task, *candidate, error)
	against Way
	refusal string
}

// changes works out what would change the bid and ranks it by money.
func (b *bidder) changes(ctx context.Context, bid *Bid) error {
	var all []variation
	var of []int
	for _, list := range []func(int) []variation{b.repriced, b.relaid} {
		for i := range b.tasks {
			if len(bid.Groups[i].Runs) == 0 {
				continue
			}
			for _, v := range list(i) {
				all, of = append(all, v), append(of, i)
			}
		}
	}
	found, errs := make([]*Change, len(all)), make([]error, len(all))
	var g errgroup.Group
	g.SetLimit(b.o.Workers)
	for k := range all {
		g.Go(func() error {
			found[k], errs[k] = all[k].work(ctx, bid.Groups[of[k]].ID)
			return nil
		})
	}
	g.Wait()
	if err := firstOf(errs...); err != nil {
		return err
	}
	for _, c := range found {
		if c == nil {
			bid.Omitted++
			continue
		}
		bid.Changes = append(bid.Changes, *c)
	}
	slices.SortStableFunc(bid.Changes, func(x, y Change) int { return -cmp.Compare(math.Abs(x.Money), math.Abs(y.Money)) })
	return nil
}

// work is the change, or nil where ctx has ended before it was known.
func (v *variation) work(ctx context.Context, group string) (*Change, error) {
	out := &Change{Group: group, Kind: v.kind, Text: v.text, Refusal: v.refusal}
	if v.refusal != "" {
		return out, nil
	}
	if ctx.Err() != nil {
		return nil, nil
	}
	t, c, err := v.find(ctx)
	if err != nil || ctx.Err() != nil {
		return nil, err
	}
	if why := unable(t); why != "" || c == nil {
		out.Refusal = cmp.Or(why, "it cannot be cut")
		return out, nil
	}
	if c.way.Short > v.against.Short {
		out.Refusal = "not every part fits"
		return out, nil
	}
	out.Money, out.Seconds, out.Sheets = c.way.Money-v.against.Money, c.way.Seconds-v.against.Seconds, c.way.Sheets-v.against.Sheets
	out.Yield = c.yield(t)
	return out, nil
}

// yield is the share of the candidate's sheets that becomes parts.
func (c *candidate) yield(t *task) float64 {
	parts, sheets := 0.0, 0.0
	for i, n := range c.placed {
		parts += float64(n) * t.area[i]
	}
	for i, n := range c.used {
		sheets += float64(n) * t.round[i]
	}
	return share(parts, sheets)
}
