package nest

// A pace tells a search how far along it is.
type pace struct {
	effort float64 // in the decoder's unit of work; +Inf when only time counts
	done   int64
	spent  func() float64
}

// workPerEffort is the decoder's work, in its own unit, that one unit of effort
// buys: about a second on one core. Measured on the strip instances of the
// public collection; the spread between them is within a factor of two.
const workPerEffort = 140e6

// share is how much of the effort or of the time is spent, whichever is more.
func (p *pace) share() float64 {
	s := float64(p.done) / p.effort
	if p.spent != nil {
		s = max(s, p.spent())
	}
	return min(s, 1)
}
