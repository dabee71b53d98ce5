package cost

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// The fit is reweighted least squares (Rousseeuw, Leroy 1987, Robust
// Regression and Outlier Detection) in logarithms. A robust fit by Tukey's
// biweight finds the suspects; ordinary least squares on the rest then judges
// each suspect by how far it lies from its prediction, and only rows that fail
// that test are left out. Without outliers the result is therefore plain least
// squares, whose intervals keep their stated rate. Our deviation: each kind of
// measurement has its own scatter, estimated from its own residuals.
type fitter struct {
	m      *tuneModel
	learn  []int             // knobs being learnt
	v      []float64         // values of all knobs
	sigma  [cutKinds]float64 // relative scatter by kind
	weight []float64         // robust weight of every row, 0 for an outlier
	jac    *mat.Dense        // rows × learnt, unscaled
	cov    *mat.SymDense     // of the learnt knobs
	hat    []float64         // leverage of every row
	dof    [cutKinds]float64
}

// Constants of the fit: judgement [Derived] but for the first.
const (
	biweightTuning = 4.685 // the usual one, 95 % efficiency for normal scatter [Unverified]
	suspectAt      = 3.0   // robust scatters
	outlierLevel   = 0.01  // chance of calling any good row of a table an outlier
	fitRounds      = 12
	// leastNoise is the finest relative scatter that a measurement is credited
	// with: reading a stop watch or a feed display.
	leastNoise = 0.003
	// enoughRows is how many degrees of freedom a kind needs before its own
	// residuals tell its scatter robustly.
	enoughRows = 4
)

func newFitter(m *tuneModel) *fitter {
	f := &fitter{m: m, v: m.values(), sigma: assumedNoise, weight: make([]float64, len(m.rows)), hat: make([]float64, len(m.rows))}
	for i, k := range m.knobs {
		if k.learn {
			f.learn = append(f.learn, i)
		}
	}
	for i := range f.weight {
		f.weight[i] = 1
	}
	return f
}

// run fits and returns whether the equations could be solved.
func (f *fitter) run() bool {
	if !f.robust() {
		return false
	}
	suspects := f.suspects()
	for _, i := range suspects {
		f.weight[i] = 0
	}
	if !f.leastSquares() {
		return false
	}
	for _, i := range suspects {
		if !f.isOutlier(i) {
			f.weight[i] = 1
		}
	}
	return f.leastSquares()
}

// robust runs the biweight fit.
func (f *fitter) robust() bool {
	for range fitRounds {
		if !f.step() {
			return false
		}
		res := f.m.residuals(f.v)
		f.robustScatter(res)
		for i, r := range f.m.rows {
			f.weight[i] = biweight(res[i] / f.sigma[r.kind])
		}
	}
	return true
}

func biweight(u float64) float64 {
	u /= biweightTuning
	if math.Abs(u) >= 1 {
		return 0
	}
	return (1 - u*u) * (1 - u*u)
}

// robustScatter estimates each kind's scatter from the median of its absolute
// residuals, those beyond the number of knobs that the kind had to satisfy.
func (f *fitter) robustScatter(res []float64) {
	const toSigma = 1.4826
	for k := range cutKinds {
		var abs []float64
		used := 0.0
		for i, r := range f.m.rows {
			if r.kind == k {
				abs = append(abs, math.Abs(res[i]))
				used += f.hat[i]
			}
		}
		free := len(abs) - int(math.Round(used))
		if free < enoughRows {
			continue
		}
		slices.Sort(abs)
		abs = abs[len(abs)-free:]
		f.sigma[k] = max(leastNoise, toSigma*abs[len(abs)/2])
	}
}

func (f *fitter) suspects() []int {
	var out []int
	res := f.m.residuals(f.v)
	for i, r := range f.m.rows {
		if math.Abs(res[i]) > suspectAt*f.sigma[r.kind] {
			out = append(out, i)
		}
		f.weight[i] = 1
	}
	return out
}

