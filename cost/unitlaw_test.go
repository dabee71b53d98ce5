package cost

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// A unitLaw says that a function does not care in which units the world is
// measured: with its arguments and the package's constants measured anew, its
// results are the old ones measured anew. The law calls the function itself, and
// takes its name from the function value: it cannot speak of another one.
//
// A wrong factor without a unit, such as a 2 for a 3, passes; the check values
// pin those.
type unitLaw struct {
	f    any
	args func(t *rapid.T) []any
	// in and out are the units of bare numbers among arguments and results.
	in, out []dim
	keep    []unit // units that are left as they are
	note    string // where a function has several laws
}

// funcName is the name of a function or method value: F, or T.M.
func funcName(f any) string {
	name := runtime.FuncForPC(reflect.ValueOf(f).Pointer()).Name()
	name = name[strings.LastIndex(name, "/")+1:]
	name = strings.TrimPrefix(name, "cost.")
	return strings.NewReplacer("(*", "", ")", "", "-fm", "").Replace(name)
}

func drawMeasure(t *rapid.T, keep []unit) measure {
	var m measure
	for u := range m {
		m[u] = math.Exp(rapid.Float64Range(-0.25, 0.25).Draw(t, fmt.Sprintf("ln unit %d", u)))
	}
	for _, u := range keep {
		m[u] = 1
	}
	return m
}

// A trial is a law with drawn units and arguments.
type trial struct {
	l    unitLaw
	m    measure
	args []reflect.Value
}

func (l unitLaw) draw(t *rapid.T) trial {
	tr := trial{l: l, m: drawMeasure(t, l.keep)}
	for _, a := range l.args(t) {
		tr.args = append(tr.args, reflect.ValueOf(a))
	}
	return tr
}

// A fault is something left in its old unit.
type fault struct {
	constant string // this one
	inputs   bool   // all arguments
	input    int    // this one of the numbers among the arguments, from 1
}

// broken is how the law is broken; empty where it holds.
func (tr trial) broken(left fault) string {
	f, anew := reflect.ValueOf(tr.l.f), rescaler{measure: tr.m, leave: left.input - 1}
	if left.inputs {
		anew.measure = oldUnits
	}
	args := anew.all(tr.args, tr.l.in)
	copied, results := rescaler{measure: oldUnits, leave: -1}, rescaler{measure: tr.m, leave: -1}
	want := results.all(f.Call(copied.all(tr.args, tr.l.in)), tr.l.out)
	var got []reflect.Value
	tr.m.inUse(left.constant, func() { got = f.Call(args) })
	var out strings.Builder
	for i := range want {
		out.WriteString(differ(want[i], got[i]))
	}
	return out.String()
}

// oldUnits are those of this package. To rescale to them is to copy.
var oldUnits = func() measure {
	var m measure
	for u := range m {
		m[u] = 1
	}
	return m
}()

// all measures values anew; d are the units of bare ones.
func (m *rescaler) all(vs []reflect.Value, d []dim) []reflect.Value {
	out := make([]reflect.Value, len(vs))
	for i, v := range vs {
		of := pure
		if i < len(d) {
			of = d[i]
		}
		out[i] = m.rescale(v, of)
	}
	return out
}

// numbers counts the numbers with a unit among the arguments.
func (tr trial) numbers() int {
	m := rescaler{measure: oldUnits, leave: -1}
	m.all(tr.args, tr.l.in)
	return m.seen
}

// words are the texts that hold numbers in units; only whether there is one
// counts.
var words = map[string]bool{
	"Refusal.Reason": true, "StackChoice.Refusal": true, "PartDepth.Refusal": true, "WhatIf.Refusal": true, "WhatIf.Change": true, "Step.Note": true, "Kept.Reason": true, "Fit.Warnings": true,
}

