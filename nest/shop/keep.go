package shop

import (
	"slices"
	"strings"
)

// Keep leaves only some of the job's orders, given by their places, and drops the
// warnings that concern none of them.
func (j *Job) Keep(orders []int) {
	kept := make([]Order, 0, len(orders))
	for _, i := range orders {
		kept = append(kept, j.Orders[i])
	}
	all := len(kept) == len(j.Orders)
	j.Orders = kept
	if j.log != nil && !all {
		j.Warnings = j.log.textsOf(func(p Problem) bool { return concerns(p.Subject, kept) })
	}
}

// concerns tells whether a warning about a subject is worth reading with such
// orders: it is about one of them, or about no orders at all.
func concerns(subject string, orders []Order) bool {
	switch {
	case strings.HasPrefix(subject, "orders "):
		return false // about all of a group's
	case strings.HasPrefix(subject, "order table "):
		return len(orders) > 0
	case !strings.HasPrefix(subject, "order "):
		return true
	}
	return slices.ContainsFunc(orders, func(o Order) bool {
		name := "order " + o.lineID()
		return subject == name || strings.HasPrefix(subject, name+" (") || subject == o.name()
	})
}

// lineID is the id of the order's line: the members of a drawing taken as a kit
// share one, and are numbered behind it.
func (o *Order) lineID() string {
	if id, number, ok := cutLast(o.ID, "."); ok && o.Kit == id && strings.Trim(number, "0123456789") == "" {
		return id
	}
	return o.ID
}

func cutLast(s, sep string) (before, after string, found bool) {
	i := strings.LastIndex(s, sep)
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+len(sep):], true
}
