package week

import "math"

// A sheetBound asks for the cheapest whole sheets that offer enough area: a
// small integer program, solved by branching on the number of each kind.
type sheetBound struct {
	room  []float64 // area grown parts may cover, by kind
	full  []float64 // area of a sheet, by kind
	fixed []float64 // money of a sheet, however little lies on it
	fill  []float64 // and more, in proportion to what lies on it
	count []int
	need  float64 // grown area of all parts
	area  float64 // true area of all parts
	least int     // sheets
}

// sheetBoundNodes bounds the branching; what is left open then counts with its
// linear bound.
const sheetBoundNodes = 400

// solve returns the least money, or what is sure to lie below it. Where the
// sheets do not suffice it counts them all.
func (b *sheetBound) solve() (float64, error) {
	high := append([]int(nil), b.count...)
	type node struct {
		low, high []int
		money     float64
	}
	money, _, err := b.relax(make([]int, len(high)), high)
	if err != nil {
		return 0, err
	}
	open := []node{{make([]int, len(high)), high, money}}
	for range sheetBoundNodes {
		at := 0
		for i := range open {
			if open[i].money < open[at].money {
				at = i
			}
		}
		cur := open[at]
		_, n, err := b.relax(cur.low, cur.high)
		if err != nil {
			return 0, err
		}
		k := fractional(n)
		if k < 0 {
			return cur.money, nil
		}
		left := node{cur.low, append([]int(nil), cur.high...), 0}
		left.high[k] = int(math.Floor(n[k]))
		right := node{append([]int(nil), cur.low...), cur.high, 0}
		right.low[k] = int(math.Floor(n[k])) + 1
		for _, c := range []*node{&left, &right} {
			if c.money, _, err = b.relax(c.low, c.high); err != nil {
				return 0, err
			}
			c.money = math.Max(c.money, cur.money)
		}
		open[at] = left
		open = append(open, right)
	}
	least := math.Inf(1)
	for _, o := range open {
		least = math.Min(least, o.money)
	}
	return least, nil
}

// fractional is the kind whose number is farthest from whole; -1 where all are.
func fractional(n []float64) int {
	best, worst := -1, wholeSlack
	for k, v := range n {
		if f := math.Abs(v - math.Round(v)); f > worst {
			best, worst = k, f
		}
	}
	return best
}

// relax solves the linear program between bounds on the numbers.
func (b *sheetBound) relax(low, high []int) (money float64, n []float64, err error) {
	kinds := len(b.room)
	p := &program{rows: 3 + kinds, right: make([]float64, 3+kinds)}
	// Areas count in shares of the largest sheet, so that the numbers are alike.
	unit := 1.0
	for _, r := range b.full {
		unit = math.Max(unit, r)
	}
	p.right[0], p.right[1], p.right[2] = b.need/unit, b.area/unit, float64(b.least)
	dear := 1.0
	for k := range b.room {
		p.right[0] -= float64(low[k]) * b.room[k] / unit
		p.right[2] -= float64(low[k])
		p.right[3+k] = float64(low[k]) * b.full[k] / unit
		money += float64(low[k]) * b.fixed[k]
		dear += b.fixed[k] + b.fill[k]
		p.cols = append(p.cols, programColumn{b.fixed[k], float64(high[k] - low[k]), []entry{
			{0, b.room[k] / unit}, {2, 1}, {3 + k, -b.full[k] / unit},
		}})
	}
	for k := range b.room {
		p.cols = append(p.cols, programColumn{b.fill[k] / math.Max(b.full[k]/unit, simplexZero), math.Inf(1), []entry{{1, 1}, {3 + k, 1}}})
	}
	for row := range 3 { // what the sheets cannot offer, and what is beyond need
		first := len(p.cols)
		p.cols = append(p.cols, programColumn{1000 * dear, math.Inf(1), []entry{{row, 1}}}, programColumn{0, math.Inf(1), []entry{{row, -1}}})
		if p.right[row] < 0 {
			first++
		}
		p.start = append(p.start, first)
	}
	for k := range b.room {
		p.start = append(p.start, len(p.cols))
		p.cols = append(p.cols, programColumn{0, math.Inf(1), []entry{{3 + k, 1}}})
	}
	r, err := p.solve()
	if err != nil {
		return 0, nil, err
	}
	for k := range b.room {
		n = append(n, float64(low[k])+r.x[k])
	}
	for j, c := range p.cols {
		if c.cost < 1000*dear {
			money += c.cost * r.x[j]
		} else if r.x[j] > wholeSlack {
			money += c.cost * r.x[j] // not enough: this branch is closed
		}
	}
	return money, n, nil
}
