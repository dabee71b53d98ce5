package week

import (
	"math"
	"slices"
)

// A mix is the integer plan of a group as numbers alone: how often to cut which
// of the layouts there are.
type mix struct {
	want    []int     // copies wanted, by part
	most    []int     // copies that cost nothing beyond their cutting, by part
	surplus []float64 // money of each copy beyond most, by part
	missing float64   // money of each wanted copy not cut; more than any could cost
	sheets  []int     // how many there are, by kind
	columns []column
	fixed   float64 // money of each different layout: to program, check and file
	cap     int     // most different layouts; 0 is no cap
}

// A column is a layout as the integer plan sees it: what one sheet of it
// carries and what its repeats cost.
type column struct {
	sheet  int
	counts []copies // by ascending part
	// curve[n] is the money of n repeats at their best split into stacks. It
	// ends where more repeats make no sense.
	curve []float64
}

// copies is so many of a part.
type copies struct{ part, n int }

func (c *column) most() int { return len(c.curve) - 1 }

// cost is the money of n repeats of column j, with what a layout costs by itself.
func (m *mix) cost(j, n int) float64 {
	if n == 0 {
		return 0
	}
	return m.columns[j].curve[n] + m.fixed
}

// off is the money of part i when so many copies are cut: of those missing or
// too many.
func (m *mix) off(i, cut int) float64 {
	switch {
	case cut < m.want[i]:
		return m.missing * float64(m.want[i]-cut)
	case cut > m.most[i]:
		return m.surplus[i] * float64(cut-m.most[i])
	}
	return 0
}

// A blend is an answer to a mix: repeats by column, with what follows of them.
type blend struct {
	m       *mix
	repeats []int
	cut     []int // copies by part
	used    []int // sheets by kind
	layouts int
	money   float64
}

func (m *mix) empty() *blend {
	b := &blend{m: m, repeats: make([]int, len(m.columns)), cut: make([]int, len(m.want)), used: make([]int, len(m.sheets))}
	for i := range m.want {
		b.money += m.off(i, 0)
	}
	return b
}

// blend works out what repeats give, each within its column's curve; ok is
// false where sheets or layouts are overdrawn.
func (m *mix) blend(repeats []int) (b *blend, ok bool) {
	b = m.empty()
	for j, n := range repeats {
		b.add(j, min(n, m.columns[j].most()))
	}
	return b, b.allowed()
}

func (b *blend) allowed() bool {
	for k, n := range b.used {
		if n > b.m.sheets[k] {
			return false
		}
	}
	return b.m.cap <= 0 || b.layouts <= b.m.cap
}

// add changes the repeats of column j by d.
func (b *blend) add(j, d int) {
	if d == 0 {
		return
	}
	c, n := &b.m.columns[j], b.repeats[j]
	b.money += b.m.cost(j, n+d) - b.m.cost(j, n)
	for _, k := range c.counts {
		b.money += b.m.off(k.part, b.cut[k.part]+d*k.n) - b.m.off(k.part, b.cut[k.part])
		b.cut[k.part] += d * k.n
	}
	b.used[c.sheet] += d
	b.repeats[j] = n + d
	switch {
	case n == 0:
		b.layouts++
	case n+d == 0:
		b.layouts--
	}
}

// may tells whether column j can be cut d more times (fewer where negative)
// without overdrawing sheets or layouts.
func (b *blend) may(j, d int) bool {
	n := b.repeats[j] + d
	if n < 0 || n > b.m.columns[j].most() {
		return false
	}
	if d <= 0 {
		return true
	}
	if k := b.m.columns[j].sheet; b.used[k]+d > b.m.sheets[k] {
		return false
	}
	return b.repeats[j] > 0 || b.m.cap <= 0 || b.layouts < b.m.cap
}

func (b *blend) clone() *blend {
	c := *b
	c.repeats, c.cut, c.used = slices.Clone(b.repeats), slices.Clone(b.cut), slices.Clone(b.used)
	return &c
}

// exact sums the money anew, free of what many small changes left.
func (b *blend) exact() float64 {
	sum := 0.0
	for j, n := range b.repeats {
		sum += b.m.cost(j, n)
	}
	for i, n := range b.cut {
		sum += b.m.off(i, n)
	}
	b.money = sum
	return sum
}

// complete adds columns until nothing is missing or nothing more helps, always
// the one that brings most for its money; prices say what a copy is worth.
func (b *blend) complete(prices []float64) {
	for {
		best, rate := -1, 0.0
		for j := range b.m.columns {
			if !b.may(j, 1) {
				continue
			}
			worth := 0.0
			for _, k := range b.m.columns[j].counts {
				if short := b.m.want[k.part] - b.cut[k.part]; short > 0 {
					worth += float64(min(short, k.n)) * math.Max(prices[k.part], moneyGrain)
				}
			}
			spent := math.Max(b.m.cost(j, b.repeats[j]+1)-b.m.cost(j, b.repeats[j]), moneyGrain)
			if worth/spent > rate {
				best, rate = j, worth/spent
			}
		}
		if best < 0 {
			return
		}
		b.add(best, 1)
	}
}

// polish improves a blend by small steps until none helps: one repeat of a
// column more or fewer, one given to another column, or all of one given to
// another.
func (b *blend) polish() {
	for b.sweep() {
		b.exact()
	}
	b.exact()
}

// sweep tries every step once and tells whether any helped.
func (b *blend) sweep() bool {
	helped := false
	for j := range b.m.columns {
		if b.try(j, 1, -1, 0) {
			helped = true
		}
		for b.repeats[j] > 0 && b.try(j, -1, -1, 0) {
			helped = true
		}
		for k := 0; k < len(b.m.columns) && b.repeats[j] > 0; k++ {
			if k == j {
				continue
			}
			if b.try(j, -1, k, 1) || b.try(j, -b.repeats[j], k, b.repeats[j]) {
				helped = true
			}
		}
	}
	return helped
}

// try makes a step if it is allowed and saves money. k below 0 is no second
// column.
func (b *blend) try(j, dj, k, dk int) bool {
	if dj == 0 || !b.may(j, dj) {
		return false
	}
	was := b.money
	b.add(j, dj)
	if k >= 0 {
		if !b.may(k, dk) {
			b.add(j, -dj)
			b.money = was
			return false
		}
		b.add(k, dk)
	}
	if b.money < was-moneyGrain {
		return true
	}
	if k >= 0 {
		b.add(k, -dk)
	}
	b.add(j, -dj)
	b.money = was
	return false
}