// differ compares results, numbers to within rounding.
func differ(want, got reflect.Value) string {
	return cmp.Diff(want.Interface(), got.Interface(),
		cmp.AllowUnexported(Assumption{}, shift{}),
		cmp.FilterValues(func(a, b float64) bool { return true }, cmp.Comparer(sameNumber)),
		cmp.FilterPath(isWords, cmp.Comparer(func(a, b string) bool { return (a == "") == (b == "") })),
		cmp.FilterValues(func(a, b error) bool { return true }, cmp.Comparer(sameError)),
	)
}

func sameNumber(a, b float64) bool {
	const relative, floor = 1e-7, 1e-8
	return a == b || math.Abs(a-b) <= relative*math.Max(math.Abs(a), math.Abs(b))+floor
}

func isWords(p cmp.Path) bool {
	for i := range p {
		if f, ok := p.Index(i).(cmp.StructField); ok && words[p.Index(i-1).Type().Name()+"."+f.Name()] {
			return p.Last().Type().Kind() == reflect.String
		}
	}
	return false
}

// sameError compares the numbers of errors that have some, and classes.
func sameError(a, b error) bool {
	var pa, pb *PumpError
	var ra, rb *Refusal
	switch {
	case none(a) || none(b):
		return none(a) && none(b)
	case errors.As(a, &pa) && errors.As(b, &pb):
		return differ(reflect.ValueOf(*pa), reflect.ValueOf(*pb)) == ""
	case errors.As(a, &ra) && errors.As(b, &rb):
		return ra.Code == rb.Code
	}
	return fmt.Sprintf("%T", a) == fmt.Sprintf("%T", b)
}

// none says whether an error, or the refusal in it, is nil.
func none(err error) bool {
	v := reflect.ValueOf(err)
	return !v.IsValid() || v.Kind() == reflect.Pointer && v.IsNil()
}

func TestUnitLaws(t *testing.T) {
	for _, l := range unitLaws {
		t.Run(funcName(l.f)+l.note, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				if diff := l.draw(t).broken(fault{}); diff != "" {
					t.Fatalf("in other units (-want +got):\n%s", diff)
				}
			})
		})
	}
}

// mostTrials is how many draws a law gets to show that it can be broken.
const mostTrials = 30

// trialsOf are draws from fixed seeds, for looking for one that breaks.
var trialsOf = sync.OnceValue(func() [][]trial {
	out := make([][]trial, len(unitLaws))
	for i, l := range unitLaws {
		g := rapid.Custom(l.draw)
		for seed := range mostTrials {
			out[i] = append(out[i], g.Example(seed+1))
		}
	}
	return out
})

// Every law can be broken: arguments left in their old units, all or a single
// number of them, break it.
func TestEveryUnitLawCanBreak(t *testing.T) {
	for i, l := range unitLaws {
		if trials := trialsOf()[i]; !breaks(trials, fault{inputs: true}) && !breaksByOneInput(trials) {
			t.Errorf("%s%s holds whatever its arguments are measured in: it says nothing", funcName(l.f), l.note)
		}
	}
}

// breaks says whether some draw breaks the law.
func breaks(trials []trial, left fault) bool {
	return slices.ContainsFunc(trials, func(tr trial) bool { return tr.broken(left) != "" })
}

func breaksByOneInput(trials []trial) bool {
	for _, tr := range trials {
		for i := range tr.numbers() {
			if tr.broken(fault{input: i + 1}) != "" {
				return true
			}
		}
	}
	return false
}

// Every constant that carries a unit is under some law: left in its old unit, it
// breaks one. So a conversion left out would.
func TestEveryConstantIsUnderALaw(t *testing.T) {
	for _, c := range constants {
		if !minded(c, 3) && !minded(c, mostTrials) {
			t.Errorf("%s: no law minds in which unit it is", c.name)
		}
	}
}

// minded says whether some law breaks, within so many draws of each, where a
// constant is left in its old unit.
func minded(c constant, draws int) bool {
	return slices.ContainsFunc(trialsOf(), func(trials []trial) bool { return breaks(trials[:draws], fault{constant: c.name}) })
}
