package report

import (
	"fmt"
	"io"

	"kerfold/cost"
)

// WriteFit writes what test cuts teach: the numbers learnt with their
// intervals, the numbers kept and why, the scatter, and every cut against its
// prediction. It is plain text in columns.
func WriteFit(w io.Writer, f cost.Fit) error { return WriteFitIn(w, f, cost.Metric) }

// WriteFitIn is WriteFit with lengths and speeds in a system of units. The
// constants keep theirs, which are those of the model and of material files.
func WriteFitIn(w io.Writer, f cost.Fit, units cost.UnitSystem) error {
	out := &stickyWriter{w: w}
	fmt.Fprintf(out, "learnt from %s\n\n", plural(len(f.Rows), "measurement"))
	learntTable(f).write(out)
	if len(f.Kept) > 0 {
		fmt.Fprint(out, "\nkept, because the cuts do not teach it\n")
		for _, k := range f.Kept {
			fmt.Fprintf(out, "  %s of %s stays %.4g [%s]: %s\n", paramWords(k.Param), k.Subject, k.Default.Value, k.Default.Source, k.Reason)
		}
	}
	if len(f.Speeds) > 0 {
		fmt.Fprint(out, "\na speed itself is known better than constant and exponents one by one\n")
		for _, v := range f.Speeds {
			_, mm := units.Show(0, "mm")
			likely, per := units.Show(v.Speed.Likely, "mm/min")
			low, _ := units.Show(v.Speed.Low, "mm/min")
			high, _ := units.Show(v.Speed.High, "mm/min")
			fmt.Fprintf(out, "  %s, %s %s, as in row %d: %.4g %s, %.4g to %.4g\n", v.Material, lengthIn(v.ThicknessMM, units), mm, v.Row, likely, per, low, high)
		}
	}
	fmt.Fprint(out, "\nscatter of the cuts (one standard deviation)\n")
	for _, s := range f.Scatter {
		fmt.Fprintf(out, "  %s: %s\n", s.Kind, scatterWords(s))
	}
	fmt.Fprint(out, "\neach cut against the fit\n\n")
	fitRows(f, units).write(out)
	notes(out, "worth reading", f.Warnings)
	return out.err
}

func learntTable(f cost.Fit) *textTable {
	t := &textTable{
		head: []string{"number", "of", "value", fmt.Sprintf("%.0f %% interval", 100*f.Level), "before", "from"},
		left: map[int]bool{0: true, 1: true, 3: true, 5: true},
	}
	for _, l := range f.Learnt {
		t.rows = append(t.rows, []string{
			paramWords(l.Param), l.Subject, fmt.Sprintf("%.4g", l.Value.Likely),
			fmt.Sprintf("%.4g to %.4g", l.Value.Low, l.Value.High), fmt.Sprintf("%.4g", l.Default.Value), string(l.Default.Source),
		})
	}
	return t
}

// paramWords names a fitted number for people.
func paramWords(p cost.Param) string {
	switch p {
	case cost.ParamMachinability:
		return "machinability"
	case cost.ParamPlainK:
		return "plain-jet constant"
	case cost.ParamThicknessExponent:
		return "thickness exponent"
	case cost.ParamPressureExponent:
		return "pressure exponent"
	case cost.ParamOrificeExponent:
		return "orifice exponent"
	case cost.ParamPierceSec:
		return "fixed pierce seconds"
	case cost.ParamPierceFactor:
		return "pierce constant"
	}
	return string(p)
}

func scatterWords(s cost.Scatter) string {
	if s.Assumed {
		return fmt.Sprintf("%.1f %%, assumed: too few cuts to tell", 100*s.Rel)
	}
	return fmt.Sprintf("%.1f %%, from %.1f degrees of freedom", 100*s.Rel, s.DoF)
}

func fitRows(f cost.Fit, units cost.UnitSystem) *textTable {
	t := &textTable{
		head: []string{"row", "material", "measured", "", "fitted", "off by", "in deviations", "leverage", ""},
		left: map[int]bool{1: true, 3: true, 8: true},
	}
	for _, r := range f.Rows {
		mark := ""
		if r.Outlier {
			mark = "outlier, left out"
		}
		measured, unit := units.Show(r.Measured, measuredUnit(r.Kind))
		fitted, _ := units.Show(r.Fitted, measuredUnit(r.Kind))
		t.rows = append(t.rows, []string{
			fmt.Sprint(r.Row), r.Material, fmt.Sprintf("%.4g", measured), unit, fmt.Sprintf("%.4g", fitted),
			fmt.Sprintf("%+.1f %%", 100*(r.Measured/r.Fitted-1)), fmt.Sprintf("%+.1f", r.Scaled), fmt.Sprintf("%.2f", r.Leverage), mark,
		})
	}
	return t
}

func measuredUnit(kind string) string {
	if kind == "speed" {
		return "mm/min"
	}
	return "s, " + kind
}
