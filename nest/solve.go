package nest

import (
	"context"
	"errors"
	"math"
)

// ErrUnsupported is returned by a search that cannot take the kind of problem
// it was given.
var ErrUnsupported = errors.New("this search does not take this kind of problem")

// Solve lays the problem out with the searches that suit it and returns the
// best layout any of them found. It begins with the quickest, so that there is
// always something to return: one bottom-left pass; where the parts could fill
// the sheets without waste, tiling; where parts lie in holes of others, the outer
// ones by themselves; where some part comes in many copies, lattices of it; then a
// genetic search on part of the effort, and separation from the best layout so far
// on the rest. On a strip the genetic search gets next to nothing: separation
// breaks its layout up within seconds.
func Solve(ctx context.Context, p Problem, o Options) (Result, error) {
	best, err := BottomLeft(ctx, p, nil, o)
	if err != nil {
		return best, err
	}
	pre, err := prepare(p)
	if err != nil || complete(p) {
		return best.bounded(pre, o.Memo), err
	}
	s, effort := solver{ctx: ctx, problem: p, best: best}, o.Effort
	o.Progress = s.monotone(o.Progress)
	s.tell(o, 0)
	if s.arm(Tile, o.part(0, tilingUntil)) {
		o = o.part(tilingUntil, 1)
	}
	if s.arm(Nested, o.part(0, nestedUntil)) {
		o = o.part(nestedUntil, 1)
	}
	share, one := latticeShare(p)
	took := o.part(0, share).bearsLattice() && s.arm(s.lattice, o.part(0, share))
	if took {
		o = o.part(share, 1)
	}
	until := geneticShare(p, one && took)
	if until > 0 {
		s.arm(s.genetic, o.part(0, until))
	}
	if until < 1 {
		s.arm(s.separate, o.part(until, 1))
	}
	s.best.Stats.Seed, s.best.Stats.Effort = o.Seed, effort
	return s.best.bounded(pre, o.Memo).ended(ctx), s.err
}

// Shares of the effort, or of what is left of it, after which the arms of Solve
// hand over.
const (
	tilingUntil       = 0.4
	latticeUntil      = 0.25
	latticeAloneUntil = 0.95 // where there is only one kind of part, on sheets
	latticeStripUntil = 0.6  // and on a strip
	nestedUntil       = 0.6
	geneticUntil      = 0.2
	stripGeneticUntil = 0.005
)

// latticeShare is when lattices hand over, and whether there is one kind only.
func latticeShare(p Problem) (share float64, one bool) {
	switch one = kindsOf(p) == 1; {
	case one && p.StripWidth > 0:
		return latticeStripUntil, one
	case one:
		return latticeAloneUntil, one
	}
	return latticeUntil, one
}

// bearsLattice tells whether the effort, or time instead of it, is enough for the
// search for a lattice, which takes about a second whatever it is given.
func (o Options) bearsLattice() bool {
	return o.Effort >= latticeLeast || o.Effort <= 0 && o.Spent != nil
}

// latticeLeast is the least effort of a search for lattices: a tenth of what it
// takes.
const latticeLeast = 0.1

// geneticShare is when the genetic search hands over: at once where a lattice was
// laid of equal parts, whose order is no order; never where there are too many
// parts for separation.
func geneticShare(p Problem, alike bool) float64 {
	switch {
	case p.StripWidth == 0 && copiesOf(p) > sepMostItems:
		return 1
	case alike:
		return 0
	case p.StripWidth > 0:
		return stripGeneticUntil
	}
	return geneticUntil
}

// kindsOf counts the parts that are wanted.
func kindsOf(p Problem) int {
	n := 0
	for _, part := range p.Parts {
		if part.Quantity > 0 && !part.Filler {
			n++
		}
	}
	return n
}

// complete tells whether there is nothing to search for.
func complete(p Problem) bool {
	for _, part := range p.Parts {
		if part.Quantity > 0 && !part.Filler {
			return false
		}
	}
	return true
}

// A solver runs one search after another and keeps the best result.
type solver struct {
	ctx     context.Context
	problem Problem
	best    Result
	err     error
}

