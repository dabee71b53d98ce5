package cost

import (
	"fmt"
	"reflect"
	"strings"

	"kerfold/geom"
)

// A rescaler measures values anew. It can leave one of their numbers in its old
// unit, by its place among those that have one.
type rescaler struct {
	measure
	leave int
	seen  int
}

func (m *rescaler) number(x float64, d dim) float64 {
	if d == pure {
		return x
	}
	m.seen++
	if m.seen-1 == m.leave {
		return x
	}
	return x * m.factor(d)
}

// rescale is v, whole, with every number in it measured anew. A number knows its
// unit by its field (see [fieldUnits]); d is the unit of a bare one.
func (m *rescaler) rescale(v reflect.Value, d dim) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Float64:
		out.SetFloat(m.number(v.Float(), d))
	case reflect.Struct:
		m.rescaleFields(out, d)
		if fix, ok := fixes[v.Type()]; ok {
			fix(m.measure, out.Addr().Interface())
		}
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(m.rescale(v.Elem(), d))
		}
	case reflect.Interface:
		if !v.IsNil() {
			out.Set(m.rescale(v.Elem(), d))
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			for i := range v.Len() {
				out.Index(i).Set(m.rescale(v.Index(i), d))
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			out.Index(i).Set(m.rescale(v.Index(i), d))
		}
	case reflect.Map:
		out.Set(reflect.MakeMap(v.Type()))
		for _, k := range v.MapKeys() {
			out.SetMapIndex(k, m.rescale(v.MapIndex(k), d))
		}
	}
	return out
}

func (m *rescaler) rescaleFields(v reflect.Value, whole dim) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.IsExported() && v.Type() != reflect.TypeFor[geom.Vertex]() {
			v.Field(i).Set(m.rescale(v.Field(i), unitOfField(v.Type(), f, whole)))
		}
	}
}

// unitOfField is the unit of a field's numbers. Where the field holds a struct
// whose own fields know theirs, it does not matter.
func unitOfField(t reflect.Type, f reflect.StructField, whole dim) dim {
	key := t.Name() + "." + f.Name
	if asWhole[key] {
		return whole
	}
	if d, ok := fieldUnits[key]; ok {
		return d
	}
	if d, ok := unitOfName(f.Name); ok {
		return d
	}
	if bare(f.Type) {
		panic(fmt.Sprintf("the unit of %s is known neither by its name nor in fieldUnits", key))
	}
	return pure
}

// bare says whether a type holds numbers that do not know their unit.
func bare(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Float64:
		return true
	case reflect.Slice, reflect.Array, reflect.Pointer, reflect.Map:
		return bare(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			if asWhole[t.Name()+"."+t.Field(i).Name] {
				return true
			}
		}
	}
	return false
}

// fixes measure anew what generic rescaling cannot: numbers whose unit hangs on
// other numbers or words beside them.
var fixes = map[reflect.Type]func(measure, any){
	reflect.TypeFor[geom.Vertex](): func(m measure, v any) {
		p := v.(*geom.Vertex)
		p.P[0], p.P[1] = p.P[0]*m.factor(mm), p.P[1]*m.factor(mm)
	},
	reflect.TypeFor[Material](): func(m measure, v any) {
		p := v.(*Material)
		if p.PlainK.Value != 0 {
			f := p.Filled()
			p.PlainK.Value *= m.factor(plainKUnit(f.PressureExponent.Value, f.OrificeExponent.Value, f.ThicknessExponent.Value))
		}
	},
	reflect.TypeFor[PlainCut](): func(m measure, v any) {
		p := v.(*PlainCut)
		f := p.filled()
		p.K *= m.factor(plainKUnit(f.PressureExponent, f.OrificeExponent, f.ThicknessExponent))
	},
	reflect.TypeFor[Calibration](): func(m measure, v any) {
		p := v.(*Calibration)
		for i := range p.Covariance {
			for j := range p.Covariance[i] {
				p.Covariance[i][j] *= m.factor(paramUnit(p.Params[i]).times(paramUnit(p.Params[j])))
			}
		}
	},
	reflect.TypeFor[Assumption](): func(m measure, v any) { v.(*Assumption).effect.pierceSec *= m.factor(sec) },
	reflect.TypeFor[Learnt](): func(m measure, v any) {
		p := v.(*Learnt)
		d := paramUnit(p.Param)
		p.StdErr *= m.factor(d)
		if p.Param == ParamPlainK {
			d = mmPerMin // its other units are kept, see the law of Tune
		}
		for _, x := range []*float64{&p.Value.Low, &p.Value.Likely, &p.Value.High, &p.Default.Value} {
			*x *= m.factor(d)
		}
	},
	reflect.TypeFor[Kept](): func(m measure, v any) {
		p := v.(*Kept)
		p.Default.Value *= m.factor(paramUnit(p.Param))
	},
	reflect.TypeFor[FitRow](): func(m measure, v any) {
		p, d := v.(*FitRow), sec
		if p.Kind == speedCut.String() {
			d = mmPerMin
		}
		p.Measured, p.Fitted = p.Measured*m.factor(d), p.Fitted*m.factor(d)
	},
	reflect.TypeFor[Input](): func(m measure, v any) { v.(*Input).Value *= m.factor(unitOfWords(v.(*Input).Unit)) },
	reflect.TypeFor[Step](): func(m measure, v any) {
		p := v.(*Step)
		p.Value *= m.factor(unitOfWords(p.Unit))
		in := map[string]*float64{}
		for i := range p.Inputs {
			in[p.Inputs[i].Symbol] = &p.Inputs[i].Value
		}
		if c := in["C"]; c != nil {
			*c *= m.factor(constantSIUnit)
		}
		if k := in["K"]; k != nil {
			*k *= m.factor(plainKUnit(*in["a"], *in["b"], *in["c"]))
		}
	},
}

// plainKUnit is the unit of the plain jet's constant K: a feed at 1 MPa, a 1 mm
// orifice and 1 mm of thickness.
func plainKUnit(a, b, c float64) dim { return mmPerMin.per(mpa.pow(a)).times(mm.pow(c - b)) }

// paramUnit is the unit of a fitted number on the scale on which it is fitted.
func paramUnit(p Param) dim {
	if p == ParamPierceSec {
		return sec
	}
	return pure
}

// unitOfWords is the unit that a trace writes beside a number.
func unitOfWords(words string) dim {
	known := map[string]dim{
		"": pure, "%": pure, "°": pure, "mm": mm, "mm/min": mmPerMin, "mm/s²": mmPerS2, "s/mm": sec.per(mm), "s": sec, "h": hours, "m/s": mPerS,
		"MPa": mpa, "L": litres, "L/min": lPerMin, "g/min": gPerMin, "kg": kg, "kg/m³": kgPerM3, "m³": m3, "kW": kw, "kWh": kwh, "EUR": cash,
	}
	if d, ok := known[words]; ok {
		return d
	}
	over, under, ok := strings.Cut(words, "/")
	a, b := known[over], known[under]
	if !ok || a == pure || b == pure {
		panic("the unit " + words + " of a trace is not known")
	}
	return a.per(b)
}
