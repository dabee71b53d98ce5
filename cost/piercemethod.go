package cost

import "fmt"

// A PierceMethod is how the jet first goes through the sheet.
type PierceMethod string

const (
	Stationary  PierceMethod = "stationary"   // head at rest
	Moving      PierceMethod = "moving"       // head wiggles or circles: the spent jet has somewhere to go
	LowPressure PierceMethod = "low pressure" // gentle start for brittle or laminated sheet, head at rest
)

// ParsePierceMethod reads a pierce method's name; empty leaves the choice open.
func ParsePierceMethod(s string) (PierceMethod, error) {
	switch m := PierceMethod(s); m {
	case "", Stationary, Moving, LowPressure:
		return m, nil
	}
	return "", fmt.Errorf("unknown pierce method %q: use stationary, moving or low pressure", s)
}
