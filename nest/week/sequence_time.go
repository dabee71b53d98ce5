package week

import "math"

// How long stacks hold a machine.
//
// With one table a stack is loaded, then cut. With two, the operator takes the
// last stack's parts off and loads the next one while this one is being cut: a
// stack's loading begins when the cut before it begins, and its own cut when
// that cut has ended, the machine is set up and the stack is loaded. A set-up
// takes the machine and the operator, so it hides no loading. The first stack of
// a machine's calendar is loaded with nothing to hide it. Work goes on in the
// morning where it was left; so does loading, and a cut over the night hides as
// much as one in the day. More tables than two are taken for two: one operator
// loads one stack at a time, and the safe side is later.

// A span is the time a machine needs for equal stacks one after the other.
type span struct {
	lead float64 // loading the first, where it can be hidden behind a cut
	body float64 // from the first's cut to the last's end; loading too, with one table
	tail float64 // the last's cut, behind which the next loading can be hidden
}

func newSpan(load, head float64, stacks, tables int) span {
	n := float64(stacks)
	if tables < 2 {
		return span{body: n * (load + head)}
	}
	return span{lead: load, body: (n-1)*math.Max(load, head) + head, tail: head}
}

// after is how long the span holds the machine behind a cut of so many seconds.
func (s span) after(cut float64) float64 { return math.Max(0, s.lead-cut) + s.body }

// stackTimes is how one stack divides: the machine waits for its loading, and
// then cuts.
func stackTimes(load, head float64, tables int, cutBefore float64) (wait, cut float64) {
	if tables < 2 {
		return load, head
	}
	return math.Max(0, load-cutBefore), head
}
