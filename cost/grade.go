package cost

import "fmt"

// A Grade is the edge quality asked for. Shops number grades both ways round,
// so Kerfold names them; the machinability formula's index q is [Grade.Index].
type Grade int

// The grades, coarse to fine: an index one higher is a slower cut.
const (
	Separate Grade = iota + 1 // through, nothing more
	Rough
	Medium
	Good
	Fine
)

var gradeNames = [...]string{Separate: "separate", Rough: "rough", Medium: "medium", Good: "good", Fine: "fine"}

// Index is the grade's q in the machinability formula, 1 (separate) to 5 (fine).
func (g Grade) Index() float64 { return float64(g) }

// String names the grade.
func (g Grade) String() string {
	if g < Separate || g > Fine {
		return fmt.Sprintf("grade %d", int(g))
	}
	return gradeNames[g]
}

// ParseGrade reads a grade's name.
func ParseGrade(s string) (Grade, error) {
	for g := Separate; g <= Fine; g++ {
		if gradeNames[g] == s {
			return g, nil
		}
	}
	return 0, fmt.Errorf("unknown grade %q: use separate, rough, medium, good or fine", s)
}
