package cost

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// materials puts what was learnt into the materials of the cuts, in order of
// first sight.
func (f *fitter) materials(known map[string]Material, joint *mat.SymDense) []Material {
	var out []Material
	done := map[int]bool{}
	for _, r := range f.m.rows {
		if done[r.coefficient] || !f.m.knobs[r.coefficient].learn {
			continue
		}
		done[r.coefficient] = true
		out = append(out, f.material(r, known, joint))
	}
	return out
}

func (f *fitter) material(r tuneRow, known map[string]Material, joint *mat.SymDense) Material {
	mat, ok := known[r.cut.Material]
	if !ok || mat.Process != r.cut.Process {
		mat = Material{Name: r.cut.Material, Process: r.cut.Process, Family: mat.Family, LimitSource: Unverified}
	}
	own := f.ownKnobs(r)
	for _, i := range own {
		f.setKnob(&mat, i)
	}
	mat.Calibration = f.calibration(own, joint)
	return mat
}

// ownKnobs are the knobs that this material's predictions use.
func (f *fitter) ownKnobs(r tuneRow) []int {
	out := []int{r.coefficient, r.thickness}
	if r.cut.Process == Plain {
		out = append(out, r.pressure, r.jet)
	}
	if factor, sec := f.pierceKnobs(r.coefficient); factor != noKnob {
		out = append(out, factor, sec)
	}
	return out
}

// pierceKnobs are those of the pierce method that a material was mostly cut
// with, or noKnob.
func (f *fitter) pierceKnobs(coefficient int) (factor, sec int) {
	seen := map[int]int{}
	factor, sec = noKnob, noKnob
	for _, r := range f.m.rows {
		if r.coefficient != coefficient || r.pierceFactor == noKnob {
			continue
		}
		seen[r.pierceFactor]++
		if factor == noKnob || seen[r.pierceFactor] > seen[factor] {
			factor, sec = r.pierceFactor, r.pierceSec
		}
	}
	return factor, sec
}

// setKnob writes a number into a material: a learnt one, or the default of a
// kept exponent, with which the learnt ones were found. Kept pierce constants
// leave what the material has.
func (f *fitter) setKnob(m *Material, i int) {
	k := f.m.knobs[i]
	if !k.learn && (k.param == ParamPierceFactor || k.param == ParamPierceSec) {
		return
	}
	sd, src := k.spread, k.source
	if k.learn {
		sd, src = f.stdErr(i), Measured
	}
	q := Quantity{Value: k.plain(f.v[i]), RelStdDev: sd, Source: src}
	switch k.param {
	case ParamMachinability:
		m.Machinability = q
	case ParamPlainK:
		m.PlainK = q
	case ParamPierceFactor:
		m.PierceFactor = q
		if k.subject == string(Moving) {
			m.Pierce = Moving
		} else if m.Pierce == Moving {
			m.Pierce = Stationary
		}
	case ParamPierceSec:
		m.PierceSec = Quantity{Value: q.Value, RelStdDev: share(sd, q.Value), Source: src}
	default:
		q.RelStdDev = share(sd, q.Value)
		switch k.param {
		case ParamThicknessExponent:
			m.ThicknessExponent = q
		case ParamPressureExponent:
			m.PressureExponent = q
		case ParamOrificeExponent:
			m.OrificeExponent = q
		}
	}
}

// calibration is the part of the joint covariance that a material uses.
func (f *fitter) calibration(own []int, joint *mat.SymDense) *Calibration {
	c := &Calibration{DoF: int(math.Round(f.knobDoF(own[0])))}
	for _, i := range own {
		c.Params = append(c.Params, f.m.knobs[i].param)
		row := make([]float64, len(own))
		for b, j := range own {
			row[b] = joint.At(i, j)
		}
		c.Covariance = append(c.Covariance, row)
	}
	return c
}
