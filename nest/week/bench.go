package week

import "math"

// newBench poses the calendar as a sequencing problem.
func newBench(setup float64, p *Plan, tasks []*task, bs []batch) *bench {
	b := &bench{machines: len(p.Machines), setup: setup, clock: func(m int, worked float64) float64 {
		day, sec := dayOf(p.Machines[m].HoursPerDay*3600, worked)
		return float64(day)*86400 + sec
	}}
	order := map[[2]int]int{}
	for _, t := range tasks {
		for i := range t.group.Parts {
			o := &t.group.Parts[i]
			order[[2]int{t.index, i}] = len(b.promises)
			b.promises = append(b.promises, promise{due: dueClock(p.Days, o.Due), weight: urgencyWeight(o.Priority)})
		}
	}
	families := familiesOf(tasks)
	for _, batch := range bs {
		j := batch[0]
		c := chore{family: families[j.group]}
		for _, w := range j.work {
			sec := math.Inf(1)
			if w.ok {
				sec = w.occupied * float64(len(batch))
			}
			c.seconds = append(c.seconds, sec)
		}
		for part, n := range countParts(&p.Groups[j.group], j.layout) {
			if n > 0 {
				c.orders = append(c.orders, order[[2]int{j.group, part}])
			}
		}
		b.chores = append(b.chores, c)
	}
	return b
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
func familiesOf(tasks []*task) []int {
	type key struct {
		material  string
		thickness float64
	}
	seen := map[key]int{}
	out := make([]int, len(tasks))
	for i, t := range tasks {
		k := key{t.group.Material, t.group.ThicknessMM}
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
