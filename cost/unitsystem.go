package cost

import "fmt"

// A UnitSystem is the units in which numbers are shown; inside, everything is
// metric.
type UnitSystem int

// The unit systems.
const (
	Metric UnitSystem = iota
	// US is customary units: inch, ksi, US gallon, pound, horsepower.
	US
)

// ParseUnitSystem reads metric or us.
func ParseUnitSystem(s string) (UnitSystem, error) {
	switch s {
	case "", "metric":
		return Metric, nil
	case "us":
		return US, nil
	}
	return 0, fmt.Errorf("unknown units %q: use metric or us", s)
}

// UnitSystems lists the words that ParseUnitSystem reads.
func UnitSystems() []string { return []string{Metric.String(), US.String()} }

// String is the system's word.
func (u UnitSystem) String() string {
	if u == US {
		return "us"
	}
	return "metric"
}

// customary gives each metric unit of this package its customary one and the
// size of the metric one in it.
var customary = map[string]struct {
	unit string
	size float64
}{
	"mm":     {"in", 1 / MMPerInch},
	"mm/min": {"in/min", 1 / MMPerInch},
	"mm/s":   {"in/s", 1 / MMPerInch},
	"mm/s²":  {"in/s²", 1 / MMPerInch},
	"s/mm":   {"s/in", MMPerInch},
	"m/s":    {"ft/s", 1 / MPerFoot},
	"MPa":    {"ksi", 1 / MPaPerKSI},
	"L":      {"gal", 1 / LPerGallon},
	"L/min":  {"gpm", 1 / LPerGallon},
	"g/min":  {"lb/min", 1 / (KgPerPound * gramsPerKg)},
	"mm²":    {"in²", 1 / (MMPerInch * MMPerInch)},
	"m²":     {"ft²", 1 / (MPerFoot * MPerFoot)},
	"m³":     {"gal", litresPerM3 / LPerGallon},
	"kg":     {"lb", 1 / KgPerPound},
	"kW":     {"hp", 1 / KWPerHP},
	"kg/m³":  {"lb/ft³", MPerFoot * MPerFoot * MPerFoot / KgPerPound},
}

// Show turns a number in one of this package's units into the system's. Units
// that both systems share, and those that are not known, stay as they are.
func (u UnitSystem) Show(v float64, unit string) (float64, string) {
	if c, ok := customary[unit]; ok && u == US {
		return v * c.size, c.unit
	}
	return v, unit
}
