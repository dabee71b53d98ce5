package report

import (
	"fmt"
	"io"

	"kerfold/cost"
	"kerfold/nest/week"
)

// WriteTrace writes how a time and a price come about: every number with its
// formula, inputs and sources, as plain text. Numbers are in the units asked
// for; the formulas are metric.
func WriteTrace(w io.Writer, tr cost.Trace, units cost.UnitSystem) error {
	out := &stickyWriter{w: w}
	for _, s := range tr {
		fmt.Fprintf(out, "%s = %s\n", s.Name, withUnit(units, s.Value, s.Unit))
		fmt.Fprintf(out, "    %s   [%s]\n", s.Formula, s.Source)
		for _, in := range s.Inputs {
			fmt.Fprintf(out, "    %s = %s: %s   [%s]\n", in.Symbol, withUnit(units, in.Value, in.Unit), in.Name, in.Source)
		}
		if s.Note != "" {
			fmt.Fprintf(out, "    %s\n", s.Note)
		}
	}
	return out.err
}

// withUnit writes a number with four digits that mean something.
func withUnit(units cost.UnitSystem, v float64, unit string) string {
	v, unit = units.Show(v, unit)
	if unit == "" {
		return fmt.Sprintf("%.4g", v)
	}
	return fmt.Sprintf("%.4g %s", v, unit)
}

// WriteAccounts writes accounts one after the other, each under its title.
func WriteAccounts(w io.Writer, accounts []week.Account, units cost.UnitSystem) error {
	out := &stickyWriter{w: w}
	for _, a := range accounts {
		fmt.Fprintf(out, "\nhow it comes about: %s\n\n", oneLine(a.Title))
		if out.err != nil {
			return out.err
		}
		if err := WriteTrace(out, a.Trace, units); err != nil {
			return err
		}
	}
	return out.err
}
