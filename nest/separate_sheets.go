package nest

import (
	"math"
	"slices"
)

// On sheets the search empties the weakest sheet: it cuts the sheet's box back
// from the far end, a share of it or all at once, and what no longer fits moves
// to other sheets. The parts then separate over all sheets together. A sheet
// whose box is gone is saved; until then the cuts leave the last sheet's scrap
// in one piece.

// A sepSheets is what a lane knows when it works on sheets.
type sepSheets struct {
	*sepLane
	cost   []float64 // by sheet
	full   []sepBox  // by sheet: its whole box
	least  float64   // smallest extent of any form
	value  float64   // of the best layout
	victim int32     // the sheet being emptied
	share  float64   // of the victim's used length to cut off
	tries  int       // attempts at this cut
	done   bool      // nothing more can be cut
}

// Cuts of the victim start at all of it and halve when attempts fail, down to
// sepLeastCut; a success doubles them again.
const (
	sepLeastCut = 1.0 / 32
	sepTries    = 3
)

// open reports whether a sheet still takes parts.
func (l *sepSheets) open(sheet int32) bool { return l.boxes[sheet].x1 > l.boxes[sheet].x0 }

// used is the length of a sheet from its start to the end of its last part.
func (l *sepSheets) used(p *sepPlan, sheet int32) float64 {
	x := p.boxes[sheet].x0
	for i := range l.free {
		if p.sheet[i] == sheet {
			_, ext := l.store.lie(p.form[i], p.angle[i])
			x = max(x, p.x[i]+ext.x1)
		}
	}
	return x - p.boxes[sheet].x0
}

// areaOn is the area of the parts on every sheet.
func (l *sepSheets) areaOn(p *sepPlan) []float64 {
	area := make([]float64, len(l.full))
	for i := range l.free {
		area[p.sheet[i]] += l.kindOf(i).area
	}
	return area
}

// worth prices a layout: the cost of all sheets in use, the last of them only
// by the share of its length that is used.
func (l *sepSheets) worth(p *sepPlan) float64 {
	sum, saved := 0.0, 0.0
	area := l.areaOn(p)
	for k, a := range area {
		if a == 0 {
			continue
		}
		sum += l.cost[k]
		length := l.full[k].x1 - l.full[k].x0
		saved = max(saved, l.cost[k]*(1-l.used(p, int32(k))/length))
	}
	return sum - saved*sepRestWorth
}

// sepRestWorth keeps a rest, however large, below a sheet saved.
const sepRestWorth = 0.999

// weakest lists the sheets in use, the one that costs most for what lies on it
// first.
func (l *sepSheets) weakest(p *sepPlan) []int32 {
	area := l.areaOn(p)
	var order []int32
	for k, a := range area {
		if a > 0 {
			order = append(order, int32(k))
		}
	}
	slices.SortStableFunc(order, func(a, b int32) int {
		switch wa, wb := l.cost[a]/area[a], l.cost[b]/area[b]; {
		case wa > wb:
			return -1
		case wa < wb:
			return 1
		}
		return int(a - b)
	})
	return order
}

// record takes the layout as the lane's best when it is.
func (l *sepSheets) record() {
	v := l.worth(&l.sepPlan)
	if v < l.value {
		l.value = v
		l.best.assign(&l.sepPlan)
	}
}

// advance runs the lane until its work reaches the quota.
func (l *sepSheets) advance(quota int64) {
	if l.target == 0 {
		l.target = 1
		l.share = 1
		l.cut()
	}
	for l.work < quota && !l.done && !l.stopped() {
		switch l.step() {
		case sepSolved:
			l.record()
			l.share = min(1, 2*l.share)
			l.cut()
		case sepStuck:
			l.again()
		}
	}
}

// again disrupts one of the best failures at this cut, or, when that has been
// tried often enough, cuts less.
func (l *sepSheets) again() {
	l.failed.add(&l.sepPlan, l.attempt.best)
	if l.tries++; l.tries >= sepTries {
		l.share = max(sepLeastCut, l.share/2)
		l.cut()
		return
	}
	l.adopt(l.failed.draw(l.mover.rng))
	l.exchange()
	l.measure()
	l.begin(sepWide)
}

// sepOtherVictim is how often not the weakest but another sheet is emptied.
const sepOtherVictim = 0.25

