package cost

// slowZones are the stretches around true corners where the jet's lag must be
// short: a lag length before the corner, for the trail to catch up, and as
// much behind it, until the exit has passed.
type slowZones struct {
	at   []float64 // corner positions along the path, ascending, mm
	feed []float64 // mm/s
	half float64   // mm

	lo, hi int   // zones [lo, hi) hold the present position
	queue  []int // indices of zones in the window, feeds ascending
}

func (m Motion) slowZones(spans []span, joints []joint) *slowZones {
	z := &slowZones{}
	if m.Lag == nil {
		return z
	}
	z.half = m.Lag.LengthMM()
	x, feed := 0.0, m.FeedMMPerMin/secPerMin
	for i, s := range spans {
		if i > 0 && joints[i].slow < feed {
			z.at, z.feed = append(z.at, x), append(z.feed, joints[i].slow)
		}
		x += s.mm
	}
	return z
}

// cut adds the span of length mm that begins at position x to the profile,
// split wherever a slow zone begins or ends. Spans must come in path order.
func (z *slowZones) cut(p *profile, x, mm, held, feed, entry float64) {
	end := x + mm
	for at := x; at < end; {
		next := z.advance(at, end)
		slow := z.slowest(held)
		p.add(next-at, min(held, slow), min(feed, slow), entryAt(at == x, entry, feed))
		at = next
	}
}

// entryAt is the bound on the speed into a piece: only a span's first piece
// begins at a joint.
func entryAt(first bool, entry, feed float64) float64 {
	if first {
		return entry
	}
	return feed
}

// advance moves the window to position at and returns where it next changes,
// or end.
func (z *slowZones) advance(at, end float64) float64 {
	for z.hi < len(z.at) && z.at[z.hi]-z.half <= at {
		z.push(z.hi)
		z.hi++
	}
	for z.lo < z.hi && z.at[z.lo]+z.half <= at {
		z.lo++
	}
	for len(z.queue) > 0 && z.queue[0] < z.lo {
		z.queue = z.queue[1:]
	}
	if z.hi < len(z.at) {
		end = min(end, z.at[z.hi]-z.half)
	}
	if z.lo < z.hi {
		end = min(end, z.at[z.lo]+z.half)
	}
	return end
}

// push keeps the queue a list of zones each faster than the one before, so that
// its head is the slowest of the window.
func (z *slowZones) push(i int) {
	for n := len(z.queue); n > 0 && z.feed[z.queue[n-1]] >= z.feed[i]; n-- {
		z.queue = z.queue[:n-1]
	}
	z.queue = append(z.queue, i)
}

func (z *slowZones) slowest(feed float64) float64 {
	if len(z.queue) == 0 {
		return feed
	}
	return z.feed[z.queue[0]]
}
