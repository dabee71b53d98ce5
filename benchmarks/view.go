package main

import (
	"cmp"
	"fmt"
	"slices"
)

// A view sorts the newest records by what the page shows of them.
type view struct {
	strips   []record // beside published densities
	bins     []record // public jigsaws
	builtIn  []record // carried by the program, of known best
	families []record // the others: many parts on sheets
	refused  []record
}

func viewOf(records []record) view {
	var v view
	list := newest(records)
	slices.SortStableFunc(list, func(a, b record) int {
		return cmp.Or(cmp.Compare(a.Set, b.Set), cmp.Compare(a.Instance, b.Instance), columnOf(a).compare(columnOf(b)))
	})
	for _, r := range list {
		_, public := publishedDensities[r.Instance]
		switch {
		case r.Fault != "":
			v.refused = append(v.refused, r)
		case r.strip() && public:
			v.strips = append(v.strips, r)
		case r.Set == builtInSet:
			v.builtIn = append(v.builtIn, r)
		case r.Optimum > 0:
			v.bins = append(v.bins, r)
		default:
			v.families = append(v.families, r)
		}
	}
	return v
}

// A column is what the figures of one column of a table have in common.
type column struct {
	search  string
	limit   float64
	seed    uint64
	workers int
}

func columnOf(r record) column { return column{r.Search, r.Limit, r.Seed, r.Workers} }

// compare orders columns by search as the program lists them, then by limit.
func (c column) compare(d column) int {
	names := searchNames()
	return cmp.Or(cmp.Compare(slices.Index(names, c.search), slices.Index(names, d.search)),
		cmp.Compare(c.limit, d.limit), cmp.Compare(c.seed, d.seed), cmp.Compare(c.workers, d.workers))
}

// String is short where seed and workers are the usual ones.
func (c column) String() string {
	s := c.search + ", " + limitWord(c.limit)
	if c.seed != 1 {
		s += fmt.Sprintf(", seed %d", c.seed)
	}
	if c.workers != 2 {
		s += fmt.Sprintf(", %d workers", c.workers)
	}
	return s
}

// limitWord is a time limit in words: whole minutes from two on.
func limitWord(seconds float64) string {
	if seconds >= 120 && seconds == 60*float64(int(seconds/60)) {
		return fmt.Sprintf("%g min", seconds/60)
	}
	return fmt.Sprintf("%g s", seconds)
}

// columns lists the columns of some records, in order.
func columns(list []record) []column {
	all := distinct(list, columnOf)
	slices.SortFunc(all, column.compare)
	return all
}

// instances lists the names in some records, in order.
func instances(list []record) []string {
	return distinct(list, func(r record) string { return r.Instance })
}

// distinct lists what records have of a property, each once, as they come.
func distinct[T comparable](list []record, of func(record) T) []T {
	var all []T
	for _, r := range list {
		if x := of(r); !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	return all
}

// find is the record of an instance in a column.
func find(list []record, name string, c column) (record, bool) {
	i := slices.IndexFunc(list, func(r record) bool { return r.Instance == name && columnOf(r) == c })
	if i < 0 {
		return record{}, false
	}
	return list[i], true
}

// of keeps the records of one column.
func (c column) of(list []record) []record {
	return slices.DeleteFunc(slices.Clone(list), func(r record) bool { return columnOf(r) != c })
}

// meanOfTwelve is a column's mean, when all twelve are there.
func meanOfTwelve(list []record, c column) (float64, bool) {
	sum := 0.0
	for _, name := range theTwelve {
		r, ok := find(list, name, c)
		if !ok {
			return 0, false
		}
		sum += r.Density
	}
	return sum / float64(len(theTwelve)), true
}

// denser compares yields, and where they are equal the fullest sheets.
func (r record) denser(than record) bool {
	if r.Density != than.Density {
		return r.Density > than.Density
	}
	return r.Fullest > than.Fullest
}
