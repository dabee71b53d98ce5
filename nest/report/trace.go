package report

import (
	"fmt"
	"io"

	"kerfold/cost"
)

// WriteTrace writes how a time and a price come about: every number with its
// formula, inputs and sources, as plain text.
func WriteTrace(w io.Writer, tr cost.Trace) error {
	out := &stickyWriter{w: w}
	for _, s := range tr {
		fmt.Fprintf(out, "%s = %s\n", s.Name, withUnit(s.Value, s.Unit))
		fmt.Fprintf(out, "    %s   [%s]\n", s.Formula, s.Source)
		for _, in := range s.Inputs {
			fmt.Fprintf(out, "    %s = %s: %s   [%s]\n", in.Symbol, withUnit(in.Value, in.Unit), in.Name, in.Source)
		}
		if s.Note != "" {
			fmt.Fprintf(out, "    %s\n", s.Note)
		}
	}
	return out.err
}

// withUnit writes a number with four digits that mean something.
func withUnit(v float64, unit string) string {
	if unit == "" {
		return fmt.Sprintf("%.4g", v)
	}
	return fmt.Sprintf("%.4g %s", v, unit)
}
