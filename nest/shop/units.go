package shop

import (
	"slices"
	"strings"
)

// A dimension is a kind of quantity with the units it may be written in. The
// first unit is the one the program computes in.
type dimension struct {
	name    string
	example string // a value with its unit
	units   []unit
}

// A unit has the ending it gives a key (thickness_mm), the names it goes by in
// a value (1/8 in), and its size in the dimension's first unit.
type unit struct {
	suffix string
	names  []string
	size   float64
}

// Sizes of the units. The inch, the pound and the standard acceleration of
// gravity are exact by definition (international yard and pound agreement of
// 1959; CGPM 1901); the rest is derived.
const (
	mmPerInch  = 25.4
	kgPerPound = 0.45359237
	standardG  = 9.80665                                         // m/s²
	poundForce = kgPerPound * standardG                          // N
	mpaPerKsi  = 1000 * poundForce / (mmPerInch * mmPerInch)     // N/mm² are MPa
	kwPerHp    = 550 * 12 * mmPerInch / 1000 * poundForce / 1000 // 550 ft·lbf/s
)

var (
	length = dimension{"length", "1/8 in", []unit{
		{"mm", []string{"mm"}, 1},
		{"cm", []string{"cm"}, 10},
		{"m", []string{"m"}, 1000},
		{"in", []string{"in", "inch", "inches", `"`, "″"}, mmPerInch},
		{"ft", []string{"ft", "foot", "feet", "'", "′"}, 12 * mmPerInch},
	}}
	pressure = dimension{"pressure", "60 ksi", []unit{
		{"mpa", []string{"MPa"}, 1},
		{"bar", []string{"bar"}, 0.1},
		{"ksi", []string{"ksi"}, mpaPerKsi},
		{"psi", []string{"psi"}, mpaPerKsi / 1000},
	}}
	power = dimension{"power", "50 hp", []unit{
		{"kw", []string{"kW"}, 1},
		{"hp", []string{"hp"}, kwPerHp},
	}}
	massFlow = dimension{"flow of abrasive", "1 lb/min", []unit{
		{"g_per_min", []string{"g/min"}, 1},
		{"kg_per_min", []string{"kg/min"}, 1000},
		{"lb_per_min", []string{"lb/min"}, 1000 * kgPerPound},
	}}
	speed = dimension{"speed", "10 m/min", []unit{
		{"mm_per_min", []string{"mm/min"}, 1},
		{"m_per_min", []string{"m/min"}, 1000},
		{"mm_per_s", []string{"mm/s"}, 60},
		{"in_per_min", []string{"in/min", "ipm"}, mmPerInch},
	}}
	acceleration = dimension{"acceleration", "0.1 g", []unit{
		{"mm_per_s2", []string{"mm/s2", "mm/s²"}, 1},
		{"m_per_s2", []string{"m/s2", "m/s²"}, 1000},
		{"g", []string{"g"}, 1000 * standardG},
	}}
	duration = dimension{"time", "90 s", []unit{
		{"s", []string{"s", "sec"}, 1},
		{"min", []string{"min"}, 60},
		{"h", []string{"h"}, 3600},
	}}
	hours = dimension{"time", "60 h", []unit{
		{"h", []string{"h"}, 1},
		{"min", []string{"min"}, 1.0 / 60},
	}}
	density = dimension{"density", "7850 kg/m3", []unit{
		{"kg_per_m3", []string{"kg/m3", "kg/m³"}, 1},
		{"g_per_cm3", []string{"g/cm3", "g/cm³"}, 1000},
		{"lb_per_in3", []string{"lb/in3"}, kgPerPound / (mmPerInch * mmPerInch * mmPerInch) * 1e9},
	}}
	angle = dimension{"angle", "45 deg", []unit{
		{"deg", []string{"deg", "°"}, 1},
	}}
)

// named finds the unit a value was written in.
func (d *dimension) named(name string) *unit {
	for i := range d.units {
		if slices.ContainsFunc(d.units[i].names, func(n string) bool { return strings.EqualFold(n, name) }) {
			return &d.units[i]
		}
	}
	return nil
}

// keys are the spellings of a key of this dimension: thickness_mm, … thickness.
func (d *dimension) keys(base string) []string {
	var keys []string
	for _, u := range d.units {
		keys = append(keys, base+"_"+u.suffix)
	}
	return append(keys, base)
}

func (d *dimension) names() []string {
	var names []string
	for _, u := range d.units {
		names = append(names, u.names[0])
	}
	return names
}
