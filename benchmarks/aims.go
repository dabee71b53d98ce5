package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
)

// An aim is a figure we set out to reach; measure tells what the records say.
type aim struct {
	what, reach string
	measure     func(view) (measured string, met bool)
}

// aims are ours; those on strips were set by the papers' averages.
var aims = []aim{
	{"strips, mean of the 12, 60 s each", "≥ 83.3 % (2013's average, at 10 to 20 min)", meanAim(60, 83.3)},
	{"strips, mean of the 12, 10 min each", "≥ 84.8 %", meanAim(600, 84.8)},
	{"strips, mean of the 12, 20 min each", "85.5 % is the best published average", meanAim(1200, 85.5)},
	{"swim, 10 min", "≥ 77 %", stripAim("swim", 600, 77)},
	{"shirts, 10 min", "≥ 89 %", stripAim("shirts", 600, 89)},
	{"strips of more than 40 parts, 60 s each", "no plateau before 30 s", riseAim(60)},
	{"the same, 10 min each", "no plateau before 30 s", riseAim(600)},
	{"sheets with a known optimum, at most 60 s each", "≥ 60 % at the optimum", binAim(optimumAim)},
	{"", "none worse than optimum + 1", binAim(worstAim)},
	{"", "mean F ≥ 0.85", binAim(squareAim)},
	{"500 of one outline on sheets, 60 s each", "solve no thinner than lattice alone", latticeAim},
	{"", "fullest sheet ≥ 97 % of what the rim allows a lattice (the most whole copies it has on such a sheet)", clipAim},
	{"", "the same against the density in the plane, nothing counted off for the rim", shareAim},
	{"1,000 parts of 40 kinds on sheets", "a complete plan in 5 s", familyAim("mix1000", func(r record) (string, bool) {
		return fmt.Sprintf("%.1f s", r.Curve.first()), r.Curve.first() < 5
	})},
	{"", "within 1 % of the 10-min yield by 60 s", nearAim("mix1000")},
	{"10,000 parts of 200 kinds on sheets", "a complete plan in 60 s", familyAim("mix10000", func(r record) (string, bool) {
		return fmt.Sprintf("%.1f s", r.Curve.first()), r.Curve.first() < 60
	})},
	{"", "in less than 2 GiB", familyAim("mix10000", func(r record) (string, bool) {
		return memory(r.PeakMB), r.PeakMB > 0 && r.PeakMB < 2048
	})},
}

// aimTable sets what was recorded beside what was aimed at. Where several
// searches ran for the same time, the best of them counts, and is named.
func (v view) aimTable(w io.Writer) {
	fmt.Fprint(w, "## Aims\n\nOf several searches with the same limit the best counts.\n\n")
	t := table{head: []string{"what", "to reach", "recorded", "reached"}}
	for _, a := range aims {
		measured, met := a.measure(v)
		word := "no"
		switch {
		case measured == "":
			measured, word = "not recorded", ""
		case met:
			word = "yes"
		}
		t.row(a.what, a.reach, measured, word)
	}
	t.write(w)
}

// limited keeps the columns of one time limit.
func limited(list []record, limit float64) []column {
	return slices.DeleteFunc(columns(list), func(c column) bool { return c.limit != limit })
}

func meanAim(limit, reach float64) func(view) (string, bool) {
	return func(v view) (string, bool) {
		return bestAim(v, limit, reach, func(c column) (float64, bool) { return meanOfTwelve(v.strips, c) })
	}
}

func stripAim(name string, limit, reach float64) func(view) (string, bool) {
	return func(v view) (string, bool) {
		return bestAim(v, limit, reach, func(c column) (float64, bool) {
			r, ok := find(v.strips, name, c)
			return r.Density, ok
		})
	}
}

// bestAim takes the column with the highest figure.
func bestAim(v view, limit, reach float64, figure func(column) (float64, bool)) (string, bool) {
	best, by := 0.0, ""
	for _, c := range limited(v.strips, limit) {
		if x, ok := figure(c); ok && x > best {
			best, by = x, c.String()
		}
	}
	if by == "" {
		return "", false
	}
	return fmt.Sprintf("%.2f %% (%s)", best, by), best >= reach
}

// riseAim takes the column of a limit with the best mean, or else the first.
func riseAim(limit float64) func(view) (string, bool) {
	return func(v view) (string, bool) {
		cols := limited(v.strips, limit)
		if len(cols) == 0 {
			return "", false
		}
		slices.SortStableFunc(cols, func(a, b column) int {
			x, _ := meanOfTwelve(v.strips, a)
			y, _ := meanOfTwelve(v.strips, b)
			return cmp.Compare(y, x)
		})
		return riseOf(cols[0], v.strips)
	}
}

// riseOf counts the instances of a column whose yield still rises late, and names
// the others.
func riseOf(c column, strips []record) (string, bool) {
	rising, asked := 0, 0
	var flat []string
	for _, r := range c.of(strips) {
		switch r.rises() {
		case "rises":
			rising, asked = rising+1, asked+1
		case "flat":
			flat, asked = append(flat, r.Instance), asked+1
		}
	}
	said := fmt.Sprintf("%d of %d rise after %g s (%s)", rising, asked, riseUntil, c)
	if len(flat) > 0 {
		said += "; flat: " + strings.Join(flat, ", ")
	}
	return said, asked > 0 && len(flat) == 0
}

// binAim measures the search that has most instances at the optimum in a minute.
func binAim(figure func([]record) (string, bool)) func(view) (string, bool) {
	return func(v view) (string, bool) {
		var best []record
		for _, c := range columns(v.bins) {
			if list := c.of(v.bins); c.limit <= 60 && atOptimum(list) > atOptimum(best) {
				best = list
			}
		}
		if best == nil {
			return "", false
		}
		said, met := figure(best)
		return fmt.Sprintf("%s (%s)", said, columnOf(best[0])), met
	}
}

func atOptimum(list []record) int {
	n := 0
	for _, r := range list {
		if r.Bins <= r.Optimum {
			n++
		}
	}
	return n
}

func optimumAim(list []record) (string, bool) {
	n := atOptimum(list)
	return fmt.Sprintf("%d of %d", n, len(list)), float64(n) >= 0.6*float64(len(list))
}

func worstAim(list []record) (string, bool) {
	worst := 0
	for _, r := range list {
		worst = max(worst, r.Bins-r.Optimum)
	}
	return over(worst), worst <= 1
}

func squareAim(list []record) (string, bool) {
	f := 0.0
	for _, r := range list {
		f += r.F
	}
	f /= float64(len(list))
	return fmt.Sprintf("%.3f", f), f >= 0.85
}
