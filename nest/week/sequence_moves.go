package week

import "slices"

// descend improves the queue in place until no move helps, and returns its
// tally. Moves are tried in a fixed order and the first that helps is taken.
func (s *sequencer) descend(q queue) tally {
	t := s.judge.weigh(q)
	for {
		if u, ok := s.moveBlocks(q, t); ok {
			t = u
			continue
		}
		if u, ok := s.exchange(q, t); ok {
			t = u
			continue
		}
		return t
	}
}

// moveBlocks takes every single chore and every run of one family, and puts it
// wherever that helps.
func (s *sequencer) moveBlocks(q queue, t tally) (tally, bool) {
	for m := range q {
		for i := 0; i < len(q[m]); i++ {
			for _, n := range s.blockLengths(q[m], i) {
				if u, ok := s.rehome(q, m, i, n, t); ok {
					return u, true
				}
			}
		}
	}
	return t, false
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

// rehome tries every other place for the n chores from i on machine m. On
// success q holds the better queue, else q is as it was.
func (s *sequencer) rehome(q queue, m, i, n int, t tally) (tally, bool) {
	from := slices.Clone(q[m])
	block := slices.Clone(from[i : i+n])
	rest := slices.Delete(slices.Clone(from), i, i+n)
	for to := range q {
		base := q[to]
		if to == m {
			base = rest
		}
		for at := 0; at <= len(base); at++ {
			if to == m && at == i {
				continue
			}
			q[m] = rest
			q[to] = slices.Insert(slices.Clone(base), at, block...)
			if u := s.judge.weigh(q); u.less(t) {
				return u, true
			}
		}
		q[m] = from
		if to != m {
			q[to] = base
		}
	}
	return t, false
}

// exchange swaps two chores where that helps.
func (s *sequencer) exchange(q queue, t tally) (tally, bool) {
	n := len(s.b.chores)
	for a := range n {
		ma, ia := locate(q, a)
		for b := a + 1; b < n; b++ {
			mb, ib := locate(q, b)
			q[ma][ia], q[mb][ib] = q[mb][ib], q[ma][ia]
			if u := s.judge.weigh(q); u.less(t) {
				return u, true
			}
			q[ma][ia], q[mb][ib] = q[mb][ib], q[ma][ia]
		}
	}
	return t, false
}
