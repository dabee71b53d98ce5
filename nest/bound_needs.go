package nest

import (
	"cmp"
	"math"
	"slices"
)

// A need is what the sheets of a set must provide together: area, and a number
// of sheets.
type need struct {
	on    groundSet
	area  float64
	count int
}

// needs lists, for every set of grounds that is all some part may lie on, what
// the parts confined to it need there.
func (b *bounder) needs() []need {
	var sets []groundSet
	var all groundSet
	for _, m := range b.mask {
		if m != 0 && !slices.Contains(sets, m) {
			sets = append(sets, m)
		}
		all |= m
	}
	if all != 0 && !slices.Contains(sets, all) {
		sets = append(sets, all)
	}
	var list []need
	for _, on := range sets {
		list = append(list, b.needOn(on))
	}
	return list
}

// needOn is the need of the parts confined to a set.
func (b *bounder) needOn(on groundSet) need {
	n := need{on: on}
	most := 0.0
	for g, room := range b.room {
		if on&bitOf(g) != 0 {
			most = max(most, room)
		}
	}
	var parts []int
	for i, k := range b.counts {
		if k > 0 && b.mask[i]&^on == 0 {
			parts = append(parts, i)
			n.area += float64(k) * b.area[i]
		}
	}
	room, _ := b.proof(on).best()
	n.area = max(n.area, room*(1-boundSlack))
	n.count = max(1, b.byHalves(parts, most), b.byConflicts(parts, on))
	return n
}

// byHalves is the bound L2: for every threshold q, areas above most−q are alone on
// their sheets, areas above half are apart from each other, and those from q to
// half must go where the latter leave room or on further sheets.
func (b *bounder) byHalves(parts []int, most float64) int {
	sorted := slices.Clone(parts)
	slices.SortStableFunc(sorted, func(i, j int) int { return cmp.Compare(b.area[j], b.area[i]) })
	best := 0
	thresholds := []float64{0}
	for _, i := range sorted {
		if b.area[i] <= most/2 {
			thresholds = append(thresholds, b.area[i])
		}
	}
	for _, q := range thresholds {
		alone, big, bigArea, smallArea := 0, 0, 0.0, 0.0
		for _, i := range sorted {
			k := b.counts[i]
			switch a := b.area[i] * (1 - boundSlack); {
			case a > most-q:
				alone += k
			case a > most/2:
				big += k
				bigArea += float64(k) * a
			case a >= q*(1-2*boundSlack):
				smallArea += float64(k) * a
			}
		}
		rest := smallArea - (float64(big)*most - bigArea)
		best = max(best, alone+big+int(math.Max(0, math.Ceil(rest/most-boundSlack))))
	}
	return best
}

// byConflicts counts copies of which no two can share a sheet: kinds are taken
// largest first while they conflict with themselves and with all taken before.
func (b *bounder) byConflicts(parts []int, on groundSet) int {
	sorted := slices.Clone(parts)
	slices.SortStableFunc(sorted, func(i, j int) int { return cmp.Compare(b.area[j], b.area[i]) })
	var taken []int
	count := 0
	for _, i := range sorted {
		if !b.apartFromAll(i, taken, on) {
			continue
		}
		if b.conflict(i, i, on) {
			taken = append(taken, i)
			count += b.counts[i]
		} else {
			return count + 1 // one copy of it can join
		}
	}
	return count
}

func (b *bounder) apartFromAll(i int, taken []int, on groundSet) bool {
	for _, j := range taken {
		if !b.conflict(i, j, on) {
			return false
		}
	}
	return true
}

// conflict tells whether two kinds can share none of the sheets of a set.
func (b *bounder) conflict(i, j int, on groundSet) bool {
	if b.pre.problem.Parts[i].FreeAngle || b.pre.problem.Parts[j].FreeAngle {
		return false // not all of their turns are known
	}
	for g := range b.pre.grounds {
		if on&bitOf(g) == 0 {
			continue
		}
		for _, t := range b.pre.grounds[g].turns[i] {
			for _, u := range b.pre.grounds[g].turns[j] {
				if !b.crowded(g, b.pre.kinds[i].turns[t].shape, b.pre.kinds[j].turns[u].shape) {
					return false
				}
			}
		}
	}
	return true
}

// crowded tells whether two shapes cannot lie on a ground together: every place
// of the second beside the first that the ground's box allows is inside their
// no-fit polygon.
func (b *bounder) crowded(ground, fixed, moving int) bool {
	in, out := b.fits.on(ground, fixed), b.fits.on(ground, moving)
	if in.empty || out.empty {
		return true
	}
	x0, x1 := out.loX-in.hiX, out.hiX-in.loX
	y0, y1 := out.loY-in.hiY, out.hiY-in.loY
	f, m := &b.pre.shapes[fixed], &b.pre.shapes[moving]
	s := b.pre.problem.Spacing
	if x0 <= -m.w-s || x1 >= f.w+s || y0 <= -m.h-s || y1 >= f.h+s {
		return false // they pass each other
	}
	return b.fits.apart(fixed, moving).coversBox(x0, y0, x1, y1)
}

// coversBox tells whether a box lies inside: no border comes into it, and its
// middle is inside.
func (n *nofit) coversBox(x0, y0, x1, y1 float64) bool {
	for i := range n.edges {
		e := &n.edges[i]
		if e.hiX < x0 || e.loX > x1 || e.hiY < y0 || e.loY > y1 {
			continue
		}
		if segmentMeetsBox(e, x0, y0, x1, y1) {
			return false
		}
	}
	return n.blocks((x0+x1)/2, (y0+y1)/2)
}

// segmentMeetsBox tells whether an edge comes within the contact tolerance of a
// box, by clipping it.
func segmentMeetsBox(e *edge, x0, y0, x1, y1 float64) bool {
	const c = 2 * contactTolerance
	from, to := 0.0, e.length
	from, to = latClip(from, to, e.ax, e.ux, x0-c, x1+c)
	if from > to {
		return false
	}
	from, to = latClip(from, to, e.ay, e.uy, y0-c, y1+c)
	return from <= to
}
