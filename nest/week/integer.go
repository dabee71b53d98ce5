package week

import (
	"container/heap"
	"math"
	"math/rand/v2"
	"slices"
)

// The integer step: of the layouts there are, which are cut how often. It is a
// branch and bound (Land, Doig 1960, "An automatic method of solving discrete
// programming problems") over the repeats of each layout. What n repeats cost
// is no straight line: a layout costs something by itself, and stacks make the
// next sheet cheaper or dearer. Between the bounds of a node the cost is
// replaced by a line below it that meets it at the lower bound, as in Falk and
// Soland 1969, "An algorithm for separable nonconvex programming problems";
// branching makes the lines meet. The best blend comes from rounding each
// node's linear solution and polishing, and from tearing the best one down in
// part and building it up again. Everything is counted, nothing timed.

// A mixAnswer is the best blend found and how good one could be.
type mixAnswer struct {
	repeats []int
	money   float64
	// relaxed is what the linear program at the root costs: no blend of these
	// columns costs less, fractional ones included.
	relaxed float64
	// bound is what no whole blend of these columns costs less than.
	bound  float64
	proven bool // nothing cheaper is possible with these columns
	nodes  int
	prices []float64 // of one more copy of each part, and then of one more sheet of each kind
}

// integerGap is the share of the money below which a better blend is not
// looked for.
const integerGap = 1e-6

// solve finds the best blend it can within so many nodes. starts are blends to
// begin from; those overdrawn are skipped.
func (m *mix) solve(starts [][]int, nodes int, seed uint64) (mixAnswer, error) {
	s := &mixSearch{m: m, best: m.empty(), slopes: make([]map[[2]int]float64, len(m.columns))}
	for _, r := range starts {
		if b, ok := m.blend(r); ok {
			s.offer(b, true)
		}
	}
	root := &mixNode{low: make([]int, len(m.columns)), high: make([]int, len(m.columns))}
	for j := range m.columns {
		root.high[j] = min(m.columns[j].most(), m.sheets[m.columns[j].sheet])
	}
	if err := s.open(root); err != nil {
		return mixAnswer{}, err
	}
	relaxed, prices := root.bound, root.prices
	s.shake(nodes/shakeNodes, prices, rand.New(rand.NewPCG(seed, uint64(len(m.columns)))))
	done := 1
	for ; len(s.heap) > 0 && done < nodes && !s.closed(); done++ {
		if err := s.split(heap.Pop(&s.heap).(*mixNode)); err != nil {
			return mixAnswer{}, err
		}
	}
	a := mixAnswer{repeats: s.best.repeats, money: s.best.exact(), relaxed: relaxed, nodes: done, prices: prices}
	a.proven = s.closed()
	a.bound = a.money
	if !a.proven {
		a.bound = math.Max(relaxed, math.Min(a.money, s.heap[0].bound))
	}
	return a, nil
}

// shakeNodes is how many nodes buy one rebuilding of the best blend.
const shakeNodes = 4

// A mixSearch is a branch and bound under way.
type mixSearch struct {
	m      *mix
	best   *blend
	heap   mixHeap
	slopes []map[[2]int]float64 // of each column's line, by its bounds
	born   int
}

// A mixNode is a part of all blends: those with repeats between low and high.
type mixNode struct {
	low, high []int
	bound     float64
	number    int // in order of birth
	branch    int // column to branch on, -1 when the node is settled
	at        int // the upper child starts here
	prices    []float64
}

// closed tells whether nothing cheaper than the best is left.
func (s *mixSearch) closed() bool {
	return len(s.heap) == 0 || s.heap[0].bound >= s.best.money-s.grain()
}

func (s *mixSearch) grain() float64 {
	return math.Max(moneyGrain, integerGap*math.Abs(s.best.money))
}

