package week

import (
	"reflect"
	"slices"

	"kerfold/nest/shop"
)

// preferOldest moves layouts onto older sheets that are alike in everything but
// age and place, so that nothing lies on the rack for ever. It changes no money.
func (t *task) preferOldest(c *candidate) {
	laid := slices.Clone(c.laid)
	left := make([]int, len(t.group.Sheets))
	for i := range left {
		left[i] = t.group.Sheets[i].Count
	}
	for i := range laid {
		to, ok := t.oldestLike(laid[i].sheet, laid[i].repeats, left)
		if !ok {
			return // the layouts share the lines otherwise; leave them where they are
		}
		laid[i].sheet = to
		left[to] -= laid[i].repeats
	}
	c.laid = laid
	for i := range left {
		c.used[i] = t.group.Sheets[i].Count - left[i]
	}
}

// oldestLike is the oldest line of sheets like the one given that still has
// enough of them.
func (t *task) oldestLike(sheet, need int, left []int) (best int, ok bool) {
	for i := range t.group.Sheets {
		if left[i] < need || !sameSheet(&t.group.Sheets[i], &t.group.Sheets[sheet]) {
			continue
		}
		if !ok || byAge(&t.group.Sheets[i], &t.group.Sheets[best]) < 0 {
			best, ok = i, true
		}
	}
	return best, ok
}

// sameSheet reports whether two lines are alike in all that a plan looks at.
func sameSheet(a, b *shop.Stock) bool {
	return a.Material == b.Material && a.ThicknessMM == b.ThicknessMM && a.Cost == b.Cost && a.Remnant == b.Remnant &&
		reflect.DeepEqual(a.GrainDeg, b.GrainDeg) && reflect.DeepEqual(a.Outline, b.Outline) && sameZones(a, b)
}

func sameZones(a, b *shop.Stock) bool {
	return len(a.Blocked) == 0 && len(b.Blocked) == 0 || reflect.DeepEqual(a.Blocked, b.Blocked)
}
