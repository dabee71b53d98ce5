package week

import "slices"

// descend improves the queue in place until no move helps, and returns its
// tally. Moves are tried in a fixed order, and each that helps is taken; it ends
// when all have been tried in vain, or the work is spent.
func (s *sequencer) descend(q queue) tally {
	t := s.judge.weigh(q)
	for {
		before := t
		t = s.moveBlocks(q, t)
		t = s.exchange(q, t)
		if t == before || s.work > mostLooks {
			return t
		}
	}
}

// moveBlocks takes every single chore and every run of one family, and puts it
// wherever that helps.
func (s *sequencer) moveBlocks(q queue, t tally) tally {
	for m := range q {
		for i := 0; i < len(q[m]); i++ {
			for _, n := range s.blockLengths(q[m], i) {
				if i+n <= len(q[m]) {
					t = s.rehome(q, m, i, n, t)
				}
			}
		}
	}
	return t
}

// blockLengths is 1 and, where chore i begins a run of its family, the run's length.
func (s *sequencer) blockLengths(line []int, i int) []int {
	f := s.b.chores[line[i]].family
	if i > 0 && s.b.chores[line[i-1]].family == f {
		return []int{1}
	}
	n := 1
	for i+n < len(line) && s.b.chores[line[i+n]].family == f {
		n++
	}
	if n == 1 {
		return []int{1}
	}
	return []int{1, n}
}

// rehome puts the n chores from i on machine m to the best other place, where
// there is one that helps, and returns the queue's tally.
func (s *sequencer) rehome(q queue, m, i, n int, t tally) tally {
	from := q[m]
	block := slices.Clone(from[i : i+n])
	rest := slices.Delete(slices.Clone(from), i, i+n)
	bestTo, bestAt := -1, 0
	for to := range q {
		if !s.able(block, to) {
			continue
		}
		base := rest
		q[m] = rest
		if to != m {
			base = q[to]
		}
		s.judge.keep(q, to, to)
		tried := append(slices.Clone(block), base...)
		for at := 0; at <= len(base); at++ {
			if at > 0 { // the block moves one chore on
				tried[at-1] = base[at-1]
				copy(tried[at:], block)
			}
			if to == m && at == i {
				continue
			}
			if s.tired() {
				break
			}
			if u := s.judge.try(to, tried); u.less(t) {
				t, bestTo, bestAt = u, to, at
			}
		}
	}
	q[m] = from
	if bestTo >= 0 {
		q[m] = rest
		q[bestTo] = slices.Insert(slices.Clone(q[bestTo]), bestAt, block...)
	}
	return t
}

// able reports whether machine m can do all chores of a block.
func (s *sequencer) able(block []int, m int) bool {
	return !slices.ContainsFunc(block, func(c int) bool { return !s.b.chores[c].can(m) })
}

// exchange swaps two chores where that helps.
func (s *sequencer) exchange(q queue, t tally) tally {
	for ma := range q {
		for mb := ma; mb < len(q); mb++ {
			s.judge.keep(q, ma, mb)
			for ia := range q[ma] {
				first := 0
				if mb == ma {
					first = ia + 1
				}
				for ib := first; ib < len(q[mb]); ib++ {
					a, b := q[ma][ia], q[mb][ib]
					if !s.b.chores[a].can(mb) || !s.b.chores[b].can(ma) {
						continue
					}
					if s.tired() {
						return t
					}
					q[ma][ia], q[mb][ib] = b, a
					if u := s.judge.tryBoth(q, ma, mb); u.less(t) {
						t = u
						continue
					}
					q[ma][ia], q[mb][ib] = a, b
				}
			}
		}
	}
	return t
}