// offer polishes a blend, where asked to, and keeps it if it is better.
func (s *mixSearch) offer(b *blend, polish bool) {
	if polish {
		b = b.clone()
		b.polish()
	}
	if b.money < s.best.money-moneyGrain {
		s.best = b.clone()
		s.best.exact()
	}
}

// split opens the two children of a node.
func (s *mixSearch) split(n *mixNode) error {
	left := &mixNode{low: n.low, high: slices.Clone(n.high)}
	left.high[n.branch] = n.at - 1
	right := &mixNode{low: slices.Clone(n.low), high: slices.Clone(n.high)}
	right.low[n.branch] = n.at
	for _, child := range []*mixNode{left, right} {
		child.bound = n.bound
		if !s.fits(child) {
			continue
		}
		if err := s.open(child); err != nil {
			return err
		}
	}
	return nil
}

// fits tells whether a node's lower bounds leave any blend, and closes columns
// that the cap on layouts no longer allows.
func (s *mixSearch) fits(n *mixNode) bool {
	used, layouts := make([]int, len(s.m.sheets)), 0
	for j, low := range n.low {
		if low > 0 {
			layouts++
			used[s.m.columns[j].sheet] += low
		}
	}
	for k, u := range used {
		if u > s.m.sheets[k] {
			return false
		}
	}
	if s.m.cap <= 0 || layouts < s.m.cap {
		return true
	}
	for j, low := range n.low {
		if low == 0 {
			n.high[j] = 0
		}
	}
	return layouts == s.m.cap
}

// open solves a node's linear program, tries what rounding it gives, and keeps
// the node if something cheaper may lie in it.
func (s *mixSearch) open(n *mixNode) error {
	r, base, err := s.relax(n)
	if err != nil {
		return err
	}
	n.bound = math.Max(n.bound, base+r.cost)
	n.prices = r.prices
	s.round(n, r.x)
	s.choose(n, r.x)
	if n.branch >= 0 && n.bound < s.best.money-s.grain() {
		n.number = s.born
		s.born++
		heap.Push(&s.heap, n)
	}
	return nil
}

// relax solves a node's linear program: repeats above the lower bounds, then
// per part the copies missing, those allowed beyond what is wanted and those
// beyond that, then the sheets left. base is the cost at the lower bounds.
func (s *mixSearch) relax(n *mixNode) (r programResult, base float64, err error) {
	m := s.m
	parts := len(m.want)
	p := &program{rows: parts + len(m.sheets)}
	for i := range m.want {
		p.right = append(p.right, float64(m.want[i]))
	}
	for k := range m.sheets {
		p.right = append(p.right, float64(m.sheets[k]))
	}
	for j := range m.columns {
		c := &m.columns[j]
		col := programColumn{cost: s.slope(j, n.low[j], n.high[j]), upper: float64(n.high[j] - n.low[j])}
		for _, k := range c.counts {
			col.entries = append(col.entries, entry{k.part, float64(k.n)})
			p.right[k.part] -= float64(k.n * n.low[j])
		}
		col.entries = append(col.entries, entry{parts + c.sheet, 1})
		p.right[parts+c.sheet] -= float64(n.low[j])
		p.cols = append(p.cols, col)
		base += m.cost(j, n.low[j])
	}
	for i := range m.want {
		first := len(p.cols)
		p.cols = append(p.cols,
			programColumn{m.missing, math.Inf(1), []entry{{i, 1}}},
			programColumn{m.surplus[i], math.Inf(1), []entry{{i, -1}}},
			programColumn{0, float64(m.most[i] - m.want[i]), []entry{{i, -1}}})
		if p.right[i] < 0 {
			first++
		}
		p.start = append(p.start, first)
	}
	for k := range m.sheets {
		p.start = append(p.start, len(p.cols))
		p.cols = append(p.cols, programColumn{0, math.Inf(1), []entry{{parts + k, 1}}})
	}
	r, err = p.solve()
	return r, base, err
}