// cut starts an attempt: from the best layout it cuts the victim's box back. It
// costs a lookup for each item even where nothing collides, so that a search
// that has nothing left to cut ends with its effort.
func (l *sepSheets) cut() {
	l.work += int64(l.free)
	l.adopt(&l.best)
	l.failed.empty()
	l.tries = 0
	order := l.weakest(&l.best)
	l.victim = order[0]
	if l.mover.rng.Float64() < sepOtherVictim {
		l.victim = order[l.mover.rng.IntN(len(order))]
	}
	used := l.used(&l.best, l.victim)
	floor := l.floor(&l.best, l.victim)
	if used <= floor*(1+sepFloorSlack) {
		l.done = l.victim == order[0]
		l.begin(sepWide)
		return
	}
	l.narrowVictim(max(floor, used*(1-l.share)))
	l.begin(sepWide)
}

// sepFloorSlack is how near to the area bound a sheet counts as cut as short
// as it can be.
const sepFloorSlack = 1e-3

// floor is the least length of the victim that area allows: what the other
// sheets in use cannot hold even if they were full.
func (l *sepSheets) floor(p *sepPlan, victim int32) float64 {
	rest := 0.0
	for k, a := range l.areaOn(p) {
		rest += a
		if a > 0 && int32(k) != victim {
			rest -= (l.full[k].x1 - l.full[k].x0) * (l.full[k].y1 - l.full[k].y0)
		}
	}
	return max(0, rest/(l.full[victim].y1-l.full[victim].y0))
}

// narrowVictim cuts the victim's box to the length and moves what no longer
// fits to other sheets; a box too short for any part closes.
func (l *sepSheets) narrowVictim(length float64) {
	v := l.victim
	b := &l.boxes[v]
	b.x1 = b.x0 + length
	if length < l.least {
		b.x1 = b.x0 - 1
	}
	for i := range l.free {
		if l.sheet[i] == v && !l.fitOrExile(i) {
			// What cannot leave keeps the sheet as long as it needs.
			b.x1 = max(b.x1, l.x[i]+l.ext[i].x1)
		}
	}
	l.measure()
}

// fitOrExile keeps an item on the cut sheet where it still fits, else sends it,
// or its whole set of a kit, elsewhere. It reports whether either could be done.
func (l *sepSheets) fitOrExile(i int) bool {
	if l.boxes[l.sheet[i]].holds(l.ext[i]) {
		l.confine(i)
		return true
	}
	if !l.bound(i) {
		return l.exile(i, l.others(l.sheet[i]))
	}
	for _, sheet := range l.others(l.sheet[i]) {
		if l.exileKit(l.kit[i], sheet) {
			return true
		}
	}
	return false
}

// others lists the open sheets but one, in random order.
func (l *sepSheets) others(but int32) []int32 {
	var list []int32
	for k := range l.boxes {
		if int32(k) != but && l.open(int32(k)) {
			list = append(list, int32(k))
		}
	}
	l.mover.rng.Shuffle(len(list), func(a, b int) { list[a], list[b] = list[b], list[a] })
	return list
}

// sepExileSheets bounds how many sheets an exile is tried on.
const sepExileSheets = 8

// exile moves an item to the best pose sampled on the sheets given.
func (l *sepSheets) exile(i int, sheets []int32) bool {
	m := &l.mover
	m.begin()
	for _, sheet := range sheets[:min(len(sheets), sepExileSheets)] {
		m.sampleSheet(l.sepState, i, sheet, m.tune.anywhere)
	}
	pick, ok := m.refine(l.sepState, i)
	if ok {
		l.put(i, pick)
	}
	return ok
}

// exileKit moves all items of a kit to one sheet; it reports whether they can
// lie there.
func (l *sepSheets) exileKit(kit, sheet int32) bool {
	for i := range l.free {
		if l.kit[i] == kit && !l.fitsOn(i, sheet) {
			return false
		}
	}
	for i := range l.free {
		if l.kit[i] == kit {
			l.exile(i, []int32{sheet})
		}
	}
	return true
}

func (l *sepSheets) fitsOn(i int, sheet int32) bool {
	k := l.kindOf(i)
	for form := int32(k.form0); form < int32(k.form0+k.forms); form++ {
		if l.store.allowed(form, l.ground[sheet]) && l.boxes[sheet].holds(l.store.leanest(form)) {
			return true
		}
	}
	return false
}

// exchange swaps the places of two large items that lie on different sheets,
// where both may lie.
func (l *sepSheets) exchange() {
	rng := l.mover.rng
	big := l.largeItems()
	for range 32 {
		a, b := big[rng.IntN(len(big))], big[rng.IntN(len(big))]
		if l.kind[a] == l.kind[b] || l.bound(a) || l.bound(b) {
			continue
		}
		sa, sb := l.sheet[a], l.sheet[b]
		if l.exile(a, []int32{sb}) && l.exile(b, []int32{sa}) {
			return
		}
	}
}

func (l *sepSheets) smallest() float64 {
	least := math.Inf(1)
	for i := range l.free {
		least = min(least, l.leastWidth(l.kindOf(i)))
	}
	return least
}
