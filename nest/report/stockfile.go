package report

import (
	"fmt"
	"io"
	"strings"

	"kerfold/nest/shop"
	"kerfold/nest/week"
)

// WriteStock writes what is left after the plan as a stock register, which the
// next job names with register:.
func WriteStock(w io.Writer, p *week.Plan) error {
	_, err := fmt.Fprintf(w, "# Stock after the plan %q has been cut. Remnants are the pieces worth keeping:\n"+
		"# measure them before use. The next job names this file with register:.\n%s",
		oneLine(p.Job), shop.MarshalRegister(p.Stock))
	return err
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