// slope is the steepest line from the cost at low that stays below the cost up
// to high.
func (s *mixSearch) slope(j, low, high int) float64 {
	if high <= low {
		return 0
	}
	key := [2]int{low, high}
	if v, ok := s.slopes[j][key]; ok {
		return v
	}
	at, least := s.m.cost(j, low), math.Inf(1)
	for n := low + 1; n <= high; n++ {
		least = math.Min(least, (s.m.cost(j, n)-at)/float64(n-low))
	}
	if s.slopes[j] == nil {
		s.slopes[j] = map[[2]int]float64{}
	}
	s.slopes[j][key] = least
	return least
}

// round makes a whole blend of a linear solution.
func (s *mixSearch) round(n *mixNode, x []float64) {
	b := s.m.empty()
	for j := range s.m.columns {
		if whole := n.low[j] + int(x[j]+wholeSlack); whole > 0 && b.may(j, whole) {
			b.add(j, whole)
		}
	}
	b.complete(n.prices)
	s.offer(b, b.money < s.best.money*(1+polishWithin))
}

const (
	// wholeSlack is how far a repeat may lie from a whole number and count as
	// one.
	wholeSlack = 1e-6
	// polishWithin is how far a rounded blend may lie above the best to be worth
	// polishing.
	polishWithin = 0.1
)

// choose finds the column whose line lies farthest below its cost, fractions
// counted, and where to branch on it.
func (s *mixSearch) choose(n *mixNode, x []float64) {
	n.branch = -1
	worst := moneyGrain
	opened, widest := -1, 0.0
	layouts := 0
	for j := range s.m.columns {
		low, high := n.low[j], n.high[j]
		v := float64(low) + x[j]
		if v > wholeSlack {
			layouts++
			if low == 0 && x[j] > widest {
				opened, widest = j, x[j]
			}
		}
		if x[j] <= wholeSlack || high <= low {
			continue
		}
		line := s.m.cost(j, low) + s.slope(j, low, high)*x[j]
		floor := int(math.Floor(v + wholeSlack))
		f := v - float64(floor)
		gap, at := 0.0, floor
		if f > wholeSlack {
			next := s.m.cost(j, floor+1)
			gap = (1-f)*s.m.cost(j, floor) + f*next - line + math.Min(f, 1-f)*next/float64(floor+1)
			at = floor + 1
		} else {
			gap = s.m.cost(j, floor) - line
		}
		if gap > worst && at > low {
			n.branch, n.at, worst = j, at, gap
		}
	}
	if n.branch < 0 && s.m.cap > 0 && layouts > s.m.cap && opened >= 0 {
		n.branch, n.at = opened, 1
	}
}

// shake tears the best blend down in part and builds it up again, some times.
func (s *mixSearch) shake(times int, prices []float64, rng *rand.Rand) {
	for range times {
		b := s.best.clone()
		share := 0.2 + 0.5*rng.Float64()
		for j, n := range b.repeats {
			for range n {
				if rng.Float64() < share {
					b.add(j, -1)
				}
			}
		}
		worth := slices.Clone(prices)
		for i := range worth {
			worth[i] *= 0.6 + 0.8*rng.Float64()
		}
		b.complete(worth)
		s.offer(b, true)
	}
}

// A mixHeap holds open nodes, the least bound first, then the eldest.
type mixHeap []*mixNode

func (h mixHeap) Len() int { return len(h) }
func (h mixHeap) Less(a, b int) bool {
	if h[a].bound != h[b].bound {
		return h[a].bound < h[b].bound
	}
	return h[a].number < h[b].number
}
func (h mixHeap) Swap(a, b int) { h[a], h[b] = h[b], h[a] }

// Push implements heap.Interface.
func (h *mixHeap) Push(x any) { *h = append(*h, x.(*mixNode)) }

// Pop implements heap.Interface.
func (h *mixHeap) Pop() any {
	old := *h
	n := old[len(old)-1]
	*h = old[:len(old)-1]
	return n
}
