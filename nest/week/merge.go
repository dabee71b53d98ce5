package week

import (
	"cmp"
	"slices"

	"kerfold/geom"
	"kerfold/nest"
)

// A laid is a layout cut some times, in the group's indices.
type laid struct {
	sheet      int
	placements []nest.Placement
	repeats    int
	id         string // in the earlier plan, where it is kept from one
}

// counts is how many of each part one sheet carries.
func (l *laid) counts(parts int) []int {
	n := make([]int, parts)
	for _, p := range l.placements {
		n[p.Part]++
	}
	return n
}

// back brings a result's layouts into the group's indices, each cut times
// times, equal ones merged.
func (p *posing) back(layouts []nest.Layout, times int) []laid {
	var out []laid
	for _, l := range layouts {
		if len(l.Placements) == 0 {
			continue
		}
		n := laid{sheet: p.sheet[l.Sheet], repeats: times}
		for _, pl := range l.Placements {
			n.placements = append(n.placements, nest.Placement{Part: p.part[pl.Part], Pose: pl.Pose})
		}
		slices.SortFunc(n.placements, comparePlacements)
		out = addLaid(out, n)
	}
	return out
}

// addLaid appends a layout, or raises the repeats of an equal one.
func addLaid(have []laid, l laid) []laid {
	for i := range have {
		if have[i].sheet == l.sheet && slices.Equal(have[i].placements, l.placements) {
			have[i].repeats += l.repeats
			return have
		}
	}
	return append(have, l)
}

// comparePlacements orders placements so that equal layouts become equal
// slices, whatever order the search laid the parts in.
func comparePlacements(a, b nest.Placement) int {
	return cmp.Or(cmp.Compare(a.Part, b.Part), comparePoses(a.Pose, b.Pose))
}

func comparePoses(a, b geom.Pose) int {
	turned := func(p geom.Pose) int {
		if p.Mirror {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y), cmp.Compare(a.AngleDeg, b.AngleDeg),
		cmp.Compare(turned(a), turned(b)))
}

// sameAs reports whether two candidates cut the same layouts equally often.
func (c *candidate) sameAs(d *candidate) bool {
	return slices.EqualFunc(c.laid, d.laid, func(a, b laid) bool {
		return a.sheet == b.sheet && a.repeats == b.repeats && slices.Equal(a.placements, b.placements)
	})
}
