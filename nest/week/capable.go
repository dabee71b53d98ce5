package week

import (
	"fmt"

	"kerfold/cost"
)

// mostLayers bounds the enumeration of stack depths. Stacks of three or four
// are usual (common practice); a fourteen-layer stack of thin sheet is known.
const mostLayers = 40

// capable lists the machines that can cut the group one sheet at a time, and
// the deepest stack any of them allows. Where none can, the group says why.
func (t *task) capable() (machines []int, depth int) {
	var reasons []string
	for i := range t.job.Machines {
		if err := t.setup(i, 1).Check(); err != nil {
			reasons = append(reasons, fmt.Sprintf("%s: %v", t.job.Machines[i].ID, err))
			continue
		}
		machines = append(machines, i)
		depth = max(depth, t.depthOn(i))
	}
	if len(machines) == 0 {
		t.group.Warnings = append(t.group.Warnings, fmt.Sprintf(
			"no machine can cut %s, %v mm (%s)", t.group.Material, t.group.ThicknessMM, joinOr(reasons, "there are none")))
	}
	return machines, depth
}

func joinOr(words []string, none string) string {
	if len(words) == 0 {
		return none
	}
	s := words[0]
	for _, w := range words[1:] {
		s += "; " + w
	}
	return s
}

// depthOn is the deepest stack machine m may cut.
func (t *task) depthOn(m int) int {
	n := 1
	for !t.plain && n < mostLayers && t.setup(m, n+1).Check() == nil {
		n++
	}
	return n
}

// setup is the group on machine m with so many layers.
func (t *task) setup(m, layers int) cost.Setup {
	return cost.Setup{
		Machine: t.job.Machines[m], Material: t.material, Rates: t.job.Rates,
		ThicknessMM: t.group.ThicknessMM, Grade: t.group.Grade, Layers: layers, ToleranceMM: t.tolerance(),
	}
}

// tolerance is the tightest edge tolerance any order of the group asks for; 0
// where none does.
func (t *task) tolerance() float64 {
	least := 0.0
	for i := range t.group.Parts {
		if tol := t.group.Parts[i].ToleranceMM; tol > 0 && (least == 0 || tol < least) {
			least = tol
		}
	}
	return least
}
