package week

import (
	"cmp"
	"context"
	"math"
	"slices"

	"kerfold/nest"
)

// A group of very many kinds of part is laid out window by window: the work of
// a layer grows with the square of the kinds before it, and nobody looks for a
// part due on Friday on Monday's sheets. A window holds the kinds due next,
// some sheets' worth; its fullest sheets are kept, and what lay on the emptiest
// goes into the next window.

const (
	// rollingKinds is how many kinds of part are laid out at once at most.
	rollingKinds = 48
	// windowKinds and windowSheets say how much a window holds: at least so many
	// kinds, unless their area is that of so many sheets.
	windowKinds  = 20
	windowSheets = 2.5
)

// rolling tells whether a group is laid out window by window. Fillers must see
// every sheet, so groups with fillers are not.
func (t *task) rolling() bool {
	for i := range t.group.Parts {
		if t.group.Parts[i].Filler {
			return false
		}
	}
	return len(t.group.Parts) > rollingKinds
}

// windows is about how many windows a group has.
func (t *task) windows() int {
	if !t.rolling() {
		return 1
	}
	return 1 + len(t.group.Parts)/windowKinds
}

// layRolling lays the whole demand out window by window.
func (t *task) layRolling(ctx context.Context, lay layer, c *candidate) error {
	queue := t.byDue()
	window := demand{make([]int, len(t.group.Parts)), nil}
	for least := 0; ; {
		kinds, area := t.held(window)
		for len(queue) > 0 && (kinds < max(least, windowKinds) || kinds < least+windowKinds && area < windowSheets*t.usualSheet()) {
			i := t.together(queue)
			for _, part := range queue[:i] {
				window.want[part] = t.group.Parts[part].Quantity
			}
			queue = queue[i:]
			kinds, area = t.held(window)
		}
		window.sheets = c.rest(t.full()).sheets
		p := t.pose(window)
		if !p.solvable() {
			return nil
		}
		r, err := lay(ctx, p.Problem)
		if err != nil {
			return err
		}
		last := len(queue) == 0 || ctx.Err() != nil && len(r.Layouts) == 0
		if !last {
			r.Layouts, r.Unplaced, r.Warnings, r.Status = t.fullest(&p, r.Layouts), nil, nil, nest.Finished
		}
		c.add(&p, r, 1)
		if last {
			return nil
		}
		least = 0
		if len(r.Layouts) == 0 {
			least = kinds + windowKinds // a window with nothing worth keeping grows
		}
		for i := range window.want {
			if window.want[i] > 0 {
				window.want[i] = t.group.Parts[i].Quantity - c.placed[i]
			}
		}
	}
}

// held is how many kinds a window holds and what they come to in area.
func (t *task) held(d demand) (kinds int, area float64) {
	for i, n := range d.want {
		if n > 0 {
			kinds++
			area += float64(n) * t.area[i]
		}
	}
	return kinds, area
}

// usualSheet is the area of the kind of sheet there is most of.
func (t *task) usualSheet() float64 {
	best, most := 1.0, 0.0
	for s := range t.group.Sheets {
		if a := t.round[s] * float64(t.group.Sheets[s].Count); a > most {
			best, most = t.round[s], a
		}
	}
	return best
}

// byDue lists the parts by due date, members of a kit together at the first
// one's place, larger parts first among equals.
func (t *task) byDue() []int {
	list := make([]int, len(t.group.Parts))
	kits := map[string]int{}
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Or(dueOrLast(t.group.Parts[a].Due).Compare(dueOrLast(t.group.Parts[b].Due)), cmp.Compare(t.area[b], t.area[a]))
	})
	rank := make([]int, len(list))
	for at, i := range list {
		rank[i] = at
		if kit := t.group.Parts[i].Kit; kit != "" {
			if first, seen := kits[kit]; seen {
				rank[i] = first
			} else {
				kits[kit] = at
			}
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(rank[a], rank[b]) })
	return list
}

// together is how many of the next parts in a queue must come at once: a kit's.
func (t *task) together(queue []int) int {
	kit := t.group.Parts[queue[0]].Kit
	n := 1
	for kit != "" && n < len(queue) && t.group.Parts[queue[n]].Kit == kit {
		n++
	}
	return n
}

// fullest leaves out the layout with the least area on it, and all that carry
// less than half as much as the one with most.
func (t *task) fullest(p *posing, layouts []nest.Layout) []nest.Layout {
	area := make([]float64, len(layouts))
	most, least := 0.0, 0
	for k, l := range layouts {
		for _, pl := range l.Placements {
			area[k] += t.area[p.part[pl.Part]]
		}
		most = math.Max(most, area[k])
		if area[k] <= area[least] {
			least = k
		}
	}
	var out []nest.Layout
	for k, l := range layouts {
		if k != least && area[k] >= most/2 {
			out = append(out, l)
		}
	}
	return out
}
