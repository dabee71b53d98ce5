package week

import (
	"math"

	"kerfold/nest/shop"
)

// A floor is the week's work ready to be sequenced: the stacks, and all that is
// known of the orders. Cures put changed copies of it through the same search.
type floor struct {
	job      *shop.Job
	tasks    []*task
	chosen   []*candidate // by task
	groups   []Group
	families []int // of each group
	jobs     []stackJob
	batches  []batch
	horizon  *horizon
}

// A batch is equal stacks that are cut one after the other.
type batch []stackJob

// mostBatches bounds how finely the calendar is sequenced; more stacks than
// that are sequenced several at a time.
const mostBatches = 48

// batches joins equal neighbouring stacks, so that a batch is at least the
// total over mostBatches long.
func batches(jobs []stackJob) []batch {
	total := 0.0
	for _, j := range jobs {
		total += j.least()
	}
	var out []batch
	length := 0.0
	for _, j := range jobs {
		n := len(out)
		if n > 0 && out[n-1][0].alike(j) && length < total/mostBatches {
			out[n-1], length = append(out[n-1], j), length+j.least()
			continue
		}
		out, length = append(out, batch{j}), j.least()
	}
	return out
}

// bench poses the calendar as a sequencing problem.
func (f *floor) bench() *bench {
	b := &bench{setup: f.job.Rates.SetupSec, hours: f.horizon.hours()}
	first, order := f.horizon.days[0], map[[2]int]int{}
	for gi := range f.groups {
		g := &f.groups[gi]
		for i := range g.Parts {
			o := &g.Parts[i]
			order[[2]int{gi, i}] = len(b.promises)
			b.promises = append(b.promises, promise{due: dueClock(first, o), weight: urgencyWeight(o.Priority), spare: -o.Quantity})
		}
	}
	for _, batch := range f.batches {
		j := batch[0]
		c := chore{family: f.families[j.group]}
		for m, w := range j.work {
			c.on = append(c.on, spanOf(w, len(batch), f.job.Machines[m].Tables))
		}
		for part, n := range j.holds(f.groups) {
			if n > 0 {
				o := order[[2]int{j.group, part}]
				copies := n * j.depth * len(batch)
				c.orders = append(c.orders, cutOf{o, copies})
				b.promises[o].spare += copies
			}
		}
		b.chores = append(b.chores, c)
	}
	return b.seal()
}

// order is the group and the order of the bench's i-th promise.
func (f *floor) order(i int) (group int, id string) {
	for gi := range f.groups {
		n := len(f.groups[gi].Parts)
		if i < n {
			return gi, f.groups[gi].Parts[i].ID
		}
		i -= n
	}
	return -1, ""
}

// spanOf is how long a machine takes for n equal stacks one after the other.
func spanOf(w machineWork, n, tables int) span {
	if !w.ok {
		return span{body: math.Inf(1)}
	}
	return newSpan(w.time.HandleSec, w.time.HeadSec(), n, tables)
}

func countParts(g *Group, layout int) []int {
	n := make([]int, len(g.Parts))
	for _, pl := range g.Layouts[layout].Placements {
		n[pl.Part]++
	}
	return n
}

// familiesOf numbers the groups by material and thickness: a change of grade
// alone needs no set-up.
func familiesOf(groups []Group) []int {
	type key struct {
		material  string
		thickness float64
	}
	seen := map[key]int{}
	out := make([]int, len(groups))
	for i := range groups {
		k := key{groups[i].Material, groups[i].ThicknessMM}
		if _, ok := seen[k]; !ok {
			seen[k] = len(seen)
		}
		out[i] = seen[k]
	}
	return out
}

// urgencyWeight doubles with every step of priority, within bounds that keep
// sums of lateness exact enough to compare.
func urgencyWeight(priority int) float64 {
	return math.Pow(2, float64(max(-10, min(10, priority))))
}
