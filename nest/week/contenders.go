package week

import (
	"cmp"
	"math"
	"slices"
)

// Which ways of a group are searched in earnest: the direct one always, the best
// of the others as quick layouts have them, and, where there is effort for more,
// those that a search could make most of. A quick layout of a quarter of the
// demand that needs a second sheet for the last two parts looks dear, and is the
// cheapest once they fit.

const (
	leastContenders = 2
	mostContenders  = 8
	contenderEffort = 0.1 // least for each beyond the first two
)

// contenders picks the ways to search. What leaves more parts without a place
// than the best is no contender.
func (m *maker) contenders(i int, effort float64) ([]*candidate, error) {
	var out, others []*candidate
	for _, c := range m.found[i] {
		switch {
		case c.way.Name == DirectName:
			out = append(out, c)
		case c.way.Short <= m.found[i][0].way.Short:
			others = append(others, c)
		}
	}
	n := leastContenders + int((1-mixShare)*effort/2/contenderEffort)
	n = min(mostContenders, n) - len(out)
	if m.o.Plain || len(others) == 0 || n <= 0 {
		return out, nil
	}
	out, others = append(out, others[0]), others[1:]
	hopes := map[*candidate]float64{}
	for _, c := range others {
		var err error
		if hopes[c], err = m.tasks[i].hope(c); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(others, func(a, b *candidate) int { return cmp.Compare(hopes[a], hopes[b]) })
	return append(out, others[:min(n-1, len(others))]...), nil
}

// contenderShare is the share of the effort that contender k of n gets: half of
// it goes to the first two.
func contenderShare(k, n int) float64 {
	switch {
	case n <= leastContenders:
		return 1 / float64(n)
	case k < leastContenders:
		return 0.5 / leastContenders
	}
	return 0.5 / float64(n-leastContenders)
}

// hope is about what a way costs if a search fills its sheets: what the parts
// cost to cut stays, all else shrinks with the sheets.
func (t *task) hope(c *candidate) (float64, error) {
	cutting, err := t.leastCutting()
	if err != nil {
		return 0, err
	}
	fixed, parts, sheets := 0.0, 0.0, 0.0
	for i, n := range c.placed {
		fixed += float64(n) * cutting[i]
		parts += float64(n) * t.area[i]
	}
	for i, n := range c.used {
		sheets += float64(n) * t.round[i]
	}
	if sheets <= 0 {
		return c.way.Money, nil
	}
	filled := math.Min(1, parts/(perfectYield*sheets))
	return fixed + (c.way.Money-fixed)*filled, nil
}
