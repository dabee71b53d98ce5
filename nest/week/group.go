package week

import "time"

// noDue sorts after every due date.
var noDue = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC)

// earliest is the group's first due date; orders without one come last.
func (g *Group) earliest() time.Time {
	first := noDue
	for i := range g.Parts {
		if d := dueOrLast(g.Parts[i].Due); d.Before(first) {
			first = d
		}
	}
	return first
}

func dueOrLast(d time.Time) time.Time {
	if d.IsZero() {
		return noDue
	}
	return d
}

// priority is the highest of the group's orders.
func (g *Group) priority() int {
	p := g.Parts[0].Priority
	for i := range g.Parts {
		p = max(p, g.Parts[i].Priority)
	}
	return p
}
