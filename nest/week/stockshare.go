package week

import (
	"cmp"
	"math"
	"slices"

	"kerfold/nest/shop"
)

// A stockShare is some sheets of one of the job's stock lines.
type stockShare struct{ line, count int }

// shareStock gives each task the stock lines of its material and thickness.
// Groups that differ only in grade cut from the same lines; a line's sheets
// are then dealt out in proportion to the area each group needs, the more
// urgent group first, so that no sheet is promised twice.
func shareStock(job *shop.Job, tasks []*task) [][]stockShare {
	shares := make([][]stockShare, len(tasks))
	for _, line := range rackOrder(job.Stock) {
		s := &job.Stock[line]
		if s.Count <= 0 {
			continue
		}
		var takers []int
		for i, t := range tasks {
			if t.group.Material == s.Material && t.group.ThicknessMM == s.ThicknessMM {
				takers = append(takers, i)
			}
		}
		for k, n := range deal(s.Count, needs(tasks, takers)) {
			if n > 0 {
				shares[takers[k]] = append(shares[takers[k]], stockShare{line, n})
			}
		}
	}
	return shares
}

// rackOrder lists the stock lines as they stand, but the remnants among them
// oldest first: where the search is indifferent it takes the first.
func rackOrder(stock []shop.Stock) []int {
	order := make([]int, len(stock))
	var remnants []int
	for i := range stock {
		order[i] = i
		if stock[i].Remnant {
			remnants = append(remnants, i)
		}
	}
	oldest := slices.Clone(remnants)
	slices.SortStableFunc(oldest, func(a, b int) int { return byAge(&stock[a], &stock[b]) })
	for k, i := range remnants {
		order[i] = oldest[k]
	}
	return order
}

// byAge puts the older first, and what has no date last.
func byAge(a, b *shop.Stock) int {
	if a.Since.IsZero() != b.Since.IsZero() {
		if a.Since.IsZero() {
			return 1
		}
		return -1
	}
	return a.Since.Compare(b.Since)
}

func needs(tasks []*task, takers []int) []float64 {
	need := make([]float64, len(takers))
	for k, i := range takers {
		for _, o := range tasks[i].group.Parts {
			need[k] += float64(o.Quantity) * math.Abs(o.Shape.Outer.Area())
		}
	}
	return need
}

// deal splits n among takers by need: whole shares first, then the remainder
// one by one to the largest fractions, earlier takers winning ties.
func deal(n int, need []float64) []int {
	total := 0.0
	for _, w := range need {
		total += w
	}
	out := make([]int, len(need))
	if total <= 0 {
		return out
	}
	order := make([]int, len(need))
	fraction := make([]float64, len(need))
	left := n
	for k, w := range need {
		exact := float64(n) * w / total
		out[k] = int(exact)
		fraction[k], order[k] = exact-math.Floor(exact), k
		left -= out[k]
	}
	slices.SortStableFunc(order, func(a, b int) int { return -cmp.Compare(fraction[a], fraction[b]) })
	for i := 0; left > 0; i++ {
		out[order[i%len(order)]]++
		left--
	}
	return out
}
