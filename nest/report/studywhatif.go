package report

import (
	"fmt"
	"io"
	"math"

	"kerfold/cost"
	"kerfold/nest/week"
)

// leastMove is how many points a change must move the money saved to be shown,
// where it does not change the best depth.
const leastMove = 0.005

// whatIfs writes what the choice of a stack hangs on: the cheapest stack against
// single sheets with one assumed number taken otherwise, what moves it most first.
func whatIfs(w io.Writer, s *week.Study, m measure) {
	if len(s.WhatIfs) == 0 {
		return
	}
	fmt.Fprintf(w, "\nwhat the choice hangs on: %d layers against single sheets, and the best depth, if\n", s.Stack)
	t := &textTable{head: []string{"", "money saved", "machine time saved", "best layers"}, left: map[int]bool{0: true}}
	assumed, hidden, turns := s.WhatIfs[0], 0, 0
	for _, x := range s.WhatIfs {
		if x.Best != assumed.Best {
			turns++
		}
		if x.Change != "" && x.Best == assumed.Best && x.Refusal == "" && math.Abs(x.MoneySaved-assumed.MoneySaved) < leastMove {
			hidden++
			continue
		}
		t.rows = append(t.rows, whatIfRow(x, m))
	}
	t.write(w)
	if hidden > 0 {
		fmt.Fprintf(w, "not shown: %s that would move the money saved by less than %.1f points\n", plural(hidden, "change"), 100*leastMove)
	}
	fmt.Fprintf(w, "%d of %s would turn the best depth\n", turns, plural(len(s.WhatIfs)-1, "change"))
}

func whatIfRow(x cost.WhatIf, m measure) []string {
	name := m.text(x.Change)
	if name == "" {
		name = "all is as assumed"
	}
	if x.Refusal != "" {
		return []string{name, "not allowed", "", fmt.Sprint(x.Best)}
	}
	return []string{name, saved(x.MoneySaved), saved(x.SecondsSaved), fmt.Sprint(x.Best)}
}

// saved writes a share that is saved; below nought it is lost.
func saved(share float64) string { return fmt.Sprintf("%+.1f %%", 100*share) }
