package cost

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Calibration is the joint uncertainty of fitted numbers: Covariance[i][j] is
// the covariance of Params[i] and Params[j]. Positive constants are held as
// natural logarithms, exponents as they are; see [Param].
type Calibration struct {
	Params     []Param
	Covariance [][]float64
	// DoF is the degrees of freedom behind the scale of Covariance; 0 means
	// that it is an assumption.
	DoF int
}

// A Param names a number that test cuts can teach.
type Param string

const (
	ParamMachinability     Param = "machinability"      // ln Nm
	ParamPlainK            Param = "plain_k"            // ln K
	ParamThicknessExponent Param = "thickness_exponent" // as it is
	ParamPressureExponent  Param = "pressure_exponent"  // as it is
	ParamOrificeExponent   Param = "orifice_exponent"   // as it is
	ParamPierceSec         Param = "pierce_sec"         // t0, as it is, seconds
	ParamPierceFactor      Param = "pierce_factor"      // ln κ
)

// unit is the shift that one unit of a fitted parameter makes.
func (p Param) unit() (s shift, known bool) {
	switch p {
	case ParamMachinability, ParamPlainK:
		return shift{coefficient: 1}, true
	case ParamThicknessExponent:
		return shift{thicknessExponent: 1}, true
	case ParamPressureExponent:
		return shift{pressureExponent: 1}, true
	case ParamOrificeExponent:
		return shift{orificeExponent: 1}, true
	case ParamPierceSec:
		return shift{pierceSec: 1}, true
	case ParamPierceFactor:
		return shift{pierce: 1}, true
	}
	return shift{}, false
}

// Validate reports a covariance that is none.
func (c *Calibration) Validate() error {
	n := len(c.Params)
	if n == 0 || len(c.Covariance) != n {
		return fmt.Errorf("calibration: %d rows of covariance for %d numbers: give one row each", len(c.Covariance), n)
	}
	for i, p := range c.Params {
		if _, known := p.unit(); !known || slices.Index(c.Params, p) != i {
			return fmt.Errorf("calibration: %q is no number that can be learnt, or is named twice", p)
		}
		if len(c.Covariance[i]) != n {
			return fmt.Errorf("calibration: row %d of the covariance has %d numbers: give %d", i+1, len(c.Covariance[i]), n)
		}
	}
	if !c.symmetric() {
		return fmt.Errorf("calibration: the covariance is not symmetric: copy it whole from where it was fitted")
	}
	if _, ok := c.factor(); !ok {
		return fmt.Errorf("calibration: the covariance is not positive definite: copy it whole from where it was fitted")
	}
	return nil
}

func (c *Calibration) symmetric() bool {
	const rounding = 1e-9
	for i, row := range c.Covariance {
		for j := range i {
			a, b := row[j], c.Covariance[j][i]
			if !(math.Abs(a-b) <= rounding*math.Max(math.Abs(a), math.Abs(b))) {
				return false
			}
		}
	}
	return true
}

func (c *Calibration) covers(p Param) bool {
	return c != nil && slices.Contains(c.Params, p)
}

// assumptions turns the joint uncertainty into independent causes: the columns
// of the covariance's Cholesky factor. Few test cuts widen them as Student's t
// does at [DefaultLevel].
func (c *Calibration) assumptions(material string) []Assumption {
	if c == nil {
		return nil
	}
	l, ok := c.factor()
	if !ok {
		return nil
	}
	var out []Assumption
	for j := range c.Params {
		var effect shift
		for i, p := range c.Params {
			unit, _ := p.unit()
			effect = effect.plus(unit, l.At(i, j)*c.widening())
		}
		out = append(out, Assumption{
			Key:  fmt.Sprintf("calibration %s %d", material, j+1),
			Text: fmt.Sprintf("what the test cuts leave open, %d of %d", j+1, len(c.Params)), Spread: 1, Source: Measured, effect: effect,
		})
	}
	return out
}

func (c *Calibration) factor() (*mat.TriDense, bool) {
	n := len(c.Params)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, c.Covariance[i][j])
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) {
		return nil, false
	}
	var l mat.TriDense
	chol.LTo(&l)
	return &l, true
}

// widening is the ratio of Student's quantile to the normal one.
func (c *Calibration) widening() float64 {
	if c.DoF <= 0 {
		return 1
	}
	p := (1 + DefaultLevel) / 2
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(c.DoF)}
	return t.Quantile(p) / distuv.UnitNormal.Quantile(p)
}
