package nest

import "math"

// cover is the least price of whole sheets that meet all needs, by depth-first
// search over how many of each ground are taken with a bound at every step. Past
// coverNodes steps the price of fractions of sheets, which is never more, must
// do.
func (b *bounder) cover(needs []need, price func(g int) float64) float64 {
	c := coverSearch{b: b, price: price, best: math.Inf(1)}
	for g := range b.pre.grounds {
		c.most += float64(b.pre.grounds[g].count) * price(g)
		c.dearest = max(c.dearest, price(g))
	}
	root := c.fraction(needs, 0)
	c.search(needs, 0, 0)
	switch {
	case c.nodes >= coverNodes:
		return min(root, c.most)
	case math.IsInf(c.best, 1):
		return c.most + c.dearest // all there are do not suffice
	}
	return c.best
}

// coverNodes bounds the search.
const coverNodes = 20_000

type coverSearch struct {
	b             *bounder
	price         func(g int) float64
	best          float64
	most, dearest float64
	nodes         int
}

// search decides how many of the grounds from g on to take.
func (c *coverSearch) search(needs []need, g int, paid float64) {
	if c.nodes++; c.nodes >= coverNodes {
		return
	}
	if met(needs) {
		c.best = min(c.best, paid)
		return
	}
	if g == len(c.b.pre.grounds) || paid+c.fraction(needs, g) >= c.best*(1-boundSlack) {
		return
	}
	for n := c.enough(needs, g); n >= 0; n-- {
		c.search(c.after(needs, g, n), g+1, paid+float64(n)*c.price(g))
	}
}

func met(needs []need) bool {
	for _, n := range needs {
		if n.area > 0 || n.count > 0 {
			return false
		}
	}
	return true
}

// enough is the most sheets of a ground that are of any use.
func (c *coverSearch) enough(needs []need, g int) int {
	most := 0
	for _, n := range needs {
		if n.on&bitOf(g) != 0 {
			most = max(most, n.count, int(math.Ceil(n.area/c.b.room[g])))
		}
	}
	return min(most, c.b.pre.grounds[g].count)
}

// after is what is still needed when n sheets of a ground are taken.
func (c *coverSearch) after(needs []need, g, n int) []need {
	left := make([]need, len(needs))
	for i, was := range needs {
		left[i] = was
		if was.on&bitOf(g) != 0 {
			left[i].count = max(0, was.count-n)
			left[i].area = was.area - float64(n)*c.b.room[g]*(1+boundSlack)
		}
	}
	return left
}

// fraction is the price of the dearest need alone, met with fractions of sheets
// from g on; +Inf when they do not suffice.
func (c *coverSearch) fraction(needs []need, from int) float64 {
	worst := 0.0
	for _, n := range needs {
		if n.area <= 0 && n.count <= 0 {
			continue
		}
		byArea, byCount := math.Inf(1), math.Inf(1)
		for g := from; g < len(c.b.pre.grounds); g++ {
			if n.on&bitOf(g) == 0 || c.b.pre.grounds[g].count == 0 {
				continue
			}
			byArea = min(byArea, c.price(g)/(c.b.room[g]*(1+boundSlack)))
			byCount = min(byCount, c.price(g))
		}
		if n.area > 0 {
			worst = max(worst, n.area*byArea)
		}
		if n.count > 0 {
			worst = max(worst, float64(n.count)*byCount)
		}
	}
	return worst
}
