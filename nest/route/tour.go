package route

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A tour is an order of the nodes with the start chosen for each. Position 0 is
// the head's start point.
type tour struct {
	ns      []node
	rules   []rule
	home    orb.Point
	order   []int       // nodes by position
	pos     []int       // positions by node
	pick    []int       // chosen start by node
	entries []orb.Point // by position, kept by settle and set
	exits   []orb.Point // by position plus one; the first is home
	legs    []float64   // by position, the rapid move to it; the last is 0
	// before and after list, by node, the rules that name it there.
	before, after [][]int
}

func newTour(ns []node, rs []rule, home orb.Point) *tour {
	n := len(ns)
	t := &tour{
		ns: ns, rules: rs, home: home,
		order: make([]int, 0, n), pos: make([]int, n), pick: make([]int, n),
		entries: make([]orb.Point, n), exits: make([]orb.Point, n+1), legs: make([]float64, n+1),
		before: make([][]int, n), after: make([][]int, n),
	}
	t.exits[0] = home
	for r, rule := range rs {
		for _, x := range rule.before {
			t.before[x] = append(t.before[x], r)
		}
		for _, x := range rule.after {
			t.after[x] = append(t.after[x], r)
		}
	}
	return t
}

// followed reports whether a contour at positions lo to hi must come after x.
func (t *tour) followed(x, lo, hi int) bool {
	for _, r := range t.before[x] {
		for _, y := range t.rules[r].after {
			if t.pos[y] >= lo && t.pos[y] <= hi {
				return true
			}
		}
	}
	return false
}

// preceded reports whether a contour at positions lo to hi must come before x.
func (t *tour) preceded(x, lo, hi int) bool {
	for _, r := range t.after[x] {
		for _, y := range t.rules[r].before {
			if t.pos[y] >= lo && t.pos[y] <= hi {
				return true
			}
		}
	}
	return false
}

func (t *tour) start(n int) *start { return &t.ns[n].starts[t.pick[n]] }

// set chooses a start for the node at a position.
func (t *tour) set(i, pick int) {
	n := t.order[i]
	t.pick[n] = pick
	s := &t.ns[n].starts[pick]
	t.entries[i], t.exits[i+1] = s.pierce, s.end
	t.legs[i], t.legs[i+1] = t.hop(i-1, i), t.hop(i, i+1)
}

// exit is where the head is after position i, entry where it must be before;
// position −1 is home.
func (t *tour) exit(i int) orb.Point  { return t.exits[i+1] }
func (t *tour) entry(i int) orb.Point { return t.entries[i] }

// hop is the rapid move from position i to position j; past the end it is 0.
func (t *tour) hop(i, j int) float64 {
	if j >= len(t.order) {
		return 0
	}
	return dist(t.exits[i+1], t.entries[j])
}

// length is the length of all rapid moves.
func (t *tour) length() float64 {
	sum := 0.0
	for _, l := range t.legs {
		sum += l
	}
	return sum
}

// cost is the length with the efforts of the chosen starts.
func (t *tour) cost() float64 {
	sum := t.length()
	for _, n := range t.order {
		sum += t.start(n).effort
	}
	return sum
}

// settle works out the positions lo to hi after a change of order.
func (t *tour) settle(lo, hi int) {
	for i := lo; i <= hi; i++ {
		x := t.order[i]
		t.pos[x] = i
		s := &t.ns[x].starts[t.pick[x]]
		t.entries[i], t.exits[i+1] = s.pierce, s.end
	}
	for i := lo; i <= min(hi+1, len(t.order)); i++ {
		t.legs[i] = t.hop(i-1, i)
	}
}

// A manner of the greedy order.
type manner struct {
	// choose allows every start; otherwise each contour keeps its first.
	choose bool
	// loyal finishes a piece before it goes on, as far as the precedences allow.
	loyal bool
}

// greedy fills the tour: always the nearest contour that may be cut next.
func (t *tour) greedy(m manner) {
	t.order = t.order[:0]
	open := newWaiting(t)
	ready := open.ready()
	at := t.home
	piece := -1
	for len(ready) > 0 {
		among := ready
		if m.loyal {
			among = t.ofPiece(ready, piece)
		}
		n, pick := t.nearest(among, at, m.choose)
		ready = slices.DeleteFunc(ready, func(x int) bool { return x == n })
		t.order = append(t.order, n)
		t.pick[n] = pick
		at, piece = t.start(n).end, t.ns[n].piece
		ready = append(ready, open.done(n)...)
	}
	t.settle(0, len(t.order)-1)
}

// ofPiece returns the contours that belong to a piece, all where none does.
func (t *tour) ofPiece(ready []int, piece int) []int {
	var own []int
	for _, n := range ready {
		if t.ns[n].piece == piece {
			own = append(own, n)
		}
	}
	if len(own) == 0 {
		return ready
	}
	return own
}

// nearest returns the contour nearest to a point, and the start by which it is.
func (t *tour) nearest(ready []int, at orb.Point, choose bool) (node, pick int) {
	best := math.Inf(1)
	for _, n := range ready {
		for s := range t.ns[n].starts {
			if s > 0 && !choose {
				break
			}
			if d := dist(at, t.ns[n].starts[s].pierce); d < best {
				best, node, pick = d, n, s
			}
		}
	}
	return node, pick
}

// Waiting counts what each node still waits for.
type waiting struct {
	*tour
	left   []int // by rule: nodes before it not yet done
	blocks []int // by node: rules it waits for
}

func newWaiting(t *tour) *waiting {
	w := &waiting{tour: t, left: make([]int, len(t.rules)), blocks: make([]int, len(t.ns))}
	for r, rule := range t.rules {
		w.left[r] = len(rule.before)
	}
	for x := range t.ns {
		w.blocks[x] = len(t.after[x])
	}
	return w
}

// ready returns the nodes that wait for nothing.
func (w *waiting) ready() []int {
	var out []int
	for n, b := range w.blocks {
		if b == 0 {
			out = append(out, n)
		}
	}
	return out
}

// done returns the nodes that n was the last to hold up.
func (w *waiting) done(n int) []int {
	var out []int
	for _, r := range w.before[n] {
		if w.left[r]--; w.left[r] > 0 {
			continue
		}
		for _, x := range w.rules[r].after {
			if w.blocks[x]--; w.blocks[x] == 0 {
				out = append(out, x)
			}
		}
	}
	return out
}
