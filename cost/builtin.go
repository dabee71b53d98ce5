package cost

import "slices"

// Builtin returns the built-in materials in a fixed order, each number with its
// source. The caller owns the slice.
func Builtin() []Material {
	out := make([]Material, 0, len(abrasiveRows)+len(plainRows))
	for _, r := range abrasiveRows {
		out = append(out, r.material())
	}
	for _, r := range plainRows {
		out = append(out, r.material())
	}
	return out
}

// BuiltinMap returns the built-in materials by name.
func BuiltinMap() map[string]Material {
	m := map[string]Material{}
	for _, mat := range Builtin() {
		m[mat.Name] = mat
	}
	return m
}

// A trait is a property of a material that drives cautions, pierces and refusals.
type trait int

const (
	brittle trait = iota
	laminate
	tempered
	fibrous
	aluminium
	hasLead
	hasBeryllium
	hasNickel
	hasChromium
)

func (m *Material) addTraits(ts []trait) {
	has := func(t trait) bool { return slices.Contains(ts, t) }
	m.Brittle, m.Laminate, m.Tempered = has(brittle), has(laminate), has(tempered)
	m.Fibrous, m.Aluminium = has(fibrous), has(aluminium)
	for _, toxic := range []struct {
		t    trait
		name string
	}{{hasLead, "lead"}, {hasBeryllium, "beryllium copper"}, {hasNickel, "nickel"}, {hasChromium, "chromium"}} {
		if has(toxic.t) {
			m.ToxicMetals = append(m.ToxicMetals, toxic.name)
		}
	}
}

// density is a handbook value, good to a few per cent.
func density(kgPerM3 float64) Quantity {
	return Quantity{Value: kgPerM3, RelStdDev: 0.03, Source: Unverified}
}