func (s *solver) genetic(ctx context.Context, p Problem, o Options) (Result, error) {
	return geneticFrom(ctx, p, s.best, o)
}

func (s *solver) lattice(ctx context.Context, p Problem, o Options) (Result, error) {
	press := latPressShare(p)
	if kindsOf(p) == 1 {
		press = 1 // the effort was shared out with that in mind
	}
	return latticeFrom(ctx, p, s.best, press, o)
}

func (s *solver) separate(ctx context.Context, p Problem, o Options) (Result, error) {
	return Separate(ctx, p, s.best, o)
}

// arm runs one search unless time is up, nothing can be better, or an earlier
// one failed. It tells whether the search took the problem.
func (s *solver) arm(search func(context.Context, Problem, Options) (Result, error), o Options) bool {
	if s.err != nil || s.ctx.Err() != nil || s.perfect() {
		return false
	}
	r, err := search(s.ctx, s.problem, o)
	switch {
	case errors.Is(err, ErrUnsupported):
		return false
	case err != nil:
		s.err = err
	default:
		s.keep(r)
		s.tell(o, 1)
	}
	return true
}

// tell reports the best layout when an arm has ended.
func (s *solver) tell(o Options, done float64) {
	if o.Progress == nil || s.best.missing() > 0 {
		return
	}
	p := Progress{Done: done, Density: s.best.Density, Length: s.best.Length, Arm: s.best.Stats.Won}
	if s.problem.StripWidth == 0 {
		p.Sheets = len(s.best.Layouts)
	}
	o.Progress(p)
}

// monotone passes reports on so that they never fall back: an arm that begins
// anew at first has worse layouts than are known.
func (s *solver) monotone(to func(Progress)) func(Progress) {
	if to == nil {
		return nil
	}
	var best Progress
	return func(p Progress) {
		if p.Density > best.Density {
			best = p
		}
		best.Done = max(best.Done, p.Done)
		to(best)
	}
}

// perfect tells whether all is placed and nothing is wasted.
func (s *solver) perfect() bool { return s.best.missing() == 0 && s.best.Density > 1-tileShare }

// keep adds what an arm did to the stats, and keeps its layout if it is better.
func (s *solver) keep(r Result) {
	decodes, moves := s.best.Stats.Decodes+r.Stats.Decodes, s.best.Stats.Moves+r.Stats.Moves
	generations := s.best.Stats.Generations + r.Stats.Generations
	if r.better(s.best, s.problem) {
		s.best = r
	}
	s.best.Stats.Decodes, s.best.Stats.Moves, s.best.Stats.Generations = decodes, moves, generations
}

// better compares two results of one problem: by what is missing, then by the
// strip's length, or by what the sheets cost, then by what is placed beyond what
// is wanted, then by the largest rectangle left.
func (r Result) better(than Result, p Problem) bool {
	if a, b := r.missing(), than.missing(); a != b {
		return a < b
	}
	if p.StripWidth > 0 {
		return r.Length < than.Length
	}
	if a, b := r.cost(p), than.cost(p); a != b {
		return a < b
	}
	if a, b := r.Density, than.Density; math.Abs(a-b) > sameShare {
		return a > b
	}
	return r.rest(p).Area() > than.rest(p).Area()*(1+sameShare)
}

// sameShare is the share by which sums of the same areas, added in another order,
// may differ.
const sameShare = 1e-9

func (r Result) missing() int {
	n := 0
	for _, k := range r.Unplaced {
		n += k
	}
	return n
}

// part is the options for a search that gets the effort, and the time, between
// two shares of the whole.
func (o Options) part(from, to float64) Options {
	if o.Effort <= 0 && o.Spent == nil {
		o.Effort = 1
	}
	o.Effort *= to - from
	if spent := o.Spent; spent != nil {
		o.Spent = func() float64 { return (spent() - from) / (to - from) }
	}
	if report := o.Progress; report != nil {
		o.Progress = func(p Progress) {
			p.Done = from + p.Done*(to-from)
			report(p)
		}
	}
	return o
}
