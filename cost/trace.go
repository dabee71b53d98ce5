package cost

// An Input is one number that went into a step, with where it comes from.
type Input struct {
	Symbol string
	Name   string
	Value  float64
	Unit   string
	Source Source
}

// A Step is one computed number: its formula, what went in, what came out.
type Step struct {
	Name    string
	Formula string
	Inputs  []Input
	Value   float64
	Unit    string
	Source  Source // of the formula
	Note    string
}

// A Trace is the steps that lead to a run's time and price, in order. Every
// number in it is computed by the functions that compute the result itself.
type Trace []Step

// Find returns the step of that name.
func (t Trace) Find(name string) (Step, bool) {
	for _, s := range t {
		if s.Name == name {
			return s, true
		}
	}
	return Step{}, false
}

func (t *Trace) add(name, formula string, value float64, unit string, src Source, inputs ...Input) {
	*t = append(*t, Step{Name: name, Formula: formula, Inputs: inputs, Value: value, Unit: unit, Source: src})
}

func (t *Trace) note(text string) { (*t)[len(*t)-1].Note = text }

// of makes an input of a tabled quantity; one that nobody has set, such as a
// feed cap that is not there, counts as the job file's.
func of(symbol, name string, q Quantity, unit string) Input {
	if q.Source == "" {
		q.Source = JobFile
	}
	return Input{symbol, name, q.Value, unit, q.Source}
}

// given makes an input of a plain number.
func given(symbol, name string, v float64, unit string, src Source) Input {
	return Input{symbol, name, v, unit, src}
}

// above makes an input of a number that an earlier step computed.
func above(symbol, name string, v float64, unit string) Input {
	return Input{symbol, name, v, unit, Derived}
}