// leastSquares fits the rows of weight 1 and estimates the scatters from them.
func (f *fitter) leastSquares() bool {
	for range fitRounds {
		if !f.step() {
			return false
		}
		f.scatter()
	}
	return f.solve(f.m.residuals(f.v)) != nil
}

// scatter estimates each kind's scatter and its degrees of freedom.
func (f *fitter) scatter() {
	res := f.m.residuals(f.v)
	for k := range cutKinds {
		var sum, free float64
		for i, r := range f.m.rows {
			if r.kind == k && f.weight[i] > 0 {
				sum += res[i] * res[i]
				free += 1 - f.hat[i]
			}
		}
		f.dof[k] = 0
		if free > 0.5 {
			f.dof[k] = free
			f.sigma[k] = max(leastNoise, math.Sqrt(sum/free))
		} else {
			f.sigma[k] = assumedNoise[k]
		}
	}
}

// isOutlier tests a row that was left out against its prediction, with the
// chance of a false alarm shared among all rows.
func (f *fitter) isOutlier(i int) bool {
	k := f.m.rows[i].kind
	if f.dof[k] < enoughRows {
		return false
	}
	r := f.m.residuals(f.v)[i]
	x := mat.NewVecDense(len(f.learn), mat.Row(nil, i, f.jac))
	spread := math.Sqrt(f.sigma[k]*f.sigma[k] + mat.Inner(x, f.cov, x))
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: f.dof[k]}
	return 2*t.CDF(-math.Abs(r)/spread) < outlierLevel/float64(len(f.m.rows))
}

// step is one Gauss-Newton step, halved until the weighted sum of squares does
// not grow.
func (f *fitter) step() bool {
	res := f.m.residuals(f.v)
	d := f.solve(res)
	if d == nil {
		return false
	}
	before := f.sumSquares(res)
	for size := 1.0; size > 1e-3; size /= 2 {
		v := slices.Clone(f.v)
		for j, k := range f.learn {
			v[k] += size * d[j]
		}
		if f.sumSquares(f.m.residuals(v)) <= before*(1+1e-12) {
			f.v = v
			return true
		}
	}
	return true // at the bottom already
}

func (f *fitter) sumSquares(res []float64) float64 {
	s := 0.0
	for i, r := range f.m.rows {
		s += f.weight[i] * res[i] * res[i] / (f.sigma[r.kind] * f.sigma[r.kind])
	}
	return s
}

// solve returns the Gauss-Newton direction and sets the Jacobian, covariance
// and leverages; nil when the equations are singular.
func (f *fitter) solve(res []float64) []float64 {
	n, p := len(f.m.rows), len(f.learn)
	if p == 0 {
		return nil
	}
	f.jac = mat.NewDense(n, p, nil)
	for j, k := range f.learn {
		f.jac.SetCol(j, f.m.slopes(f.v, k))
	}
	info := mat.NewSymDense(p, nil)
	rhs := mat.NewVecDense(p, nil)
	for i := range n {
		row := mat.NewVecDense(p, mat.Row(nil, i, f.jac))
		info.SymRankOne(info, f.rowWeight(i), row)
		rhs.AddScaledVec(rhs, f.rowWeight(i)*res[i], row)
	}
	var chol mat.Cholesky
	if !chol.Factorize(info) {
		return nil
	}
	f.cov = mat.NewSymDense(p, nil)
	if chol.InverseTo(f.cov) != nil {
		return nil
	}
	f.leverages()
	d := mat.NewVecDense(p, nil)
	d.MulVec(f.cov, rhs)
	return d.RawVector().Data
}

// rowWeight is a row's weight in the sum of squares.
func (f *fitter) rowWeight(i int) float64 {
	s := f.sigma[f.m.rows[i].kind]
	return f.weight[i] / (s * s)
}

func (f *fitter) leverages() {
	for i := range f.hat {
		x := mat.NewVecDense(len(f.learn), mat.Row(nil, i, f.jac))
		f.hat[i] = f.rowWeight(i) * mat.Inner(x, f.cov, x)
	}
}
