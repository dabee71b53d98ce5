package geom

import "slices"

// A sweeper finds the winding numbers beside every stretch of a noded
// arrangement: a vertical line passes over the vertices from left to right and
// keeps, from bottom to top, the stretches it cuts. Winding numbers add up from
// zero below.
type sweeper struct {
	status []int32 // stretches the line cuts, from bottom to top
	// beneath, where asked for, is the kept stretch next below each stretch
	// just right of its first vertex, or −1.
	beneath []int32
	keep    func(*stretch) bool
}

// run fills in the winding numbers. It reports false where the stretches turn
// out to cross, which exact noding rules out.
func (s *sweeper) run(n *noder, keep func(*stretch) bool) bool {
	s.status, s.keep = s.status[:0], keep
	if keep != nil {
		s.beneath = zeroed(s.beneath, len(n.stretches))
	}
	for v := range n.verts {
		at := s.remove(n, int32(v))
		s.insert(n, at, n.first[v], n.first[v+1])
	}
	return len(s.status) == 0
}

// remove takes the stretches that end at v out of the status and returns their
// place. They lie side by side.
func (s *sweeper) remove(n *noder, v int32) int {
	p := n.verts[v]
	lo, hi := 0, len(s.status)
	for lo < hi {
		mid := int(uint(lo+hi) >> 1)
		st := &n.stretches[s.status[mid]]
		if st.to != v && gridOrient(n.verts[st.from], n.verts[st.to], p) > 0 {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	for hi < len(s.status) && n.stretches[s.status[hi]].to == v {
		hi++
	}
	s.status = slices.Delete(s.status, lo, hi)
	return lo
}

// insert puts the stretches that start at a vertex into the status at the given
// place, by slope, and adds up their winding numbers.
func (s *sweeper) insert(n *noder, at int, from, to int32) {
	if from == to {
		return
	}
	s.sortBySlope(n, from, to)
	var below [2]int32
	if at > 0 {
		b := &n.stretches[s.status[at-1]]
		below = [2]int32{b.above(0), b.above(1)}
	}
	s.status = slices.Insert(s.status, at, make([]int32, to-from)...)
	for i := from; i < to; i++ {
		st := &n.stretches[i]
		st.below = below
		below = [2]int32{st.above(0), st.above(1)}
		s.status[at+int(i-from)] = i
	}
	if s.keep != nil {
		s.noteBeneath(n, at, from, to)
	}
}

// sortBySlope orders the stretches of one first vertex from bottom to top.
func (s *sweeper) sortBySlope(n *noder, from, to int32) {
	fan := n.stretches[from:to]
	if len(fan) > 16 {
		slices.SortFunc(fan, func(a, b stretch) int {
			return -gridOrient(n.verts[a.from], n.verts[a.to], n.verts[b.to])
		})
		return
	}
	for i := 1; i < len(fan); i++ {
		for j := i; j > 0; j-- {
			if gridOrient(n.verts[fan[j].from], n.verts[fan[j-1].to], n.verts[fan[j].to]) >= 0 {
				break
			}
			fan[j], fan[j-1] = fan[j-1], fan[j]
		}
	}
}

// noteBeneath records the kept stretch below each kept new one.
func (s *sweeper) noteBeneath(n *noder, at int, from, to int32) {
	for i := from; i < to; i++ {
		if !s.keep(&n.stretches[i]) {
			continue
		}
		s.beneath[i] = -1
		for k := at + int(i-from) - 1; k >= 0; k-- {
			if j := s.status[k]; s.keep(&n.stretches[j]) {
				s.beneath[i] = j
				break
			}
		}
	}
}
