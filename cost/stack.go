package cost

import (
	"errors"
	"fmt"
	"math"
)

// A StackChoice is one depth of a stack table: repeats of a layout cut as full
// runs of Depth layers and one remainder run.
type StackChoice struct {
	Depth     int     // layers of a full run
	Runs      int     // full runs
	Remainder int     // layers of the last run, 0 for none
	Full      Time    // of one full run
	Rest      Time    // of the last run
	Seconds   float64 // all runs, machine occupied
	Ledger    Ledger  // all runs, sheets included
	Speed     Speed   // at Depth
	Bottom    Quality // at the bottom of the last layer
	Limit     Limit   // what holds the cut back, see [Time.Limit]
	Refusal   string  // why this depth is not allowed; empty is allowed
}

// Money is what all runs cost.
func (c StackChoice) Money() float64 { return c.Ledger.Money.Total() }

// Allowed says whether the depth may be cut.
func (c StackChoice) Allowed() bool { return c.Refusal == "" }

// StackTable compares depths 1, 2, … for repeats of a layout and returns the
// table and the index of the cheapest allowed depth (the quicker, then the
// shallower, of equals). It ends at the number of repeats or with the first
// depth that is refused: what forbids a depth forbids all deeper ones. The
// error says why not even one layer can be cut.
func StackTable(s Setup, w Work, repeats int, sheetMoney float64) ([]StackChoice, int, error) {
	if repeats < 1 {
		return nil, 0, fmt.Errorf("stack of %s: %d repeats: give 1 or more", s.Material.Name, repeats)
	}
	if err := s.At(1).Check(); err != nil {
		return nil, 0, err
	}
	runs := newRunTimes(s, w)
	if err := runs.time(1).finite(); err != nil {
		return nil, 0, err
	}
	var table []StackChoice
	best := 0
	for d := 1; d <= repeats; d++ {
		c := runs.choice(d, repeats, sheetMoney)
		table = append(table, c)
		if !c.Allowed() {
			break
		}
		if c.better(table[best]) {
			best = d - 1
		}
	}
	return table, best, nil
}

// better says whether c is the better choice: less money, then less time.
func (c StackChoice) better(o StackChoice) bool {
	return better(c.Money(), o.Money(), c.Seconds, o.Seconds)
}

// rounding is the share of a sum of money or time below which a difference is
// the arithmetic's own: splits such as 4 + 3 and 5 + 2 layers can cost the same.
const rounding = 1e-12

// below says whether a is less than b by more than rounding.
func below(a, b float64) bool { return b-a > rounding*math.Max(math.Abs(a), math.Abs(b)) }

// better says whether the first of two ways is the better one: less money, or
// as much and less time.
func better(money, other, seconds, otherSeconds float64) bool {
	return below(money, other) || !below(other, money) && below(seconds, otherSeconds)
}

// runTimes remembers the time of a run by its depth.
type runTimes struct {
	s  Setup
	w  Work
	at map[int]Time
}

func newRunTimes(s Setup, w Work) *runTimes {
	return &runTimes{s: s.filled(), w: w, at: map[int]Time{}}
}

func (r *runTimes) time(depth int) Time {
	if depth == 0 {
		return Time{}
	}
	t, known := r.at[depth]
	if !known {
		s := r.s.At(depth)
		t = s.cutTime(r.w, 0, 0)
		s.addRest(&t, r.w, shift{})
		r.at[depth] = t
	}
	return t
}

func (r *runTimes) choice(depth, repeats int, sheetMoney float64) StackChoice {
	s := r.s.At(depth)
	c := StackChoice{Depth: depth, Runs: repeats / depth, Remainder: repeats % depth}
	if err := s.Check(); err != nil {
		c.Refusal = reason(err)
		return c
	}
	c.Full, c.Rest = r.time(depth), r.time(c.Remainder)
	c.Speed = s.speed()
	c.Bottom = s.qualityAt(c.Speed.MMPerMin, s.depthMM(depth))
	c.Limit = c.Full.limitBy(c.Speed)
	c.Ledger = s.ledger(c.Full, shift{}, sheetMoney).Times(float64(c.Runs))
	if c.Remainder > 0 {
		c.Ledger = c.Ledger.Plus(s.At(c.Remainder).ledger(c.Rest, shift{}, sheetMoney))
	}
	c.Seconds = c.Ledger.Usage.OccupiedSec
	return c
}

// limitBy is Limit with a feed cap named by its owner.
func (t Time) limitBy(v Speed) Limit {
	l := t.Limit()
	if l == LimitMachine && v.Limit == LimitMaterial {
		return LimitMaterial
	}
	return l
}

func reason(err error) string {
	var r *Refusal
	if errors.As(err, &r) {
		return r.Reason
	}
	return err.Error()
}

// BreakEven returns the smallest number of repeats, up to limit, for which some
// stack is cheaper than single sheets, and whether there is one. The error is
// that of [Setup.Check] for a single sheet.
func BreakEven(s Setup, w Work, sheetMoney float64, limit int) (repeats int, found bool, err error) {
	if err := s.At(1).Check(); err != nil {
		return 0, false, err
	}
	runs := newRunTimes(s, w)
	for n := 2; n <= limit; n++ {
		single := runs.choice(1, n, sheetMoney)
		for d := 2; d <= n; d++ {
			c := runs.choice(d, n, sheetMoney)
			if !c.Allowed() {
				break
			}
			if c.better(single) {
				return n, true, nil
			}
		}
	}
	return 0, false, nil
}

// CapBreakEven returns the ratio u_uncapped(h)/cap above which a stack of n
// layers beats single sheets in cutting time alone: n^(e−1)/φ, with e the
// thickness exponent (1.15: n^0.15/φ) and clamp the φ [Derived].
func CapBreakEven(n int, exponent, clamp float64) float64 {
	return powInt(n, exponent-1) / clamp
}

func powInt(n int, e float64) float64 { return math.Pow(float64(n), e) }
