package cost

import (
	"errors"
	"fmt"
)

// A Cut is one test cut: the settings and one measured number.
type Cut struct {
	Row      int // line of the table it came from, for messages
	Material string
	Process  Process

	ThicknessMM, PressureMPa, OrificeMM     float64
	TubeMM, AbrasiveGPerMin, AbrasiveFactor float64 // abrasive cuts; factor 0 means garnet
	Grade                                   Grade

	// Exactly one of these is above 0. SpeedMMPerMin is the fastest steady feed
	// that reached the grade; PartSec the time of a part of CutMM and Pierces,
	// long enough that corners do not matter; PierceSec the time of one pierce.
	SpeedMMPerMin, PartSec, PierceSec float64
	CutMM                             float64
	Pierces                           int
	Pierce                            PierceMethod // of pierces; empty is stationary
	LowPressureMPa                    float64      // of low-pressure pierces
}

// cutKind is what a cut measured.
type cutKind int

const (
	speedCut cutKind = iota
	partCut
	pierceCut
	cutKinds
)

func (k cutKind) String() string {
	return [...]string{"speed", "part time", "pierce time"}[k]
}

func (c Cut) kind() cutKind {
	switch {
	case c.SpeedMMPerMin > 0:
		return speedCut
	case c.PartSec > 0:
		return partCut
	}
	return pierceCut
}

// measured is the cut's number: mm/min or seconds.
func (c Cut) measured() float64 {
	switch c.kind() {
	case speedCut:
		return c.SpeedMMPerMin
	case partCut:
		return c.PartSec
	}
	return c.PierceSec
}

// Validate reports what is missing or impossible in a cut, with its row.
func (c Cut) Validate() error {
	var errs []error
	bad := func(format string, args ...any) {
		errs = append(errs, fmt.Errorf("row %d, %s: "+format, append([]any{c.Row, c.Material}, args...)...))
	}
	if c.Material == "" {
		bad("no material: name it")
	}
	if c.Process != Plain && c.Process != Abrasive {
		bad("process %q: use plain or abrasive", c.Process)
	}
	if n := count(c.SpeedMMPerMin > 0, c.PartSec > 0, c.PierceSec > 0); n != 1 {
		bad("%d measured numbers: give one of speed, part time and pierce time", n)
	}
	if !positive(c.ThicknessMM) {
		bad("thickness %v mm: give a value above 0", c.ThicknessMM)
	}
	if !within(c.PressureMPa, minPressureMPa, maxPressureMPa) {
		bad("pressure %v MPa%s: give %v to %v MPa", c.PressureMPa, pressureSlip(c.PressureMPa), minPressureMPa, maxPressureMPa)
	}
	if !within(c.OrificeMM, minOrificeMM, maxOrificeMM) {
		bad("orifice %v mm%s: give %v to %v mm", c.OrificeMM, lengthSlip(c.OrificeMM, minOrificeMM, maxOrificeMM), minOrificeMM, maxOrificeMM)
	}
	if c.Process == Abrasive {
		if !within(c.TubeMM, minTubeMM, maxTubeMM) {
			bad("mixing tube bore %v mm%s: give %v to %v mm", c.TubeMM, lengthSlip(c.TubeMM, minTubeMM, maxTubeMM), minTubeMM, maxTubeMM)
		}
		if !within(c.AbrasiveGPerMin, minAbrasiveGPerMin, maxAbrasiveGPerMin) {
			bad("abrasive flow %v g/min: give %v to %v g/min", c.AbrasiveGPerMin, minAbrasiveGPerMin, maxAbrasiveGPerMin)
		}
	}
	if c.kind() != pierceCut && (c.Grade < Separate || c.Grade > Fine) {
		bad("no grade: use separate, rough, medium, good or fine")
	}
	if c.PartSec > 0 && !positive(c.CutMM) {
		bad("a part time needs the length of cut in mm")
	}
	if c.Pierce == LowPressure && !(c.LowPressureMPa > 0) {
		bad("a low-pressure pierce needs its pressure in MPa")
	}
	for _, v := range []float64{c.SpeedMMPerMin, c.PartSec, c.PierceSec, c.CutMM, float64(c.Pierces), c.AbrasiveFactor} {
		if !(v >= 0) {
			bad("negative or missing number %v", v)
		}
	}
	return errors.Join(errs...)
}

func count(flags ...bool) int {
	n := 0
	for _, f := range flags {
		if f {
			n++
		}
	}
	return n
}
