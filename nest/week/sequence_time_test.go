package week

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// A simStack is what one stack asks for, in whole seconds.
type simStack struct{ setup, load, head int }

// A floorSim plays one machine second by second: an operator, a head, tables
// and a gate. It knows nothing of spans.
type floorSim struct {
	stacks []simStack
	tables []int // stack that lies on each; -1 is none
	loaded []bool
	ends   []int // second in which each cut ends

	loading, cutting, setting int // stack, -1 is none
	left                      struct{ load, cut, setup int }
	ready                     int // stack whose set-up, where it needs one, is over
}

func playFloor(stacks []simStack, tables int, open func(second int) bool) []int {
	f := &floorSim{
		stacks: stacks, tables: slices.Repeat([]int{-1}, tables), loaded: make([]bool, len(stacks)),
		loading: -1, cutting: -1, setting: -1, ready: -1,
	}
	for now := 0; len(f.ends) < len(stacks); now++ {
		for f.happens(now) {
		}
		if open(now) {
			f.second()
		}
	}
	return f.ends
}

// second lets a second of work pass.
func (f *floorSim) second() { f.left.load--; f.left.cut--; f.left.setup-- }

// happens lets one thing end or begin that can, and reports whether there was one.
func (f *floorSim) happens(now int) bool {
	next := slices.Index(f.loaded, false) // to be loaded
	up := len(f.ends)                     // to be cut
	switch {
	case f.setting >= 0 && f.left.setup <= 0:
		f.ready, f.setting = f.setting, -1
	case f.loading >= 0 && f.left.load <= 0:
		f.loaded[f.loading], f.loading = true, -1
	case f.cutting >= 0 && f.left.cut <= 0:
		f.tables[slices.Index(f.tables, f.cutting)] = -1
		f.ends, f.cutting = append(f.ends, now), -1
	case f.setting < 0 && up < len(f.stacks) && f.cutting < 0 && f.loading < 0 && f.stacks[up].setup > 0 && f.ready < up:
		f.setting, f.left.setup = up, f.stacks[up].setup
	case f.loading < 0 && f.setting < 0 && next >= 0 && slices.Contains(f.tables, -1):
		f.tables[slices.Index(f.tables, -1)] = next
		f.loading, f.left.load = next, f.stacks[next].load
	case f.cutting < 0 && f.setting < 0 && up < len(f.stacks) && f.loaded[up] && (f.stacks[up].setup == 0 || f.ready >= up):
		f.cutting, f.left.cut = up, f.stacks[up].head
	default:
		return false
	}
	return true
}

// In 200 random cases the calendar ends every stack in the second in which a
// machine played second by second ends it.
func TestCalendarAgainstEventSimulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 4))
	hidden := 0
	for trial := range 200 {
		tables, setup, h := 1+rng.IntN(2), 1+rng.IntN(15), shortDays(rng)
		chores, stacks := randomLine(rng, tables, setup)
		ends := playFloor(stacks, tables, func(s int) bool {
			day, sec := s/daySec, float64(s%daySec)-7*3600
			before := 0.0
			if day > 0 {
				before = h.ends[day-1]
			}
			return sec >= 0 && sec < h.ends[day]-before
		})
		tape, cut, alone := 0.0, 0.0, 0.0
		for i, s := range stacks {
			if s.setup > 0 {
				tape += float64(s.setup)
			}
			var wait float64
			wait, cut = stackTimes(float64(s.load), float64(s.head), tables, cut)
			tape += wait + cut
			alone += float64(s.setup + s.load + s.head)
			day := 0
			if got := h.clock(tape, &day); got != float64(ends[i]) {
				t.Fatalf("trial %d, stack %d of %d, %d tables: done at %v, played it is %d", trial, i+1, len(stacks), tables, got, ends[i])
			}
		}
		if whole := tapeOf(chores, float64(setup)); whole != tape {
			t.Fatalf("trial %d: the chores last %v, their stacks %v", trial, whole, tape)
		}
		if tape < alone {
			hidden++
		}
	}
	if hidden < 40 {
		t.Errorf("only %d cases hid any loading", hidden)
	}
}

// randomLine is a line of chores on one machine, and the same stack by stack.
func randomLine(rng *rand.Rand, tables, setup int) (chores []chore, stacks []simStack) {
	family := -1
	for range 1 + rng.IntN(7) {
		s, n, fam := simStack{load: rng.IntN(25), head: 1 + rng.IntN(40)}, 1+rng.IntN(3), rng.IntN(2)
		chores = append(chores, chore{family: fam, on: []span{newSpan(float64(s.load), float64(s.head), n, tables)}})
		for k := range n {
			if s.setup = 0; k == 0 && fam != family {
				s.setup = setup
			}
			stacks = append(stacks, s)
		}
		family = fam
	}
	return chores, stacks
}

func tapeOf(chores []chore, setup float64) float64 {
	tape, cut, family := 0.0, 0.0, -1
	for _, c := range chores {
		if c.family != family {
			family, tape = c.family, tape+setup
		}
		tape += c.on[0].after(cut)
		cut = c.on[0].tail
	}
	return tape
}
